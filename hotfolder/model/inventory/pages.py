"""What the dictionaries of pages say beside their boxes, and the annotations on them."""

from dataclasses import dataclass

from hotfolder.model.geometry import Box


@dataclass(frozen=True, slots=True)
class TrapNetwork:
    """What a trap network annotation says of itself (ISO 32000-1, 14.11.6.2).

    model: the colour model that its traps are made for (`DeviceCMYK`); None where it names none. substituted:
    fonts were replaced while the traps were made (FontFauxing names some).
    """

    model: str | None
    substituted: bool


@dataclass(frozen=True, slots=True)
class PageAnnotation:
    """An annotation of any kind. box: in points, as the page's boxes; None where it is no rectangle."""

    subtype: str
    box: Box | None
    trap_network: TrapNetwork | None = None


@dataclass(frozen=True, slots=True)
class PageEntries:
    """What the dictionary of page `number` holds. separated: it is one plate of a page (SeparationInfo).

    unread_annotations: there are more than are read.
    """

    number: int
    separated: bool
    annotations: tuple[PageAnnotation, ...]
    unread_annotations: bool = False
