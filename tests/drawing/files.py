"""Small artwork files built by code, and the facts of them that drawing needs."""

import struct
import zlib
from pathlib import Path

import pikepdf
from pikepdf import Array, Dictionary, Name

from hotfolder.model.artwork import Artwork
from hotfolder.model.colour import ColourKind, ColourSpace
from hotfolder.model.facts import FileFacts, Format, Unmeasured
from hotfolder.model.geometry import Box
from hotfolder.model.pages import Page, PageBoxes
from hotfolder.model.raster import RasterFacts

NO_TRIM = Unmeasured("trim", "not asked for here")
NO_MARKS = Unmeasured("marks", "not asked for here")

# A corner of each colour in points of a 200 x 300 sheet whose origin lies at -10, -10.
SHEET = Box(-10, -10, 190, 290)
CORNERS = (
    b"1 0 0 rg -10 -10 20 20 re f "  # red, bottom left
    b"0 1 0 rg -10 270 20 20 re f "  # green, top left
    b"0 0 1 rg 170 270 20 20 re f"  # blue, top right
)


def corner_pdf(path: Path, rotate: int = 0, *, inherited: bool = False, user_unit: float = 1) -> Artwork:
    """A sheet with three coloured corners, most of it outside of the crop box."""
    pdf = pikepdf.new()
    page = pdf.add_blank_page(page_size=(200, 300))
    media = Array([SHEET.x0, SHEET.y0, SHEET.x1, SHEET.y1])
    if inherited:
        del page.obj.MediaBox
        pdf.Root.Pages.MediaBox = media
    else:
        page.obj.MediaBox = media
    page.obj.CropBox = Array([50, 50, 100, 100])
    page.obj.Contents = pdf.make_stream(CORNERS)
    if rotate:
        page.obj.Rotate = rotate
    if user_unit != 1:
        page.obj.UserUnit = user_unit
    pdf.save(path)
    media_box = Box(*(side * user_unit for side in (SHEET.x0, SHEET.y0, SHEET.x1, SHEET.y1)))
    return pdf_artwork(Page(1, rotate, user_unit, PageBoxes(media=media_box), NO_TRIM, NO_MARKS))


def annotated_pdf(path: Path) -> Artwork:
    """Stamps and form fields, of each one that prints (left) and one for the screen only (right)."""
    pdf = pikepdf.new()
    page = pdf.add_blank_page(page_size=(200, 200))
    look = pdf.make_stream(
        b"0 0 1 rg 0 0 50 50 re f", Type=Name.XObject, Subtype=Name.Form, BBox=Array([0, 0, 50, 50])
    )

    def annotation(x: int, y: int, subtype: Name, flags: int) -> pikepdf.Object:
        return pdf.make_indirect(
            Dictionary(
                Type=Name.Annot,
                Subtype=subtype,
                Rect=Array([x, y, x + 50, y + 50]),
                F=flags,
                AP=Dictionary(N=look),
                FT=Name.Tx,
                T=f"field {x} {y}",
            )
        )

    fields = [annotation(25, 25, Name.Widget, 4), annotation(125, 25, Name.Widget, 0)]
    stamps = [annotation(25, 125, Name.Stamp, 4), annotation(125, 125, Name.Stamp, 0)]
    page.obj.Annots = Array([*fields, *stamps])
    pdf.Root.AcroForm = Dictionary(Fields=Array(fields))
    pdf.save(path)
    return pdf_artwork(Page(1, 0, 1, PageBoxes(media=Box(0, 0, 200, 200)), NO_TRIM, NO_MARKS))


def layered_pdf(path: Path) -> Artwork:
    """A layer that is off on paper (left), and one that is on (right)."""
    pdf = pikepdf.new()
    page = pdf.add_blank_page(page_size=(200, 100))

    def layer(name: str, state: Name) -> pikepdf.Object:
        usage = Dictionary(Print=Dictionary(PrintState=state))
        return pdf.make_indirect(Dictionary(Type=Name.OCG, Name=name, Usage=usage))

    off, on = layer("guides", Name.OFF), layer("picture", Name.ON)
    pdf.Root.OCProperties = Dictionary(
        OCGs=Array([off, on]),
        D=Dictionary(
            Order=Array([off, on]),
            AS=Array([Dictionary(Event=Name.Print, Category=Array([Name.Print]), OCGs=Array([off, on]))]),
        ),
    )
    page.obj.Resources = Dictionary(Properties=Dictionary(A=off, B=on))
    page.obj.Contents = pdf.make_stream(
        b"1 0 0 rg /OC /A BDC 0 0 100 100 re f EMC /OC /B BDC 100 0 100 100 re f EMC"
    )
    pdf.save(path)
    return pdf_artwork(Page(1, 0, 1, PageBoxes(media=Box(0, 0, 200, 100)), NO_TRIM, NO_MARKS))


def many_pages_pdf(path: Path, count: int) -> Artwork:
    """Blank A7-like pages."""
    pdf = pikepdf.new()
    for _ in range(count):
        pdf.add_blank_page(page_size=(210, 298))
    pdf.save(path)
    boxes = PageBoxes(media=Box(0, 0, 210, 298))
    return pdf_artwork(*(Page(number, 0, 1, boxes, NO_TRIM, NO_MARKS) for number in range(1, count + 1)))


def pdf_artwork(*pages: Page) -> Artwork:
    """The facts of a PDF, as far as drawing looks at them."""
    return Artwork(FileFacts("artwork.pdf", 1, "00" * 32, Format.PDF), pages)


def raster_artwork(
    file_format: Format,
    width: int,
    height: int,
    *,
    orientation: int = 1,
    progressive: bool = False,
    flat_picture_valid: bool = True,
) -> Artwork:
    """The facts of a raster file, as far as drawing looks at them."""
    raster = RasterFacts(
        width,
        height,
        8,
        ColourSpace("RGB", ColourKind.RGB, 3),
        None,
        None,
        None,
        "none",
        orientation=orientation,
        progressive=progressive,
        flat_picture_valid=flat_picture_valid,
    )
    page = Page(1, 0, 1, PageBoxes(media=None), NO_TRIM, NO_MARKS, raster=raster)
    return Artwork(FileFacts("artwork", 1, "00" * 32, file_format), (page,))


def huge_png(path: Path, side: int) -> None:
    """A grey PNG of `side` x `side` pixels in few bytes (W3C PNG, third edition)."""

    def chunk(kind: bytes, data: bytes) -> bytes:
        return struct.pack(">I", len(data)) + kind + data + struct.pack(">I", zlib.crc32(kind + data))

    packer = zlib.compressobj(9)
    row = bytes(side + 1)
    data = b"".join(packer.compress(row) for _ in range(side)) + packer.flush()
    header = struct.pack(">IIBBBBB", side, side, 8, 0, 0, 0, 0)
    path.write_bytes(
        b"\x89PNG\r\n\x1a\n" + chunk(b"IHDR", header) + chunk(b"IDAT", data) + chunk(b"IEND", b"")
    )


def small_psd(path: Path, colour: tuple[int, int, int], side: int = 20) -> None:
    """A flat RGB document of one colour: signature, header, three empty sections, raw planes."""
    header = struct.pack(">4sH6xHIIHH", b"8BPS", 1, 3, side, side, 8, 3)
    planes = b"".join(bytes([value]) * side * side for value in colour)
    path.write_bytes(header + bytes(12) + struct.pack(">H", 0) + planes)
