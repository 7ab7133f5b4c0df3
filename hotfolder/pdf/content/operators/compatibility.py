"""Operators of compatibility sections (ISO 32000-2, 7.8.2): the unknown in them is meant so."""

from hotfolder.pdf.content.content import Content, Operands


def begin(content: Content, _operands: Operands) -> None:
    """`BX`."""
    content.compatibility += 1


def end(content: Content, _operands: Operands) -> None:
    """`EX`."""
    content.compatibility = max(content.compatibility - 1, 0)
