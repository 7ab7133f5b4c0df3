"""Faults of font programs: damaged behind a start that is in order."""

from collections.abc import Callable

from pikepdf import Name

from tests.pdf.fonts import made_fonts
from tests.seeded.kinds import Told, fault
from tests.seeded.planting import UNIT, Sheet
from tests.seeded.type_by_hand import composite_font, latin, made_typeface, plain_font, shown

_FACE = "Seed-Text"
_GARBAGE = bytes(73 * number % 251 for number in range(251))


def _set(sheet: Sheet, spoil: Callable[[bytes], bytes]) -> Told:
    """A word in a TrueType font whose program is spoilt."""
    sheet.paper(20, 30, 120, 70)
    font = plain_font(sheet.pdf, made_typeface(_FACE, 74))
    font.FontDescriptor.FontFile2.write(spoil(made_typeface(_FACE, 74).program))
    sheet.text(30, 45, "Lost", 12, font=sheet.resource("Font", font))
    return Told(_FACE, inside=sheet.box(29, 40, 60, 52))


def _table(program: bytes, tag: bytes) -> tuple[int, int]:
    """Where a table begins, and how long it is."""
    for at in range(12, 12 + 16 * program[5], 16):
        if program[at : at + 4] == tag:
            return int.from_bytes(program[at + 8 : at + 12]), int.from_bytes(program[at + 12 : at + 16])
    raise ValueError(tag)


def _over(program: bytes, tag: bytes, content: bytes) -> bytes:
    """The program with other bytes in a table, as many as fit."""
    place, length = _table(program, tag)
    return program[:place] + (content * (length // len(content) + 1))[:length] + program[place + length :]


@fault("fonts", "damaged", "pdfx-claim.font-damaged")
def a_font_that_was_cut_off_in_the_middle(sheet: Sheet) -> Told:
    return _set(sheet, lambda program: program[: len(program) // 2])


@fault("fonts", "damaged", "pdfx-claim.font-damaged")
def a_font_that_was_cut_off_behind_its_list_of_tables(sheet: Sheet) -> Told:
    return _set(sheet, lambda program: program[: 12 + 16 * program[5]])


@fault("fonts", "damaged", "pdfx-claim.font-damaged")
def a_font_of_garbage_behind_a_valid_start(sheet: Sheet) -> Told:
    def spoil(program: bytes) -> bytes:
        start = 12 + 16 * program[5]
        return program[:start] + (_GARBAGE * (len(program) // len(_GARBAGE) + 1))[: len(program) - start]

    return _set(sheet, spoil)


@fault("fonts", "damaged", "pdfx-claim.font-damaged")
def a_font_of_which_only_the_beginning_was_written(sheet: Sheet) -> Told:
    """As a copy leaves it that set the size of the file and stopped."""
    return _set(sheet, lambda program: program[: 12 + 16 * program[5]].ljust(len(program), b"\0"))


@fault("fonts", "damaged", "pdfx-claim.font-damaged")
def a_font_whose_glyphs_are_garbage(sheet: Sheet) -> Told:
    return _set(sheet, lambda program: _over(program, b"glyf", _GARBAGE))


@fault("fonts", "damaged", "pdfx-claim.font-damaged")
def a_font_whose_glyphs_were_wiped_out(sheet: Sheet) -> Told:
    return _set(sheet, lambda program: _over(program, b"glyf", b"\0"))


@fault("fonts", "damaged", "pdfx-claim.font-damaged")
def a_font_that_does_not_say_where_its_glyphs_are(sheet: Sheet) -> Told:
    return _set(sheet, lambda program: _over(program, b"loca", b"\0"))


@fault("fonts", "damaged", "pdfx-claim.font-damaged")
def a_font_without_its_head(sheet: Sheet) -> Told:
    return _set(sheet, lambda program: program.replace(b"head", b"dead", 1))


@fault("fonts", "damaged", "pdfx-claim.font-damaged")
def a_composite_font_that_was_cut_off(sheet: Sheet) -> Told:
    """As office programs write them."""
    sheet.paper(20, 30, 120, 70)
    font = composite_font(sheet.pdf, "Seed-Wide", 74)
    stream = font.DescendantFonts[0].FontDescriptor.FontFile2
    program = stream.read_bytes()
    stream.write(program[: len(program) * 2 // 3])
    named = sheet.resource("Font", font)
    sheet.draw(f"BT 0 0 0 1 k {named} {12 / UNIT} Tf 30 45 Td {shown('Lost')} Tj ET")
    return Told("Seed-Wide", inside=sheet.box(29, 40, 60, 52))


def _by_hand(sheet: Sheet, program: bytes, key: str, subtype: str) -> Told:
    """A word in a font that is not TrueType."""
    sheet.paper(20, 30, 120, 70)
    font = made_fonts.simple(sheet.pdf, program, key, subtype=Name.Type1)
    if key == "FontFile3":
        font.FontDescriptor.FontFile3.Subtype = Name(f"/{subtype}")
    named = sheet.resource("Font", font)
    sheet.draw(f"BT 0 0 0 1 k {named} {12 / UNIT} Tf 30 45 Td (AOA) Tj ET")
    return Told("Made", inside=sheet.box(29, 40, 60, 52))


@fault("fonts", "damaged", "pdfx-claim.font-damaged")
def a_type_1_font_that_was_cut_off(sheet: Sheet) -> Told:
    """As TeX programs write them."""
    program = made_fonts.type1()
    return _by_hand(sheet, program[: len(program) * 3 // 5], "FontFile", "")


@fault("fonts", "damaged", "pdfx-claim.font-damaged")
def a_cff_font_that_was_cut_off(sheet: Sheet) -> Told:
    """As layout programs and Ghostscript write them."""
    program = made_fonts.cff()
    return _by_hand(sheet, program[: len(program) * 4 // 5], "FontFile3", "Type1C")


@fault("fonts", "damaged", "pdfx-claim.font-damaged")
def a_cff_font_of_garbage_behind_a_valid_start(sheet: Sheet) -> Told:
    program = made_fonts.cff()
    return _by_hand(sheet, program[:60] + _GARBAGE * 2, "FontFile3", "Type1C")


@fault("fonts", "damaged", "pdfx-claim.font-damaged")
def two_fonts_that_were_cut_off(sheet: Sheet) -> Told:
    """One cause, one finding, and both places."""
    sheet.paper(20, 30, 120, 70)
    for number, name in enumerate(("Seed-One", "Seed-Two")):
        font = plain_font(sheet.pdf, made_typeface(name, 74))
        font.FontDescriptor.FontFile2.write(made_typeface(name, 74).program[:400])
        named = sheet.resource("Font", font)
        sheet.draw(f"BT 0 0 0 1 k {named} {12 / UNIT} Tf 30 {45 + 10 * number} Td {latin('Lost')} Tj ET")
    return Told("Seed-One and Seed-Two", inside=sheet.box(29, 40, 60, 62))
