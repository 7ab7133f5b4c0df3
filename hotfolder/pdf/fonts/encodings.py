"""Encodings of simple fonts: the glyph name of each code (ISO 32000-2, 9.6.5 and annex D)."""

from typing import Final

from fontTools.agl import UV2AGL
from fontTools.encodings.MacRoman import MacRoman
from fontTools.encodings.StandardEncoding import StandardEncoding

from hotfolder.pdf.objects.reading import entry, items, name, whole

Encoding = dict[int, str]


def _win_ansi() -> Encoding:
    """WinAnsiEncoding: Windows code page 1252, with the exceptions that annex D.2 makes."""
    encoding: Encoding = dict.fromkeys(range(0o41, 256), "bullet")  # D.2 note 3: unused codes above 040
    for code in range(32, 256):
        character = bytes([code]).decode("cp1252", "replace")
        if ord(character) in UV2AGL:
            encoding[code] = UV2AGL[ord(character)]
    # D.2 notes 4 and 5: no-break space and soft hyphen; and three names that Unicode tables lack.
    encoding |= {
        0xA0: "space",
        0xAD: "hyphen",
        0xB2: "twosuperior",
        0xB3: "threesuperior",
        0xB9: "onesuperior",
    }
    return encoding


STANDARD: Final[Encoding] = {code: glyph for code, glyph in enumerate(StandardEncoding) if glyph != ".notdef"}
WIN_ANSI: Final[Encoding] = _win_ansi()
# The list has other glyphs in the place of control characters.
MAC_ROMAN: Final[Encoding] = {code: MacRoman[code] for code in range(32, 256)} | {0xCA: "space"}

_NAMED: Final = {"StandardEncoding": STANDARD, "WinAnsiEncoding": WIN_ANSI, "MacRomanEncoding": MAC_ROMAN}


def rests_on_program(value: object) -> bool:
    """Whether the base encoding is the font program's: no `Encoding`, or differences alone (table 112)."""
    base = value if name(value) is not None else entry(value, "/BaseEncoding")
    return (name(base) or "") not in _NAMED


def read_encoding(value: object, built_in: Encoding) -> Encoding:
    """The encoding that a font's `Encoding` entry describes; `built_in` is the base where it names none.

    Malformed differences are skipped; at most 1024 of them are read (each of 256 codes can have a number
    before its name, and twice that is generous).
    """
    named = name(value)
    if named is not None:
        return _NAMED.get(named, built_in)
    base = _NAMED.get(name(entry(value, "/BaseEncoding")) or "", built_in)
    encoding = dict(base)
    code = 0
    for each in items(entry(value, "/Differences"), 1024):
        start, glyph = whole(each), name(each)
        if start is not None:
            code = start
        elif glyph is not None:
            if 0 <= code <= 255:
                encoding[code] = glyph
            code += 1
    return encoding
