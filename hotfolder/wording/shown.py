"""Names and text out of files as people see them: on a terminal, in a log line, a page, a notification.

A name is bytes that a stranger chose. Newlines would forge log lines, control characters
would move a terminal's cursor, bidirectional controls would turn `gpj.exe` around
(Unicode UAX #9 and UTR #36), and bytes that are no UTF-8 cannot be encoded at all.
"""

import unicodedata
from typing import Final

from hotfolder.model.document import Font

# Cc control characters, Cf invisible ones (bidirectional controls and zero-width marks are
# among them), Cs lone surrogates (how Python carries bytes that are no UTF-8), Co private
# use, Cn unassigned, Zl and Zp the line and paragraph separators.
_UNSEEN: Final = frozenset({"Cc", "Cf", "Cs", "Co", "Cn", "Zl", "Zp"})

# Joiners shape letters in several scripts and in emoji, and turn nothing around.
_JOINERS: Final = frozenset("\u200c\u200d")


def shown_name(name: str) -> str:
    r"""`name` on one line, with everything that cannot be seen written as an escape.

    Letters of every script stay as they are. The escapes are those of Python's strings, and a
    byte that is no UTF-8 is shown as that byte. The result is for reading, not for opening.

    >>> shown_name("fly\ner\u202e.pdf")
    'fly\\ner\\u202e.pdf'
    """
    return "".join(map(_shown, name))


def quoted(words: str, most: int = 30) -> str:
    """What a piece of text says, in quotes and cut after `most` characters; empty where it is not known."""
    shown = " ".join(shown_name(words).split())
    if not shown:
        return ""
    return f"'{shown}'" if len(shown) <= most else f"'{shown[:most].rstrip()}...'"


def plain_font_name(font: Font) -> str:
    """A font's name without the six letters that mark a subset (ISO 32000-2, 9.9.2)."""
    mark, plus, name = font.name.partition("+")
    is_subset = plus and len(mark) == 6 and mark.isupper()
    return shown_name(name if is_subset else font.name) or "a font without a name"


def _shown(character: str) -> str:
    if character in _JOINERS or unicodedata.category(character) not in _UNSEEN:
        return character
    code = ord(character)
    if 0xDC80 <= code <= 0xDCFF:  # PEP 383: the byte 0xNN is carried as U+DCNN
        return f"\\x{code - 0xDC00:02x}"
    return character.encode("unicode_escape", "surrogatepass").decode("ascii")
