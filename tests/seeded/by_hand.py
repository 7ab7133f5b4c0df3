"""A flyer put together object by object: all that is legal and that other programs seldom write.

Media box and resources are inherited; the trim box has its corners swapped; the page is turned and does not
begin at the origin; the content is cut into streams in the middle of things, stands in nested forms, and is
encoded in layers; the picture is an inline one; the text is in a composite font and overprints.
"""

import base64
import io
import zlib
from typing import Final

import pikepdf
from pikepdf import Array, Dictionary, Name, String

from hotfolder.units import mm_to_pt
from tests.seeded.print_ready import claim
from tests.seeded.type_by_hand import composite_font, shown

_UNIT: Final = mm_to_pt(1)
_CORNER: Final = (-100.0, 50.0)  # of the sheet, in points


def by_hand(picture: bytes) -> bytes:
    """An A5 flyer as PDF/X-3:2003 with the JPEG file `picture` (480 x 360 px, CMYK) in it."""
    pdf = pikepdf.new()
    page = pdf.add_blank_page()
    pages = page.obj.Parent
    x, y = _CORNER
    sheet = [x, y, x + 154 * _UNIT, y + 216 * _UNIT]
    del page.obj.MediaBox
    pages.MediaBox = Array(sheet)
    page.obj.BleedBox = Array([sheet[0], sheet[3], sheet[2], sheet[1]])
    bleed = 3 * _UNIT
    page.obj.TrimBox = Array([sheet[2] - bleed, sheet[3] - bleed, x + bleed, y + bleed])
    page.obj.Rotate = 90
    del page.obj.Resources
    font = composite_font(pdf, "Kestrel-Hand", 74)
    words = _form(
        pdf,
        f"BT 0 0 0 1 k /Over gs /F 10 Tf 0 0 Td {shown('Open on weekdays')} Tj ET\n".encode(),
        Font=Dictionary(F=font),
        ExtGState=Dictionary(Over=Dictionary(OP=True, op=True, OPM=1)),
    )
    # Words lie in a form in a form, each with a matrix of its own.
    words.Matrix = Array([2, 0, 0, 2, 0, 0])
    outer = _form(pdf, b"q 0.5 0 0 0.5 0 0 cm /Words Do Q", XObject=Dictionary(Words=words))
    pages.Resources = Dictionary(XObject=Dictionary(Outer=outer), Font=Dictionary(F=font))
    page.obj.Contents = Array([pdf.make_stream(part) for part in _content(picture)])
    page.obj.Contents[0] = _layered(pdf, page.obj.Contents[0].read_bytes())
    pdf.docinfo[Name.Title] = String("Flyer")
    claim(pdf, "PDF/X-3:2003")
    file = io.BytesIO()
    pdf.save(file, force_version="1.4", object_stream_mode=pikepdf.ObjectStreamMode.disable)
    return file.getvalue()


def _content(picture: bytes) -> tuple[bytes, ...]:
    """The page's streams, cut where nothing ends but a token."""
    x, y = _CORNER
    ground = (
        f"q {_UNIT} 0 0 {_UNIT} {x} {y} cm\n"
        "0.2 0 0.1 0 k 0 0 154 216 re f 0.6 0.2 0 0 k 0 123 154 93 re f\n"
        "1 1 1 1 K 0 0 0 0 k 15 40 124 70 re f\n"
        "q 40 0 0 30 18 140"
    )
    inline = (
        b" cm BI /W 480 /H 360 /BPC 8 /CS /CMYK /D [1 0 1 0 1 0 1 0] /F [/A85 /DCT] ID\n"
        + _ascii85(picture)
        + b"\nEI Q\n"
    )
    rest = (
        f"q 0 0 0 1 K 0.18 w 18 108 m 136 108 l S Q\n"
        f"q {1 / _UNIT} 0 0 {1 / _UNIT} 18 112 cm /Outer Do Q\n"
        f"BT 0 0 0 0 k /F {24 / _UNIT} Tf 18 198 Td {shown('Kestrel + Reed')} Tj ET Q"
    )
    return ground.encode(), inline, rest.encode()


def _ascii85(data: bytes) -> bytes:
    coded = base64.a85encode(data, wrapcol=80)
    return coded + b"~>"


def _layered(pdf: pikepdf.Pdf, data: bytes) -> pikepdf.Stream:
    """A stream encoded twice."""
    stream = pdf.make_stream(b"")
    stream.write(
        zlib.compress(data).hex().encode() + b">", filter=Array([Name.ASCIIHexDecode, Name.FlateDecode])
    )
    return stream


def _form(pdf: pikepdf.Pdf, content: bytes, **resources: Dictionary) -> pikepdf.Stream:
    form = pdf.make_stream(content)
    form.Type, form.Subtype = Name.XObject, Name.Form
    form.BBox = Array([-1000, -1000, 1000, 1000])
    form.Resources = Dictionary({f"/{kind}": entries for kind, entries in resources.items()})
    return form
