"""`hotfolder status`: what is on its way in a studio, printer by printer, and why it waits. Only reads.

Beside a running daemon the daemon's own view is shown; without one, what lies in the folders.
"""

import json
import textwrap
from collections.abc import Iterator
from dataclasses import dataclass, replace
from datetime import UTC, datetime
from pathlib import Path
from typing import Final

from hotfolder.config.studio import Printer, Studio, load_studio
from hotfolder.desk.studio_view import StudioView, read_view
from hotfolder.errors import StorageError
from hotfolder.intake.endings import why_not_whole
from hotfolder.intake.scanning import Away, inboxes_of, scan
from hotfolder.store.jobs import Job, Step, load_job
from hotfolder.wording.shown import shown_name

SCHEMA: Final = "hotfolder-status/1"
_WIDTH: Final = 60
# As people read them; the JSON keeps the names of the states.
_SHOWN: Final = {"left alone": "not taken", "away": "offline"}
_STEPS: Final = {
    Step.CLAIMING: "taken",
    Step.CLAIMED: "taken",
    Step.COPIED: "being measured",
    Step.JUDGED: "judged",
    Step.STAGED: "being delivered",
    Step.NAMED: "being delivered",
    Step.DELIVERED: "delivered",
    Step.RECORDED: "delivered",
    Step.DROPPED: "delivered",
    Step.TOLD: "delivered",
}


@dataclass(frozen=True, slots=True)
class StatusLine:
    """One thing on its way. state: `waiting`, `in work`, `held`, `kept`, `left alone` or `away`.

    name: as the system gave it; empty for an inbox itself. job: where it has become one.
    """

    printer: str
    product: str | None
    state: str
    name: str
    why: str
    job: str | None = None


def show_status(root: Path, *, as_json: bool) -> Iterator[str]:
    """The lines of a table, or one of JSON. ConfigError for a folder that is no studio."""
    studio = load_studio(root)
    now = datetime.now(UTC)
    view = read_view(studio.hidden, now)
    lines = [line for printer in studio.printers for line in _of_printer(studio, printer, view, now)]
    if as_json:
        yield json.dumps(_as_json(view, lines), indent=1)
    else:
        yield from _table(studio, view, lines)


def _of_printer(
    studio: Studio, printer: Printer, view: StudioView | None, now: datetime
) -> Iterator[StatusLine]:
    if view is None:
        yield from _in_inboxes(printer)
    else:
        for state, entries in (
            ("away", view.away),
            ("waiting", view.waiting),
            ("left alone", view.left),
        ):
            for entry in entries:
                if entry.printer == printer.name:
                    yield StatusLine(printer.name, entry.product, state, entry.name, entry.why)
    yield from _in_work(studio, printer, view, now)


def _in_inboxes(printer: Printer) -> Iterator[StatusLine]:
    """What lies in the inboxes, where no daemon looks into them."""
    for inbox in inboxes_of(printer):
        content = scan(inbox)
        if isinstance(content, Away):
            yield StatusLine(printer.name, inbox.product, "away", "", content.reason)
            continue
        for seen in content.files:
            missing = why_not_whole(inbox.folder / seen.name)
            why = (
                "no daemon is running"
                if missing is None
                else f"no daemon is running; not whole yet: {missing}"
            )
            yield StatusLine(printer.name, inbox.product, "waiting", seen.name, why)
        for left in content.left:
            yield StatusLine(printer.name, inbox.product, "left alone", left.name, left.why)


def _in_work(
    studio: Studio, printer: Printer, view: StudioView | None, now: datetime
) -> Iterator[StatusLine]:
    reasons = {} if view is None else {job.job: job.why for job in view.jobs}
    try:
        folders = sorted(entry for entry in printer.work.iterdir() if not entry.name.startswith("."))
    except FileNotFoundError:
        return
    except OSError as error:
        yield StatusLine(
            printer.name, None, "away", "", f"the jobs in work cannot be listed: {error.strerror}"
        )
        return
    for folder in folders:
        try:
            job = load_job(folder)
        except StorageError as error:
            if folder.exists():  # else it came to its end just now
                yield StatusLine(printer.name, None, "held", folder.name, str(error))
            continue
        reason = reasons.get(job.state.job)
        line = _job_line(studio, job, reason, view is not None, now)
        yield replace(line, printer=printer.name)  # a job's own word may be older than the printer's name


def _job_line(studio: Studio, job: Job, reason: str | None, runs: bool, now: datetime) -> StatusLine:  # noqa: FBT001 - one of ours
    state = job.state
    if state.kept_until is not None:
        left_s = (datetime.fromisoformat(state.kept_until) - now).total_seconds()
        minutes = max(0, round(min(left_s, studio.timing.keep_s) / 60))
        how_long = f"for {minutes} min more" if runs else "once more when the daemon runs"
        why = f"delivered; compared {how_long}, in case it is still being written"
        return StatusLine(state.printer, state.product, "kept", state.name, why, state.previous_job)
    if reason is not None:
        return StatusLine(state.printer, state.product, "held", state.name, reason, state.job)
    step = _STEPS[state.step]
    if runs:
        return StatusLine(state.printer, state.product, "in work", state.name, step, state.job)
    why = f"{step}; it goes on when the daemon runs"
    return StatusLine(state.printer, state.product, "held", state.name, why, state.job)


def _as_json(view: StudioView | None, lines: list[StatusLine]) -> dict[str, object]:
    return {
        "schema": SCHEMA,
        "running": view is not None,
        "process": None if view is None else view.process,
        "host": None if view is None else view.host,
        "seen_at": None if view is None else view.at,
        "entries": [
            {
                "printer": line.printer,
                "product": line.product,
                "state": line.state,
                "name": None if not line.name else shown_name(line.name),
                "why": line.why,
                "job": line.job,
            }
            for line in lines
        ],
    }


def _brief(name: str) -> str:
    """`name`, cut in its middle where the line would get too long: its ending says what it is."""
    room = _WIDTH - 14
    return name if len(name) <= room else f"{name[: room - 16]}\u2026{name[-15:]}"


def _table(studio: Studio, view: StudioView | None, lines: list[StatusLine]) -> Iterator[str]:
    if view is None:
        yield "No daemon is running on this studio."
    else:
        yield f"A daemon is running: process {view.process} on {shown_name(view.host)}."
    for printer in studio.printers:
        yield ""
        own = [line for line in lines if line.printer == printer.name]
        yield shown_name(printer.title) + ("" if own else ": nothing on its way")
        for line in own:
            place = f"{shown_name(line.product)}/" if line.product else ""
            name = f"{place}{shown_name(line.name)}" if line.name else f"{place}inbox"
            yield f"  {_SHOWN.get(line.state, line.state):<10}  {_brief(name)}"
            yield from textwrap.wrap(
                shown_name(line.why), _WIDTH, initial_indent=" " * 14, subsequent_indent=" " * 14
            )
