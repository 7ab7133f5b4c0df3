"""Makes the same page in other ways, so that its facts have to stay the same; and says its facts.

What is compared are the marks without the numbers of the objects that they come from.
"""

import io
import warnings
from collections.abc import Callable
from dataclasses import dataclass, replace
from pathlib import Path
from typing import Final

import pikepdf
from pikepdf import Array, Dictionary, Name

from hotfolder.measure import measure
from hotfolder.model.artwork import Artwork
from hotfolder.model.document import Font
from hotfolder.model.geometry import Box
from hotfolder.model.marks import Mark, Source
from hotfolder.pdf.objects.matrix import IDENTITY, Matrix, scaling

_NOWHERE: Final = Box(0.0, 0.0, 0.0, 0.0)
_NO_SOURCE: Final = Source("")
# Points; what rounding in a file may change of a place (four decimals are written), and of other figures.
_PLACE: Final = 0.02
_SHARE: Final = 1e-4


@dataclass(frozen=True, slots=True)
class Told:
    """A mark for comparing: itself without places and figures; its places; its figures."""

    bare: Mark
    places: tuple[Box | None, ...]
    figures: tuple[float | None, ...]

    def like(self, other: "Told") -> bool:
        """Whether both tell the same, but for what rounding does."""
        return (
            self.bare == other.bare
            and all(map(_same_place, self.places, other.places))
            and all(map(_same_figure, self.figures, other.figures))
        )


@dataclass(frozen=True, slots=True)
class Facts:
    """What is compared of a file: its marks by page, its fonts, its problems."""

    pages: tuple[tuple[Told, ...], ...]
    fonts: frozenset[Font]
    problems: frozenset[tuple[str, str]]

    def like(self, other: "Facts") -> bool:
        """Whether both tell the same, but for what rounding does."""
        return (
            [len(page) for page in self.pages] == [len(page) for page in other.pages]
            and all(
                one.like(another)
                for page, same in zip(self.pages, other.pages, strict=True)
                for one, another in zip(page, same, strict=True)
            )
            and (self.fonts, self.problems) == (other.fonts, other.problems)
        )


def facts(data: bytes, folder: Path, moved: Matrix = IDENTITY) -> Facts:
    """The facts of a PDF, its places moved by `moved`, which keeps upright what is."""
    path = folder / "piece.pdf"
    path.write_bytes(data)
    artwork = measure(path)
    return Facts(
        tuple(tuple(_told(mark, moved) for mark in page.known_marks) for page in artwork.known_pages),
        frozenset(replace(font, object=None) for font in artwork.fonts),
        _problems(artwork),
    )


def _problems(artwork: Artwork) -> frozenset[tuple[str, str]]:
    """Those of what is drawn; how a file is written differs from one way to the next."""
    return frozenset((each.where, each.what) for each in artwork.problems if each.where.endswith(".marks"))


def _told(mark: Mark, moved: Matrix) -> Told:
    text, image = mark.text, mark.image
    places = [mark.box, mark.visible, mark.solid]
    figures = [mark.line_width_pt]
    if text is not None:
        places += [text.ink, text.visible_ink]
        figures.append(text.size_pt)
        text = replace(text, ink=None, visible_ink=None, size_pt=0.0)
    if image is not None:
        figures += [image.x_ppi, image.y_ppi]
        # How its pixels are packed differs from one way of saving to the next.
        image = replace(image, x_ppi=0.0, y_ppi=0.0, object=None, filters=())
    bare = replace(
        mark,
        box=_NOWHERE,
        visible=None,
        solid=None,
        source=_NO_SOURCE,
        text=text,
        image=image,
        line_width_pt=None,
    )
    laid = (moved.bounds(box.x0, box.y0, box.x1, box.y1) if box is not None else None for box in places)
    return Told(bare, tuple(laid), tuple(figures))


def _same_place(one: Box | None, other: Box | None) -> bool:
    return (one is None and other is None) or (
        one is not None and other is not None and one.holds(other, _PLACE) and other.holds(one, _PLACE)
    )


def _same_figure(one: float | None, other: float | None) -> bool:
    if one is None or other is None:
        return one is other
    return one == other or abs(one - other) <= _SHARE * max(abs(one), abs(other))


# The ways of making a page anew


def resaved(data: bytes, **how: object) -> bytes:
    """The file as qpdf writes it; `how` are pikepdf's names for the ways of doing so."""
    with pikepdf.open(io.BytesIO(data)) as pdf:
        return _saved(pdf, **how)


def in_forms(data: bytes, levels: int) -> bytes:
    """Each page's content in a form, in a form, and so on."""

    def wrap(pdf: pikepdf.Pdf, page: pikepdf.Page) -> None:
        for _ in range(levels):
            _put_in_form(pdf, page, IDENTITY)

    return _each_page(data, wrap)


def turned(data: bytes) -> tuple[bytes, Matrix]:
    """Each page a quarter turn to the left with its content, and shown turned back; how places move.

    All pages are taken to be as high as the first, and to have its unit.
    """
    with pikepdf.open(io.BytesIO(data)) as pdf:
        top, unit = float(pdf.pages[0].mediabox[3]), float(pdf.pages[0].obj.get("/UserUnit", 1))
    quarter = Matrix(0.0, 1.0, -1.0, 0.0, top, 0.0)

    def turn(pdf: pikepdf.Pdf, page: pikepdf.Page) -> None:
        _put_in_form(pdf, page, quarter)
        for key in ("/MediaBox", "/CropBox", "/BleedBox", "/TrimBox", "/ArtBox"):
            if key in page.obj:
                box = quarter.bounds(*(float(each) for each in page.obj[key]))
                page.obj[key] = Array([box.x0, box.y0, box.x1, box.y1])
        page.obj.Rotate = (int(page.obj.get("/Rotate", 0)) + 90) % 360

    return _each_page(data, turn), quarter._replace(e=top * unit)


def in_units(data: bytes, unit: float) -> bytes:
    """Each page with a unit `unit` times as long, and all lengths divided by it."""

    def divide(pdf: pikepdf.Pdf, page: pikepdf.Page) -> None:
        _put_in_form(pdf, page, scaling(1 / unit))
        for key in ("/MediaBox", "/CropBox", "/BleedBox", "/TrimBox", "/ArtBox"):
            if key in page.obj:
                page.obj[key] = Array([round(float(each) / unit, 6) for each in page.obj[key]])
        page.obj.UserUnit = unit * float(page.obj.get("/UserUnit", 1))

    return _each_page(data, divide)


def _each_page(data: bytes, change: Callable[[pikepdf.Pdf, pikepdf.Page], None]) -> bytes:
    with pikepdf.open(io.BytesIO(data)) as pdf:
        for page in pdf.pages:
            change(pdf, page)
        return _saved(pdf)


def _put_in_form(pdf: pikepdf.Pdf, page: pikepdf.Page, matrix: Matrix) -> None:
    """Draws the page's content through a form; its space, and so its patterns, go with it."""
    page.contents_coalesce()
    contents = page.obj.get("/Contents")
    form = pdf.make_stream(contents.read_bytes() if contents is not None else b"")
    form.Type, form.Subtype = Name.XObject, Name.Form
    form.BBox = page.mediabox
    form.Matrix = Array([round(each, 9) for each in matrix])
    form.Resources = page.obj.get("/Resources", Dictionary())
    page.obj.Resources = Dictionary(XObject=Dictionary(Whole=form))
    page.obj.Contents = pdf.make_stream(b"/Whole Do")
    if "/Annots" in page.obj:
        del page.obj["/Annots"]


def _saved(pdf: pikepdf.Pdf, **how: object) -> bytes:
    file = io.BytesIO()
    with warnings.catch_warnings():
        # Annotations are not what is compared.
        warnings.simplefilter("ignore", pikepdf.PageCopyWarning)
        pdf.save(file, **how)  # type: ignore[arg-type] # the ways are of several types
    return file.getvalue()


def mended(data: bytes) -> bytes:
    """The file with all its streams unpacked and packed anew: what was cut off in them is whole then."""
    unpacked = resaved(
        data, stream_decode_level=pikepdf.StreamDecodeLevel.generalized, compress_streams=False
    )
    return resaved(unpacked)
