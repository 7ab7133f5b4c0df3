"""Files that draw pictures, forms or code that a level does not take."""

from io import BytesIO
from typing import Final

import pikepdf
from pikepdf import Array, Dictionary, Name, Stream, String
from PIL import Image

from hotfolder.checks.shared.pdfx_levels import ALL, X4
from tests.checks.pdf.pdfx.cases.case import Case
from tests.checks.pdf.pdfx.drawing import draw, draw_form, draw_picture, picture, resource

_PROXY: Final = {"/1.3": Dictionary(Type=Name.OPI, Version=1.3, F=String("harbour.tif"))}


def _code(pdf: pikepdf.Pdf) -> None:
    code = Stream(pdf, b"showpage")
    code.Type, code.Subtype = Name.XObject, Name.PS
    draw(pdf, resource(pdf, "XObject", pdf.make_indirect(code)) + b" Do")


def _form_of_code(pdf: pikepdf.Pdf) -> None:
    draw_form(pdf, Subtype2=Name.PS)


def _form_with_code(pdf: pikepdf.Pdf) -> None:
    draw_form(pdf, PS=pdf.make_indirect(Stream(pdf, b"showpage")))


def _operator(pdf: pikepdf.Pdf) -> None:
    draw(pdf, b"(showpage) PS")


def _reference(pdf: pikepdf.Pdf) -> None:
    draw_form(pdf, Ref=Dictionary(F=String("harbour.pdf"), Page=0))


def _picture_of_another(pdf: pikepdf.Pdf) -> None:
    draw_picture(pdf, OPI=Dictionary(_PROXY))


def _form_of_another(pdf: pikepdf.Pdf) -> None:
    draw_form(pdf, OPI=Dictionary(_PROXY))


def _alternate(pdf: pikepdf.Pdf) -> None:
    others = [Dictionary(Image=picture(pdf)), Dictionary(Image=picture(pdf), DefaultForPrinting=True)]
    draw_picture(pdf, Alternates=Array(others))


def _deep(pdf: pikepdf.Pdf) -> None:
    draw_picture(pdf, bytes(512), BitsPerComponent=16)


def _deep_inline(pdf: pikepdf.Pdf) -> None:
    draw(pdf, b"40 0 0 40 60 60 cm BI /W 1 /H 1 /BPC 16 /CS /G ID xx\nEI")


def jpeg_2000(mode: str, *, bare: bool = False) -> bytes:
    """A picture of 8 x 8 pixels, compressed as JPEG 2000. bare: the codestream without boxes around it."""
    file = BytesIO()
    Image.new(mode, (8, 8)).save(file, "JPEG2000", no_jp2=bare)
    return file.getvalue()


def _two_channels(pdf: pikepdf.Pdf) -> None:
    two = Array([Name.DeviceN, Array([Name("/Lantern Gold"), Name.Black]), Name.DeviceCMYK, _mix(pdf)])
    draw_picture(pdf, jpeg_2000("LA", bare=True), Filter=Name.JPXDecode, ColorSpace=pdf.make_indirect(two))


def _mix(pdf: pikepdf.Pdf) -> pikepdf.Object:
    mix = Stream(pdf, b"{ 0 3 1 roll exch dup 0.2 mul exch 0.8 mul 3 -1 roll }")
    mix.FunctionType, mix.Domain, mix.Range = 4, Array([0, 1] * 2), Array([0, 1] * 4)
    return pdf.make_indirect(mix)


def _uneven_depth(pdf: pikepdf.Pdf) -> None:
    data = bytearray(jpeg_2000("RGB"))
    at = data.index(b"\xff\x4f\xff\x51")
    data[at + 42 + 3] = 3  # the second component has four bits
    draw_picture(
        pdf,
        bytes(data),
        Filter=Name.JPXDecode,
        ColorSpace=pdf.pages[0].obj.Resources.XObject.Screen.ColorSpace,
    )


CASES: Final = (
    Case("postscript", "an XObject of code", _code),
    Case("postscript", "a form that is code", _form_of_code),
    Case("postscript", "a form with code", _form_with_code),
    Case("postscript", "an operator", _operator),
    Case("reference-xobject", "a page of another file", _reference),
    Case("opi", "a picture", _picture_of_another),
    Case("opi", "a form", _form_of_another),
    Case("alternate-for-printing", "the second alternate", _alternate),
    Case("image-depth", "16 bits", _deep, ALL - X4),
    Case("image-depth", "16 bits inline", _deep_inline, ALL - X4),
    Case("jpx-channels", "two", _two_channels, X4),
    Case("jpx-depth", "another one for green", _uneven_depth, X4),
)
