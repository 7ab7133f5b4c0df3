"""Reads what a document would do by itself or when somebody touches it (ISO 32000-2, 12.6)."""

from collections.abc import Iterator, Sequence
from typing import Final

import pikepdf

from hotfolder.model.inventory.interactive import Action, InteractiveFacts
from hotfolder.pdf.objects.document_limits import FIELDS, NAMES
from hotfolder.pdf.objects.limits import ANNOTATIONS_PER_PAGE
from hotfolder.pdf.objects.reading import entry, identity, items, keys, name

_TRIGGERS: Final = 100  # table 197 has about twenty
_VIEWER_AREAS: Final = ("ViewArea", "ViewClip", "PrintArea", "PrintClip")
# Actions of one place that lead to further ones (Next); real ones stay below ten.
_STEPS: Final = 100


def read_interactive_facts(pdf: pikepdf.Pdf, pages: Sequence[pikepdf.Dictionary]) -> InteractiveFacts:
    """The actions of the document, its pages, annotations, fields and bookmarks; and what its form is."""
    form = entry(pdf.Root, "/AcroForm")
    walk = _WalkOverActions()
    actions = tuple(dict.fromkeys(walk.actions(pdf, pages)))
    preferences = entry(pdf.Root, "/ViewerPreferences")
    areas = ((key, name(entry(preferences, f"/{key}"))) for key in _VIEWER_AREAS)
    return InteractiveFacts(
        actions=actions,
        unread=walk.unread,
        xfa=entry(form, "/XFA") is not None,
        viewer_areas=tuple((key, box) for key, box in areas if box is not None),
    )


class _WalkOverActions:
    """Walks all that may hold an action. unread: there was more than is looked at."""

    def __init__(self) -> None:
        self.unread = False

    def actions(self, pdf: pikepdf.Pdf, pages: Sequence[pikepdf.Dictionary]) -> Iterator[Action]:
        root = pdf.Root
        yield from _chain(entry(root, "/OpenAction"), "the document, when it opens")
        yield from _triggered(root, "the document")
        for position, page in enumerate(pages, start=1):
            yield from _triggered(page, "the page", position)
            for annotation in items(entry(page, "/Annots"), ANNOTATIONS_PER_PAGE):
                where = _called(annotation)
                yield from _chain(entry(annotation, "/A"), where, position)
                yield from _chain(entry(annotation, "/PA"), where, position)
                yield from _triggered(annotation, where, position)
        for field in self._tree(entry(entry(root, "/AcroForm"), "/Fields"), "/Kids"):
            yield from _chain(entry(field, "/A"), "a form field")
            yield from _triggered(field, "a form field")
        for bookmark in self._bookmarks(entry(entry(root, "/Outlines"), "/First")):
            yield from _chain(entry(bookmark, "/A"), "a bookmark")
        for script in self._names(entry(entry(root, "/Names"), "/JavaScript")):
            yield Action(name(entry(script, "/S")) or "JavaScript", "the document's scripts")

    def _tree(self, roots: object, kids: str) -> Iterator[object]:
        """All nodes below an array of roots, each once."""
        waiting = list(items(roots, FIELDS))
        seen: set[str] = set()
        while waiting:
            node = waiting.pop()
            if not self._is_new(node, seen, FIELDS):
                continue
            yield node
            waiting.extend(items(entry(node, kids), FIELDS))

    def _bookmarks(self, first: object) -> Iterator[object]:
        waiting = [first]
        seen: set[str] = set()
        while waiting:
            bookmark = waiting.pop()
            if not self._is_new(bookmark, seen, NAMES):
                continue
            yield bookmark
            waiting += [entry(bookmark, "/Next"), entry(bookmark, "/First")]

    def _names(self, root: object) -> Iterator[object]:
        """The values of a name tree (7.9.6)."""
        for node in self._tree(
            pikepdf.Array([root]) if isinstance(root, pikepdf.Dictionary) else None, "/Kids"
        ):
            yield from list(items(entry(node, "/Names"), 2 * NAMES))[1::2]

    def _is_new(self, node: object, seen: set[str], most: int) -> bool:
        """Whether a node is one that was not met before, within the limit."""
        key = identity(node)
        if not isinstance(node, pikepdf.Dictionary) or key in seen:
            return False
        if len(seen) >= most:
            self.unread = True
            return False
        seen.add(key or f"direct {len(seen)}")
        return True


def _called(annotation: object) -> str:
    match name(entry(annotation, "/Subtype")):
        case "Link":
            return "a link"
        case "Widget":
            return "a form field"
        case _:
            return "an annotation"


def _triggered(holder: object, where: str, page: int | None = None) -> Iterator[Action]:
    """The actions that something sets off by itself (12.6.3)."""
    triggers = entry(holder, "/AA")
    for key in keys(triggers, _TRIGGERS):
        yield from _chain(entry(triggers, key), where, page)


def _chain(action: object, where: str, page: int | None = None) -> Iterator[Action]:
    """An action and those that follow it (Next). A destination in place of an action is none (12.6.1)."""
    waiting, seen = [action], set[str]()
    for _ in range(_STEPS):
        if not waiting:
            return
        step = waiting.pop(0)
        key = identity(step)
        if not isinstance(step, pikepdf.Dictionary) or key in seen:
            continue
        if key is not None:
            seen.add(key)
        # A dictionary without the action's own entries is a destination with a D entry (12.3.2.4).
        if entry(step, "/S") is not None:
            yield Action(name(entry(step, "/S")) or "", where, page)
        following = entry(step, "/Next")
        waiting += list(items(following, _STEPS)) if isinstance(following, pikepdf.Array) else [following]
