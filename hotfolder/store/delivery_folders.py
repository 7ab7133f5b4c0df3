"""Whether a delivery folder is the one that was remembered, or only the place where its share should be.

An outbox or needs-fixing may lie on a share of its own. While that is not mounted, an empty folder of the
same name stands in its place, and what is laid there is hidden as soon as the share is back. So each
has a marker file with an id, and the studio remembers that id, the folder itself (device, file system
and inode, and what the mount says it is of) and whether it lies on another mount than its printer's
folder ('apart').

A folder is here if
1. its marker has the id that was remembered: a share has another device after it was mounted anew; or
2. it is the very folder that was remembered, and no marker with another id says that it is not: shares
   have no device numbers of their own, and the next one that is mounted gets the last one's; or
3. what was remembered lay where its printer's folder lies: no share of its own can be missing then.
Else its share is missing, and nothing is laid into it. A folder of which nothing is remembered, since it was
laid by a version without markers, is taken as it is: marked, and remembered. Somebody who knows that a
folder is the right one says so with an empty file of the marker's name.
"""

import contextlib
import json
import logging
import os
import re
import threading
import uuid
from dataclasses import asdict, dataclass, replace
from pathlib import Path
from typing import Final

from hotfolder.config.studio import DELIVERY_MARKER, Printer
from hotfolder.errors import ShareAwayError, StorageError
from hotfolder.store.copies import read_small
from hotfolder.store.moves import status_of
from hotfolder.store.refusals import refusals
from hotfolder.store.writing import make_folder, make_plain_folder, replace_file
from hotfolder.wording.shown import shown_name

logger = logging.getLogger(__name__)
_MOST_BYTES: Final = 4096
_LONGEST_SOURCE: Final = 500
_ID: Final = re.compile(rb"^id: ([0-9a-f]{32})\r?$", re.MULTILINE)
_TEXT: Final = """\
hotfolder delivers files into this folder.
Leave this file where it is: where the folder lies on a share, it tells whether the share is there.
id: {id}
"""


@dataclass(frozen=True, slots=True)
class _Known:
    """A folder as it is remembered. apart: it lies on another mount than its printer's folder.

    source: what its mount is of, as `server:/folder`; empty where nobody knows, or an earlier version
    remembered it.
    """

    id: str
    device: int
    file_system: int
    inode: int
    apart: bool
    source: str = ""

    def is_same_folder(self, other: "_Known") -> bool:
        """Whether both are one folder of one mounted file system, whatever its marker says."""
        mine = (self.device, self.file_system, self.inode)
        same_source = self.source == other.source or not (self.source and other.source)
        return same_source and mine == (other.device, other.file_system, other.inode)


@dataclass(frozen=True, slots=True)
class _SeenFolder:
    """A folder as it is now; its id is empty where no marker has one.

    confirmed: a marker without an id is there, by which somebody says that the folder is the right one.
    """

    folder: _Known
    confirmed: bool

    def is_what(self, known: _Known | None) -> bool:
        """Whether this is the folder that is `known`: see the module."""
        if known is None or not known.apart or self.confirmed:
            return True
        if self.folder.id:
            return known.id == self.folder.id
        return known.is_same_folder(self.folder)


class DeliveryFolders:
    """Knows outbox and needs-fixing of each printer. hidden: the studio's own folder. For any thread."""

    def __init__(self, hidden: Path) -> None:
        self._records = hidden / "folders"
        self._lock = threading.Lock()
        self._known: dict[str, dict[str, _Known]] = {}

    def ready(self, printer: Printer, folder: Path) -> tuple[Path, ...]:
        """See that `folder` can be delivered into; what had to be made for that.

        ShareAwayError where its share is: then nothing was made.
        """
        with self._lock:
            made = self._make(printer, folder)
            marker = self._take(printer, folder, fresh=bool(made))
        return made if marker is None else (*made, marker)

    def is_here(self, printer: Printer, folder: Path) -> bool:
        """Whether `folder` is there and is what was remembered; makes nothing."""
        with self._lock:
            with refusals("looking at", folder):
                if not folder.is_dir():
                    return False
            return _see(printer, folder).is_what(self._remembered(printer).get(folder.name))

    def adopt(self, printer: Printer) -> None:
        """Mark and remember the folders of `printer` that are there.

        A folder that is missing is made when it is wanted. ShareAwayError where one stands in the place of a
        share that is not mounted.
        """
        for folder in (printer.outbox, printer.needs_fixing):
            if status_of(folder) is not None:
                self.ready(printer, folder)

    def keep(self) -> None:
        """Write down again what is remembered, where somebody removed the records while we run."""
        with self._lock:
            if status_of(self._records) is None:
                for printer, known in self._known.items():
                    if known:
                        self._remember(printer, known)

    def _make(self, printer: Printer, folder: Path) -> tuple[Path, ...]:
        with refusals("looking at", folder):
            if folder.is_dir():
                return ()
        known = self._remembered(printer).get(folder.name)
        if folder.is_symlink() or (known is not None and known.apart):
            raise ShareAwayError(f"'{shown_name(str(folder))}' is not available: its share is not mounted")
        if status_of(folder) is not None:
            raise StorageError(f"'{shown_name(str(folder))}' should be a folder, and something else is there")
        make_folder(folder)
        return (folder,)

    def _take(self, printer: Printer, folder: Path, *, fresh: bool) -> Path | None:
        """Remember `folder`, and mark it where it needs that; the marker, if it was laid now."""
        remembered = self._remembered(printer)
        known, seen = remembered.get(folder.name), _see(printer, folder)
        if not seen.is_what(known):
            raise ShareAwayError(
                f"'{shown_name(str(folder))}' is not available: its share is not mounted, or another one is. "
                f"If it is the right folder, say so with an empty file '{DELIVERY_MARKER}' in it"
            )
        now, marker = seen.folder, None
        was_marked = known is not None and known.is_same_folder(now) and not (fresh or seen.confirmed)
        if not now.id and known is not None and was_marked:
            # A program that eats every file may have its marker, and would eat the next.
            now = replace(now, id=known.id)
        elif not now.id:
            now = replace(now, id=uuid.uuid4().hex)
            marker = _lay_marker(printer, folder, now.id)
        if known != now or status_of(self._record_of(printer.name)) is None:
            remembered[folder.name] = now
            self._remember(printer.name, remembered)
        return marker

    def _remembered(self, printer: Printer) -> dict[str, _Known]:
        """What is known of the printer's folders; read once: this program remembers without its file too."""
        if printer.name not in self._known:
            self._known[printer.name] = _read(self._record_of(printer.name))
        return self._known[printer.name]

    def _remember(self, printer: str, known: dict[str, _Known]) -> None:
        make_folder(self._records, mode=0o700)
        content = {name: asdict(folder) for name, folder in known.items()}
        replace_file(self._record_of(printer), json.dumps(content, indent=1).encode("ascii") + b"\n")

    def _record_of(self, printer: str) -> Path:
        return self._records / f"{printer}.json"


def _read(record: Path) -> dict[str, _Known]:
    if status_of(record) is None:
        return {}
    try:
        content = json.loads(read_small(record, _MOST_BYTES) or b"")
        return {str(name): _Known(**known) for name, known in content.items()}
    except (ValueError, TypeError, AttributeError) as error:
        logger.warning("'%s' is damaged and is made anew: %s", shown_name(str(record)), error)
        return {}


def _see(printer: Printer, folder: Path) -> _SeenFolder:
    with refusals("looking at", folder):
        status = folder.stat()
        file_system = os.statvfs(folder).f_fsid
        mount = _mount_of(folder)
        apart = mount != _mount_of(printer.folder)
    marker_id, confirmed = "", False
    for place in _marker_places(printer, folder):
        if status_of(place) is not None:
            id_line = _ID.search(read_small(place, _MOST_BYTES) or b"")
            marker_id, confirmed = (id_line[1].decode("ascii"), False) if id_line else ("", True)
            break
    source = _source_of(mount)
    return _SeenFolder(_Known(marker_id, status.st_dev, file_system, status.st_ino, apart, source), confirmed)


def _marker_places(printer: Printer, folder: Path) -> tuple[Path, ...]:
    """Where a marker may lie: in the folder of the reports, if there is one, no machine eats it."""
    reports = printer.ready_sidecars
    beside = folder / DELIVERY_MARKER
    return (reports / DELIVERY_MARKER, beside) if folder == reports.parent else (beside,)


def _lay_marker(printer: Printer, folder: Path, marker_id: str) -> Path:
    marker = _marker_places(printer, folder)[0]
    if marker.parent != folder:
        make_plain_folder(marker.parent)
    replace_file(marker, _TEXT.format(id=marker_id).encode("ascii"))
    return marker


def _mount_of(folder: Path) -> int:
    """The number of the mount that `folder` lies on; its device's where the system tells no mounts.

    Two mounts may be of one device (bind mounts, subvolumes). Source: proc(5), /proc/pid/fdinfo, mnt_id.
    """
    descriptor = os.open(folder, os.O_PATH | os.O_DIRECTORY | os.O_CLOEXEC)
    try:
        with contextlib.suppress(OSError):
            for line in Path(f"/proc/self/fdinfo/{descriptor}").read_text("ascii").splitlines():
                key, _, value = line.partition(":")
                if key == "mnt_id":
                    return int(value)
        return os.fstat(descriptor).st_dev
    finally:
        os.close(descriptor)


def _source_of(mount: int) -> str:
    """What the mount of this number is of: a device, or a share with its server; empty where nobody knows.

    Source: proc(5), /proc/pid/mountinfo, the first field and the second behind the hyphen.
    """
    with contextlib.suppress(OSError, IndexError):
        for line in Path("/proc/self/mountinfo").read_text("utf-8", "backslashreplace").splitlines():
            before, _, after = line.partition(" - ")
            if before.split(" ")[0] == str(mount):
                return after.split(" ")[1][:_LONGEST_SOURCE]
    return ""
