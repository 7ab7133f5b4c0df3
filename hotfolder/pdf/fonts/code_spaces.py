"""Codespace ranges: which byte strings are codes of a composite font (ISO 32000-2, 9.7.6.2)."""

from dataclasses import dataclass
from typing import Final


@dataclass(frozen=True, slots=True)
class CodeSpace:
    """Codes of one length: each byte lies between the bytes of `low` and `high` at its place."""

    low: bytes
    high: bytes

    def holds(self, code: bytes) -> bool:
        """Whether `code` has this length and lies in this space."""
        return len(code) == len(self.low) and self.begins(code)

    def begins(self, code: bytes) -> bool:
        """Whether each byte of `code` lies in this space, as far as both go."""
        return all(low <= each <= high for low, each, high in zip(self.low, code, self.high, strict=False))


TWO_BYTES: Final = CodeSpace(b"\x00\x00", b"\xff\xff")


def code_spaces(*texts: str) -> tuple[CodeSpace, ...]:
    """Code spaces by their ends in hexadecimal: `8140-9ffc`."""
    pairs = (text.split("-") for text in texts)
    return tuple(CodeSpace(bytes.fromhex(low), bytes.fromhex(high)) for low, high in pairs)
