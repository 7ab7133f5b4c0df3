"""Requests that commands lay beside a running daemon, and its answers.

One file a request in `.hotfolder/requests/`, which only the daemon's own user may write: a request
moves files. It is whole when it has its name; the answer takes its place.
"""

import contextlib
import json
import os
import secrets
from collections.abc import Iterator
from dataclasses import asdict, dataclass
from datetime import UTC, datetime, timedelta
from pathlib import Path
from typing import Final

from hotfolder.errors import UsageError
from hotfolder.store.copies import read_small
from hotfolder.store.moves import remove, status_of
from hotfolder.store.refusals import owner_of, refusals
from hotfolder.store.writing import make_folder, replace_file

_MOST_BYTES: Final = 1 << 16
_FORGOTTEN: Final = timedelta(days=1)


@dataclass(frozen=True, slots=True)
class ReleaseRequest:
    """Somebody wants `job` (its id or its file's name) sent on against its findings."""

    job: str
    by: str
    reason: str


@dataclass(frozen=True, slots=True)
class Answer:
    """What became of a request. refused: nothing was done, `text` says why."""

    refused: bool
    text: str


def lay_request(hidden: Path, request: ReleaseRequest) -> Path:
    """Lay `request` for the daemon; where it lies. UsageError where only another user may do that."""
    folder = hidden / "requests"
    if not os.access(hidden, os.W_OK | os.X_OK):
        raise UsageError(
            f"'{hidden}' may only be written by the user that runs the daemon{owner_of(hidden)}; "
            "give this command as that user"
        )
    make_folder(folder, mode=0o700)
    path = folder / f"{datetime.now(UTC):%Y%m%d-%H%M%S}-{secrets.token_hex(4)}.json"
    replace_file(path, json.dumps(asdict(request)).encode("ascii"))
    return path


def take_requests(hidden: Path, now: datetime) -> Iterator[tuple[Path, ReleaseRequest]]:
    """The requests that lie there, oldest first; answers that nobody fetched for a day are removed."""
    folder = hidden / "requests"
    if status_of(folder) is None:
        return
    with refusals("looking into", folder):
        names = sorted(entry.name for entry in folder.iterdir())
    for name in names:
        path = folder / name
        if name.endswith(".json") and not name.startswith("."):
            request = _read(path)
            if request is not None:
                yield path, request
        elif name.endswith(".answer") and _is_forgotten(path, now):
            remove(path)


def answer_request(path: Path, answer: Answer) -> None:
    """Answer the request at `path`, which is done with."""
    replace_file(path.with_suffix(".answer"), json.dumps(asdict(answer)).encode("ascii"))
    remove(path)


def fetch_answer(path: Path) -> Answer | None:
    """The answer to the request that was laid at `path`; None while there is none."""
    answer = path.with_suffix(".answer")
    if status_of(answer) is None:
        return None
    content = json.loads(read_small(answer, _MOST_BYTES) or b"{}")
    remove(answer)
    return Answer(bool(content["refused"]), str(content["text"]))


def withdraw_request(path: Path) -> bool:
    """Take back a request that is not answered; False where the daemon has taken it up already."""
    with refusals("removing", path):
        try:
            path.unlink()
        except FileNotFoundError:
            return False
    return True


def _read(path: Path) -> ReleaseRequest | None:
    """The request in `path`; what is none is answered and removed."""
    try:
        content = json.loads(read_small(path, _MOST_BYTES) or b"")
        return ReleaseRequest(str(content["job"]), str(content["by"]), str(content["reason"]))
    except (ValueError, KeyError, TypeError, RecursionError):
        answer_request(path, Answer(refused=True, text="this request could not be read"))
        return None


def _is_forgotten(path: Path, now: datetime) -> bool:
    with contextlib.suppress(OSError):
        return now - datetime.fromtimestamp(path.stat().st_mtime, UTC) > _FORGOTTEN
    return False
