"""Lines folded to the width of a terminal: between words, and under what they belong to."""

import re
import shutil
import sys
import textwrap
from collections.abc import Iterable
from typing import Final

import click

_PIPED: Final = 100  # columns of prose where nobody's terminal says how many there are
_NARROWEST: Final = 30
_COLUMN: Final = re.compile(r"\s*\S.*?\s{2,}(?=\S)")
_MORE: Final = 2


def say(lines: Iterable[str], *, prose: bool = False) -> None:
    """Print `lines`, folded where a terminal shows them. Elsewhere only prose is; other lines stay whole."""
    if sys.stdout.isatty():
        width = max(_NARROWEST, shutil.get_terminal_size().columns)
    else:
        width = _PIPED
        if not prose:
            click.echo("\n".join(lines))
            return
    for line in lines:
        click.echo("\n".join(folded(line, width)))


def folded(line: str, width: int) -> list[str]:
    """`line` in pieces of at most `width`; a second column stays one where half the width is left for it.

    A word that is longer than a line, such as a path, stays whole: it has to be copied in one piece.
    """
    if len(line) <= width:
        return [line]
    indent = len(line) - len(line.lstrip())
    hanging = indent + _MORE
    column = _COLUMN.match(line)
    if column is not None and column.end() > indent:
        if column.end() <= width // 2:
            hanging = column.end()
        else:
            head, rest = line[: column.end()].rstrip(), line[column.end() :]
            below = " " * (indent + _MORE)
            return [*folded(head, width), *_wrapped(rest, width, below, below)]
    return _wrapped(line.lstrip(), width, line[:indent], " " * hanging, kept=column)


def _wrapped(text: str, width: int, first: str, later: str, kept: re.Match[str] | None = None) -> list[str]:
    """`text` between words. kept: the gap of a column in it, which is no place to break or to close up."""
    gap = ""
    if kept is not None and len(later) == kept.end():
        gap, text = kept.group().lstrip(), text[kept.end() - len(first) :]
    lines = textwrap.wrap(
        text,
        width,
        initial_indent=first + gap,
        subsequent_indent=later,
        break_long_words=False,
        break_on_hyphens=False,
    )
    return lines or [first + gap]
