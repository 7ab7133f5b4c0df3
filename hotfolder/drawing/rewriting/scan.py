"""Cuts a content stream into what may be copied as it stands and single instructions to be looked at.

Most of a page's description is paths and text that are drawn the same in every drawing of the page. They are
passed over in runs by one regular expression, so that a map with a million coordinates takes a fraction of
a second; only what sets colours, names resources or nests is taken apart (ISO 32000-2, 7.2, 7.8.2).
"""

import re
from collections.abc import Iterator
from typing import Final

_SPACE: Final = rb"\x00\t\n\x0c\r "
_BOUND: Final = rb"(?=[\x00\t\n\x0c\r /\[\]()<>%{}]|\Z)"
_NUMBER: Final = rb"[-+.0-9]++"
_COMMENT: Final = rb"%[^\r\n]*+"
# Strings hold balanced parentheses (7.3.4.2); deeper ones than here are found by counting.
_PLAIN: Final = rb"(?:[^()\\]++|\\.)"
_STRING_1: Final = rb"\(" + _PLAIN + rb"*+\)"
_STRING_2: Final = rb"\((?:" + _PLAIN + rb"|" + _STRING_1 + rb")*+\)"
_STRING: Final = rb"\((?:" + _PLAIN + rb"|" + _STRING_2 + rb")*+\)"
_HEX: Final = rb"<(?!<)[^<>]*+>"
_NAME: Final = rb"/[^\x00\t\n\x0c\r ()<>\[\]{}/%]*+"

# What is drawn alike in all drawings: path construction and painting, clipping, text.
_PATHS: Final = rb"[mlcvyhn]|W\*?"
_TEXT_STATE: Final = rb"T[dDcwzLs*]"
_LINES: Final = rb"[MJjdi]"
_PAINTING: Final = rb"f\*?|[FSs]"
_SHOWING: Final = rb"T[jJ]|['\"]"


def _run(operators: bytes) -> re.Pattern[bytes]:
    operand = rb"[" + _SPACE + rb"]++|" + _NUMBER + rb"|" + _STRING + rb"|[\[\]]|" + _HEX
    return re.compile(rb"(?:(?:" + operand + rb")*+(?:" + operators + rb")" + _BOUND + rb")*+", re.DOTALL)


# What a run may hold: anything between text objects, anything within one, or nothing that paints at all.
_ANYWHERE: Final = rb"|".join((_PATHS, _TEXT_STATE, _LINES))
RUN: Final = _run(_ANYWHERE + rb"|" + _PAINTING)
TEXT_RUN: Final = _run(_ANYWHERE + rb"|" + _SHOWING)
CAREFUL_RUN: Final = _run(_ANYWHERE)

_OPERANDS: Final = rb"|".join(
    (rb"[" + _SPACE + rb"]++", _NUMBER, _NAME, _STRING, rb"[\[\]]", rb"<<", rb">>", _HEX, _COMMENT)
)
_INSTRUCTION: Final = re.compile(
    rb"((?:" + _OPERANDS + rb"|(?:true|false|null)" + _BOUND + rb")*+)"
    rb"([^\x00\t\n\x0c\r ()<>\[\]{}/%\-+.0-9][^\x00\t\n\x0c\r ()<>\[\]{}/%]*+)",
    re.DOTALL,
)
_NAMES: Final = re.compile(_NAME)
_ESCAPED: Final = re.compile(rb"#([0-9A-Fa-f]{2})")
_NUMBERS: Final = re.compile(_NUMBER)
_PAREN: Final = re.compile(rb"\\.|[()]", re.DOTALL)
_ONLY_OPERANDS: Final = re.compile(rb"(?:" + _OPERANDS + rb")*+")
_FLATTENINGS: Final = 100  # each goes over the whole stream; real files have none
_END_OF_IMAGE: Final = re.compile(rb"[" + _SPACE + rb"]*EI" + _BOUND)
_END_OF_IMAGE_SOMEWHERE: Final = re.compile(rb"[" + _SPACE + rb"]EI" + _BOUND)


class Scan:
    """A content stream that is read from start to end."""

    def __init__(self, data: bytes) -> None:
        self.data = data
        self.at = 0
        self.odd = False  # something was skipped that makes no sense
        self._flattenings_left = _FLATTENINGS

    def run(self, kind: re.Pattern[bytes] = RUN) -> bytes:
        """What comes next and may be copied as it stands."""
        start = self.at
        found = kind.match(self.data, start)
        if found is None or found.end() == start:
            return b""
        self.at = found.end()
        return self.data[start : self.at]

    def instruction(self) -> tuple[bytes, bytes] | None:
        """The operands, as they stand, and the operator of the next instruction; None at the end."""
        while True:
            found = _INSTRUCTION.match(self.data, self.at)
            if found is not None:
                self.at = found.end()
                return found[1], found[2]
            if not self._step_over():
                return None

    def _step_over(self) -> bool:
        """Gets past what no pattern takes: very deep strings, stray brackets. Whether anything is left."""
        before = _ONLY_OPERANDS.match(self.data, self.at)
        place = before.end() if before is not None else self.at
        if place >= len(self.data):
            return False
        if self.data[place : place + 1] == b"(" and self._flattenings_left:
            self._flattenings_left -= 1
            self._flatten_string(place)
        else:
            self.odd = True
            self.at = place + 1
        return True

    def _flatten_string(self, start: int) -> None:
        """Escapes the parentheses of a string that nests deeper than the patterns go."""
        depth, end = 0, len(self.data)
        for found in _PAREN.finditer(self.data, start):
            depth += {b"(": 1, b")": -1}.get(found[0], 0)
            if not depth:
                end = found.end()
                break
        inner = self.data[start + 1 : end - 1]
        flat = _PAREN.sub(lambda found: found[0] if len(found[0]) > 1 else b"\\" + found[0], inner)
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
        self.odd = True
        return self.data[start:]


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
    + rb"]++"
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


def last_name(operands: bytes) -> str | None:
    """The last name among operands that are no more than names, numbers and comments; None without."""
    found = _NAMES.findall(operands)
    return decoded_name(found[-1]) if found else None


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
        pass
    found = []
    for each in _NUMBERS.findall(_NAMES.sub(b" ", operands)):
        value = _mended(each)
        if value is not None:
            found.append(value)
    return found


def _mended(written: bytes) -> float | None:
    """A number as written; of what is no number (`--3`, `1.2.3`, `4-5`) what renderers read of it."""
    match = re.match(rb"([-+]*)(\d*\.?\d*)", written)
    if match is None or match[2] in {b"", b"."}:
        return 0.0 if written else None
    return float((b"-" if match[1][:1] == b"-" else b"") + match[2])
