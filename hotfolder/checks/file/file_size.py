"""File size: the file is no heavier than the printer can take.

Why: web forms, mail and job systems refuse files over a limit, often after a long upload.
On paper: nothing; the file does not arrive.
Not flagged: a file at the limit.
Source: the printer's own limit.
"""

from collections.abc import Iterator, Mapping
from typing import Annotated, ClassVar, Final

from pydantic import BeforeValidator

from hotfolder.checks.shared.settings import NamedFigures
from hotfolder.model.artwork import Artwork
from hotfolder.model.findings import Finding, Quantity, Severity, Unjudged
from hotfolder.model.ruleset import Rule, Unit
from hotfolder.units import parse_bytes, plain

ID: Final = "file-size"
_MEGABYTE: Final = 1_000_000


def _bytes(value: object) -> int:
    # A bare number is refused in the words of the parser, which name the unit that would do.
    return parse_bytes(str(value))


class FileSizeSettings(NamedFigures):
    """largest: written as `500 MB` (decimal multiples)."""

    needs: ClassVar[tuple[str, ...]] = ("largest",)
    codes: ClassVar[Mapping[str, Severity]] = {"too-large": Severity.ADVICE}

    largest: Annotated[int, BeforeValidator(_bytes), Unit("bytes")] = 0


def check(artwork: Artwork, settings: FileSizeSettings) -> Iterator[Finding | Unjudged]:
    """A file over the limit."""
    if artwork.file.bytes > settings.largest:
        size, limit = artwork.file.bytes / _MEGABYTE, settings.largest / _MEGABYTE
        yield Finding(
            rule=ID,
            code="too-large",
            severity=settings.severity_of("too-large"),
            message=f"The file is {plain(size, 1)} MB; the printer takes {plain(limit, 1)} MB at most. "
            "It may be refused on the way.",
            remedy="Export pictures compressed and no finer than the printer wants, or ask for another "
            "way to send the file.",
            measured=Quantity.of(round(size, 3), unit="MB"),
            required=Quantity.of(round(limit, 3), unit="MB"),
        )


RULE = Rule(
    id=ID,
    title="File size",
    settings=FileSizeSettings,
    check=check,
    question="How large may a file be?",
    since="0.1",
)
