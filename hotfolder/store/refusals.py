"""What the file system refuses, in words that a person can act on.

Every refusal is temporary until a person says otherwise: it becomes a `StorageError`, and the
job waits. Decided by error number, never by message.
"""

import contextlib
import errno
import os
from collections.abc import Iterator
from pathlib import Path
from typing import Final

from hotfolder.errors import StorageError
from hotfolder.wording.shown import shown_name

_AWAY: Final = "the share is not available, or the connection to it is broken"
_FAILING: Final = (
    "the disk or the share reports an error; a file that is still in the cloud has to be made available "
    "offline first"
)
_WORDS: Final = {
    errno.ENOSPC: "the disk is full",
    errno.EDQUOT: "the disk quota is used up",
    errno.EROFS: "the file system can only be read",
    errno.ESTALE: _AWAY,
    errno.EHOSTDOWN: _AWAY,
    errno.EHOSTUNREACH: _AWAY,
    errno.ENOTCONN: _AWAY,
    errno.ENODEV: _AWAY,
    errno.EDEADLK: _FAILING,
    errno.ETIMEDOUT: _FAILING,
    errno.EIO: _FAILING,
    errno.EBUSY: "another program holds it",
    errno.ETXTBSY: "another program holds it",
    errno.EXDEV: "it lies on another file system, and a claim has to be one rename",
    errno.EMFILE: "this program has too many files open",
    errno.ENFILE: "this machine has too many files open",
}


@contextlib.contextmanager
def refusals(doing: str, path: Path) -> Iterator[None]:
    """Turns an OSError into a `StorageError` that says what was tried (`doing`) with which file."""
    try:
        yield
    except OSError as error:
        raise StorageError(f"{doing} '{shown_name(str(path))}': {why(error, path)}") from error


def is_across(error: StorageError) -> bool:
    """Whether a rename was refused because its two names lie on different file systems."""
    cause = error.__cause__
    return isinstance(cause, OSError) and cause.errno == errno.EXDEV


def why(error: OSError, path: Path) -> str:
    """The reason in words; for a missing permission also whose the file is."""
    if error.errno in {errno.EACCES, errno.EPERM}:
        return f"no permission{owner_of(path)}"
    return _WORDS.get(error.errno or 0) or error.strerror or type(error).__name__


def owner_of(path: Path) -> str:
    """` (owner 1000, rights 0600)`, or nothing where even that cannot be seen."""
    try:
        status = path.lstat()
    except OSError:
        return ""
    return (
        f" (its owner is user {status.st_uid}, its rights are {status.st_mode & 0o7777:04o}; "
        f"this program runs as user {os.geteuid()})"
    )
