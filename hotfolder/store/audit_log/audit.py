"""The record of what happened to each job: `audit/<year>/<month>/<job>.jsonl`, and `audit/chain.jsonl`.

Both are chained files (`chained.py` says which bytes are hashed). A job's log ends with an event
`closed`; the studio-wide chain then gets one line with the hash of that line (`closing`) and what a
reader of many jobs wants to know. A job that is released later is closed once more.

Nothing is written twice: an event has a `mark` that is unique in its log, and an event whose mark is
there already is not written again. So every step may be repeated after a crash.

This detects accident and carelessness. It does not detect a forger who may write in the folder:
whoever can rewrite all of it can hash all of it anew. What stands last in the chain is protected only
by the line that comes after it.

A line of the chain: step, previous, at (ISO 8601, UTC), job, log (its path in the audit folder),
closing, printer, product, name, sha256, verdict (null where there is none), must_fix, advice,
unjudged, first (the gravest finding), folder and delivered (where the artwork lies in the printer's
folder, and its name; null where it was not delivered), reports (the folder of its sidecars),
report_json and report_html (their names, or null), previous_job, released_by, replaces (the jobs whose
files moved to needs-fixing/older-versions since this one came), replaced_by (the newer version that came
to its end before this one, or null). A file name that is no UTF-8 stands escaped, and once more in
hexadecimal digits under its key with `_hex`.
"""

import contextlib
import os
import threading
from collections.abc import Callable, Iterator, Mapping
from dataclasses import replace
from datetime import UTC, datetime
from pathlib import Path
from typing import Final

from hotfolder.model.jobs import JobId
from hotfolder.store.audit_log.chained import (
    ChainReading,
    Json,
    Record,
    check_chain,
    extend,
    read_chain,
    read_end,
    text_of,
)
from hotfolder.store.narrowing import is_file_name
from hotfolder.store.refusals import refusals
from hotfolder.store.writing import make_folder

CHAIN: Final = "chain.jsonl"


def log_of(job: JobId) -> str:
    """Where the log of `job` lies in the audit folder; its id begins with its date."""
    return f"{job[:4]}/{job[4:6]}/{job}.jsonl"


def name_fields(name: str, key: str = "name") -> dict[str, Json]:
    """A file name for a record: as text that any reader can take, and its bytes where text is not enough."""
    raw = os.fsencode(name)
    try:
        return {key: raw.decode("utf-8")}
    except UnicodeDecodeError:
        return {key: raw.decode("utf-8", "backslashreplace"), f"{key}_hex": raw.hex()}


def name_in(content: Mapping[str, Json], key: str = "name") -> str:
    """The file name that `name_fields` put into a record, as the system gives it.

    From a damaged record: its text where the bytes cannot be read, and nothing where that is no name.
    """
    name = text_of(content, key)
    with contextlib.suppress(ValueError):
        name = os.fsdecode(bytes.fromhex(text_of(content, f"{key}_hex"))) or name
    return name if is_file_name(name) else ""


class AuditLog:
    """Writes the records. For one process at a time, which holds the studio's lock; for any thread."""

    def __init__(self, folder: Path, clock: Callable[[], datetime]) -> None:
        self._folder = folder
        self._clock = clock
        self._chain_lock = threading.Lock()

    def knows(self, job: JobId) -> bool:
        """Whether there is a log for `job`."""
        with refusals("looking at", self._folder):
            return (self._folder / log_of(job)).exists()

    def note(self, job: JobId, event: str, content: Mapping[str, Json], mark: str | None = None) -> Record:
        """Write `event` into the log of `job`, unless one with this `mark` is there.

        mark: the event itself where that can happen only once.
        """
        path = self._folder / log_of(job)
        make_folder(path.parent)
        reading = read_chain(path)
        unique = mark or event
        for record in reading.records:
            if record.content.get("mark") == unique:
                return record
        at = self._now()
        return extend(path, reading, {"at": at, "job": job, "event": event, "mark": unique, **content}, at)

    def chain_end(self) -> int:
        """How long the studio-wide chain is now, in bytes: to be kept before `close`."""
        return _size(self._folder / CHAIN)

    def close(self, job: JobId, content: Mapping[str, Json], mark: str, since: int) -> None:
        """Close the log of `job`, and carry its closing hash into the studio-wide chain.

        since: what `chain_end` said before the first try; the chain is searched from there.
        """
        closing = self.note(job, "closed", {"verdict": content.get("verdict")}, mark)
        path = self._folder / CHAIN
        with self._chain_lock:
            if any(text_of(line.content, "closing") == closing.hash for line in records_since(path, since)):
                return
            at = self._now()
            line: dict[str, Json] = {
                "at": at,
                "job": job,
                "log": log_of(job),
                "closing": closing.hash,
                **content,
            }
            extend(path, read_end(path), line, at)

    def story(self, job: JobId) -> ChainReading:
        """All that is recorded of `job`."""
        return read_chain(self._folder / log_of(job))

    def _now(self) -> str:
        return self._clock().astimezone(UTC).isoformat(timespec="milliseconds")


def records_since(path: Path, since: int) -> Iterator[Record]:
    """The whole records of a chained file from byte `since` on, without checking the chain."""
    # One byte earlier, to see whether `since` is where a line begins.
    start = max(0, since - 1)
    with refusals("reading", path):
        try:
            with path.open("rb") as file:
                file.seek(start)
                content = file.read()
        except FileNotFoundError:
            return
    skipped = content.find(b"\n") + 1 if since else 0
    for record in check_chain(content[skipped:]).records:
        yield replace(record, end=record.end + start + skipped)


def _size(path: Path) -> int:
    with refusals("looking at", path):
        try:
            return path.stat().st_size
        except FileNotFoundError:
            return 0
