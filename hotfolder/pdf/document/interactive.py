"""Counts the interactive features of a document: form fields, scripts, attached files.

Source: ISO 32000-2, 12.7 (forms), 12.6 (actions), 7.11.4 (embedded files).
"""

from collections.abc import Iterator
from dataclasses import dataclass
from itertools import islice
from typing import Final

import pikepdf

from hotfolder.model.facts import Problem, ProblemKind
from hotfolder.pdf.document.annotations import annotation_is_seen
from hotfolder.pdf.objects.document_limits import ANNOTATIONS, FIELDS, KIDS, NAMES
from hotfolder.pdf.objects.inheritance import lineage
from hotfolder.pdf.objects.limits import ANNOTATIONS_PER_PAGE
from hotfolder.pdf.objects.reading import entry, identity, items, keys, name

_MOST_ACTIONS: Final = 20  # of one sequence; more than three have not been met


@dataclass(frozen=True, slots=True)
class Interactive:
    """How many terminal form fields, scripts and attached files there are; whether there is an XFA form.

    Signature fields without a visible widget are not counted: nobody could fill them in.
    """

    form_fields: int
    scripts: int
    attachments: int
    xfa: bool


def read_interactive(
    pdf: pikepdf.Pdf, pages: tuple[pikepdf.Dictionary, ...], problems: list[Problem]
) -> Interactive:
    """The interactive features of the document; a limit that was reached is added to `problems`.

    A script counts once for each place that would run it.
    """
    form = entry(pdf.Root, "/AcroForm")
    names = entry(pdf.Root, "/Names")
    fields = tuple(_fields(entry(form, "/Fields"), problems))
    terminal = [field for field in fields if not _has_subfields(field) and not _is_unseen_signature(field)]
    annotations = _annotations(pages, problems)
    actors = (pdf.Root, *pages, *fields, *_widgets_apart(annotations, fields))
    scripts = sum(1 for _ in _named(entry(names, "/JavaScript"), problems))
    scripts += sum(_scripts_of(actor) for actor in actors)
    attached = sum(1 for _ in _named(entry(names, "/EmbeddedFiles"), problems))
    attached += sum(1 for each in annotations if name(entry(each, "/Subtype")) == "FileAttachment")
    return Interactive(len(terminal), scripts, attached, xfa=entry(form, "/XFA") is not None)


def _annotations(pages: tuple[pikepdf.Dictionary, ...], problems: list[Problem]) -> list[object]:
    """The annotations of all pages."""
    each_one = (each for page in pages for each in items(entry(page, "/Annots"), ANNOTATIONS_PER_PAGE))
    annotations = list(islice(each_one, ANNOTATIONS))
    if len(annotations) == ANNOTATIONS:
        what = f"counting stopped at {ANNOTATIONS:,} annotations"
        problems.append(Problem("pdf.scripts", what, ProblemKind.LIMIT))
    return annotations


def _fields(roots: object, problems: list[Problem]) -> Iterator[pikepdf.Dictionary]:
    """All fields of the form, each once; kids that are only widgets of a field are left out."""
    waiting = list(items(roots, FIELDS))
    seen: set[str] = set()
    kids_left = KIDS
    while waiting:
        field = waiting.pop()
        key = identity(field)
        if not isinstance(field, pikepdf.Dictionary) or key in seen:
            continue
        kids = list(items(entry(field, "/Kids"), min(FIELDS, 1 + kids_left)))
        kids_left -= len(kids)
        if len(seen) >= FIELDS or kids_left < 0:
            problems.append(
                Problem("pdf.form_fields", f"counting stopped at {len(seen)} fields", ProblemKind.LIMIT)
            )
            return
        seen.add(key or f"direct {len(seen)}")
        yield field
        waiting.extend(kid for kid in kids if _is_field(kid))


def _is_field(kid: object) -> bool:
    """Whether a kid of a field is a field, and not only one of its widgets (12.7.4.2)."""
    return entry(kid, "/T") is not None or isinstance(entry(kid, "/Kids"), pikepdf.Array)


def _has_subfields(field: pikepdf.Dictionary) -> bool:
    return any(_is_field(kid) for kid in items(entry(field, "/Kids"), FIELDS))


def _is_unseen_signature(field: pikepdf.Dictionary) -> bool:
    """Whether a field is a signature none of whose widgets is seen: no extent, or hidden (12.7.5.5)."""
    if _inherited_name(field, "/FT") != "Sig":
        return False
    widgets = [field, *items(entry(field, "/Kids"), FIELDS)]
    return not any(annotation_is_seen(widget) for widget in widgets)


def _inherited_name(field: object, key: str) -> str | None:
    """A name that a field has, or that it inherits from one above it (12.7.4.1)."""
    names = (name(entry(node, key)) for node in lineage(field))
    return next((each for each in names if each is not None), None)


def _widgets_apart(annotations: list[object], fields: tuple[pikepdf.Dictionary, ...]) -> Iterator[object]:
    """The annotations that are not merged with one of the fields."""
    merged = {identity(field) for field in fields} - {None}
    return (each for each in annotations if identity(each) not in merged)


def _scripts_of(actor: object) -> int:
    """How many scripts a catalog, page, field or annotation would run (12.6.3)."""
    actions = [entry(actor, "/OpenAction"), entry(actor, "/A")]
    triggers = entry(actor, "/AA")
    actions += [entry(triggers, key) for key in keys(triggers, 100)]
    return sum(name(entry(each, "/S")) == "JavaScript" for action in actions for each in _sequence(action))


def _sequence(action: object) -> Iterator[object]:
    """An action and those that follow it (12.6.2: Next), each once, as far as `_MOST_ACTIONS`."""
    waiting, seen = [action], set[str | None]()
    for _ in range(_MOST_ACTIONS):
        if not waiting:
            return
        here = waiting.pop(0)
        number = identity(here)
        if number is not None and number in seen:
            continue
        seen.add(number)
        yield here
        following = entry(here, "/Next")
        waiting += items(following, _MOST_ACTIONS) if isinstance(following, pikepdf.Array) else [following]


def _named(root: object, problems: list[Problem]) -> Iterator[object]:
    """The values of a name tree (7.9.6), also of one whose nodes form a circle or are incomplete."""
    waiting = [root]
    seen: set[str] = set()
    count = 0
    while waiting:
        node = waiting.pop()
        key = identity(node)
        if key in seen:
            continue
        seen.add(key or f"direct {len(seen)}")
        values = list(items(entry(node, "/Names"), 2 * NAMES))[1::2]
        kids = list(items(entry(node, "/Kids"), NAMES))
        waiting.extend(kids)
        count += len(values) + len(kids)
        if count >= NAMES or len(seen) >= NAMES:
            problems.append(Problem("pdf", f"counting stopped at {NAMES} names", ProblemKind.LIMIT))
            return
        yield from values
