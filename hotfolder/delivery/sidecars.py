"""Our own reports beside delivered files: recognised when they come back, marked when a job is released."""

import json
import os
import re
import stat
from collections.abc import Iterable
from dataclasses import dataclass
from datetime import UTC, datetime
from pathlib import Path
from typing import Final

from hotfolder.errors import StorageError
from hotfolder.model.jobs import JobId, JobResult
from hotfolder.report import GENERATOR, Release, mark_released, release_json
from hotfolder.report.as_json.findings import SCHEMA
from hotfolder.store.copies import may_read, read_head, read_small, sha256_of
from hotfolder.store.jobs import JobState, ReportHashes
from hotfolder.store.moves import remove, status_of
from hotfolder.store.refusals import refusals
from hotfolder.store.writing import sync_file, sync_folder

MOST_BYTES: Final = 64 << 20
"""No report of ours is larger; what is, is somebody else's file."""

_HEAD_BYTES: Final = 1 << 16


@dataclass(frozen=True, slots=True)
class _ReportKind:
    """How reports of one kind begin and end, and how they name their job (`JOB`)."""

    head: re.Pattern[bytes]
    tail: bytes
    of_job: tuple[str, ...]


_JSON: Final = _ReportKind(
    re.compile(rb'\A\s*\{\s*"schema"\s*:\s*"' + re.escape(SCHEMA.encode()) + rb'"'), b"}", ('"job": "JOB"',)
)
_HTML: Final = _ReportKind(
    re.compile(
        rb"<meta\s+name=[\"']generator[\"']\s+content=[\"']" + re.escape(GENERATOR.encode()) + rb"[\"']",
        re.IGNORECASE,
    ),
    b"</html>",
    ('<meta name="job" content="JOB">', ", job JOB."),  # the second is how earlier versions name it
)
_KINDS: Final = {".json": _JSON, ".html": _HTML, ".htm": _HTML}
_NOT_RELEASED: Final = re.compile(rb'^ "released": null(?=,?$)', re.MULTILINE)


def is_own_report(path: Path) -> bool:
    """Whether the file `path` is a report of ours, by its beginning; its name says if it is worth a look.

    A sidecar comes back with its artwork, often as `flyer.pdf.report (1).html`. Somebody's own file of
    such a name is none. Nothing is parsed: the file may be anybody's.
    """
    kind = _kind(path)
    status = None if kind is None else status_of(path)
    if kind is None or status is None or not stat.S_ISREG(status.st_mode):
        return False
    if status.st_size > MOST_BYTES or not may_read(path):
        return False
    return bool(kind.head.search(read_head(path, _HEAD_BYTES)))


def is_report_of(path: Path, job: JobId) -> bool:
    """Whether `path` is our report on this very job; others may name the job as one that came before."""
    kind = _kind(path)
    if kind is None or not is_own_report(path):
        return False
    return any(mark.replace("JOB", job).encode() in read_report(path) for mark in kind.of_job)


def remove_reports_of(job: JobId, paths: Iterable[Path]) -> None:
    """Remove those of `paths` that are our reports on `job`; another job may have got their names since."""
    for path in paths:
        if is_report_of(path, job):
            remove(path)


def is_whole(path: Path) -> bool:
    """Whether `path` has the beginning and the end of a report, and none of the zeros of lost blocks.

    StorageError where it cannot be read.
    """
    kind = _kind(path)
    content = read_report(path)
    return (
        kind is not None
        and kind.head.search(content[:_HEAD_BYTES]) is not None
        and content.rstrip().endswith(kind.tail)
        and b"\0" not in content
    )


def sync_reports(result: JobResult) -> ReportHashes:
    """Have the reports that a job is about to go on with safe on the disk: their hashes."""
    paths = _paths_of(result)
    for path in paths:
        sync_file(path)
    for folder in {path.parent for path in paths}:
        with refusals("syncing", folder):
            sync_folder(folder)
    return tuple(sha256_of(path) for path in paths)


def reports_are_whole(state: JobState) -> bool:
    """Whether the reports of a judged job are those that were kept; a power cut may have emptied them.

    A state that was saved before hashes were kept says less: then it is how they begin and end.
    """
    if state.result is None:
        return False
    paths = _paths_of(state.result)
    if any(status_of(path) is None for path in paths):
        return False
    if state.report_hashes:
        return tuple(sha256_of(path) for path in paths) == state.report_hashes
    return all(is_whole(path) for path in paths)


def _paths_of(result: JobResult) -> tuple[Path, ...]:
    pair = (result.report_json, result.report_html)
    return tuple(path for path in pair if path is not None)


def _kind(path: Path) -> _ReportKind | None:
    suffix = os.path.splitext(path.name)[1].casefold()  # noqa: PTH122 - a Path's suffix is lost with a trailing dot
    return _KINDS.get(suffix)


def read_report(path: Path) -> bytes:
    """The bytes of a report that a child wrote; StorageError where it is no regular file of fair size.

    The child has read a stranger's file: what it left may be anything, a link to another file too.
    """
    content = read_small(path, MOST_BYTES)
    if content is None:
        raise StorageError(f"the report '{path}' is larger than {MOST_BYTES} bytes")
    return content


def released_json(content: bytes, release: Release) -> bytes:
    """The report for programs, with the release in it and every other byte as it was.

    ValueError where `content` has no place for it: no report of ours, or released already. It is not
    parsed: it lay where others may write.
    """
    note = json.dumps(release_json(release), ensure_ascii=False, allow_nan=False).encode("utf-8")
    marked, places = _NOT_RELEASED.subn(lambda _: b' "released": ' + note, content, count=2)
    if places != 1:
        raise ValueError("this report has no place for the note of a release")
    return marked


def released_html(content: bytes, release: Release) -> bytes:
    """The page for people, with a visible note of the release. ValueError where it has no place for it."""
    return mark_released(content.decode("utf-8"), release).encode("utf-8")


def can_be_marked(path: Path) -> bool:
    """Whether `path` is a report of ours that can take the note of a release."""
    if not is_own_report(path):
        return False
    trial = Release("", "", datetime.now(UTC))
    try:
        content = read_report(path)
        released_json(content, trial) if path.suffix == ".json" else released_html(content, trial)
    except ValueError:
        return False
    return True
