"""Cuts a content stream into what may be copied as it stands and single instructions to be looked at.

Most of a page's description is paths and text that are drawn the same in every drawing of the page. They are
passed over in runs by one regular expression, so that a map with a million coordinates takes a fraction of
a second; only what sets colours, names resources or nests is taken apart (ISO 32000-2, 7.2, 7.8.2).
"""

import re
from collections.abc import Iterator
from typing import Final

from hotfolder.pdf.language.numbers import mended_number
from hotfolder.pdf.language.operators import OPERANDS

# Debian 12's Python, 3.11.2, gets possessive repeats and atomic groups wrong (`(?:ab?c)*+d?` matches too much
# of `abcabcab`), so none stand here. Instead each piece below can be cut in one way only, since what
# follows it cannot be more of it: a pattern that fails gives up after one look at each place.
_SPACE: Final = rb"\x00\t\n\x0c\r "
_DELIMITER: Final = rb"\x00\t\n\x0c\r ()<>\[\]{}/%"
_BOUND: Final = rb"(?![^" + _DELIMITER + rb"])"
_GAP: Final = rb"[" + _SPACE + rb"]*"
_NUMBER: Final = rb"[-+.0-9]+(?![-+.0-9])"
_SOUND_NUMBER: Final = rb"[-+]?(?:[0-9]+(?:\.[0-9]*)?|\.[0-9]+)(?![-+.0-9])"
_COMMENT: Final = rb"%[^\r\n]*(?![^\r\n])"
# Strings hold balanced parentheses (7.3.4.2); deeper ones than here are found by counting.
_PLAIN: Final = rb"[^()\\]*"
_STRING_1: Final = rb"\(" + _PLAIN + rb"(?:\\." + _PLAIN + rb")*\)"
_STRING_2: Final = rb"\(" + _PLAIN + rb"(?:(?:\\.|" + _STRING_1 + rb")" + _PLAIN + rb")*\)"
_STRING: Final = rb"\(" + _PLAIN + rb"(?:(?:\\.|" + _STRING_2 + rb")" + _PLAIN + rb")*\)"
_HEX: Final = rb"<(?!<)[^<>]*>"
_NAME: Final = rb"/[^" + _DELIMITER + rb"]*(?![^" + _DELIMITER + rb"])"

_UP_TO: Final = rb"{1,1000}"  # at a time: the matcher keeps a note of each repeat, some hundred bytes long


def _run(painting: bytes, showing: bytes) -> re.Pattern[bytes]:
    """Instructions one after the other, each with just the operands that its operator takes.

    painting: the operators without operands beside those of paths and lines. showing: instructions with more
    than numbers.
    """
    number = _SOUND_NUMBER + rb"[" + _SPACE + rb"]+"  # the renderer takes `5re` for one word
    four = rb"[vy]" + _BOUND + rb"|" + number + number + rb"c" + _BOUND
    two = rb"(?:[ml]|T[dD])" + _BOUND + rb"|" + number + number + rb"(?:" + four + rb")"
    one = rb"(?:[ijJM]|T[cwLzs])" + _BOUND + rb"|" + number + rb"(?:" + two + rb")"
    none = rb"(?:[hn]|W\*?|T\*" + painting + rb")" + _BOUND
    dashes = _array(_SOUND_NUMBER) + _GAP + number + rb"d" + _BOUND
    kinds = (number + rb"(?:" + one + rb")", none, dashes) + ((showing,) if showing else ())
    return re.compile(rb"(?:" + _GAP + rb"(?:" + rb"|".join(kinds) + rb"))" + _UP_TO, re.DOTALL)


def _array(member: bytes) -> bytes:
    return rb"\[(?:" + _GAP + rb"(?:" + member + rb")){0,1000}" + _GAP + rb"\]"


_SHOWN: Final = rb"(?:" + _STRING + rb"|" + _HEX + rb")"
_SHOWING: Final = (
    _SHOWN + _GAP + rb"(?:Tj|')" + _BOUND
    + rb"|" + _array(_SOUND_NUMBER + rb"|" + _SHOWN) + _GAP + rb"TJ" + _BOUND
)  # fmt: skip

# What a run may hold: anything between text objects, anything within one, or nothing that paints at all.
RUN: Final = _run(rb"|f\*?|[FSs]", b"")
TEXT_RUN: Final = _run(b"", _SHOWING)
CAREFUL_RUN: Final = _run(b"", b"")

_OPERAND: Final = rb"|".join(
    (_NUMBER, _NAME, _STRING, rb"[\[\]]", rb"<<", rb">>", _HEX, _COMMENT, rb"(?:true|false|null)" + _BOUND)
)
_OPERANDS: Final = re.compile(rb"(?:" + _GAP + rb"(?:" + _OPERAND + rb"))" + _UP_TO, re.DOTALL)
_OPERATOR: Final = re.compile(_GAP + rb"([^" + _DELIMITER + rb"\-+.0-9][^" + _DELIMITER + rb"]*)")
_SPACES: Final = re.compile(rb"[" + _SPACE + rb"]+")
_NAMES: Final = re.compile(_NAME)
_OPERANDS_APART: Final = re.compile(_OPERAND, re.DOTALL)
# More than numbers, and names that stand apart.
_INTRICATE: Final = re.compile(rb"[()<>\[\]%]|[^" + _SPACE + rb"]/")
_OPENING: Final = frozenset({b"[", b"<<"})
_CLOSING: Final = frozenset({b"]", b">>"})
_ESCAPED: Final = re.compile(rb"#([0-9A-Fa-f]{2})")
_NUMBERS: Final = re.compile(_NUMBER)
_SOUND: Final = re.compile(_SOUND_NUMBER)
# A number and what else may hold the same characters; a first look at what may be broken.
_NUMBERS_APART: Final = re.compile(
    rb"(?<![^" + _DELIMITER + rb"])(" + _NUMBER + rb")|" + rb"|".join((_NAME, _STRING, _HEX, _COMMENT)),
    re.DOTALL,
)
_BROKEN_SOMEWHERE: Final = re.compile(rb"[-+][-+]|[.0-9][-+]|\.[0-9]*\.|[-+.](?![.0-9])(?<![0-9]\.)")
_COUNTS: Final = {spelling.encode("ascii"): count for spelling, count in OPERANDS.items()}
_PAREN: Final = re.compile(rb"\\.|[()]", re.DOTALL)
_FLATTENINGS: Final = 100  # each goes over the whole stream; real files have none
_END_OF_IMAGE: Final = re.compile(rb"[" + _SPACE + rb"]*EI" + _BOUND)
_END_OF_IMAGE_SOMEWHERE: Final = re.compile(rb"[" + _SPACE + rb"]EI" + _BOUND)


class Scan:
    """A content stream that is read from start to end."""

    def __init__(self, data: bytes) -> None:
        self.data = data
        self.at = 0
        self._flattenings_left = _FLATTENINGS

    def run(self, kind: re.Pattern[bytes] = RUN) -> bytes:
        """What comes next and may be copied as it stands."""
        start = self.at
        self._pass(kind)
        return self.data[start : self.at]

    def instruction(self) -> tuple[bytes, bytes] | None:
        """The operands, as they stand, and the operator of the next instruction; None at the end."""
        start, apart = self.at, b""
        while True:
            self._pass(_OPERANDS)
            operator = _OPERATOR.match(self.data, self.at)
            if operator is not None:
                self.at = operator.end()
                return apart + _with_sound_numbers(self.data[start : operator.start(1)]), operator[1]
            self._pass(_SPACES)
            if self.at == len(self.data):
                return None
            if self.data[self.at : self.at + 1] == b"(" and self._flattenings_left:
                self._flattenings_left -= 1
                self._flatten_string(self.at)
            else:  # a stray bracket: what stood before it belongs to nothing
                self.at += 1
                start, apart = self.at, b" "  # nor may what follows it be taken for more of that

    def _pass(self, kind: re.Pattern[bytes]) -> None:
        while (match := kind.match(self.data, self.at)) is not None:
            self.at = match.end()

    def _flatten_string(self, start: int) -> None:
        """Escapes the parentheses of a string that nests deeper than the patterns go, or has no end."""
        depth, end = 0, len(self.data)
        inner = self.data[start + 1 :] + b" "  # a backslash at the very end has something to escape
        for match in _PAREN.finditer(self.data, start):
            depth += {b"(": 1, b")": -1}.get(match[0], 0)
            if not depth:
                end = match.end()
                inner = self.data[start + 1 : end - 1]
                break
        flat = _PAREN.sub(lambda match: match[0] if len(match[0]) > 1 else b"\\" + match[0], inner)
        self.data = self.data[:start] + b"(" + flat + b")" + self.data[end:]

    def inline_image(self, length: int | None) -> bytes:
        """The data of an inline image, from after ID to before EI (8.9.7).

        length: how many bytes they are, where that is known.
        """
        start = self.at + 1  # one white space follows ID
        if length is not None:
            tail = _END_OF_IMAGE.match(self.data, start + length)
            if tail is not None:
                self.at = tail.end()
                return self.data[start : start + length]
        for tail in _END_OF_IMAGE_SOMEWHERE.finditer(self.data, start):
            if _looks_like_content(self.data[tail.end() : tail.end() + 64]):
                self.at = tail.end()
                return self.data[start : tail.start()]
        self.at = len(self.data)
        return self.data[start:]


def _with_sound_numbers(operands: bytes) -> bytes:
    """Operands whose broken numbers are written as they are read: the renderer has a rule of its own."""
    if _BROKEN_SOMEWHERE.search(operands) is None:
        return operands
    return _NUMBERS_APART.sub(lambda match: match[0] if match[1] is None else _rewritten(match[1]), operands)


def _rewritten(written: bytes) -> bytes:
    if _SOUND.fullmatch(written):
        return written
    return b"%.6f" % _mended(written)


def _mended(written: bytes) -> float:
    number, _ = mended_number(written.decode("ascii"))
    return number or 0.0


def _looks_like_content(following: bytes) -> bool:
    """Whether bytes after an EI are instructions, and not more of the image's data."""
    return not any(byte > 126 or (byte < 32 and byte not in b"\x00\t\n\x0c\r") for byte in following[:24])


_NO_PATH: Final = re.compile(
    rb"(?<![^"
    + _SPACE
    + rb"])(?!(?:"
    + _NUMBER
    + rb"|re|[mlcvyh])(?:["
    + _SPACE
    + rb"]|\Z))[^"
    + _SPACE
    + rb"]+"
)
_LONGEST_PATH: Final = 4096


def path_at_end(content: bytes) -> bytes:
    """What builds a path at the end of some content; nothing where that is too long to be found."""
    start = max(0, len(content) - _LONGEST_PATH)
    others = [found.end() for found in _NO_PATH.finditer(content, start)]
    if others:
        return content[others[-1] :]
    return b"" if start else content


def names_in(operands: bytes) -> Iterator[str]:
    """The names among operands, without slash and with #xx resolved."""
    for found in _NAMES.finditer(operands):
        yield decoded_name(found[0])


def operands_in(written: bytes) -> list[bytes]:
    """The operands one by one, as they stand; an array or a dictionary is one."""
    operands: list[bytes] = []
    depth = start = 0
    for token in _OPERANDS_APART.finditer(written):
        if token[0] in _CLOSING:
            depth = max(depth - 1, 0)
        elif not depth:
            start = token.start()
        if token[0] in _OPENING:
            depth += 1
        if not depth and not token[0].startswith(b"%"):
            operands.append(written[start : token.end()])
    return operands


def has_operands(written: bytes, operator: bytes) -> bool:
    """Whether there are as many operands as an operator of the language takes at least."""
    count = _COUNTS[operator]
    if not count:
        return True
    return len(operands_in(written) if _INTRICATE.search(written) else written.split()) >= count


def name_in(operand: bytes) -> str | None:
    """The name that an operand is; None for anything else."""
    return decoded_name(operand) if operand.startswith(b"/") else None


def number_in(operand: bytes) -> float | None:
    """The number that an operand is, however it is spelled; None for anything else."""
    return _mended(operand) if _NUMBERS.fullmatch(operand) else None


def last_name(operands: bytes) -> str | None:
    """The name that the last operand is; None where it is none."""
    apart = operands_in(operands)
    return name_in(apart[-1]) if apart else None


def decoded_name(written: bytes) -> str:
    """A name as written, slash included, as the text that it stands for (7.3.5)."""
    if b"#" in written:
        written = _ESCAPED.sub(lambda found: bytes((int(found[1], 16),)), written)
    return written[1:].decode("utf-8", "surrogateescape")


def numbers_in(operands: bytes) -> list[float]:
    """The numbers among operands, in order; what is no number is left out, as renderers do."""
    try:
        return [float(each) for each in operands.split()]
    except ValueError:
        return [number for each in operands_in(operands) if (number := number_in(each)) is not None]


def last_numbers(operands: bytes, operator: bytes) -> list[float] | None:
    """The numbers that an operator takes, which are the last operands; None where these are no numbers."""
    count = _COUNTS[operator]
    try:
        numbers = [float(each) for each in operands.split()][-count:]
    except ValueError:
        read = (number_in(each) for each in operands_in(operands)[-count:])
        numbers = [each for each in read if each is not None]
    return numbers if len(numbers) == count else None
