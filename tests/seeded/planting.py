"""A sound page, open for planting: draws on top of it, and keeps account of where.

Places are millimetres from the lower left corner of the trim, which is A5 on every base. What is planted
brings its own ground where the ground matters, since the pages differ in what lies there.
"""

import io
from dataclasses import dataclass
from pathlib import Path
from typing import Final

import pikepdf
from pikepdf import Array, Dictionary, Name, String

from hotfolder.demo.artwork.typeface import DESCENT, EM, Typeface
from hotfolder.model.geometry import Box
from hotfolder.units import mm_to_pt
from tests.seeded.type_by_hand import drawn_font, latin, made_typeface, plain_font, width_pt

UNIT: Final = mm_to_pt(1)
WIDTH_MM, HEIGHT_MM = 148.0, 210.0  # A5, ISO 216
TEXT_FACE: Final = "Seed-Text"
_WEIGHT: Final = 74
_ASCENT: Final = 800  # of the demonstration's alphabet, in 1/1000 em


@dataclass
class Sheet:
    """One page of a PDF."""

    pdf: pikepdf.Pdf
    page: pikepdf.Page
    trim: Box

    @classmethod
    def of(cls, path: Path) -> "Sheet":
        """The page of the sound file at `path`, its own drawing closed off from what follows."""
        pdf = pikepdf.open(io.BytesIO(path.read_bytes()))
        page = pdf.pages[0]
        sheet = cls(pdf, page, in_order(page.obj.TrimBox))
        sheet.wrap("")
        return sheet

    @property
    def media(self) -> Box:
        """The sheet as the file has it."""
        return in_order(self.page.obj.MediaBox)

    @property
    def bleed(self) -> Box:
        """The trim with 3 mm on each side."""
        return self.trim.grown(mm_to_pt(3))

    def as_seen(self, width: float, height: float) -> tuple[float, float]:
        """A width and a height of the page as they are shown: the other way round where it is turned."""
        turned = int(self.page.obj.get("/Rotate", 0)) % 180
        return (height, width) if turned else (width, height)

    def box(self, x0: float, y0: float, x1: float, y1: float) -> Box:
        """A place in points."""
        left, low = self.trim.x0, self.trim.y0
        return Box(left + x0 * UNIT, low + y0 * UNIT, left + x1 * UNIT, low + y1 * UNIT)

    def wrap(self, before: str) -> None:
        """Keeps all that is drawn so far to itself, drawn after `before`."""
        opening = f"q {self._matrix()} cm {before} {self._inverse()} cm\n" if before else "q\n"
        self.page.contents_add(opening.encode(), prepend=True)
        self.page.contents_add(b"\nQ\n")

    def clip(self, x0: float, y0: float, x1: float, y1: float) -> None:
        """Leaves of all that is drawn so far only what lies in a rectangle."""
        self.wrap(f"{x0} {y0} {x1 - x0} {y1 - y0} re W n")

    def draw(self, operators: str) -> None:
        """Draws on top, in millimetres."""
        self.page.contents_add(f"\nq {self._matrix()} cm {operators} Q\n".encode())

    def area(self, x0: float, y0: float, x1: float, y1: float, colour: str) -> Box:
        """A rectangle, `colour` being operators that set it."""
        self.draw(f"{colour} {x0} {y0} {x1 - x0} {y1 - y0} re f")
        return self.box(x0, y0, x1, y1)

    def paper(self, x0: float, y0: float, x1: float, y1: float) -> Box:
        """A rectangle of bare paper, whatever was there."""
        return self.area(x0, y0, x1, y1, "0 0 0 0 k")

    def font(self, face: str = TEXT_FACE, *, embedded: bool = True) -> str:
        """The name under which the page knows a font, as an operand."""
        return self.resource("Font", plain_font(self.pdf, made_typeface(face, _WEIGHT), embedded=embedded))

    def text(
        self, x: float, y: float, words: str, size_pt: float, how: str = "0 0 0 1 k", font: str | None = None
    ) -> Box:
        """A line of text from its base line's beginning; its box as its font declares it.

        how: operators that set the colour, and whatever else.
        """
        named = font or self.font()
        self.draw(f"BT {how} {named} {size_pt / UNIT:.5f} Tf {x} {y} Td {latin(words)} Tj ET")
        return self.text_box(x, y, words, size_pt)

    def text_box(self, x: float, y: float, words: str, size_pt: float) -> Box:
        """The box of a line of text in the font that `text` takes."""
        corner = self.box(x, y, x, y)
        wide = width_pt(words, size_pt, self.face())
        low, high = size_pt * DESCENT / EM, size_pt * _ASCENT / EM
        return Box(corner.x0, corner.y0 + low, corner.x0 + wide, corner.y0 + high)

    def face(self) -> Typeface:
        """The alphabet that planted text is set in."""
        return made_typeface(TEXT_FACE, _WEIGHT)

    def picture(self, at: tuple[float, float, float, float], image: pikepdf.Stream) -> Box:
        """A picture laid upright over a rectangle."""
        x0, y0, x1, y1 = at
        named = self.resource("XObject", image)
        self.draw(f"{x1 - x0} 0 0 {y1 - y0} {x0} {y0} cm {named} Do")
        return self.box(*at)

    def state(self, **entries: object) -> str:
        """Operators that set graphics state."""
        return (
            f"{self.resource('ExtGState', Dictionary({f'/{key}': each for key, each in entries.items()}))} gs"
        )

    def space(self, *definition: object) -> str:
        """The name under which the page knows a colour space."""
        return self.resource("ColorSpace", self.pdf.make_indirect(Array([*definition])))

    def form(self, content: str, resources: Dictionary | None = None, **entries: object) -> pikepdf.Stream:
        """A form of its own, which draws in the units of whoever shows it."""
        form = self.pdf.make_stream(content.encode())
        form.Type, form.Subtype = Name.XObject, Name.Form
        form.BBox = Array([-1000, -1000, 2000, 2000])
        form.Resources = resources if resources is not None else self.page.resources
        for key, value in entries.items():
            form[f"/{key}"] = value
        return form

    def resource(self, category: str, value: pikepdf.Object) -> str:
        """The name under which the page knows `value`, as an operand."""
        return str(self.page.add_resource(value, Name(f"/{category}"), prefix="Seed"))

    def drawn_font(self, name: str, glyph: str) -> str:
        """The name under which the page knows a font of one letter, A, that `glyph` draws."""
        return self.resource("Font", drawn_font(self.pdf, name, glyph))

    def cell(self, content: str, side: float, *, coloured: bool = True) -> str:
        """The name under which the page knows a pattern of square cells, in millimetres."""
        cell = self.form(content)
        del cell["/Subtype"]
        cell.Type, cell.PatternType, cell.TilingType = Name.Pattern, 1, 1
        cell.PaintType = 1 if coloured else 2
        cell.BBox, cell.XStep, cell.YStep = Array([0, 0, side, side]), side, side
        cell.Matrix = Array([UNIT, 0, 0, UNIT, self.trim.x0, self.trim.y0])
        return self.resource("Pattern", cell)

    def annotate(self, subtype: str, at: tuple[float, float, float, float], **entries: object) -> Box:
        """An annotation over a rectangle, as the only one of the page."""
        box = self.box(*at)
        annotation = Dictionary(Type=Name.Annot, Subtype=Name(f"/{subtype}"), Rect=corners(box))
        for key, value in entries.items():
            annotation[f"/{key}"] = value
        self.page.obj.Annots = Array([self.pdf.make_indirect(annotation)])
        return box

    def looks(self, content: str) -> Dictionary:
        """How an annotation looks, drawn on a square of 10 units."""
        return Dictionary(N=self.form(content, BBox=Array([0, 0, 10, 10])))

    def layer(self, name: str) -> pikepdf.Object:
        """A layer, the only one of the file, on as long as nothing switches it off."""
        group = self.pdf.make_indirect(Dictionary(Type=Name.OCG, Name=String(name)))
        default = Dictionary(Order=Array([group]))
        self.pdf.Root.OCProperties = Dictionary(OCGs=Array([group]), D=default)
        return group

    def draw_on(self, layer: pikepdf.Object, operators: str) -> None:
        """Draws on top, on a layer, or by a membership in layers."""
        self.draw(f"/OC {self.resource('Properties', layer)} BDC {operators} EMC")

    def claim(self, level: str) -> None:
        """Lets the file say which level of PDF/X it is."""
        self.pdf.docinfo["/GTS_PDFXVersion"] = String(level)

    def known(self, category: str, name: str) -> pikepdf.Object:
        """The resource that the page knows under a name."""
        return self.page.resources[f"/{category}"][name]

    def with_margin(self, margin_mm: float) -> None:
        """Makes the sheet larger than trim and bleed, as for crop marks."""
        self.page.obj.MediaBox = corners(self.trim.grown(margin_mm * UNIT))
        self.page.obj.BleedBox = corners(self.bleed)

    def copy(self) -> "Sheet":
        """One more page like this one."""
        self.pdf.pages.append(self.page)
        page = self.pdf.pages[-1]
        return Sheet(self.pdf, page, self.trim)

    def _matrix(self) -> str:
        return f"{UNIT:.8f} 0 0 {UNIT:.8f} {self.trim.x0:.6f} {self.trim.y0:.6f}"

    def _inverse(self) -> str:
        return f"{1 / UNIT:.8f} 0 0 {1 / UNIT:.8f} {-self.trim.x0 / UNIT:.6f} {-self.trim.y0 / UNIT:.6f}"


def in_order(array: pikepdf.Object) -> Box:
    """The box of a page, its corners put in order."""
    x0, y0, x1, y1 = (float(side) for side in array)
    return Box(min(x0, x1), min(y0, y1), max(x0, x1), max(y0, y1))


def corners(box: Box) -> Array:
    """A box as a file has it."""
    return Array([round(side, 4) for side in (box.x0, box.y0, box.x1, box.y1)])
