"""Drawing instructions of every kind that artwork is full of, as much of each as is wanted."""

from typing import Final

import pikepdf
from pikepdf import Array, Dictionary, Name

from tests.pdf.drawn_page import Drawn, helvetica

# What one kind of content repeats; a number is put in, so that no two are alike.
KINDS: Final[dict[str, bytes]] = {
    "lines": b"q 1 0 0 1 %(n)d.25 0 cm 0 0 0 1 k 0 0 m 10 10.5 l S Q\n",
    "polygons, stroked": b"%(n)d 0 m 1 2 l 4.5 5.25 l 7 8 l 10.5 20 l 20.5 3 l s\n",
    "curves, filled": b"%(n)d 0 m 1 2 3 4.5 5.25 6 c 7 8 l 7 8 9 10.5 20 20.5 c h f\n",
    "curves, stroked": b"%(n)d 0 m 1 2 3 4.5 5.25 6 c 7 8 9 10.5 20 20.5 c S\n",
    "rectangles": b"0.5 0.2 0.1 rg %(n)d 10 20 30 re f\n",
    "clips": b"q %(n)d 0 100 100 re W n 5 5 10 10 re f Q\n",
    "spot colours": b"/Spot cs 0.5 scn %(n)d 0 10 10 re f\n",
    "graphics states": b"q /State gs 1 0 0 RG %(n)d 0 m 5 5 l S Q\n",
    "marked content": b"/P <</MCID %(n)d>> BDC 0 0 5 5 re f EMC\n",
    "text, by lines": b"BT /F 12 Tf 1 0 0 1 %(n)d 70.5 Tm"
    b" [(He)-20.5(llo, )10(Wo)-5(rld)12(s of)20( text)] TJ ET\n",
    "text, by words": b"BT /F 12 Tf %(n)d 70 Td (word) Tj 30 0 Td (other) Tj 30 0 Td (third) Tj ET\n",
    "images": b"q 100 0 0 100 %(n)d 0 cm /Photo Do Q\n",
    "inline images": b"q 10 0 0 10 %(n)d 0 cm BI /W 1 /H 1 /BPC 8 /CS /G ID x\nEI Q\n",
    "shadings": b"q %(n)d 0 100 100 re W n /Ramp sh Q\n",
    "forms, one size": b"q 1 0 0 1 %(n)d 0 cm /Symbol Do Q\n",
    "forms, many sizes": b"q 1.%(n)d 0 0 1.%(n)d 5 0 cm /Symbol Do Q\n",
    "forms, many shapes": b"q 1.%(n)d 0 0 1 5 0 cm /Symbol Do Q\n",
    "forms, many colours": b"q 0.%(n)d g 1 0 0 1 5 0 cm /Symbol Do Q\n",
}
_DIFFERENT: Final = 280  # what they are put by; the page is 300 points wide


def page_of(kind: str, operators: int) -> Drawn:
    """A page with about so many operators of one kind of content."""
    drawn = Drawn().resource("Font", "F", helvetica())
    drawn.resource("XObject", "Photo", drawn.image(10, 10, bytes(range(100)) * 3))
    symbol = drawn.form(b"0 0 m 5 5 l S 1 0 0 rg 0 0 10 10 re f", BBox=Array([0, 0, 20, 20]))
    drawn.resource("XObject", "Symbol", symbol)
    drawn.resource("ExtGState", "State", Dictionary(ca=1, CA=1, OP=False))
    ramp = Dictionary(FunctionType=2, Domain=Array([0, 1]), C0=Array([0, 0, 0]), C1=Array([1, 1, 1]), N=1)
    axial = Dictionary(ShadingType=2, ColorSpace=Name.DeviceRGB, Coords=Array([0, 0, 900, 0]), Function=ramp)
    drawn.resource("Shading", "Ramp", axial)
    tint = Dictionary(FunctionType=2, Domain=Array([0, 1]), C0=Array([1]), C1=Array([0]), N=1)
    drawn.resource("ColorSpace", "Spot", Array([Name.Separation, Name.Moss, Name.DeviceGray, tint]))
    line = KINDS[kind]
    drawn.page.obj.Contents = drawn.pdf.make_stream(line % {b"n": 1})
    times = max(1, operators // len(pikepdf.parse_content_stream(drawn.page)))
    lines = b"".join(line % {b"n": number % _DIFFERENT} for number in range(times))
    drawn.page.obj.Contents = drawn.pdf.make_stream(lines)
    return drawn
