"""Things at the cut that would be faults if anybody could see them."""

from pikepdf import Dictionary, Name

from tests.seeded.images import image, slope
from tests.seeded.kinds import look_alike
from tests.seeded.planting import HEIGHT_MM, WIDTH_MM, Sheet
from tests.seeded.type_by_hand import latin

_INK = "seed-ink.toml"


def _everything(sheet: Sheet, how: str, colour: str, frame: str = "") -> None:
    """An area that ends at the cut, a logo and text near it, a picture beside the page; `frame` besides."""
    sheet.with_margin(40)
    sheet.clip(20, 20, 128, 190)
    picture = sheet.resource("XObject", slope(sheet.pdf, 300, 360))
    sheet.draw(
        f"{how} {colour} 30 0 40 5 re f 1.5 100 m 11.5 100 l 6.5 110 l h f"
        f" BT {sheet.font()} 4 Tf 0.2 50 Td {latin('Seven')} Tj ET"
        f" {frame}"
        f" q 25 0 0 30 -35 100 cm {picture} Do Q"
    )


@look_alike("bleed", rules=_INK)
def things_at_the_cut_without_any_opacity(sheet: Sheet) -> None:
    frame = f"0.4 w 2 2 {WIDTH_MM - 4} {HEIGHT_MM - 4} re S"
    _everything(sheet, sheet.state(ca=0, CA=0), "0 0 0 1 k 0 0 0 1 K", frame)


@look_alike("bleed", rules=_INK)
def things_at_the_cut_that_a_mask_hides(sheet: Sheet) -> None:
    """A luminosity mask whose group paints nothing is black all over (ISO 32000-2, 11.5.3)."""
    group = Dictionary(S=Name.Transparency, CS=Name.DeviceGray)
    mask = Dictionary(S=Name.Luminosity, G=sheet.form("", Group=group))
    _everything(sheet, sheet.state(SMask=mask), "0 0 0 1 k 0 0 0 1 K")


@look_alike("bleed", rules=_INK)
def things_on_a_ground_that_a_mask_hides(sheet: Sheet) -> None:
    """What is light in the mask lies elsewhere; the ground shows what it shows without them."""
    group = Dictionary(S=Name.Transparency, CS=Name.DeviceGray)
    light = sheet.form("1 g 60 60 20 20 re f", Group=group)
    how = sheet.state(SMask=Dictionary(S=Name.Luminosity, G=light))
    coarse = sheet.resource("XObject", slope(sheet.pdf, 30, 30))
    sheet.area(-3, -3, WIDTH_MM + 3, HEIGHT_MM + 3, "0 0.1 0.2 0 k")
    sheet.draw(
        f"{how} 0 0 0 1 k 30 0 40 5 re f 1.5 100 m 11.5 100 l 6.5 110 l h f"
        f" BT {sheet.font()} 4 Tf 0.2 50 Td {latin('Seven')} Tj ET"
        f" BT 0.5 0.4 0.4 1 k {sheet.font()} 1 Tf 20 30 Td {latin('Seven')} Tj ET"
        f" 0 w 0 0 0 1 K 20 20 m 50 20 l S q 40 0 0 40 20 100 cm {coarse} Do Q"
    )


@look_alike("safe-margin", rules=_INK)
def things_on_a_ground_that_a_mask_with_a_hole_hides(sheet: Sheet) -> None:
    """The mask is light, and black where they lie."""
    group = Dictionary(S=Name.Transparency, CS=Name.DeviceGray)
    hole = sheet.form("1 g -100 -100 900 900 re f 0 g -3 -3 40 220 re f", Group=group)
    sheet.area(-3, -3, WIDTH_MM + 3, HEIGHT_MM + 3, "0 0.1 0.2 0 k")
    how = sheet.state(SMask=Dictionary(S=Name.Luminosity, G=hole))
    sheet.draw(
        f"{how} 0 0 0 1 k 1.5 100 m 11.5 100 l 6.5 110 l h f"
        f" BT {sheet.font()} 4 Tf 0.2 50 Td {latin('Seven')} Tj ET 0 w 10 20 m 30 20 l S"
    )


@look_alike("safe-margin", rules=_INK)
def white_things_at_the_cut_that_multiply(sheet: Sheet) -> None:
    """Multiplied with white, what lies beneath stays as it is (ISO 32000-2, 11.3.5.2); so on every ground."""
    how = sheet.state(BM=Name.Multiply)
    sheet.draw(
        f"{how} 0 0 0 0 k 1.5 100 m 11.5 100 l 6.5 110 l h f"
        f" BT {sheet.font()} 4 Tf 0.2 50 Td {latin('Seven')} Tj ET"
    )


@look_alike("marks-near-trim", rules=_INK)
def a_picture_near_the_cut_whose_soft_mask_lets_nothing_through(sheet: Sheet) -> None:
    sheet.clip(20, 20, 128, 190)
    picture = slope(sheet.pdf, 300, 360)
    mask = sheet.pdf.make_stream(bytes(10 * 10))
    mask.Type, mask.Subtype, mask.Width, mask.Height = Name.XObject, Name.Image, 10, 10
    mask.ColorSpace, mask.BitsPerComponent = Name.DeviceGray, 8
    picture.SMask = mask
    sheet.picture((1, 100, 13, 114.4), picture)


@look_alike("outside-bleed")
def a_picture_beside_the_page_that_the_page_clips(sheet: Sheet) -> None:
    sheet.with_margin(40)
    named = sheet.resource("XObject", slope(sheet.pdf, 300, 360))
    sheet.draw(f"0 0 {WIDTH_MM} {HEIGHT_MM} re W n 25 0 0 30 -35 100 cm {named} Do")


@look_alike("blank-pages")
def a_back_that_is_a_nearly_white_photo(sheet: Sheet) -> None:
    """A scan of pencil on paper: a grey line of half a millimetre."""
    back = sheet.copy()
    back.page.obj.Contents = sheet.pdf.make_stream(b"")
    rows = [b"\xff" * 1819] * 2551
    rows[1200:1206] = [b"\xff" * 400 + b"\x80" * 1000 + b"\xff" * 419] * 6
    back.picture((-3, -3, 151, 213), image(sheet.pdf, 1819, 2551, b"".join(rows), ColorSpace=Name.DeviceGray))
