"""Opens an embedded font program, and draws the glyphs that its codes show.

The kind of program is known by its first bytes: what a PDF says about it is wrong too often.
"""

from collections.abc import Callable
from dataclasses import dataclass
from typing import Final, Protocol

import pikepdf

from hotfolder.errors import FontFaultError, FontLimitError, NoFontError
from hotfolder.pdf.fonts.programs.cff_program import CffProgram
from hotfolder.pdf.fonts.programs.glyph_choice import Choice, by_character, by_cid, by_name
from hotfolder.pdf.fonts.programs.glyph_meaning import Meaning, meaning_of_glyphs, meaning_of_names
from hotfolder.pdf.fonts.programs.sfnt import Sfnt
from hotfolder.pdf.fonts.programs.truetype_outlines import TrueTypeOutlines
from hotfolder.pdf.fonts.programs.type1_program import Type1Program
from hotfolder.pdf.objects.limits import FONT_PROGRAM_BYTES, FONT_PROGRAM_WORK
from hotfolder.pdf.objects.outline import Outline
from hotfolder.pdf.objects.reading import READING_ERRORS, entry
from hotfolder.pdf.objects.streams import bounded_bytes, survey

_KEYS: Final = ("/FontFile", "/FontFile2", "/FontFile3")
_TYPE1_STARTS: Final = (b"%!", b"\x80\x01")
_CFF_START: Final = b"\x01"  # the major version
_CFF_HEADER: Final = 4  # bytes at least, and their number is the third of them
# Fonts of tables, several of them in one file, or packed for the web: some reader may know them.
_OTHER_STARTS: Final = (
    b"\0\1\0\0", b"\0\2\0\0", b"true", b"typ1", b"OTTO", b"ttcf", b"wOFF", b"wOF2",
)  # fmt: skip
_STARTS_WITHIN: Final = 1024  # bytes that a program in PostScript may have before it; its first line tells it


class _Program(Protocol):
    def draw(self, glyph: int) -> tuple[Outline, float | None]:
        """The outline and the advance of a glyph, in em."""
        ...


def _no_meaning(_code: int) -> str:
    return ""


@dataclass(frozen=True, slots=True)
class OpenFont:
    """An embedded font, opened.

    choose: the number of the glyph that a code (in a composite font: a CID) shows, 0 where it shows none.
    meaning: the text of a code of a simple font by the program's own encoding; empty where that is not known.
    """

    choose: Choice
    _program: _Program
    meaning: Meaning = _no_meaning

    def draw(self, glyph: int) -> tuple[Outline, float | None]:
        """The outline and the advance of a glyph, in em; raises `FontFaultError` where it is broken."""
        return self._program.draw(glyph)


class _OfTables:
    """A font of tables (sfnt): outlines of any kind, with the advances in its table hmtx."""

    def __init__(self, font: Sfnt, outline: Callable[[int], Outline]) -> None:
        self._font = font
        self._outline = outline

    def draw(self, glyph: int) -> tuple[Outline, float | None]:
        metrics = self._font.metrics(glyph)
        advance = None if metrics is None else metrics[0] / self._font.units_per_em
        return self._outline(glyph), advance


class _Work:
    """Bounds what is spent on one font."""

    def __init__(self) -> None:
        self._left = FONT_PROGRAM_WORK

    def spend(self, amount: int) -> None:
        self._left -= amount
        if self._left < 0:
            raise FontLimitError


def open_font(font: object, descendant: object) -> OpenFont:
    """The program of a font dictionary, ready to draw; `descendant` is `font` itself for a simple font.

    Raises `DamagedFontError` where it is cut short or malformed, `NoFontError` where it is none at all, and
    `FontFaultError` where it is of a kind that is not read here.
    """
    data = _program_data(entry(descendant, "/FontDescriptor"))
    if not _has_a_start(data):
        raise NoFontError
    composite = descendant is not font
    spend = _Work().spend
    if data.lstrip()[:2] in _TYPE1_STARTS and not composite:
        type1 = Type1Program(data, spend)
        choose = by_name(font, type1.names, type1.encoding)
        return OpenFont(choose, type1, meaning_of_names(type1.encoding))
    if data[:1] == _CFF_START:
        cff = CffProgram(data, spend)
        return OpenFont(_chosen(font, descendant, cff), cff, meaning_of_names(cff.encoding))
    sfnt = Sfnt(data)
    if b"CFF " in sfnt:
        cff = CffProgram(sfnt.table(b"CFF "), spend)
        drawing = _OfTables(sfnt, lambda glyph: cff.draw(glyph)[0])
        return OpenFont(_chosen(font, descendant, cff), drawing, meaning_of_names(cff.encoding))
    drawing = _OfTables(sfnt, TrueTypeOutlines(sfnt, spend).outline)
    if composite:
        return OpenFont(by_cid(descendant, sfnt), drawing)
    choose = by_character(font, sfnt)
    return OpenFont(choose, drawing, meaning_of_glyphs(choose, sfnt))


def _program_data(descriptor: object) -> bytes:
    for key in _KEYS:
        stream = entry(descriptor, key)
        data = bounded_bytes(stream, FONT_PROGRAM_BYTES)
        if data:
            return data
        if data is None and isinstance(stream, pikepdf.Stream):
            raise FontLimitError if _is_too_long(stream) else NoFontError
    raise NoFontError  # data of no length


def _is_too_long(stream: pikepdf.Stream) -> bool:
    try:
        return survey(stream, FONT_PROGRAM_BYTES).length is None
    except READING_ERRORS:
        return False  # it cannot be decoded at all


def _has_a_start(data: bytes) -> bool:
    """Whether data begin as a font program of any kind does."""
    return (
        (data[:1] == _CFF_START and data[2:3] >= bytes([_CFF_HEADER]))
        or data.startswith(_OTHER_STARTS)
        or any(start in data[:_STARTS_WITHIN] for start in _TYPE1_STARTS)
    )


def _chosen(font: object, descendant: object, program: CffProgram) -> Choice:
    if descendant is not font:
        return by_cid(descendant, program)
    if program.names is None:
        raise FontFaultError  # glyphs without names in a font that goes by names
    return by_name(font, program.names, program.encoding)
