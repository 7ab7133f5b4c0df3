"""Files with fonts that are missing, broken, or not as the file says."""

from io import BytesIO
from typing import Final

from fontTools.ttLib import TTFont
from pikepdf import Array, Dictionary, Name, Object, Pdf, Stream

from hotfolder.checks.shared.pdfx_levels import X1A, X3
from tests.checks.pdf.pdfx.cases.case import Case
from tests.checks.pdf.pdfx.cases.painting import draw, resource
from tests.seeded.type_by_hand import composite_font, latin, made_typeface, plain_font, shown


def _fonts(pdf: Pdf) -> Object:
    return pdf.pages[0].obj.Resources.Font


def _write(pdf: Pdf, font: Object, text: str = "LIGHT", mode: int = 0) -> None:
    resource(pdf, "Font", "More", font)
    draw(pdf, f"BT {mode} Tr 0 0 0 1 k /More 12 Tf 60 60 Td {text} Tj ET")


def _not_embedded(pdf: Pdf) -> None:
    _write(pdf, plain_font(pdf, made_typeface("Elsewhere", 70), embedded=False), latin("LIGHT"))


def _standard_font(pdf: Pdf) -> None:
    _write(pdf, Dictionary(Type=Name.Font, Subtype=Name.Type1, BaseFont=Name.Helvetica), "(Light)")


def _composite_not_embedded(pdf: Pdf) -> None:
    font = composite_font(pdf, "Wide", 60)
    del font.DescendantFonts[0].FontDescriptor["/FontFile2"]
    _write(pdf, font, shown("LIGHT"))


def _blanks_alone(pdf: Pdf) -> None:
    _write(pdf, Dictionary(Type=Name.Font, Subtype=Name.Type1, BaseFont=Name.Helvetica), "(  )")


def _invisible(pdf: Pdf) -> None:
    _write(pdf, plain_font(pdf, made_typeface("Elsewhere", 70), embedded=False), latin("LIGHT"), mode=3)


def _cut_short(pdf: Pdf) -> None:
    font = plain_font(pdf, made_typeface("Short", 70))
    program = font.FontDescriptor.FontFile2
    program.write(program.read_bytes()[:600])
    _write(pdf, font, latin("LIGHT"))


def _without_a_glyph(pdf: Pdf) -> None:
    font = plain_font(pdf, made_typeface("Poor", 70))
    font.Encoding = Dictionary(BaseEncoding=Name.WinAnsiEncoding, Differences=Array([65, Name.alpha]))
    _write(pdf, font, latin("A"))


def _other_widths(pdf: Pdf) -> None:
    font = plain_font(pdf, made_typeface("Spread", 70))
    font.Widths = Array([each + 90 for each in font.Widths.as_list()])
    _write(pdf, font, latin("LIGHT"))


def _truetype_as_type1(pdf: Pdf) -> None:
    font = plain_font(pdf, made_typeface("Mixed", 70))
    font.Subtype = Name.Type1
    _write(pdf, font, latin("LIGHT"))


def _truetype_as_cff(pdf: Pdf) -> None:
    font = plain_font(pdf, made_typeface("Mixed", 70))
    font.Subtype = Name.Type1
    _as_file3(font.FontDescriptor, Name.Type1C)
    _write(pdf, font, latin("LIGHT"))


def _as_file3(descriptor: Object, subtype: Name) -> None:
    program = descriptor.FontFile2
    program.Subtype = subtype
    descriptor.FontFile3 = program
    del descriptor["/FontFile2"]


def _opentype(pdf: Pdf) -> None:
    font = plain_font(pdf, made_typeface("Open", 70))
    _as_file3(font.FontDescriptor, Name.OpenType)
    _write(pdf, font, latin("LIGHT"))


def _no_such_cmap(pdf: Pdf) -> None:
    font = composite_font(pdf, "Wide", 60)
    font.Encoding = Name("/Identity-Z")
    _write(pdf, font, shown("LIGHT"))


def _later_cmap(pdf: Pdf) -> None:
    font = composite_font(pdf, "Wide", 60)
    font.Encoding = Name("/UniJIS-UTF16-H")
    _write(pdf, font, "<00410042>")


def _no_glyph_map(pdf: Pdf) -> None:
    font = composite_font(pdf, "Wide", 60)
    del font.DescendantFonts[0]["/CIDToGIDMap"]
    _write(pdf, font, shown("LIGHT"))


def _restricted(pdf: Pdf) -> None:
    font = plain_font(pdf, made_typeface("Closed", 70))
    program = font.FontDescriptor.FontFile2
    tables = TTFont(BytesIO(program.read_bytes()))
    tables["OS/2"].fsType = 0x0002
    out = BytesIO()
    tables.save(out)
    font.FontDescriptor.FontFile2 = Stream(pdf, out.getvalue())
    _write(pdf, font, latin("LIGHT"))


CASES: Final = (
    Case("font-not-embedded", "a font of its own", _not_embedded),
    Case("font-not-embedded", "a standard font", _standard_font),
    Case("font-not-embedded", "a composite font", _composite_not_embedded),
    Case("invisible-font", "of text that is not painted", _invisible, X1A | X3),
    Case("invisible-font", "of blanks alone", _blanks_alone, X1A | X3),
    Case("font-damaged", "cut short", _cut_short),
    Case("glyph-missing", "one letter", _without_a_glyph),
    Case("font-widths", "all of them", _other_widths),
    Case("font-program-kind", "TrueType in a font of Type 1", _truetype_as_type1),
    Case("font-program-kind", "TrueType as CFF", _truetype_as_cff),
    Case("font-opentype", "an OpenType font", _opentype, X1A | X3),
    Case("font-cmap", "no such map", _no_such_cmap),
    Case("font-cmap", "a map of PDF 1.5", _later_cmap, X1A | X3),
    Case("font-glyph-map", "none", _no_glyph_map),
    Case("font-licence", "not to be embedded", _restricted),
)
