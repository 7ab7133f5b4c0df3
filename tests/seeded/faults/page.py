"""Faults of the page: bleed, margins, marks near the cut, and what lies outside."""

from pikepdf import Array

from hotfolder.model.geometry import Box
from tests.seeded.colours import separation
from tests.seeded.images import slope
from tests.seeded.kinds import Told, fault
from tests.seeded.planting import HEIGHT_MM, UNIT, WIDTH_MM, Sheet, corners
from tests.seeded.type_by_hand import latin

_AREA = "0.1 0.6 0 0 k"


@fault("bleed", "not-drawn")
def an_area_that_ends_at_the_cut(sheet: Sheet) -> Told:
    sheet.clip(-3, 20, 151, 213)
    sheet.area(-3, 0, 151, 10, _AREA)
    return Told((0,), "mm", boxes=(sheet.box(0, -3, WIDTH_MM, 0),))


@fault("bleed", "not-drawn")
def a_frame_that_leaves_one_millimetre_of_bleed_at_the_left(sheet: Sheet) -> Told:
    sheet.clip(-1, -3, 151, 213)
    return Told((1,), "mm", inside=sheet.box(-3, 0, 0, HEIGHT_MM))


@fault("bleed", "not-drawn")
def a_picture_with_one_millimetre_of_bleed(sheet: Sheet) -> Told:
    sheet.clip(-3, 40, 151, 213)
    sheet.picture((40, -1, 108, 35), slope(sheet.pdf, 804, 426))
    return Told((1,), "mm", within=0.02, boxes=(sheet.box(40, -3, 108, 0),))


@fault("bleed", "cut-off")
def a_page_that_ends_at_the_cut(sheet: Sheet) -> Told:
    sheet.page.obj.MediaBox = sheet.page.obj.BleedBox = corners(sheet.trim)
    return Told((0,), "mm", inside=sheet.bleed)


@fault("bleed", "box-short")
def a_bleed_box_at_the_cut(sheet: Sheet) -> Told:
    sheet.page.obj.BleedBox = corners(sheet.trim)
    return Told((0,), "mm", inside=sheet.bleed)


@fault("bleed", "ends-on-paint")
def a_picture_that_ends_at_the_cut_on_a_ground_that_runs_on(sheet: Sheet) -> Told:
    sheet.picture((40, 150, 108, HEIGHT_MM), slope(sheet.pdf, 804, 709))
    return Told((0,), "mm", boxes=(sheet.box(40, HEIGHT_MM, 108, HEIGHT_MM + 3),))


@fault("safe-margin", "cut-by-trim")
def text_near_the_cut_in_a_form_in_a_form(sheet: Sheet) -> Told:
    """The letters' ink begins 0.8 mm from the cut; each form scales and shifts what it shows."""
    sheet.paper(0.5, 40, 60, 60)
    font = sheet.font()
    words = "7 pm"
    inner = sheet.form(f"BT 0 0 0 1 k {font} 20 Tf 0 0 Td {latin(words)} Tj ET")
    inner.Matrix = Array([0.5, 0, 0, 0.5, 10, 0])
    name = sheet.resource("XObject", inner)
    outer = sheet.form(f"q 1 0 0 1 -10 0 cm {name} Do Q")
    shown = sheet.resource("XObject", outer)
    size_pt, x = 10.0, 0.8
    sheet.draw(f"{size_pt / 10 / UNIT} 0 0 {size_pt / 10 / UNIT} {x} 50 cm {shown} Do")
    box = sheet.text_box(x, 50, words, size_pt)
    return Told((0.8,), "mm", within=0.2, boxes=(box,), close_pt=3)


@fault("safe-margin", "cut-by-trim")
def text_that_runs_over_the_cut(sheet: Sheet) -> Told:
    sheet.paper(100, 40, 151, 60)
    words, size_pt = "Every night", 12.0
    box = sheet.text_box(0, 50, words, size_pt)
    x = WIDTH_MM + 2 - box.width / UNIT
    return Told((-2,), "mm", within=0.25, boxes=(sheet.text(x, 50, words, size_pt),), close_pt=3)


@fault("safe-margin", "cut-by-trim")
def text_that_stands_upright_near_the_cut(sheet: Sheet) -> Told:
    """Capitals of 10 pt are 7 pt high; their base line is upright, so that their tops point to the cut."""
    sheet.paper(0.2, 30, 60, 90)
    words, base = "Seven", 3.1
    sheet.draw(f"BT 0 0 0 1 k {sheet.font()} {10 / UNIT} Tf 0 1 -1 0 {base} 40 Tm {latin(words)} Tj ET")
    corner, along = sheet.box(base, 40, base, 40), sheet.text_box(0, 0, words, 10).width
    box = Box(corner.x0 - 7, corner.y0, corner.x0, corner.y0 + along)
    return Told((base - 7 / UNIT,), "mm", within=0.4, boxes=(box,), close_pt=3)


@fault("safe-margin", "near-trim")
def text_within_the_safe_margin(sheet: Sheet) -> Told:
    sheet.paper(20, -3, 128, 20)
    box = sheet.text(30, 2.5, "Open on weekdays", 10)
    return Told((2.5,), "mm", within=0.7, boxes=(box,), close_pt=3)


@fault("marks-near-trim", "isolated")
def a_logo_near_the_cut(sheet: Sheet) -> Told:
    sheet.clip(-3, 110, 151, 213)
    sheet.draw(f"{_AREA} 1.5 40 m 11.5 40 l 6.5 50 l h f")
    return Told((1.5,), "mm", boxes=(sheet.box(1.5, 40, 11.5, 50),))


@fault("marks-near-trim", "frame")
def a_frame_along_the_cut(sheet: Sheet) -> Told:
    sheet.draw(f"0 0 0 1 K 0.4 w 2 2 {WIDTH_MM - 4} {HEIGHT_MM - 4} re S")
    box = sheet.box(1.8, 1.8, WIDTH_MM - 1.8, HEIGHT_MM - 1.8)
    return Told((1.8,), "mm", boxes=(box,))


@fault("printers-marks", "in-bleed")
def crop_marks_that_reach_into_the_bleed(sheet: Sheet) -> Told:
    sheet.with_margin(12)
    sheet.draw("0 0 0 1 K 0.1 w -8 0 m -1 0 l S")
    return Told((1,), "mm", boxes=(sheet.box(-8, -0.05, -1, 0.05),))


@fault("printers-marks", "in-bleed")
def a_registration_mark_in_the_bleed(sheet: Sheet) -> Told:
    sheet.clip(-3, 110, 151, 213)
    space = separation(sheet, "All", 1, 1, 1, 1)
    sheet.draw(f"{space} CS 1 SCN 0.2 w 60 -1.9 m 64 -1.9 l S")
    return Told((1.8,), "mm", boxes=(sheet.box(60, -2, 64, -1.8),))


@fault("outside-bleed", "picture")
def a_picture_beside_the_page(sheet: Sheet) -> Told:
    sheet.with_margin(40)
    box = sheet.picture((-35, 100, -10, 130), slope(sheet.pdf, 300, 360))
    return Told((1,), "pictures", boxes=(box,))


@fault("blank-pages", "blank")
def a_back_with_nothing_on_it(sheet: Sheet) -> Told:
    back = sheet.copy()
    back.page.obj.Contents = sheet.pdf.make_stream(b"0 0 0 0 k 0 0 10 10 re f")
    return Told((1,), "blank pages", page=2)


@fault("blank-pages", "blank", "layers.present", "layers.hidden", "pdfx-claim.layers")
def a_back_whose_layers_are_all_off(sheet: Sheet) -> Told:
    back = sheet.copy()
    back.page.obj.Contents = sheet.pdf.make_stream(b"")
    group = sheet.layer("Draft")
    sheet.pdf.Root.OCProperties.D.OFF = Array([group])
    back.draw_on(group, f"{_AREA} 30 40 40 20 re f")
    return Told((1,), "blank pages", page=2)
