"""Finds in the file itself what explains a word that poppler has elsewhere, or alone."""

import unicodedata
from collections.abc import Iterator
from dataclasses import dataclass
from functools import cache
from pathlib import Path
from typing import Final

import pikepdf

from hotfolder.model.geometry import Box
from tests.reference.facts import Difference
from tests.reference.poppler_words import Sheet, Word

_PRINTS: Final = 4  # the annotation flag Print (ISO 32000-2, table 167)
_NESTING: Final = 8  # forms within forms that are looked through


@dataclass(frozen=True, slots=True)
class _Drawn:
    """An annotation that poppler paints and we do not: its rectangle, why, and the choices it may list.

    A list of choices that is longer than its field runs on beneath it.
    """

    box: Box
    reason: Difference
    choices: frozenset[str]


@dataclass(frozen=True, slots=True)
class _Page:
    """What of a page makes poppler tell other words. actual_texts: what marked spans stand for."""

    drawn: tuple[_Drawn, ...]
    actual_texts: frozenset[str]


@dataclass(frozen=True, slots=True)
class WordEvidence:
    """What a PDF holds that makes poppler's words other than ours."""

    path: Path

    def reason(self, page: int, word: Word, sheet: Sheet) -> Difference | None:
        """Why poppler has a word of a page where we have nothing, or something else."""
        pages = _pages_of(self.path)
        if not pages:
            return None  # qpdf cannot open the file: nothing in it explains anything
        found = pages[page - 1]
        for each in found.drawn:
            if word.says in each.choices or word.box.cut_by(sheet.box(each.box)):
                return each.reason
        says = _letters(word.says)
        if any(text in says or says in text for text in found.actual_texts):
            return Difference.ACTUAL_TEXT
        return None


def is_accented(text: str) -> bool:
    """Whether a word has accents that stand apart from their letters, or may have stood so (ISO 10646)."""
    return any(unicodedata.combining(letter) for letter in unicodedata.normalize("NFD", text))


def _letters(text: str) -> str:
    return "".join(unicodedata.normalize("NFKC", text).split(" "))


@cache
def _pages_of(path: Path) -> tuple[_Page, ...]:
    try:
        pdf = pikepdf.open(path)
    except pikepdf.PdfError:
        return ()
    with pdf:
        form = pdf.Root.get("/AcroForm")
        redraw = isinstance(form, pikepdf.Dictionary) and bool(form.get("/NeedAppearances", False))
        return tuple(_page(page.obj, redraw=redraw) for page in pdf.pages)


def _page(page: pikepdf.Object, *, redraw: bool) -> _Page:
    annotations = page.get("/Annots")
    drawn = tuple(
        found
        for annotation in (annotations if isinstance(annotations, pikepdf.Array) else ())
        if (found := _drawn(annotation, redraw=redraw)) is not None
    )
    return _Page(drawn, frozenset(filter(None, _actual_texts(page, _NESTING))))


def _drawn(annotation: pikepdf.Object, *, redraw: bool) -> _Drawn | None:
    rectangle = annotation.get("/Rect") if isinstance(annotation, pikepdf.Dictionary) else None
    if not isinstance(rectangle, pikepdf.Array):
        return None
    x0, y0, x1, y1 = (float(number) for number in rectangle)
    if not int(annotation.get("/F", 0)) & _PRINTS:
        reason = Difference.SCREEN_ONLY
    elif annotation.get("/Subtype") == "/Widget" and (redraw or "/AP" not in annotation):
        reason = Difference.REDRAWN_FIELD
    else:
        return None
    options = annotation.get("/Opt")
    choices = [_choice(option) for option in options] if isinstance(options, pikepdf.Array) else []
    words = frozenset(word for choice in choices for word in choice.split())
    return _Drawn(Box.around([(x0, y0), (x1, y1)]), reason, words)


def _choice(option: pikepdf.Object) -> str:
    """What a choice of a list shows: the second of two texts (ISO 32000-2, 12.7.5.4)."""
    return str(option[1]) if isinstance(option, pikepdf.Array) else str(option)


def _actual_texts(stream: pikepdf.Object, nesting: int) -> Iterator[str]:
    """The text that each span of a page or form stands for (ISO 32000-2, 14.9.4), also those of its forms."""
    resources = stream.get("/Resources")
    named = resources.get("/Properties") if isinstance(resources, pikepdf.Dictionary) else None
    for properties in named.values() if isinstance(named, pikepdf.Dictionary) else ():
        yield from _actual_text(properties)
    try:
        instructions = pikepdf.parse_content_stream(stream)
    except pikepdf.PdfError:
        return
    for instruction in instructions:
        if str(instruction.operator) == "BDC" and instruction.operands:
            yield from _actual_text(instruction.operands[-1])
    objects = resources.get("/XObject") if isinstance(resources, pikepdf.Dictionary) else None
    for thing in objects.values() if isinstance(objects, pikepdf.Dictionary) else ():
        if nesting and isinstance(thing, pikepdf.Stream) and thing.get("/Subtype") == "/Form":
            yield from _actual_texts(thing, nesting - 1)


def _actual_text(properties: object) -> Iterator[str]:
    if isinstance(properties, pikepdf.Dictionary) and "/ActualText" in properties:
        yield _letters(str(properties["/ActualText"]))
