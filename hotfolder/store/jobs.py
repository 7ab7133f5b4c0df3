"""A job's own state: `job.json` in its work folder, the truth that recovery goes by.

It is replaced in one step before and after each step of the job's way, so that whatever was
interrupted can be finished or done again. Paths in it are relative: to the work folder, or to the
printer's folder, so that a studio may be moved between two runs.
"""

import json
import re
import secrets
import unicodedata
from collections.abc import Mapping
from dataclasses import asdict, dataclass, replace
from datetime import UTC, datetime
from enum import StrEnum
from pathlib import Path
from typing import Any, Final

from hotfolder.errors import StorageError
from hotfolder.model.jobs import JobId, JobResult, Summary
from hotfolder.store.copies import read_small
from hotfolder.store.moves import Fingerprint
from hotfolder.store.narrowing import fits, is_file_name, is_path_within, is_time
from hotfolder.store.writing import replace_file

STATE_FILE: Final = "job.json"
_MOST_BYTES: Final = 1 << 20
_JOB_ID: Final = re.compile(r"[0-9]{8}-[0-9]{6}-[a-z0-9-]+-[0-9a-f]{4}")


ReportHashes = tuple[str, ...]
"""The SHA-256 of a job's reports: of the JSON, then of the page where there is one."""


class Step(StrEnum):
    """How far a job has come; in this order."""

    CLAIMING = "claiming"  # the work folder is made; the file may still be where it was
    CLAIMED = "claimed"  # the file is in the work folder
    COPIED = "copied"  # the private copy is whole and hashed
    JUDGED = "judged"  # the reports lie in a try's folder
    STAGED = "staged"  # what will be renamed into the target folder is whole, and known by name
    NAMED = "named"  # the group's names are chosen; sidecars may lie there, the artwork may have gone
    DELIVERED = "delivered"  # the artwork has its final name, or had it and was taken
    RECORDED = "recorded"  # the audit log is closed
    DROPPED = "dropped"  # the claimed file is removed, or has become a job of its own
    TOLD = "told"  # people were notified

    def reached(self, other: "Step") -> bool:
        """Whether `other` lies behind: it is done."""
        order = list(Step)
        return order.index(self) >= order.index(other)


class Staged(StrEnum):
    """Which file will be renamed to the artwork's final name."""

    COPY = "copy"  # the private copy
    TEMPORARY = "temporary"  # a copy of it in the target folder, on another file system
    CLAIMED = "claimed"  # the claimed file itself, where it may not be read


@dataclass(frozen=True, slots=True)
class FileGroup:
    """The names of artwork and sidecars; they lie in `folder` and `reports` of the printer's folder."""

    folder: str
    reports: str
    artwork: str
    report_json: str
    report_html: str | None

    def artwork_in(self, printer_folder: Path) -> Path:
        """Where the artwork lies."""
        return printer_folder / self.folder / self.artwork

    def json_in(self, printer_folder: Path) -> Path:
        """Where the report for programs lies."""
        return printer_folder / self.reports / self.report_json

    def page_in(self, printer_folder: Path) -> Path | None:
        """Where the page for people lies; None where there is none."""
        return None if self.report_html is None else printer_folder / self.reports / self.report_html

    def reports_in(self, printer_folder: Path) -> tuple[Path, ...]:
        """Where the reports lie, the page last."""
        page = self.page_in(printer_folder)
        return (self.json_in(printer_folder), *([] if page is None else [page]))


@dataclass(frozen=True, slots=True)
class ReleaseDecision:
    """Somebody's decision to send a job on against its findings.

    at: ISO 8601, UTC. sha256: of the artwork that was judged; no other may be sent on.
    """

    by: str
    reason: str
    at: str
    sha256: str


@dataclass(frozen=True, slots=True)
class JobState:
    """All that is known of a job whose files lie in its work folder.

    seen: size, time and inode of the claimed file when they were last read. readable: whether we may read
    it. too_large: whether the artwork is larger than what is examined. sha256: of the private copy, empty
    while there is none. copies: how many were made. tries: how many children were started, in all. begun,
    failures: how many on the present copy, and how many of them died; how: how the last of those ended.
    report_hashes: of the reports of `result`, once they are safe on the disk. chain_since: how long the
    studio's chain was before this job's line. next_job: the job that newer bytes of the claimed file became,
    or will become if some come. kept_until: ISO 8601, UTC; until then the claimed file, which the job before
    delivered, is compared with what was delivered (`sha256`): it becomes a job only if it changes.
    continues: the job whose file went on changing after its delivery, and so became this one. released_from:
    the group in needs-fixing that a release takes.
    """

    job: JobId
    printer: str
    product: str | None
    name: str
    step: Step
    seen: Fingerprint
    began_at: str
    readable: bool = True
    too_large: bool = False
    sha256: str = ""
    copies: int = 0
    tries: int = 0
    begun: int = 0
    failures: int = 0
    how: str = ""
    result: JobResult | None = None
    report_hashes: ReportHashes = ()
    staged: Staged | None = None
    group: FileGroup | None = None
    chain_since: int | None = None
    next_job: JobId | None = None
    kept_until: str | None = None
    continues: JobId | None = None
    previous_job: JobId | None = None
    same_bytes_as: JobId | None = None
    release: ReleaseDecision | None = None
    released_from: FileGroup | None = None
    replaces: tuple[JobId, ...] = ()
    replaced_by: JobId | None = None


# A job that was lost on its way is recorded without all this.
_NEED_GROUP: Final = (Step.NAMED, Step.DELIVERED)
_NEED_RESULT: Final = (Step.JUDGED, Step.STAGED, *_NEED_GROUP)


@dataclass(frozen=True, slots=True)
class Job:
    """A job's state and the work folder that it lies in."""

    folder: Path
    state: JobState

    @property
    def claimed(self) -> Path:
        """The claimed file: somebody may still be writing into it."""
        return self.folder / "claimed" / self.state.name

    @property
    def copy(self) -> Path:
        """The private copy, which nobody else knows."""
        return self.folder / "artwork" / self.state.name

    def try_folder(self, number: int) -> Path:
        """Where the child number `number` writes."""
        return self.folder / f"try-{number}"

    def has(self, step: Step) -> bool:
        """Whether `step` is done."""
        return self.state.step.reached(step)

    def saved(self, state: JobState) -> "Job":
        """The job in its new `state`, which is safe on the disk when this returns."""
        replace_file(self.folder / STATE_FILE, _encoded(state, self.folder))
        return replace(self, state=state)


def load_job(folder: Path) -> Job:
    """The job in the work folder `folder`; StorageError where its state is missing or damaged."""
    path = folder / STATE_FILE
    content = read_small(path, _MOST_BYTES)
    try:
        return Job(folder, _decoded(json.loads(content or b""), folder))
    except (ValueError, KeyError, TypeError, AttributeError, RecursionError) as error:
        raise StorageError(f"'{path}' is damaged: {error!r}; the job's files are kept beside it") from error


def is_job_id(text: str) -> bool:
    """Whether `text` has the form of a job's id: from a damaged record anything may come."""
    return _JOB_ID.fullmatch(text) is not None


def new_job_id(printer: str, now: datetime) -> JobId:
    """An id that sorts by time, can be read aloud and is safe as a file name: 20261125-093011-quay-4f2a."""
    plain = unicodedata.normalize("NFKD", printer).encode("ascii", "ignore").decode("ascii").lower()
    slug = re.sub(r"[^a-z0-9]+", "-", plain).strip("-")[:24].strip("-") or "printer"
    return JobId(f"{now.astimezone(UTC):%Y%m%d-%H%M%S}-{slug}-{secrets.token_hex(2)}")


def _see_that_it_can_be(state: JobState, folder: Path) -> None:
    """ValueError where no job in `folder` can have this state: its file is damaged.

    It would lead the file of this job somewhere else, or come up as a fault of ours in the middle of its way.
    """
    if not fits(state, JobState):
        raise ValueError("a part is of another kind than it should be")
    result, group, release = state.result, state.group, state.release
    groups = [each for each in (group, state.released_from) if each is not None]
    names = [state.name, *(name for each in groups for name in (each.artwork, each.report_json))]
    names += [each.report_html for each in groups if each.report_html is not None]
    paths = [path for each in groups for path in (each.folder, each.reports)]
    if result is not None:
        reports = (result.report_json, result.report_html or result.report_json)
        paths += [str(path.relative_to(folder)) for path in reports]
    times = [state.began_at, *([] if state.kept_until is None else [state.kept_until])]
    times += [] if release is None else [release.at]
    if not (all(map(is_file_name, names)) and all(map(is_path_within, paths)) and all(map(is_time, times))):
        raise ValueError("a name, a path or a time cannot be what it should be")
    jobs = (state.next_job, state.continues, state.previous_job, state.same_bytes_as, state.replaced_by)
    named = [job for job in (*jobs, *state.replaces) if job is not None]
    if state.job != folder.name or not all(map(is_job_id, named)):
        raise ValueError("it names no job, or not the job of its folder")
    if state.step in _NEED_RESULT and (
        result is None
        or (state.step is not Step.JUDGED and state.staged is None)
        or (state.step in _NEED_GROUP and group is None)
    ):
        raise ValueError(f"what a job has that is {state.step} is missing")


def _encoded(state: JobState, folder: Path) -> bytes:
    content = asdict(state)
    if state.result is not None:
        content["result"] = _result_fields(state.result, folder)
    return json.dumps(content, ensure_ascii=True, indent=1).encode("ascii") + b"\n"


def _decoded(
    content: Mapping[str, Any], folder: Path
) -> JobState:  # the file is ours; its parts are narrowed here
    fields = dict(content)
    fields["step"] = Step(fields["step"])
    fields["seen"] = Fingerprint(**fields["seen"])
    if fields["result"] is not None:
        fields["result"] = _result(fields["result"], folder)
    fields["report_hashes"] = tuple(fields.get("report_hashes", ()))
    if fields["staged"] is not None:
        fields["staged"] = Staged(fields["staged"])
    for key in ("group", "released_from"):
        if fields[key] is not None:
            fields[key] = FileGroup(**fields[key])
    if fields["release"] is not None:
        fields["release"] = ReleaseDecision(**fields["release"])
    fields["replaces"] = tuple(JobId(job) for job in fields.get("replaces", ()))
    state = JobState(**fields)
    _see_that_it_can_be(state, folder)
    return state


def _result_fields(result: JobResult, folder: Path) -> dict[str, object]:
    page = result.report_html
    return {
        **result.summary.as_fields(),
        "report_json": str(result.report_json.relative_to(folder)),
        "report_html": None if page is None else str(page.relative_to(folder)),
        "problem": result.problem,
    }


def _result(content: Mapping[str, Any], folder: Path) -> JobResult:
    page = content["report_html"]
    return JobResult(
        summary=Summary.from_fields(content),
        report_json=folder / content["report_json"],
        report_html=None if page is None else folder / page,
        problem=content.get("problem"),
    )
