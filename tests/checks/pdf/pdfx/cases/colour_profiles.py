"""Files with faults of colour profiles, of spaces that colours are blended in, and of rendering intents."""

from io import BytesIO
from typing import Final

from pikepdf import Array, Dictionary, Name, Object, Pdf, Stream
from PIL import Image

from hotfolder.checks.shared.pdfx_levels import ALL, X3, X4
from tests.checks.pdf.pdfx.bases import press_profile
from tests.checks.pdf.pdfx.cases.case import Case
from tests.checks.pdf.pdfx.cases.painting import Entry, draw, paint_in, profiled, resource
from tests.checks.pdf.pdfx.profiles_by_hand import profile_by_hand


def _no_profile(pdf: Pdf) -> None:
    paint_in(pdf, profiled(pdf, b"no profile at all"), "1 0 0")


def _four_of_three(pdf: Pdf) -> None:
    paint_in(pdf, profiled(pdf, profile_by_hand("CMYK", "prtr"), 3), "1 0 0")


def _no_number(pdf: Pdf) -> None:
    space = profiled(pdf)
    del space[1]["/N"]
    paint_in(pdf, space, "1 0 0")


def _profile_of_two_devices(pdf: Pdf) -> None:
    paint_in(pdf, profiled(pdf, profile_by_hand("RGB", "link")), "1 0 0")


def _profile_of_names(pdf: Pdf) -> None:
    paint_in(pdf, profiled(pdf, profile_by_hand("RGB", "nmcl")), "1 0 0")


def _version_4(pdf: Pdf) -> None:
    paint_in(pdf, profiled(pdf, profile_by_hand(version=(4, 2))), "1 0 0")


def _version_5(pdf: Pdf) -> None:
    paint_in(pdf, profiled(pdf, profile_by_hand(version=(5, 0))), "1 0 0")


def _cmyk_stands_in(pdf: Pdf) -> None:
    paint_in(pdf, profiled(pdf, Alternate=Name.DeviceCMYK), "1 0 0")


def _few_limits(pdf: Pdf) -> None:
    paint_in(pdf, profiled(pdf, Range=Array([0, 1])), "1 0 0")


def _output_profile_again(pdf: Pdf) -> None:
    paint_in(pdf, profiled(pdf, press_profile(), 4), "0 1 1 0")


def _overprinting_with_profile(pdf: Pdf) -> None:
    resource(pdf, "ColorSpace", "More", profiled(pdf, profile_by_hand("CMYK", "prtr"), 4))
    draw(pdf, "q /Over gs /More cs 0 1 1 0 scn 60 60 40 20 re f Q")


def _page_in_rgb(pdf: Pdf) -> None:
    pdf.pages[0].obj.Group = Dictionary(S=Name.Transparency, CS=Name.DeviceRGB)


def _group(pdf: Pdf, space: Entry | None) -> Object:
    form = Stream(pdf, b"1 0 0 0 k 0 0 10 10 re f")
    form.Type, form.Subtype, form.BBox = Name.XObject, Name.Form, Array([0, 0, 10, 10])
    form.Resources = Dictionary()
    form.Group = Dictionary(S=Name.Transparency)
    if space is not None:
        form.Group.CS = space
    return pdf.make_indirect(form)


def _form_in_rgb(pdf: Pdf) -> None:
    resource(pdf, "XObject", "Veiled", _group(pdf, Name.DeviceRGB))
    draw(pdf, "q 1 0 0 1 60 60 cm /Veiled Do Q")


def _form_in_lab(pdf: Pdf) -> None:
    space = Array([Name.Lab, Dictionary(WhitePoint=Array([0.9642, 1, 0.8249]))])
    resource(pdf, "XObject", "Veiled", _group(pdf, space))
    draw(pdf, "q 1 0 0 1 60 60 cm /Veiled Do Q")


def _masked(pdf: Pdf, group: Object) -> None:
    mask = Dictionary(S=Name.Luminosity, G=group)
    resource(pdf, "ExtGState", "Masked", Dictionary(Type=Name.ExtGState, SMask=mask))
    draw(pdf, "q 1 0 0 1 60 60 cm /Masked gs 0 1 0 0 k 0 0 10 10 re f Q")


def _mask_in_rgb(pdf: Pdf) -> None:
    _masked(pdf, _group(pdf, Name.DeviceRGB))


def _mask_without_space(pdf: Pdf) -> None:
    _masked(pdf, _group(pdf, None))


def _intent_by_operator(pdf: Pdf) -> None:
    draw(pdf, "/Colorful ri")


def _intent_in_state(pdf: Pdf) -> None:
    resource(pdf, "ExtGState", "Odd", Dictionary(Type=Name.ExtGState, RI=Name.Colorful))
    draw(pdf, "q /Odd gs Q")


def _intent_of_picture(pdf: Pdf) -> None:
    pdf.pages[0].obj.Resources.XObject.Picture.Intent = Name.Perceptive


def _black_point(pdf: Pdf) -> None:
    state = Dictionary(Type=Name.ExtGState, UseBlackPtComp=Name.ON)
    resource(pdf, "ExtGState", "Odd", state)
    draw(pdf, "q /Odd gs Q")


def _bare_jpx(pdf: Pdf) -> None:
    out = BytesIO()
    Image.new("RGB", (16, 16), (200, 40, 10)).save(out, "JPEG2000", no_jp2=True)
    picture = Stream(pdf, b"")
    picture.write(out.getvalue(), filter=Name.JPXDecode)
    picture.Type, picture.Subtype, picture.Width, picture.Height = Name.XObject, Name.Image, 16, 16
    resource(pdf, "XObject", "Bare", pdf.make_indirect(picture))
    draw(pdf, "q 20 0 0 20 60 60 cm /Bare Do Q")


CASES: Final = (
    Case("profile-unreadable", "other data", _no_profile, X3 | X4),
    Case("profile-components", "four of three", _four_of_three, X3 | X4),
    Case("profile-components", "no number", _no_number, X3 | X4),
    Case("profile-kind", "from one device to another", _profile_of_two_devices, X3 | X4),
    Case("profile-kind", "of names", _profile_of_names, X3 | X4),
    Case("profile-version", "version 4", _version_4, X3),
    Case("profile-version", "version 5", _version_5, X3 | X4),
    Case("profile-entries", "CMYK for RGB", _cmyk_stands_in, X3 | X4),
    Case("profile-entries", "limits for one", _few_limits, X3 | X4),
    Case("output-profile-again", "an area", _output_profile_again, X4),
    Case("overprint-with-profile", "an area", _overprinting_with_profile, X3 | X4),
    Case("blend-space", "the page in RGB", _page_in_rgb, X4),
    Case("blend-space", "a form in RGB", _form_in_rgb, X4),
    Case("blend-space", "a form in Lab", _form_in_lab, X4),
    Case("blend-space", "a mask in RGB", _mask_in_rgb, X4),
    Case("mask-space", "none", _mask_without_space, X4),
    Case("rendering-intent", "an operator", _intent_by_operator),
    Case("rendering-intent", "a state", _intent_in_state),
    Case("rendering-intent", "a picture", _intent_of_picture),
    Case("black-point", "a state", _black_point, ALL),
    Case("jpx-colour", "a bare codestream", _bare_jpx, X4),
)
