"""Which glyph of an embedded program a character code shows (ISO 32000-2, 9.6.5 and 9.7.4).

The standard has rules for each kind of font and program. Where they lead to no glyph, readers of PDF look
further, and so does this module: a code counts as without a glyph only where no reader shows one. It then
shows glyph 0, which is .notdef.
"""

from collections.abc import Callable, Iterable, Mapping
from typing import Final

import pikepdf
from fontTools import agl

from hotfolder.pdf.fonts.encodings import MAC_ROMAN, STANDARD, WIN_ANSI, Encoding, read_encoding
from hotfolder.pdf.fonts.programs.cff_program import CffProgram
from hotfolder.pdf.fonts.programs.sfnt import Lookup, Sfnt
from hotfolder.pdf.objects.limits import UNICODE_MAP_BYTES
from hotfolder.pdf.objects.reading import entry, name, whole
from hotfolder.pdf.objects.streams import bounded_bytes

Choice = Callable[[int], int]  # a code, or a CID in a composite font, to the number of a glyph

_SYMBOLIC: Final = 4  # FontDescriptor Flags, table 121
_SYMBOL_CODES: Final = (0xF000, 0x0000, 0xF100, 0xF200)  # where a (3, 0) map may have the codes (9.6.5.4)
UNICODE_MAPS: Final = ((3, 10), (3, 1), (0, 6), (0, 4), (0, 3), (0, 2), (0, 1), (0, 0))
_MAC_CODES: Final = {glyph: code for code, glyph in reversed(MAC_ROMAN.items())}
# Names under which fonts and encodings keep the same letter, from the glyph lists of both.
_OTHER_NAMES: Final = {
    "Delta": "increment", "increment": "Delta", "Omega": "Ohm", "Ohm": "Omega", "mu": "mu1", "mu1": "mu",
    "fi": "f_i", "f_i": "fi", "fl": "f_l", "f_l": "fl", "sfthyphen": "hyphen", "minus": "hyphen",
    "Tcommaaccent": "Tcedilla", "Tcedilla": "Tcommaaccent",
    "tcommaaccent": "tcedilla", "tcedilla": "tcommaaccent",
    "macron": "overscore", "overscore": "macron", "middot": "periodcentered", "nbspace": "space",
}  # fmt: skip


def by_name(font: object, names: Mapping[str, int], built_in: Encoding) -> Choice:
    """For a simple font whose program names its glyphs: Type 1 and CFF."""
    encoding = read_encoding(entry(font, "/Encoding"), built_in)

    def choose(code: int) -> int:
        glyph = encoding.get(code)
        if glyph is None:
            return 0
        return names.get(glyph) or names.get(_OTHER_NAMES.get(glyph, ""), 0)

    return choose


def by_character(font: object, program: Sfnt) -> Choice:
    """For a simple font over a TrueType program, by its maps from characters to glyphs (9.6.5.4)."""
    value = entry(font, "/Encoding")
    flags = whole(entry(entry(font, "/FontDescriptor"), "/Flags")) or 0
    symbolic = bool(flags & _SYMBOLIC)
    maps = program.character_maps()
    names = program.glyph_names()
    # Codes that the PDF does not name are looked up as those of Windows, as readers do.
    encoding = WIN_ANSI | read_encoding(value, {} if symbolic else STANDARD)
    unicode_maps = [maps[key] for key in UNICODE_MAPS if key in maps]
    named = _by_names(encoding, unicode_maps, maps.get((1, 0)), names)
    direct = _by_codes(maps, program.glyph_count, by_any=value is None)
    first, second = (direct, named) if symbolic or value is None else (named, direct)
    there = _in_order(program.glyph_count)
    return lambda code: there(first(code)) or there(second(code))


def by_cid(descendant: object, program: Sfnt | CffProgram) -> Choice:
    """For a composite font: CIDs to glyphs (9.7.4.2)."""
    count = program.glyph_count
    given = entry(descendant, "/CIDToGIDMap")
    mapped = isinstance(given, pikepdf.Stream) and name(entry(descendant, "/Subtype")) == "CIDFontType2"
    if not mapped:
        # Without a map, what has CIDs of its own goes by them, and all else in the order of its glyphs.
        cids = program.cids if isinstance(program, CffProgram) else None
        return _in_order(count) if cids is None else _from(cids)
    places = bounded_bytes(given, UNICODE_MAP_BYTES) or b""

    def choose(cid: int) -> int:
        glyph = int.from_bytes(places[2 * cid : 2 * cid + 2])
        return glyph if glyph < count else 0

    return choose


def _in_order(count: int) -> Choice:
    return lambda number: number if number < count else 0


def _from(places: Mapping[int, int]) -> Choice:
    return lambda number: places.get(number, 0)


def _by_names(
    encoding: Encoding, unicode_maps: Iterable[Lookup], mac: Lookup | None, names: Mapping[str, int]
) -> Choice:
    """The code's glyph name, looked up by what it means in Unicode, in Mac OS Roman, and as it stands."""

    def choose(code: int) -> int:
        glyph = encoding.get(code)
        if glyph is None:
            return 0
        text = agl.toUnicode(glyph)
        if len(text) == 1:
            for look_up in unicode_maps:
                if number := look_up(ord(text)):
                    return number
        if mac is not None and glyph in _MAC_CODES and (number := mac(_MAC_CODES[glyph])):
            return number
        return names.get(glyph, 0)

    return choose


def _by_codes(maps: Mapping[tuple[int, int], Lookup], count: int, *, by_any: bool) -> Choice:
    """The code itself, looked up in the maps (3, 0) and (1, 0); in a program without maps it is the glyph.

    by_any: without those two, the first map that there is serves.
    """
    symbol, mac = maps.get((3, 0)), maps.get((1, 0))
    if not maps:
        return _in_order(count)
    if by_any and symbol is None and mac is None:
        return next(iter(maps.values()))

    def choose(code: int) -> int:
        if symbol is not None:
            for block in _SYMBOL_CODES:
                if glyph := symbol(block + code):
                    return glyph
        return mac(code) if mac is not None else 0

    return choose
