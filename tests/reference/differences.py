"""Finds in the file itself what explains a difference, without asking our own measuring."""

import re
from dataclasses import dataclass, field
from pathlib import Path
from typing import Final

import pikepdf

from tests.reference.facts import Difference
from tests.reference.poppler import complaints_on

_PRINTS: Final = 4  # the annotation flag Print (ISO 32000-2, table 167)


@dataclass(frozen=True, slots=True)
class Evidence:
    """What a PDF holds that makes poppler's list of images other than ours.

    glyph_procedures, pattern_cells, screen_only: numbers of objects. direct_pages: a page stands in the list
    of pages itself.
    """

    path: Path
    glyph_procedures: frozenset[str] = frozenset()
    screen_only: frozenset[str] = frozenset()
    pattern_cells: frozenset[str] = frozenset()
    direct_pages: bool = False

    def only_ours(self, page: int, source: str | None) -> Difference | None:
        """Why we list an image of a page that poppler does not, painted by the stream `source`."""
        if source in self.glyph_procedures:
            return Difference.GLYPH_PICTURE
        if source in self.pattern_cells:
            return Difference.PATTERN_PICTURE
        if re.search(r"Too few \(\d+\) args", complaints_on(self.path, page)):
            return Difference.BROKEN_INSTRUCTION
        return None

    def only_theirs(self, page: int, image: str | None) -> Difference | None:
        """Why poppler lists an image of a page that we do not."""
        if image in self.screen_only:
            return Difference.SCREEN_ONLY
        if image is None and _has_endless_image(self.path, page):
            return Difference.ENDLESS_IMAGE
        return None


def _has_endless_image(path: Path, page: int) -> bool:
    """Whether the page's content begins an inline image's data and never ends it (8.9.7: ID ... EI)."""
    with pikepdf.open(path) as pdf:
        contents = pdf.pages[page - 1].obj.get("/Contents")
        if isinstance(contents, pikepdf.Stream):
            return re.search(rb"\sID\s(?!.*\sEI\b)", contents.read_bytes(), re.DOTALL) is not None
        return False


def evidence_in(path: Path) -> Evidence:
    """Looks through the objects of a PDF; one that qpdf cannot open or list pages of explains nothing."""
    try:
        pdf = pikepdf.open(path, inherit_page_attributes=False)  # which would mend the list of pages
    except pikepdf.PdfError:
        return Evidence(path)
    with pdf:
        gathered = _Found()
        for thing in pdf.objects:
            _look_at(thing, gathered)
        try:
            pages = list(pdf.pages)
        except pikepdf.PdfError:  # their tree is a circle
            return Evidence(path)
        for page in pages:
            _look_at_annotations(page.obj, gathered)
        return Evidence(
            path,
            frozenset(gathered.glyph_procedures),
            frozenset(gathered.hidden - gathered.printed),
            frozenset(gathered.pattern_cells),
            gathered.direct_pages,
        )


@dataclass(slots=True)
class _Found:
    glyph_procedures: set[str] = field(default_factory=set)
    pattern_cells: set[str] = field(default_factory=set)
    direct_pages: bool = False
    hidden: set[str] = field(default_factory=set)
    printed: set[str] = field(default_factory=set)


def _look_at(thing: pikepdf.Object, gathered: _Found) -> None:
    if isinstance(thing, pikepdf.Dictionary) and thing.get("/Subtype") == "/Type3":
        procedures = thing.get("/CharProcs")
        if isinstance(procedures, pikepdf.Dictionary):
            gathered.glyph_procedures.update(_number(each) for each in procedures.values())
    if isinstance(thing, pikepdf.Stream) and thing.get("/PatternType") == 1:
        gathered.pattern_cells.add(_number(thing))
    kids = thing.get("/Kids") if isinstance(thing, pikepdf.Dictionary) else None
    if isinstance(kids, pikepdf.Array) and thing.get("/Type") == "/Pages":
        gathered.direct_pages |= any(
            isinstance(kid, pikepdf.Dictionary) and not kid.is_indirect for kid in kids
        )


def _look_at_annotations(page: pikepdf.Object, gathered: _Found) -> None:
    """Gathers the images that annotations paint on paper, or not, and those that the page itself paints."""
    _gather_images(page.get("/Resources"), gathered.printed, set())
    annotations = page.get("/Annots")
    for annotation in annotations if isinstance(annotations, pikepdf.Array) else ():
        if isinstance(annotation, pikepdf.Dictionary):
            flags = annotation.get("/F", 0)
            chosen = gathered.printed if int(flags) & _PRINTS else gathered.hidden
            appearances = annotation.get("/AP")
            if isinstance(appearances, pikepdf.Dictionary):
                for form in appearances.values():
                    if isinstance(form, pikepdf.Stream):
                        _gather_images(form.get("/Resources"), chosen, {_number(form)})


def _gather_images(resources: pikepdf.Object | None, into: set[str], seen: set[str]) -> None:
    objects = resources.get("/XObject") if isinstance(resources, pikepdf.Dictionary) else None
    for thing in objects.values() if isinstance(objects, pikepdf.Dictionary) else ():
        if not isinstance(thing, pikepdf.Stream) or _number(thing) in seen:
            continue
        seen.add(_number(thing))
        if thing.get("/Subtype") == "/Image":
            into.add(_number(thing))
        else:
            _gather_images(thing.get("/Resources"), into, seen)


def _number(thing: pikepdf.Object) -> str:
    number, generation = thing.objgen
    return f"{number} {generation}"
