"""Operators around compatibility sections (ISO 32000-2, 7.8.2), in which unknown operators are ignored."""

from hotfolder.pdf.content.content import Content, Operands
from hotfolder.pdf.content.uses import UseKind


def begin(content: Content, _operands: Operands) -> None:
    """`BX`: begins a section; they may be nested."""
    content.uses(UseKind.OPERATOR, "BX")
    content.compatibility += 1


def end(content: Content, _operands: Operands) -> None:
    """`EX`: ends the innermost section."""
    content.compatibility = max(content.compatibility - 1, 0)
