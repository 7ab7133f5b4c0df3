"""Faults that let through what lies beneath, where the printer wants none of that."""

from pikepdf import Array, Dictionary, Name

from tests.seeded.images import grey_slope, slope
from tests.seeded.kinds import Told, fault
from tests.seeded.planting import Sheet

_AREA = (30.0, 40.0, 70.0, 60.0)
_BLUE = "0.6 0.2 0 0 k"


@fault("transparency", "opacity", "pdfx-claim.opacity")
def an_area_of_half_opacity(sheet: Sheet) -> Told:
    box = sheet.area(*_AREA, f"{sheet.state(ca=0.5)} {_BLUE}")
    return Told("opacity", boxes=(box,))


@fault("transparency", "opacity", "pdfx-claim.opacity")
def a_line_of_half_opacity(sheet: Sheet) -> Told:
    sheet.draw(f"{sheet.state(CA=0.5)} 0 0 0 1 K 1 w 30 40 m 70 40 l S")
    return Told("opacity", boxes=(sheet.box(30, 39.5, 70, 40.5),))


@fault("transparency", "blend-mode", "pdfx-claim.blend-mode")
def an_area_that_multiplies(sheet: Sheet) -> Told:
    box = sheet.area(*_AREA, f"{sheet.state(BM=Name.Multiply)} {_BLUE}")
    return Told("blend mode", boxes=(box,))


@fault("transparency", "blend-mode", "pdfx-claim.blend-mode")
def a_blend_mode_chosen_from_a_list(sheet: Sheet) -> Told:
    """The first of the list that a program knows is meant (ISO 32000-1, 11.6.3)."""
    modes = Array([Name.Unheard, Name.Darken])
    box = sheet.area(*_AREA, f"{sheet.state(BM=modes)} {_BLUE}")
    return Told("blend mode", boxes=(box,))


@fault("transparency", "soft-mask", "pdfx-claim.soft-mask")
def an_area_that_fades_out(sheet: Sheet) -> Told:
    group = Dictionary(S=Name.Transparency, CS=Name.DeviceGray)
    shape = sheet.form("0.5 g 0 0 1000 1000 re f", Group=group)
    mask = Dictionary(S=Name.Luminosity, G=shape)
    box = sheet.area(*_AREA, f"{sheet.state(SMask=mask)} {_BLUE}")
    return Told("soft mask", boxes=(box,))


@fault("transparency", "image-soft-mask", "pdfx-claim.image-soft-mask")
def a_picture_that_fades_out(sheet: Sheet) -> Told:
    image = slope(sheet.pdf, 300, 300, SMask=grey_slope(sheet.pdf, 300, 300))
    return Told("image soft mask", boxes=(sheet.picture((30, 30, 55.4, 55.4), image),))


@fault("transparency", "group", "pdfx-claim.transparency-group")
def an_area_in_a_transparency_group(sheet: Sheet) -> Told:
    form = sheet.form(f"{_BLUE} 30 40 40 20 re f", Group=Dictionary(S=Name.Transparency))
    sheet.draw(f"{sheet.resource('XObject', form)} Do")
    return Told("group", boxes=(sheet.box(*_AREA),))


@fault("transparency", "overprint", "pdfx-claim.transparency-group")
def overprint_in_a_transparency_group(sheet: Sheet) -> Told:
    state = sheet.state(op=True, OP=True)
    form = sheet.form(f"{state} 1 0.8 0 0 k 30 40 40 20 re f", Group=Dictionary(S=Name.Transparency))
    sheet.draw(f"{sheet.resource('XObject', form)} Do")
    return Told("overprint", boxes=(sheet.box(*_AREA),))
