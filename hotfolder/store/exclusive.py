"""A rename that never replaces anything.

Three ways, from best to worst; each is tried where the one before is not known to the file system:
1. renameat2 with RENAME_NOREPLACE (Linux; one step);
2. link, then unlink: a link never replaces. After a crash between the two, both names are the same
   file, and the same call again finishes;
3. a placeholder made exclusively, then a rename over it: for file systems without links. The
   placeholder holds a line that names its purpose, so that the same call again recognises it. Only
   here an empty file of somebody else's would be replaced: it may be such a placeholder, interrupted.
"""

import ctypes
import errno
import os
import stat
from pathlib import Path
from typing import Final

_RENAME_NOREPLACE: Final = 1  # linux/fs.h
_AT_FDCWD: Final = -100  # fcntl.h
_NOT_KNOWN_HERE: Final = frozenset({errno.EINVAL, errno.ENOSYS, errno.EOPNOTSUPP, errno.ENOTSUP})
# EPERM: no hard links on this file system (link(2)), or none to files of others (protected_hardlinks).
_NO_LINKS: Final = _NOT_KNOWN_HERE | {errno.EPERM, errno.EMLINK}


def rename_exclusively(source: Path, target: Path) -> None:
    """Give `source` the name `target`. FileExistsError where that exists; other OSErrors as they come."""
    for way in (_rename_without_replacing, _link_and_unlink):
        if way(source, target):
            return
    _over_a_placeholder(source, target)


def _renameat2(source: Path, target: Path) -> int:
    """0, or the error number."""
    function = getattr(ctypes.CDLL(None, use_errno=True), "renameat2", None)
    if function is None:
        return errno.ENOSYS
    arguments = (_AT_FDCWD, os.fsencode(source), _AT_FDCWD, os.fsencode(target), _RENAME_NOREPLACE)
    return 0 if function(*arguments) == 0 else ctypes.get_errno()


def _rename_without_replacing(source: Path, target: Path) -> bool:
    number = _renameat2(source, target)
    if number in _NOT_KNOWN_HERE:
        return False
    if number:
        raise OSError(number, os.strerror(number), str(source), None, str(target))
    return True


def _link_and_unlink(source: Path, target: Path) -> bool:
    try:
        os.link(source, target, follow_symlinks=False)
    except FileExistsError:
        if not _same_file(source, target):
            raise
    except OSError as error:
        if error.errno in _NO_LINKS:
            return False
        raise
    try:
        source.unlink()
    except OSError:
        target.unlink()  # a name that may not be removed may not be moved either
        raise
    return True


def _same_file(source: Path, target: Path) -> bool:
    ours, theirs = os.lstat(source), os.lstat(target)
    return (ours.st_dev, ours.st_ino) == (theirs.st_dev, theirs.st_ino)


def _over_a_placeholder(source: Path, target: Path) -> None:
    os.lstat(source)  # no placeholder for a file that is not there
    # The source's whole name, since two jobs may want the same target and only one laid this.
    mark = b"hotfolder: place kept for " + os.fsencode(source) + b"\n"
    try:
        descriptor = os.open(target, os.O_WRONLY | os.O_CREAT | os.O_EXCL | os.O_CLOEXEC, 0o666)
    except FileExistsError:
        if not _holds_part_of(target, mark):
            raise
    else:
        try:
            os.write(descriptor, mark)
        finally:
            os.close(descriptor)
    source.rename(target)


def _holds_part_of(path: Path, mark: bytes) -> bool:
    """Whether `path` holds `mark`, or as much of it as an interruption left; nothing at all is a part too."""
    status = path.lstat()
    if not stat.S_ISREG(status.st_mode) or status.st_size > len(mark):
        return False
    with path.open("rb") as file:
        return mark.startswith(file.read())
