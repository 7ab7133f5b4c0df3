"""Our own reports beside delivered files: recognised when they come back, marked when a job is released."""

import json
import os
import re
import stat
from datetime import UTC, datetime
from pathlib import Path
from typing import Final

from hotfolder.errors import StorageError
from hotfolder.report import GENERATOR, Release, mark_released, release_json
from hotfolder.report.json_report import SCHEMA
from hotfolder.store.copies import may_read, read_small
from hotfolder.store.moves import look

MOST_BYTES: Final = 64 << 20
"""No report of ours is larger; what is, is somebody else's file."""

_HEAD_BYTES: Final = 1 << 16
_GENERATOR: Final = re.compile(
    rb"<meta\s+name=[\"']generator[\"']\s+content=[\"']" + re.escape(GENERATOR.encode()) + rb"[\"']",
    re.IGNORECASE,
)


def is_own_report(path: Path) -> bool:
    """Whether the file `path` is a report of ours, by its content; its name only says if it is worth a look.

    A sidecar comes back with its artwork, often as `flyer.pdf.report (1).html`. Somebody's own file of
    such a name is none.
    """
    suffix = os.path.splitext(path.name)[1].casefold()  # noqa: PTH122 - a Path's suffix is lost with a trailing dot
    if suffix not in {".json", ".html", ".htm"}:
        return False
    status = look(path)
    if (
        status is None
        or not stat.S_ISREG(status.st_mode)
        or status.st_size > MOST_BYTES
        or not may_read(path)
    ):
        return False
    content = read_small(path, MOST_BYTES)
    if content is None:
        return False
    return _is_json_report(content) if suffix == ".json" else bool(_GENERATOR.search(content[:_HEAD_BYTES]))


def _is_json_report(content: bytes) -> bool:
    try:
        parsed = json.loads(content)
    except (ValueError, RecursionError):
        return False
    return isinstance(parsed, dict) and parsed.get("schema") == SCHEMA


def read_report(path: Path) -> bytes:
    """The bytes of a report that a child wrote; StorageError where it is no regular file of fair size.

    The child has read a stranger's file: what it left may be anything, a link to another file too.
    """
    content = read_small(path, MOST_BYTES)
    if content is None:
        raise StorageError(f"the report '{path}' is larger than {MOST_BYTES} bytes")
    return content


def released_json(content: bytes, release: Release) -> bytes:
    """The report for programs, with the release in it and its findings as they were.

    ValueError where `content` is no report.
    """
    report = json.loads(content)
    if not isinstance(report, dict):
        raise ValueError("this is no report")  # noqa: TRY004 - its text was wrong, not its type
    report["released"] = release_json(release)
    return (json.dumps(report, ensure_ascii=False, indent=1, allow_nan=False) + "\n").encode("utf-8")


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
