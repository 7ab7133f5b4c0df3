"""Which codes of a font are spaces, which show nothing (ISO 32000-2, 9.6.5 and 9.10.3).

Text that ends with a space does not reach as far as the end of that space. Code 32 alone proves nothing:
subset fonts put an integral sign there, and composite fonts have the space anywhere. The font's encoding
tells, or its map to Unicode.
"""

from typing import Final

from hotfolder.pdf.fonts.encodings import read_encoding
from hotfolder.pdf.fonts.unicode_text import Texts
from hotfolder.pdf.objects.reading import entry, name, whole

_NAMES: Final = frozenset({"space", "nbspace", "nonbreakingspace", "uni0020", "uni00A0"})
# Unicode's space separators (general category Zs).
_SPACES: Final = frozenset("\u0020\u00a0\u202f\u205f\u3000") | {chr(code) for code in range(0x2000, 0x200B)}
_SYMBOLIC: Final = 4  # FontDescriptor Flags, table 121


def blank_codes(font: object, texts: Texts) -> frozenset[int]:
    """The codes of spaces, by the font's map to Unicode (`texts`) and encoding; empty where neither tells."""
    mapped = frozenset(code for code, text in texts.items() if text in _SPACES)
    if name(entry(font, "/Subtype")) == "Type0":
        return mapped
    encoding = read_encoding(entry(font, "/Encoding"), {})
    named = {code for code, glyph in encoding.items() if glyph in _NAMES}
    # A code that the encoding gives another glyph name is no space, whatever the map to Unicode says.
    blanks = named | {code for code in mapped if encoding.get(code, "space") in _NAMES}
    flags = whole(entry(entry(font, "/FontDescriptor"), "/Flags")) or 0
    if 32 not in encoding and not flags & _SYMBOLIC:
        blanks.add(32)  # the Latin encodings that a font may be built with all have it there (annex D.2)
    return frozenset(blanks)
