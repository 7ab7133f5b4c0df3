"""Fonts that lack what a PDF may leave out, or are written oddly, and print as they should."""

from collections.abc import Callable

from pikepdf import Name

from tests.pdf.fonts import made_fonts
from tests.seeded.kinds import look_alike
from tests.seeded.planting import UNIT, Sheet
from tests.seeded.type_by_hand import composite_font, made_typeface, plain_font, shown

_FACE = "Seed-Text"


def _set(sheet: Sheet, change: Callable[[bytes], bytes], length1: int | None = None) -> None:
    sheet.paper(20, 30, 120, 70)
    font = plain_font(sheet.pdf, made_typeface(_FACE, 74))
    stream = font.FontDescriptor.FontFile2
    stream.write(change(made_typeface(_FACE, 74).program))
    if length1 is not None:
        stream.Length1 = length1
    sheet.text(30, 45, "Seven", 12, font=sheet.resource("Font", font))


def _entries(program: bytes) -> range:
    return range(12, 12 + 16 * program[5], 16)


def _without(program: bytes, *tags: bytes) -> bytes:
    """The program without some tables: its list of tables calls them what nobody asks for."""
    for at in _entries(program):
        if program[at : at + 4] in tags:
            program = program[:at] + b"none" + program[at + 4 :]
    return program


@look_alike("fonts")
def a_font_without_names_and_what_systems_ask_for(sheet: Sheet) -> None:
    """name, OS/2 and post serve whoever installs a font (ISO 32000-2, 9.9)."""
    _set(sheet, lambda program: _without(program, b"name", b"OS/2", b"post"))


@look_alike("fonts")
def a_composite_font_without_a_character_map(sheet: Sheet) -> None:
    """Its text goes by the numbers of glyphs, as office programs and browsers write it."""
    sheet.paper(20, 30, 120, 70)
    font = composite_font(sheet.pdf, "Seed-Wide", 74)
    stream = font.DescendantFonts[0].FontDescriptor.FontFile2
    stream.write(_without(stream.read_bytes(), b"cmap", b"name", b"OS/2", b"post"))
    named = sheet.resource("Font", font)
    sheet.draw(f"BT 0 0 0 1 k {named} {12 / UNIT} Tf 30 45 Td {shown('Seven')} Tj ET")


@look_alike("fonts")
def a_font_with_padding_behind_it(sheet: Sheet) -> None:
    _set(sheet, lambda program: program + b"\0" * 11)


@look_alike("fonts")
def a_font_without_checksums(sheet: Sheet) -> None:
    def change(program: bytes) -> bytes:
        for at in _entries(program):
            program = program[: at + 4] + b"\0\0\0\0" + program[at + 8 :]
        return program

    _set(sheet, change)


@look_alike("fonts")
def a_font_whose_stated_length_is_too_short(sheet: Sheet) -> None:
    _set(sheet, lambda program: program, length1=100)


@look_alike("fonts")
def a_font_whose_stated_length_is_too_long(sheet: Sheet) -> None:
    _set(sheet, lambda program: program, length1=10_000_000)


@look_alike("fonts")
def spaces_whose_glyph_has_no_data(sheet: Sheet) -> None:
    sheet.paper(20, 30, 120, 70)
    sheet.text(30, 45, "A B  C", 12)


@look_alike("fonts")
def a_damaged_font_that_only_hidden_text_uses(sheet: Sheet) -> None:
    """Mode 3, as programs lay recognised words over scans."""
    font = plain_font(sheet.pdf, made_typeface(_FACE, 74))
    font.FontDescriptor.FontFile2.write(made_typeface(_FACE, 74).program[:400])
    sheet.draw(f"BT 3 Tr {sheet.resource('Font', font)} {12 / UNIT} Tf 30 45 Td <53> Tj ET")


def _by_hand(sheet: Sheet, program: bytes, key: str) -> None:
    sheet.paper(20, 30, 120, 70)
    font = made_fonts.simple(sheet.pdf, program, key, subtype=Name.Type1)
    if key == "FontFile3":
        font.FontDescriptor.FontFile3.Subtype = Name.Type1C
    named = sheet.resource("Font", font)
    sheet.draw(f"BT 0 0 0 1 k {named} {12 / UNIT} Tf 30 45 Td (AO A) Tj ET")


@look_alike("fonts")
def a_type_1_font_without_its_trailer_of_zeros(sheet: Sheet) -> None:
    _by_hand(sheet, made_fonts.type1(), "FontFile")


@look_alike("fonts")
def a_type_1_font_with_its_trailer_of_zeros(sheet: Sheet) -> None:
    _by_hand(sheet, made_fonts.type1() + b"0" * 512 + b"\ncleartomark\n", "FontFile")


@look_alike("fonts")
def a_cff_font_with_padding_behind_it(sheet: Sheet) -> None:
    _by_hand(sheet, made_fonts.cff() + b"\0" * 3, "FontFile3")
