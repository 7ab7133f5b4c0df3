# How fonts are put down: the kind of their program, their maps, their licence; damage and wrong types.
import struct

import pikepdf
import pytest
from pikepdf import Array, Dictionary, Name, Stream

from hotfolder.model.inventory.fonts import FontEntries, ProgramKind
from hotfolder.pdf.content.readers import Readers
from hotfolder.pdf.content.uses import Use, UseKind
from hotfolder.pdf.document.optional_content import Layers
from hotfolder.pdf.fonts.fonts import FontReader
from hotfolder.pdf.inventory.fonts import read_fonts
from hotfolder.pdf.objects.resources import Resources
from tests.seeded.type_by_hand import composite_font, made_typeface, plain_font


def entries(pdf: pikepdf.Pdf, *fonts: object) -> tuple[FontEntries, ...]:
    uses = [Use(UseKind.FONT, font, page, Resources(), None) for page, font in enumerate(fonts, start=1)]
    return read_fonts(uses, Readers(FontReader(), Layers(pdf)))


def test_a_font_is_told_once_with_the_pages_that_choose_it() -> None:
    pdf = pikepdf.new()
    font = plain_font(pdf, made_typeface("Hand", 80))
    (told,) = entries(pdf, font, font)
    assert (told.name, told.subtype, told.composite, told.pages) == (
        "Hand", "TrueType", False, frozenset({1, 2}),
    )  # fmt: skip
    assert (told.file, told.kind, told.licence) == ("FontFile2", ProgramKind.TRUETYPE, 0x0004)


def test_a_composite_font_is_told_by_what_it_is_made_of() -> None:
    pdf = pikepdf.new()
    font = composite_font(pdf, "Wide", 60)
    (told,) = entries(pdf, font)
    assert (told.subtype, told.composite, told.cmap) == ("CIDFontType2", True, "Identity-H")
    assert (told.cid_map, told.cid_map_name) == (True, "Identity")
    font.Encoding = pdf.make_stream(b"a map")
    font.DescendantFonts[0].CIDToGIDMap = pdf.make_stream(b"\0\0")
    (told,) = entries(pdf, font)
    assert (told.cmap, told.cid_map, told.cid_map_name) == ("", True, "")


@pytest.mark.parametrize(
    ("data", "kind"),
    [
        (b"%!PS-AdobeFont-1.0", ProgramKind.TYPE1),
        (b"\x80\x01\x00\x00\x00\x00%!", ProgramKind.TYPE1),
        (b"\x01\x00\x04\x02rest", ProgramKind.CFF),
        (b"OTTO\0\0", ProgramKind.OPENTYPE_CFF),
        (b"true\0\0", ProgramKind.TRUETYPE),
        (b"something else", ProgramKind.UNKNOWN),
        (b"", ProgramKind.UNKNOWN),
    ],
)
def test_the_kind_of_a_program_is_told_by_its_first_bytes(data: bytes, kind: ProgramKind) -> None:
    pdf = pikepdf.new()
    font = plain_font(pdf, made_typeface("Hand", 80))
    font.FontDescriptor.FontFile2 = Stream(pdf, data)
    (told,) = entries(pdf, font)
    assert told.kind is kind


def test_the_licence_is_read_from_the_program() -> None:
    pdf = pikepdf.new()
    table = bytes(8) + struct.pack(">H", 0x0002)
    data = struct.pack(">4sH6x", b"\0\1\0\0", 1) + struct.pack(">4sIII", b"OS/2", 0, 28, len(table)) + table
    font = plain_font(pdf, made_typeface("Hand", 80))
    font.FontDescriptor.FontFile2 = Stream(pdf, data)
    (told,) = entries(pdf, font)
    assert told.licence == 0x0002
    font.FontDescriptor.FontFile2 = Stream(pdf, data[:30])  # it breaks off before
    assert entries(pdf, font)[0].licence is None


def test_fonts_that_make_no_sense_have_entries_like_none() -> None:
    pdf = pikepdf.new()
    for font in (Dictionary(), Dictionary(Subtype=Name.Type0, DescendantFonts=7), Array([])):
        (told,) = entries(pdf, font)
        assert (told.file, told.kind, told.cid_map) == ("", None, False)
