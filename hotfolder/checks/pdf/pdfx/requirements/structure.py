"""Requirements on how the file is put together."""

from collections.abc import Iterator
from typing import Final

from hotfolder.checks.pdf.pdfx.requirement import Breach, Requirement, Subject
from hotfolder.checks.shared.pdfx_levels import ALL, X4, Level

_SERIES: Final = "implementers' notes on PDF/X-1a and X-3 (Antenna House, 2006)"


def _not_encrypted(subject: Subject, _level: Level) -> Iterator[Breach]:
    if subject.inventory.structure.encrypted:
        yield Breach("the file is encrypted")


def _has_identifier(subject: Subject, _level: Level) -> Iterator[Breach]:
    parts = subject.inventory.structure.id_parts
    if parts < 2:
        missing = "the file has no identifier" if not parts else "the file's identifier has one part of two"
        yield Breach(f"{missing} (ID in its trailer)")


STRUCTURE: Final = (
    Requirement(
        id="encrypted",
        wants="wants a file that is not encrypted",
        levels=ALL,
        why="The printer's programs may refuse to open it, or to print it.",
        remedy="Export again without a password and without restrictions on printing or editing.",
        source=_SERIES,
        judge=_not_encrypted,
        told_by=frozenset({"encryption.encrypted", "encryption.locked"}),
    ),
    Requirement(
        id="file-identifier",
        wants="wants an identifier of two parts (ID) at the end of the file",
        levels=ALL,
        unconfirmed=X4,
        why="By it the printer's programs tell one version of a file from the next.",
        remedy="Export again with a program that writes a file identifier; most do by themselves.",
        source=f"{_SERIES}; for PDF/X-4 from memory",
        judge=_has_identifier,
    ),
)
