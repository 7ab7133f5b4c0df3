"""The text of a code by the font program alone, where the PDF does not give it (ISO 32000-2, 9.10.2).

Type 1 and CFF programs have a built-in encoding: glyph names by code. TrueType programs have none; there it
is the text of the glyph that the code shows, by the characters that show it (cmap) or its name (post).
"""

from collections.abc import Callable
from functools import cache
from itertools import chain
from typing import Final

from hotfolder.pdf.fonts.encodings import Encoding
from hotfolder.pdf.fonts.programs.glyph_choice import UNICODE_MAPS, Choice
from hotfolder.pdf.fonts.programs.sfnt import Lookup, Sfnt
from hotfolder.pdf.fonts.unicode_text import text_of_name

Meaning = Callable[[int], str]  # a code to its text; empty where that is not known

# A simple font has 256 codes at most, and no such font holds other characters than those of alphabets,
# signs and ligatures; to look through all that there are would take as long as reading a page.
_LIKELY: Final = (range(0x20, 0x3000), range(0xFB00, 0xFB07))


def meaning_of_names(encoding: Encoding) -> Meaning:
    """The text of codes by the built-in encoding of a program."""
    return lambda code: text_of_name(encoding[code]) if code in encoding else ""


def meaning_of_glyphs(choose: Choice, program: Sfnt) -> Meaning:
    """The text of codes by the glyphs that a TrueType program shows for them."""

    @cache
    def texts() -> dict[int, str]:
        return _by_names(program) | _by_characters(program)

    return lambda code: texts().get(glyph, "") if (glyph := choose(code)) else ""


def _by_names(program: Sfnt) -> dict[int, str]:
    names = program.glyph_names()
    if max(names.values(), default=0) >= program.glyph_count:
        return {}  # the standard list of names, left over from the font that this one was cut out of
    named = ((glyph, text_of_name(name)) for name, glyph in names.items())
    return {glyph: text for glyph, text in named if text}


def _by_characters(program: Sfnt) -> dict[int, str]:
    maps = program.character_maps()
    look_up: Lookup | None = next((maps[key] for key in UNICODE_MAPS if key in maps), None)
    texts: dict[int, str] = {}
    if look_up is not None:
        for character in chain(*_LIKELY):
            texts.setdefault(look_up(character), chr(character))
    texts.pop(0, None)
    return texts
