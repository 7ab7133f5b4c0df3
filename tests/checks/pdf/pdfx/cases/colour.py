"""Files with colours that a level does not take, or that are not put down as they should be."""

from typing import Final

from pikepdf import Array, Dictionary, Name, Pdf, Stream, String

from hotfolder.checks.shared.pdfx_levels import ALL, X1A, X3, X4
from tests.checks.pdf.pdfx.cases.case import Case
from tests.checks.pdf.pdfx.cases.painting import (
    draw,
    lab,
    paint_in,
    profiled,
    resource,
    separation,
    tint_to,
)
from tests.checks.pdf.pdfx.profiles_by_hand import profile_by_hand


def _rgb(pdf: Pdf) -> None:
    draw(pdf, "1 0.2 0 rg 60 60 40 20 re f")


def _rgb_line(pdf: Pdf) -> None:
    draw(pdf, "1 0.2 0 RG 2 w 60 60 m 100 60 l S")


def _rgb_picture(pdf: Pdf) -> None:
    pdf.pages[0].obj.Resources.XObject.Picture.ColorSpace = Name.DeviceRGB


def _rgb_inline(pdf: Pdf) -> None:
    draw(pdf, "q 20 0 0 20 60 60 cm BI /W 1 /H 1 /BPC 8 /CS /RGB ID abc EI Q")


def _rgb_table(pdf: Pdf) -> None:
    paint_in(pdf, Array([Name.Indexed, Name.DeviceRGB, 1, String(b"\x00\x10\x20\x30\x40\x50")]), "1")


def _rgb_gradient(pdf: Pdf) -> None:
    function = Dictionary(FunctionType=2, Domain=Array([0, 1]), C0=Array([1, 0, 0]), C1=Array([0, 0, 1]), N=1)
    shading = Dictionary(
        ShadingType=2, ColorSpace=Name.DeviceRGB, Coords=Array([60, 0, 90, 0]), Function=function
    )
    resource(pdf, "Shading", "Fade", shading)
    draw(pdf, "q 60 60 30 20 re W n /Fade sh Q")


def _rgb_pattern(pdf: Pdf) -> None:
    cell = Stream(pdf, b"0 0 4 4 re f")
    cell.PatternType, cell.PaintType, cell.TilingType = 1, 2, 1
    cell.BBox, cell.XStep, cell.YStep, cell.Resources = Array([0, 0, 8, 8]), 8, 8, Dictionary()
    resource(pdf, "Pattern", "Dots", pdf.make_indirect(cell))
    resource(pdf, "ColorSpace", "Dotted", Array([Name.Pattern, Name.DeviceRGB]))
    draw(pdf, "/Dotted cs 1 0 0 /Dots scn 60 60 40 20 re f")


def _rgb_in_form(pdf: Pdf) -> None:
    form = Stream(pdf, b"1 0 0 rg 0 0 10 10 re f")
    form.Type, form.Subtype, form.BBox = Name.XObject, Name.Form, Array([0, 0, 10, 10])
    form.Resources = Dictionary()
    resource(pdf, "XObject", "Patch", pdf.make_indirect(form))
    draw(pdf, "q 1 0 0 1 60 60 cm /Patch Do Q")


def _rgb_where_only_the_page_has_a_default(pdf: Pdf) -> None:
    resource(pdf, "ColorSpace", "DefaultRGB", profiled(pdf))
    _rgb_in_form(pdf)


def _lab(pdf: Pdf) -> None:
    paint_in(pdf, lab(), "60 40 20")


def _cal_grey(pdf: Pdf) -> None:
    paint_in(pdf, Array([Name.CalGray, Dictionary(WhitePoint=Array([0.9642, 1, 0.8249]))]))


def _profiled(pdf: Pdf) -> None:
    paint_in(pdf, profiled(pdf), "1 0 0")


def _default_cmyk(pdf: Pdf) -> None:
    profile = pdf.Root.OutputIntents[0].DestOutputProfile.read_bytes()
    resource(pdf, "ColorSpace", "DefaultCMYK", profiled(pdf, profile, 4))


def _cmyk_on_a_press_of_grey(pdf: Pdf) -> None:
    """Its CMYK all stays; grey on that press is no fault."""
    intent = pdf.Root.OutputIntents[0]
    if "/DestOutputProfileRef" in intent:
        intent.DestOutputProfileRef.ProfileCS = String("GRAY")
    else:
        intent.DestOutputProfile = profiled(pdf, profile_by_hand("GRAY", "prtr"), 1)[1]


def _spot_in_lab(pdf: Pdf) -> None:
    paint_in(pdf, separation(pdf, "Moss", lab(), 3))


def _spot_in_rgb(pdf: Pdf) -> None:
    paint_in(pdf, separation(pdf, "Moss", Name.DeviceRGB, 3))


def _spot_in_spot(pdf: Pdf) -> None:
    paint_in(pdf, separation(pdf, "Moss", separation(pdf, "Fern", Name.DeviceCMYK, 4), 1))


def _mix(pdf: Pdf, *inks: str, **attributes: object) -> Array:
    names = Array([Name(f"/{ink}") for ink in inks])
    parts = [Name.DeviceN, names, Name.DeviceCMYK, tint_to(pdf, 4, len(inks))]
    return Array([*parts, Dictionary(attributes)] if attributes else parts)


def _single_ink_in_rgb(pdf: Pdf) -> None:
    moss = separation(pdf, "Moss", Name.DeviceRGB, 3)
    colorants = Dictionary(Moss=moss)
    # The inks of a mix are described one by one beside it, and this one is nowhere painted by itself.
    paint_in(pdf, _mix(pdf, "Moss", "Fern", **{"/Colorants": colorants}), "0.5 0.5")


def _process_in_rgb(pdf: Pdf) -> None:
    process = Dictionary(ColorSpace=Name.DeviceRGB, Components=Array([Name.Red, Name.Green, Name.Blue]))
    paint_in(pdf, _mix(pdf, "Moss", "Fern", **{"/Subtype": Name.NChannel, "/Process": process}), "0.5 0.5")


def _no_space(pdf: Pdf) -> None:
    paint_in(pdf, Array([Name.DeviceSepia, 7]))


def _space_in_a_circle(pdf: Pdf) -> None:
    circle = pdf.make_indirect(Array([Name.Indexed, Name.DeviceGray, 0, String(b"\x00")]))
    circle[1] = circle
    resource(pdf, "ColorSpace", "More", circle)
    draw(pdf, "/More cs 0 scn 60 60 40 20 re f")


def _no_tint(pdf: Pdf) -> None:
    paint_in(pdf, Array([Name.Separation, Name.Moss, Name.DeviceCMYK, Name.Identity]))


def _tint_of_three(pdf: Pdf) -> None:
    paint_in(pdf, Array([Name.Separation, Name.Moss, Name.DeviceCMYK, tint_to(pdf, 3)]))


def _tint_for_one(pdf: Pdf) -> None:
    inks = Array([Name.Moss, Name.Fern])
    paint_in(pdf, Array([Name.DeviceN, inks, Name.DeviceCMYK, tint_to(pdf, 4)]), "0.5 0.5")


def _all_in_a_mix(pdf: Pdf) -> None:
    paint_in(pdf, _mix(pdf, "Moss", "All"), "0.5 0.5")


def _an_ink_twice(pdf: Pdf) -> None:
    paint_in(pdf, _mix(pdf, "Moss", "Fern", "Moss"), "0.5 0.5 0.5")


def _no_ink_name(pdf: Pdf) -> None:
    paint_in(pdf, Array([Name.Separation, String("Moss"), Name.DeviceCMYK, tint_to(pdf, 4)]))


def _short_table(pdf: Pdf) -> None:
    paint_in(pdf, Array([Name.Indexed, Name.DeviceCMYK, 3, String(b"\x00\x10\x20\x30")]), "1")


def _long_table(pdf: Pdf) -> None:
    paint_in(pdf, Array([Name.Indexed, Name.DeviceGray, 256, String(bytes(257))]), "1")


def _no_white(pdf: Pdf) -> None:
    paint_in(pdf, Array([Name.CalRGB, Dictionary(Gamma=Array([2.2, 2.2, 2.2]))]), "1 0 0")


def _grey_white(pdf: Pdf) -> None:
    paint_in(pdf, Array([Name.CalGray, Dictionary(WhitePoint=Array([0.9, 0.95, 0.8]))]))


def _ink_by_another_name(pdf: Pdf) -> None:
    colorants = Dictionary(Moss=separation(pdf, "Heather", Name.DeviceCMYK, 4))
    paint_in(pdf, _mix(pdf, "Moss", "Fern", **{"/Colorants": colorants}), "0.5 0.5")


def _process_of_three(pdf: Pdf) -> None:
    process = Dictionary(ColorSpace=Name.DeviceCMYK, Components=Array([Name.Cyan, Name.Magenta, Name.Yellow]))
    paint_in(pdf, _mix(pdf, "Moss", "Cyan", **{"/Subtype": Name.NChannel, "/Process": process}), "0.5 0.5")


CASES: Final = (
    Case("rgb-colour", "an area", _rgb, X1A),
    Case("rgb-colour", "a line", _rgb_line, X1A),
    Case("rgb-colour", "a picture", _rgb_picture, X1A),
    Case("rgb-colour", "an inline picture", _rgb_inline, X1A),
    Case("rgb-colour", "a table of colours", _rgb_table, X1A),
    Case("rgb-colour", "a gradient", _rgb_gradient, X1A),
    Case("rgb-colour", "a pattern without colours", _rgb_pattern, X1A),
    Case("rgb-colour", "in a form", _rgb_in_form, X1A),
    Case("device-independent-colour", "Lab", _lab, X1A),
    Case("device-independent-colour", "CalGray", _cal_grey, X1A),
    Case("device-independent-colour", "a profile", _profiled, X1A),
    Case("default-colour-space", "DefaultCMYK", _default_cmyk, X1A),
    Case("device-colour", "an area in RGB", _rgb, X3 | X4),
    Case("device-colour", "a picture in RGB", _rgb_picture, X3 | X4),
    Case("device-colour", "an inline picture in RGB", _rgb_inline, X3 | X4),
    Case("device-colour", "a table of RGB", _rgb_table, X3 | X4),
    Case("device-colour", "a gradient in RGB", _rgb_gradient, X3 | X4),
    Case("device-colour", "a pattern in RGB", _rgb_pattern, X3 | X4),
    Case("device-colour", "a form without the default", _rgb_where_only_the_page_has_a_default, X3 | X4),
    Case("device-colour", "CMYK on a press of grey", _cmyk_on_a_press_of_grey, X1A),
    # The spot ink is described in CMYK, too
    Case(
        "device-colour",
        "CMYK on a press of grey",
        _cmyk_on_a_press_of_grey,
        X3 | X4,
        also=frozenset({"spot-alternate"}),
    ),
    Case("spot-alternate", "Lab", _spot_in_lab, X1A),
    Case("spot-alternate", "RGB", _spot_in_rgb, ALL),
    Case("spot-alternate", "another ink", _spot_in_spot, ALL),
    Case("ink-description", "RGB", _single_ink_in_rgb, ALL),
    Case("ink-description", "process inks of RGB", _process_in_rgb, ALL),
    Case("unknown-colour-space", "no family", _no_space),
    Case("unknown-colour-space", "a circle", _space_in_a_circle),
    Case("tint-transform", "none", _no_tint),
    Case("tint-transform", "three components of four", _tint_of_three),
    Case("tint-transform", "one ink of two", _tint_for_one),
    Case("ink-names", "registration colour in a mix", _all_in_a_mix),
    Case("ink-names", "an ink twice", _an_ink_twice),
    Case("ink-names", "no name", _no_ink_name),
    Case("colour-table", "too short", _short_table),
    Case("colour-table", "too many colours", _long_table),
    Case("white-point", "none", _no_white, X3 | X4),
    Case("white-point", "too dark", _grey_white, X3 | X4),
    Case("ink-entries", "another name", _ink_by_another_name, X4),
    Case("ink-entries", "three process inks of four", _process_of_three, X4),
)
