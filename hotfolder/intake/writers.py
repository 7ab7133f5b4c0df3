"""Whether somebody still has a file open for writing, as far as this machine can know.

Two ways to ask, neither of which reads the file. A read lease (fcntl(2), F_SETLEASE) is granted only
where nobody has the file open for writing: the kernel itself answers. It is for the owner of the file
or for a program with CAP_LEASE. Where it is refused, `/proc/*/fd` (proc(5)) shows the files that are open in
those processes that this program may look into.

On a share the writer may sit at another machine, so that a lease says nothing. There, and where neither
way is open, the answer is that nothing is known.
"""

import errno
import fcntl
import os
import re
import signal
import threading
import time
from collections.abc import Callable, Mapping, Sequence
from contextlib import suppress
from enum import Enum
from pathlib import Path
from typing import Final

# File systems that this kernel alone writes to: every writer of theirs is one of its processes.
_LOCAL: Final = frozenset(
    (
        *("ext2", "ext3", "ext4", "xfs", "btrfs", "f2fs", "bcachefs", "jfs", "nilfs2", "reiserfs", "zfs"),
        *("tmpfs", "ramfs", "overlay", "vfat", "exfat", "ntfs3", "fuseblk", "hfsplus"),
    )
)
_EXPORTED: Final = Path("/var/lib/nfs/etab")  # exportfs(8): what this machine lends to others
_MOUNTS: Final = Path("/proc/self/mountinfo")
_PROCESSES: Final = Path("/proc")
_FRESH_S: Final = 1.0  # how long a view of all processes, or of the mounts, is used
_ESCAPE: Final = re.compile(r"\\([0-7]{3})")


class Writers(Enum):
    """Who has a file open for writing."""

    NONE = "nobody"
    SOME = "somebody"
    UNKNOWN = "not known"


def writers_of(path: Path) -> Writers:
    """Who has the regular file `path` open for writing. Never raises or waits, and reads nothing."""
    leased = _by_lease(path)
    if leased is not Writers.UNKNOWN and _is_local(path):
        return leased
    return Writers.SOME if _is_open_somewhere(path) else Writers.UNKNOWN


def _by_lease(path: Path) -> Writers:
    try:
        descriptor = os.open(path, os.O_RDONLY | os.O_NOFOLLOW | os.O_NONBLOCK | os.O_CLOEXEC)
    except BlockingIOError:  # its holder has a lease of its own, as file servers take for their clients
        return Writers.SOME
    except OSError:
        return Writers.UNKNOWN
    try:
        # Whoever opens the file in this very moment makes the kernel send a signal; SIGIO would end us.
        fcntl.fcntl(descriptor, fcntl.F_SETSIG, signal.SIGURG)
        fcntl.fcntl(descriptor, fcntl.F_SETLEASE, fcntl.F_RDLCK)
        fcntl.fcntl(descriptor, fcntl.F_SETLEASE, fcntl.F_UNLCK)
    except OSError as error:
        return Writers.SOME if error.errno == errno.EAGAIN else Writers.UNKNOWN
    finally:
        os.close(descriptor)
    return Writers.NONE


class _Fresh:
    """What `make` gave, made anew when it is older than a second. For any thread."""

    def __init__(self, make: Callable[[], Mapping[str, Sequence[str]]]) -> None:
        self._make = make
        self._lock = threading.Lock()
        self._made_s: float | None = None
        self._made: Mapping[str, Sequence[str]] = {}

    def get(self) -> Mapping[str, Sequence[str]]:
        with self._lock:
            now_s = time.monotonic()
            if self._made_s is None or now_s - self._made_s > _FRESH_S:
                self._made, self._made_s = self._make(), now_s
            return self._made


def _is_local(path: Path) -> bool:
    """Whether the file's system is written to by processes of this machine alone."""
    place = os.path.realpath(path.parent)
    kind = _within(place, _mounts.get())
    return kind is not None and kind[0] in _LOCAL and _within(place, _exports.get()) is None


def _within(place: str, folders: Mapping[str, Sequence[str]]) -> Sequence[str] | None:
    """What is said of the nearest folder at or above `place` of which anything is said."""
    while True:
        if place in folders:
            return folders[place]
        if place == "/":
            return None
        place = os.path.dirname(place)  # noqa: PTH120 - a plain text, taken apart many times


def _read_mounts() -> dict[str, tuple[str, ...]]:
    """The kind of file system at each mount point; a later mount hides an earlier one."""
    kinds: dict[str, tuple[str, ...]] = {}
    with suppress(OSError, IndexError):
        for line in _MOUNTS.read_text("utf-8", "surrogateescape").splitlines():
            before, _, after = line.partition(" - ")
            kinds[_plain(before.split(" ")[4])] = (after.split(" ")[0],)
    return kinds


def _read_exports() -> dict[str, tuple[str, ...]]:
    with suppress(OSError):
        lines = _EXPORTED.read_text("utf-8", "surrogateescape").splitlines()
        return {_plain(line.split("\t")[0]): () for line in lines if line}
    return {}


def _plain(escaped: str) -> str:
    """A path as the kernel writes it into its tables: spaces and the like are octal there."""
    return _ESCAPE.sub(lambda match: chr(int(match[1], 8)), escaped)


def _is_open_somewhere(path: Path) -> bool:
    """Whether a process that we may look into has the file open for writing."""
    try:
        wanted = path.lstat()
    except OSError:
        return False
    for link in _open_files.get().get(path.name, ()):
        with suppress(OSError, ValueError, IndexError):  # the process may have ended meanwhile
            status = os.stat(link)  # noqa: PTH116 - a link of the kernel's, not one of our files
            if (status.st_dev, status.st_ino) == (wanted.st_dev, wanted.st_ino) and _writes(link):
                return True
    return False


def _writes(link: str) -> bool:
    info = Path(link.replace("/fd/", "/fdinfo/")).read_text("ascii")
    flags = int(info.split("flags:")[1].split()[0], 8)
    return flags & os.O_ACCMODE != os.O_RDONLY


def _read_open_files() -> dict[str, list[str]]:
    """Where the kernel shows each open file, by the file's name: links are read, not followed."""
    links: dict[str, list[str]] = {}
    for process in _listed(str(_PROCESSES)):
        if process.isdecimal():
            folder = f"{_PROCESSES}/{process}/fd"
            for number in _listed(folder):
                with suppress(OSError):
                    target = os.readlink(f"{folder}/{number}")  # noqa: PTH115 - as above
                    if target.startswith("/"):
                        links.setdefault(target.rpartition("/")[2], []).append(f"{folder}/{number}")
    return links


def _listed(folder: str) -> list[str]:
    try:
        return os.listdir(folder)  # noqa: PTH208 - names alone
    except OSError:
        return []


_mounts: Final = _Fresh(_read_mounts)
_exports: Final = _Fresh(_read_exports)
_open_files: Final = _Fresh(_read_open_files)
