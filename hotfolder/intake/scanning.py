"""Lists one inbox: what lies there at this moment, and whether the inbox itself is there.

Nothing is opened for reading and no link is followed. An inbox without its marker file is called 'away',
never empty: its share is not mounted, and another folder stands in its place. So is one that cannot be
listed. An entry whose details cannot be read is left alone, and the others are listed all the same.
"""

import os
import stat
from dataclasses import dataclass
from pathlib import Path

from hotfolder.config.studio import MARKER, Printer
from hotfolder.intake.bycatch import why_left_alone


@dataclass(frozen=True, slots=True)
class Inbox:
    """A watched folder: an inbox, or a product's folder in it, whose names `products` lists."""

    printer: str
    product: str | None
    folder: Path
    products: frozenset[str] = frozenset()


def inboxes_of(printer: Printer) -> tuple[Inbox, ...]:
    """The folders of `printer` that are watched: its inbox, and one for each of its products."""
    products = frozenset(product.name for product in printer.products)
    own = Inbox(printer.name, None, printer.inbox, products)
    return (
        own,
        *(Inbox(printer.name, product.name, printer.inbox_of(product)) for product in printer.products),
    )


@dataclass(frozen=True, slots=True)
class SeenFile:
    """A regular file as one scan saw it. What stays equal over scans has settled."""

    name: str
    device: int
    inode: int
    size: int
    mtime_ns: int
    ctime_ns: int
    readable: bool


@dataclass(frozen=True, slots=True)
class LeftAlone:
    """An entry that is no job, and why."""

    name: str
    why: str


@dataclass(frozen=True, slots=True)
class Listing:
    """What one scan saw."""

    files: tuple[SeenFile, ...]
    left: tuple[LeftAlone, ...]


@dataclass(frozen=True, slots=True)
class Away:
    """The inbox is not there or cannot be listed, and why: most often its share is not mounted."""

    reason: str


def scan(inbox: Inbox) -> Listing | Away:
    """What lies in `inbox` now. Never raises for what the file system does."""
    try:
        folder = os.open(inbox.folder, os.O_RDONLY | os.O_DIRECTORY | os.O_CLOEXEC)
    except OSError as error:
        return Away(f"cannot be opened: {error.strerror}")
    try:
        return _list(folder, inbox)
    except OSError as error:
        return Away(f"cannot be listed: {error.strerror}")
    finally:
        os.close(folder)


def _list(folder: int, inbox: Inbox) -> Listing | Away:
    try:
        os.stat(MARKER, dir_fd=folder, follow_symlinks=False)
    except FileNotFoundError:
        return Away(f"has no marker file {MARKER}: a share that is not mounted, or a folder not laid by init")
    files: list[SeenFile] = []
    left: list[LeftAlone] = []
    with os.scandir(folder) as entries:
        for entry in entries:
            if entry.name == MARKER:
                continue
            seen = _see(entry, folder, inbox)
            if isinstance(seen, SeenFile):
                files.append(seen)
            elif seen is not None:
                left.append(seen)
    return Listing(tuple(files), tuple(left))


def _see(entry: "os.DirEntry[str]", folder: int, inbox: Inbox) -> SeenFile | LeftAlone | None:
    """The entry as a file or as something left alone; None for a product's folder or what vanished."""
    why = why_left_alone(entry.name)
    if why is not None:
        return LeftAlone(entry.name, why)
    try:
        status = entry.stat(follow_symlinks=False)
    except OSError as error:  # one entry that cannot be looked at says nothing of the others
        vanished = isinstance(error, FileNotFoundError)
        return None if vanished else LeftAlone(entry.name, f"its details cannot be read: {error.strerror}")
    if stat.S_ISREG(status.st_mode):
        return SeenFile(
            entry.name, status.st_dev, status.st_ino, status.st_size,
            status.st_mtime_ns, status.st_ctime_ns,
            os.access(entry.name, os.R_OK, dir_fd=folder, effective_ids=True),
        )  # fmt: skip
    if stat.S_ISDIR(status.st_mode):
        if entry.name in inbox.products:
            return None
        return LeftAlone(entry.name, "a folder, but not a product of this printer; drop its files one by one")
    return LeftAlone(entry.name, _ODD.get(stat.S_IFMT(status.st_mode), "not an ordinary file"))


_ODD = {
    stat.S_IFLNK: "a link; drop the file that it leads to",
    stat.S_IFIFO: "a pipe",
    stat.S_IFSOCK: "a socket",
    stat.S_IFCHR: "a device",
    stat.S_IFBLK: "a device",
}
