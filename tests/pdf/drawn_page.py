# Makes one-page PDFs of given drawing instructions, and reads them back with the interpreter.

from dataclasses import dataclass, field

import pikepdf
from pikepdf import Array, Dictionary, Name

from hotfolder.model.facts import ProblemKind
from hotfolder.model.geometry import Box
from hotfolder.model.marks import Mark, MarkKind
from hotfolder.pdf.content.interpret import PageMarks, interpret_page
from hotfolder.pdf.content.readers import Readers
from hotfolder.pdf.document.optional_content import Layers
from hotfolder.pdf.fonts.fonts import FontReader

WIDTH, HEIGHT = 300.0, 400.0
MEDIA = Box(0.0, 0.0, WIDTH, HEIGHT)


@dataclass
class Drawn:
    """A page under construction."""

    pdf: pikepdf.Pdf = field(default_factory=pikepdf.new)

    def __post_init__(self) -> None:
        self.page = self.pdf.add_blank_page(page_size=(WIDTH, HEIGHT))
        self.page.obj.Resources = Dictionary()

    def resource(self, category: str, key: str, value: object) -> "Drawn":
        resources = self.page.obj.Resources
        if f"/{category}" not in resources:
            resources[f"/{category}"] = Dictionary()
        resources[f"/{category}"][f"/{key}"] = value
        return self

    def form(self, content: bytes, **entries: object) -> pikepdf.Stream:
        entries.setdefault("BBox", Array([0, 0, 1000, 1000]))
        return self.stream(content, Type=Name.XObject, Subtype=Name.Form, **entries)

    def image(self, width: int, height: int, data: bytes = b"", **entries: object) -> pikepdf.Stream:
        entries.setdefault("ColorSpace", Name.DeviceRGB)
        entries.setdefault("BitsPerComponent", 8)
        return self.stream(data, Type=Name.XObject, Subtype=Name.Image, Width=width, Height=height, **entries)

    def stream(self, content: bytes, **entries: object) -> pikepdf.Stream:
        made = self.pdf.make_stream(content)
        for key, value in entries.items():
            made[f"/{key}"] = value
        return made

    def read(self, content: bytes, user_unit: float = 1.0) -> PageMarks:
        self.page.obj.Contents = self.pdf.make_stream(content)
        return self.read_as_is(user_unit)

    def read_as_is(self, user_unit: float = 1.0) -> PageMarks:
        readers = Readers(FontReader(), Layers(self.pdf))
        media = Box(0.0, 0.0, WIDTH * user_unit, HEIGHT * user_unit)
        return interpret_page(self.page.obj, 1, user_unit, media, readers)


def read(content: bytes) -> PageMarks:
    """The marks of a page with no resources."""
    return Drawn().read(content)


def marks(content: bytes) -> tuple[Mark, ...]:
    """The marks of a page with no resources, in which nothing is wrong."""
    page = read(content)
    assert page.problems == ()
    return page.marks


def only(page: PageMarks, kind: MarkKind | None = None) -> Mark:
    """The only mark, or the only one of a kind."""
    [mark] = [each for each in page.marks if kind is None or each.kind is kind]
    return mark


def corners(box: Box | None) -> tuple[float, float, float, float]:
    """The corners of a box, rounded for comparing."""
    assert box is not None
    return round(box.x0, 4), round(box.y0, 4), round(box.x1, 4), round(box.y1, 4)


def kinds(page: PageMarks) -> list[ProblemKind]:
    """The kinds of the problems, in order."""
    return [problem.kind for problem in page.problems]


def helvetica() -> Dictionary:
    """A standard font, not embedded."""
    return Dictionary(
        Type=Name.Font, Subtype=Name.Type1, BaseFont=Name.Helvetica, Encoding=Name.WinAnsiEncoding
    )
