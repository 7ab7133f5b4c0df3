"""Fonts for planted text: the demonstration's alphabet, whole or with a fault, as a font of a PDF."""

from functools import cache
from typing import Final

import pikepdf
from pikepdf import Array, Dictionary, Name, String

from hotfolder.demo.artwork.typeface import CAP_HEIGHT, DESCENT, EM, Typeface, typeface

_NONSYMBOLIC: Final = 32  # ISO 32000-2, table 121: font flags
_SYMBOLIC: Final = 4

made_typeface = cache(typeface)


def width_pt(text: str, size_pt: float, face: Typeface) -> float:
    """How wide a line of text is set."""
    return face.units(text.upper()) / EM * size_pt


def plain_font(pdf: pikepdf.Pdf, face: Typeface, *, embedded: bool = True) -> pikepdf.Object:
    """A TrueType font with the Latin encoding of Windows, for text as `latin` writes it."""
    codes = range(32, 256)
    letters = [bytes([code]).decode("cp1252", "replace") for code in codes]
    return pdf.make_indirect(
        Dictionary(
            Type=Name.Font,
            Subtype=Name.TrueType,
            BaseFont=Name(f"/{face.name}"),
            FirstChar=codes[0],
            LastChar=codes[-1],
            Widths=Array([face.advances.get(letter, 0) for letter in letters]),
            Encoding=Name.WinAnsiEncoding,
            FontDescriptor=_descriptor(pdf, face, _NONSYMBOLIC, embedded=embedded),
        )
    )


def composite_font(pdf: pikepdf.Pdf, name: str, weight: int) -> pikepdf.Object:
    """The same alphabet by glyph numbers of two bytes (Identity-H), for text as `shown` writes it."""
    face = made_typeface(name, weight)
    widths = [face.advances[character] for character in _glyphs(face)]
    inner = Dictionary(
        Type=Name.Font,
        Subtype=Name.CIDFontType2,
        BaseFont=Name(f"/{face.name}"),
        CIDSystemInfo=Dictionary(Registry=String("Adobe"), Ordering=String("Identity"), Supplement=0),
        CIDToGIDMap=Name.Identity,
        DW=0,
        W=Array([1, Array(widths)]),
        FontDescriptor=_descriptor(pdf, face, _SYMBOLIC, embedded=True),
    )
    return pdf.make_indirect(
        Dictionary(
            Type=Name.Font,
            Subtype=Name.Type0,
            BaseFont=Name(f"/{face.name}"),
            Encoding=Name("/Identity-H"),
            DescendantFonts=Array([pdf.make_indirect(inner)]),
        )
    )


def drawn_font(pdf: pikepdf.Pdf, name: str, glyph: str) -> pikepdf.Object:
    """A Type 3 font of one letter, A, that `glyph` draws on a square of 30 units."""
    return pdf.make_indirect(
        Dictionary(
            Type=Name.Font,
            Subtype=Name.Type3,
            Name=Name(f"/{name}"),
            FontBBox=Array([0, 0, 30, 30]),
            FontMatrix=Array([1 / 30, 0, 0, 1 / 30, 0, 0]),
            CharProcs=Dictionary(A=pdf.make_stream(glyph.encode())),
            Encoding=Dictionary(Type=Name.Encoding, Differences=Array([65, Name.A])),
            FirstChar=65,
            LastChar=65,
            Widths=Array([30]),
            Resources=Dictionary(),
        )
    )


def shown(text: str) -> str:
    """`text` as a string of glyph numbers: 1 is the space, the others follow in the alphabet's order."""
    places = {
        character: number for number, character in enumerate(_glyphs(made_typeface("Any", 74)), start=1)
    }
    return f"<{''.join(f'{places[character]:04X}' for character in text.upper())}>"


def latin(text: str) -> str:
    """`text` as a string of one byte a letter; capitals, for the alphabet has no others."""
    return f"<{text.upper().encode('cp1252').hex()}>"


def _glyphs(face: Typeface) -> list[str]:
    return list(face.advances)


def _descriptor(pdf: pikepdf.Pdf, face: Typeface, flags: int, *, embedded: bool) -> pikepdf.Object:
    descriptor = Dictionary(
        Type=Name.FontDescriptor,
        FontName=Name(f"/{face.name}"),
        Flags=flags,
        FontBBox=Array([-50, DESCENT, EM, CAP_HEIGHT]),
        ItalicAngle=0,
        Ascent=CAP_HEIGHT,
        Descent=DESCENT,
        CapHeight=CAP_HEIGHT,
        StemV=face.weight,
    )
    if embedded:
        descriptor.FontFile2 = pdf.make_stream(face.program, Length1=len(face.program))
    return pdf.make_indirect(descriptor)
