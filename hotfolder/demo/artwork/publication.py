"""Sheets made into a PDF file, with or without what PDF/X-1a asks for."""

import io
from dataclasses import dataclass
from typing import Final

import pikepdf
from pikepdf import Array, Dictionary, Name, String

from hotfolder.demo.artwork.sheet import Gradient, JpegPicture, Sheet
from hotfolder.demo.artwork.typeface import CAP_HEIGHT, DESCENT, EM, Typeface
from hotfolder.units import mm_to_pt

_NONSYMBOLIC: Final = 32  # ISO 32000-2, table 121: font flags
_WRITTEN: Final = "D:20260901120000Z"


@dataclass(frozen=True, slots=True)
class Export:
    """How a program exports: what a designer's settings do to the file.

    pdfx: as PDF/X-1a:2003, with the registered condition FOGRA39 as output intent. bleed_mm: how much of
    what lies beyond the trim is kept. embed: names of the fonts that are left out.
    """

    title: str
    pdfx: bool = True
    bleed_mm: float = 3.0
    fonts_left_out: frozenset[str] = frozenset()


def pdf_of(sheets: tuple[Sheet, ...], export: Export) -> bytes:
    """The sheets as pages of a PDF file."""
    pdf = pikepdf.new()
    shared: dict[int, pikepdf.Object] = {}  # what several pages use is in the file once
    for sheet in sheets:
        _add_page(pdf, sheet, export, shared)
    pdf.docinfo[Name.Title] = String(export.title)
    pdf.docinfo[Name.Creator] = String("hotfolder demo")
    pdf.docinfo[Name.Producer] = String("hotfolder demo")
    pdf.docinfo[Name.CreationDate] = String(_WRITTEN)
    pdf.docinfo[Name.ModDate] = String(_WRITTEN)
    if export.pdfx:
        _claim(pdf)
    file = io.BytesIO()
    # PDF/X-1a:2003 is PDF 1.4 (ISO 15930-4), which knows no object streams.
    pdf.save(file, force_version="1.4", object_stream_mode=pikepdf.ObjectStreamMode.disable)
    return file.getvalue()


def _claim(pdf: pikepdf.Pdf) -> None:
    """What ISO 15930-4 asks for beyond the pages: the claim, the trapping state, the output intent."""
    pdf.docinfo[Name.GTS_PDFXVersion] = String("PDF/X-1a:2003")
    pdf.docinfo[Name.Trapped] = Name("/False")
    pdf.Root.OutputIntents = Array(
        [
            Dictionary(
                Type=Name.OutputIntent,
                S=Name.GTS_PDFX,
                OutputConditionIdentifier=String("FOGRA39"),
                OutputCondition=String("Offset printing on coated paper, ISO 12647-2"),
                RegistryName=String("http://www.color.org"),
                Info=String("A registered condition: its profile need not be embedded"),
            )
        ]
    )


def _add_page(pdf: pikepdf.Pdf, sheet: Sheet, export: Export, shared: dict[int, pikepdf.Object]) -> None:
    room, bleed = mm_to_pt(sheet.room), mm_to_pt(export.bleed_mm)
    width, height = mm_to_pt(sheet.width), mm_to_pt(sheet.height)
    page = pdf.add_blank_page()
    page.obj.TrimBox = Array([room, room, room + width, room + height])
    outer = Array([room - bleed, room - bleed, room + width + bleed, room + height + bleed])
    page.obj.MediaBox = page.obj.BleedBox = outer
    page.obj.Resources = Dictionary(
        Font=Dictionary(
            {f"/F{index}": _font(pdf, face, export, shared) for index, face in enumerate(sheet.typefaces)}
        ),
        XObject=Dictionary(
            {f"/P{index}": _image(pdf, each, shared) for index, each in enumerate(sheet.pictures)}
        ),
        Pattern=Dictionary(
            {f"/G{index}": _pattern(each, sheet) for index, each in enumerate(sheet.gradients)}
        ),
    )
    page.obj.Contents = pdf.make_stream(sheet.stream())


def _pattern(gradient: Gradient, sheet: Sheet) -> Dictionary:
    first, last = (Array([*colour]) for colour in gradient.colours)
    shading = Dictionary(
        ShadingType=2,
        ColorSpace=Name.DeviceCMYK if len(first) == 4 else Name.DeviceRGB,
        Coords=Array([*gradient.start, *gradient.end]),
        Extend=Array([True, True]),
        Function=Dictionary(FunctionType=2, Domain=Array([0, 1]), C0=first, C1=last, N=1),
    )
    return Dictionary(Type=Name.Pattern, PatternType=2, Shading=shading, Matrix=Array([*sheet.matrix]))


def _image(pdf: pikepdf.Pdf, picture: JpegPicture, shared: dict[int, pikepdf.Object]) -> pikepdf.Object:
    if id(picture) not in shared:
        stream = pdf.make_stream(picture.jpeg)
        stream.Type, stream.Subtype, stream.Filter = Name.XObject, Name.Image, Name.DCTDecode
        stream.Width, stream.Height, stream.BitsPerComponent = picture.width_px, picture.height_px, 8
        stream.ColorSpace = Name.DeviceCMYK if picture.is_cmyk else Name.DeviceRGB
        if picture.is_cmyk:  # a JPEG file has its inks upside down
            stream.Decode = Array([1, 0] * 4)
        shared[id(picture)] = stream
    return shared[id(picture)]


def _font(
    pdf: pikepdf.Pdf, face: Typeface, export: Export, shared: dict[int, pikepdf.Object]
) -> pikepdf.Object:
    if id(face) not in shared:
        codes = range(32, 256)
        letters = [bytes([code]).decode("cp1252", "replace") for code in codes]
        descriptor = Dictionary(
            Type=Name.FontDescriptor,
            FontName=Name(f"/{face.name}"),
            Flags=_NONSYMBOLIC,
            FontBBox=Array([-50, DESCENT, EM, CAP_HEIGHT]),
            ItalicAngle=0,
            Ascent=CAP_HEIGHT,
            Descent=DESCENT,
            CapHeight=CAP_HEIGHT,
            StemV=face.weight,
        )
        if face.name not in export.fonts_left_out:
            descriptor.FontFile2 = pdf.make_stream(face.program, Length1=len(face.program))
        shared[id(face)] = pdf.make_indirect(
            Dictionary(
                Type=Name.Font,
                Subtype=Name.TrueType,
                BaseFont=Name(f"/{face.name}"),
                FirstChar=codes[0],
                LastChar=codes[-1],
                Widths=Array([face.advances.get(letter, 0) for letter in letters]),
                Encoding=Name.WinAnsiEncoding,
                FontDescriptor=pdf.make_indirect(descriptor),
            )
        )
    return shared[id(face)]
