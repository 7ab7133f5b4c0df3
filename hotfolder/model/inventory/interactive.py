"""What a document would do by itself, or when somebody touches it."""

from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class Action:
    """An action, or several of a kind at the same place.

    kind: its name in the standard (`JavaScript`, `URI`, `GoTo`); empty where it has none. where: what holds
    it, in words (`a link`, `the document, when it opens`). page: 1-based; None where it is the document.
    """

    kind: str
    where: str
    page: int | None = None


@dataclass(frozen=True, slots=True)
class InteractiveFacts:
    """Actions of all kinds, and forms.

    unread: there are more places than are looked at. xfa: the form is described in XML (XFA). viewer_areas:
    entries of the viewer preferences that name a page box to show, print or clip to, with the box that each
    names (`PrintArea`: `CropBox`).
    """

    actions: tuple[Action, ...]
    unread: bool
    xfa: bool
    viewer_areas: tuple[tuple[str, str], ...]
