"""Faults that are nearly hidden, and show all the same."""

import io

from pikepdf import Array, Dictionary, Name, String
from PIL import Image

from tests.seeded.images import image
from tests.seeded.kinds import Told, fault
from tests.seeded.planting import Sheet
from tests.seeded.type_by_hand import latin

_INK = "seed-ink.toml"


@fault("safe-margin", "cut-by-trim", rules=_INK)
def text_at_the_cut_of_a_third_of_its_opacity(sheet: Sheet) -> Told:
    sheet.paper(0, 40, 60, 60)
    how = sheet.state(ca=0.35)
    box = sheet.text_box(0.5, 50, "Seven", 20)
    sheet.draw(f"{how} BT 0 0 0 1 k {sheet.font()} 7.0556 Tf 0.5 50 Td {latin('Seven')} Tj ET")
    return Told((0.5,), "mm", within=0.6, boxes=(box,), close_pt=4)


@fault("marks-near-trim", "isolated", rules=_INK)
def a_logo_near_the_cut_that_a_mask_fades(sheet: Sheet) -> Told:
    """The mask lets a half of it through."""
    sheet.clip(20, 110, 128, 190)
    group = Dictionary(S=Name.Transparency, CS=Name.DeviceGray)
    mask = Dictionary(S=Name.Luminosity, G=sheet.form("0.5 g -100 -100 1000 1000 re f", Group=group))
    sheet.draw(f"{sheet.state(SMask=mask)} 0.1 0.6 0 0 k 1.5 40 m 11.5 40 l 6.5 50 l h f")
    return Told((1.5,), "mm", boxes=(sheet.box(1.5, 40, 11.5, 50),))


@fault("safe-margin", "cut-by-trim", rules=_INK)
def text_at_the_cut_in_the_light_of_a_mask_on_a_ground(sheet: Sheet) -> Told:
    group = Dictionary(S=Name.Transparency, CS=Name.DeviceGray)
    light = sheet.form("0 g -10 -10 300 300 re f 1 g -10 40 60 30 re f", Group=group)
    how = sheet.state(SMask=Dictionary(S=Name.Luminosity, G=light))
    sheet.area(-3, -3, 70, 90, "0 0.1 0.2 0 k")
    box = sheet.text_box(0.5, 50, "Seven", 20)
    sheet.draw(f"{how} BT 0 0 0 1 k {sheet.font()} 7.0556 Tf 0.5 50 Td {latin('Seven')} Tj ET")
    return Told((0.5,), "mm", within=0.6, boxes=(box,), close_pt=4)


@fault("line-width", "hairline", "transparency.soft-mask", "pdfx-claim.soft-mask")
def a_line_of_width_0_of_which_a_mask_lets_a_part_through(sheet: Sheet) -> Told:
    """It is told where it is seen."""
    group = Dictionary(S=Name.Transparency, CS=Name.DeviceGray)
    light = sheet.form("1 g 30 30 40 40 re f", Group=group)
    how = sheet.state(SMask=Dictionary(S=Name.Luminosity, G=light))
    sheet.area(20, 30, 120, 70, "0 0.1 0.2 0 k")
    sheet.draw(f"{how} 0 0 0 1 K 0 w 40 40 m 100 40 l S")
    return Told((0,), "pt", boxes=(sheet.box(40, 40, 70, 40),))


@fault("blank-pages", "blank")
def a_back_that_is_one_white_jpeg(sheet: Sheet) -> Told:
    """JPEG data are not looked into: the plates tell that it lays no ink."""
    back = sheet.copy()
    back.page.obj.Contents = sheet.pdf.make_stream(b"")
    file = io.BytesIO()
    Image.new("L", (1819, 2551), 255).save(file, "JPEG", quality=80)
    white = image(sheet.pdf, 1819, 2551, b"", ColorSpace=Name.DeviceGray)
    white.write(file.getvalue(), filter=Name.DCTDecode)
    back.picture((-3, -3, 151, 213), white)
    return Told((1,), "blank pages", page=2)


@fault("blank-pages", "blank")
def a_back_that_is_a_white_picture_in_an_indexed_space(sheet: Sheet) -> Told:
    back = sheet.copy()
    back.page.obj.Contents = sheet.pdf.make_stream(b"")
    space = Array([Name.Indexed, Name.DeviceCMYK, 1, String(b"\xff\x00\x00\x00\x00\x00\x00\x00")])
    back.picture((-3, -3, 151, 213), image(sheet.pdf, 1819, 2551, b"\x01" * 1819 * 2551, ColorSpace=space))
    return Told((1,), "blank pages", page=2)
