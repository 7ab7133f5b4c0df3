"""The archive of PDF/X files: where it lies, how its files are had, and what is said of each."""

import tarfile
import tomllib
from collections.abc import Mapping
from dataclasses import dataclass
from pathlib import Path
from typing import Final

ARCHIVE: Final = Path(__file__).parent.parent / "pdfx.tar.xz"
_TABLE: Final = Path(__file__).with_name("files.toml")


@dataclass(frozen=True, slots=True)
class ProducedFile:
    """What the table says of a file. producer: with its version; level: as the file claims it.

    breaks: the requirements that it breaks, by id, with what the file has instead; advised: those
    that are told as advice only, as their wording is not certain; open: those that nobody can judge in it.
    """

    producer: str
    level: str
    holds: str
    breaks: Mapping[str, str]
    advised: Mapping[str, str]
    open: tuple[str, ...]


def unpacked(folder: Path) -> tuple[Path, ...]:
    """The files of the archive, written into `folder`; none where it has not been made yet."""
    if not ARCHIVE.exists():
        return ()
    with tarfile.open(ARCHIVE) as archive:
        for entry in archive:
            stream = archive.extractfile(entry)
            if stream is not None:
                (folder / Path(entry.name).name).write_bytes(stream.read())
    return tuple(sorted(folder.glob("*.pdf")))


def described() -> dict[str, ProducedFile]:
    """What is said of each file, by its name without `.pdf`."""
    tables = tomllib.loads(_TABLE.read_text(encoding="utf-8"))
    return {
        name: ProducedFile(
            table["producer"],
            table["level"],
            table["holds"],
            table.get("breaks", {}),
            table.get("advised", {}),
            tuple(table.get("open", ())),
        )
        for name, table in tables.items()
    }
