"""Makes a plain page in screen colours print-ready, as a studio does that owns one way to PDF only.

Colours become inks by the plainest rule there is (the share that all three lack becomes black): good enough
for tests, and no more. The page becomes the bleed, and the trim lies 3 mm inside.
"""

import io
from typing import Any, Final

import pikepdf
from pikepdf import Array, Dictionary, Name, Operator, String

from hotfolder.units import mm_to_pt

_TRIM: Final = (148.0, 210.0)  # A5, ISO 216
_DATE: Final = "D:20260101000000Z"
_IN_INKS: Final = {"rg": "k", "RG": "K"}


def print_ready(pdf: pikepdf.Pdf) -> None:
    """Inks, boxes and claim for the one page of `pdf`."""
    page = pdf.pages[0]
    media = [float(side) for side in page.mediabox]
    # Programs round the page to whole points or pixels: the trim stands in its middle.
    width, height = (mm_to_pt(side) for side in _TRIM)
    left, low = (media[0] + media[2] - width) / 2, (media[1] + media[3] - height) / 2
    page.obj.TrimBox = Array([round(side, 3) for side in (left, low, left + width, low + height)])
    page.obj.BleedBox = Array(media)
    for entry in ("/Group", "/CropBox"):
        if entry in page.obj:
            del page.obj[entry]
    page.obj.Contents = pdf.make_stream(_in_inks(page))
    _pictures_in_inks(page.resources)
    claim(pdf, "PDF/X-1a:2003")


def claim(pdf: pikepdf.Pdf, level: str) -> None:
    """What ISO 15930-4 and -6 ask for beyond the pages: claim, title, dates, trapping, output intent."""
    pdf.docinfo[Name.GTS_PDFXVersion] = String(level)
    # What a program did not write of its own accord.
    for key, value in ((Name.Title, "Flyer"), (Name.CreationDate, _DATE), (Name.ModDate, _DATE)):
        if key not in pdf.docinfo:
            pdf.docinfo[key] = String(value)
    pdf.docinfo[Name.Trapped] = Name("/False")
    pdf.Root.OutputIntents = Array(
        [
            Dictionary(
                Type=Name.OutputIntent,
                S=Name.GTS_PDFX,
                OutputConditionIdentifier=String("FOGRA39"),
                OutputCondition=String("Offset printing on coated paper"),
                RegistryName=String("http://www.color.org"),
                Info=String("A registered condition"),
            )
        ]
    )


def inks(red: float, green: float, blue: float) -> tuple[float, float, float, float]:
    """Cyan, magenta, yellow and black for a screen colour."""
    black = 1 - max(red, green, blue)
    if black >= 1:
        return 0, 0, 0, 1
    cyan, magenta, yellow = ((1 - part - black) / (1 - black) for part in (red, green, blue))
    return round(cyan, 4), round(magenta, 4), round(yellow, 4), round(black, 4)


def _in_inks(page: pikepdf.Page) -> bytes:
    told: list[tuple[list[Any], Operator]] = []
    for instruction in pikepdf.parse_content_stream(page):
        operator = str(instruction.operator)
        if operator in _IN_INKS:
            red, green, blue = (float(each) for each in instruction.operands)
            told.append(([*inks(red, green, blue)], Operator(_IN_INKS[operator])))
        else:
            told.append(([*instruction.operands], instruction.operator))
    return pikepdf.unparse_content_stream(told)


def _pictures_in_inks(resources: Dictionary) -> None:
    for each in (resources.get("/XObject") or {}).values():
        if not isinstance(each, pikepdf.Stream) or each.get("/Subtype") == Name.Form:
            raise NotImplementedError("this page has forms: their colours would stay as they are")
        if each.get("/ColorSpace") != Name.DeviceCMYK:
            file = io.BytesIO()
            pikepdf.PdfImage(each).as_pil_image().convert("CMYK").save(file, "JPEG", quality=85)
            each.write(file.getvalue(), filter=Name.DCTDecode)
            each.ColorSpace, each.BitsPerComponent = Name.DeviceCMYK, 8
            each.Decode = Array([1, 0] * 4)  # a JPEG file has its inks upside down
