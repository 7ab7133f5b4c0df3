"""A file in an inbox that has settled: what intake hands to the desk."""

from dataclasses import dataclass
from pathlib import Path


@dataclass(frozen=True, slots=True)
class Candidate:
    """A whole file, as the last scan saw it.

    folder: the inbox, or the product's folder in it. name: as the system gave it (bytes that are
    no UTF-8 are carried as lone surrogates, PEP 383). mtime_ns is only ever compared with itself.
    """

    printer: str
    product: str | None
    folder: Path
    name: str
    device: int
    inode: int
    size: int
    mtime_ns: int
