"""Writes what happens to a job into the audit log, step by step; tells its end in a notice and a log line."""

from collections.abc import Mapping
from datetime import datetime

from hotfolder.config.studio import Printer
from hotfolder.model.jobs import JobId, JobNotice
from hotfolder.store.audit_log.audit import AuditLog, name_fields
from hotfolder.store.audit_log.chained import Json
from hotfolder.store.jobs import FileGroup, JobState
from hotfolder.wording.shown import shown_name


def claimed(audit: AuditLog, state: JobState) -> None:
    """The file was claimed out of its inbox."""
    content: dict[str, Json] = {
        "printer": state.printer,
        "product": state.product,
        **name_fields(state.name),
        "bytes": state.seen.size,
        "previous_job": state.previous_job,
    }
    if state.continues is not None:
        content["continues"] = state.continues
    audit.note(state.job, "claimed", content)


def copied(audit: AuditLog, state: JobState) -> None:
    """The private copy is made; more than once where the file changed meanwhile."""
    content: dict[str, Json] = {
        "sha256": state.sha256,
        "bytes": state.seen.size,
        "same_bytes_as": state.same_bytes_as,
    }
    audit.note(state.job, "copied", content, f"copied-{state.copies}{_again(state)}")


def judged(audit: AuditLog, state: JobState) -> None:
    """The verdict, and how heavy the findings are."""
    audit.note(state.job, "judged", _summary(state), f"judged-{state.copies}")


def released(audit: AuditLog, state: JobState) -> None:
    """Somebody sends the job on despite its findings."""
    if state.release is not None:
        content: dict[str, Json] = {"by": state.release.by, "reason": state.release.reason}
        audit.note(state.job, "released", content)


def delivering(audit: AuditLog, state: JobState, group: FileGroup) -> None:
    """The names are chosen; the group is about to be laid."""
    audit.note(state.job, "delivering", _where(group), f"delivering-{group.folder}/{group.artwork!a}")


def delivered(audit: AuditLog, state: JobState, *, taken: bool) -> None:
    """The artwork has its final name. taken: somebody had fetched it before this was written."""
    group = state.group
    content: dict[str, Json] = {**_where(group), "sha256": state.sha256 or None, "taken": taken}
    audit.note(state.job, "delivered", content, f"delivered{_again(state)}")


def replaced(audit: AuditLog, state: JobState, older: JobId, folder: str) -> None:
    """What came back of an earlier version was moved to `folder`, a path in the printer's folder."""
    audit.note(state.job, "replaced", {"older": older, "folder": folder}, f"replaced-{older}")


def lost(audit: AuditLog, state: JobState) -> None:
    """The claimed file was removed from the work folder by somebody before it was copied."""
    audit.note(state.job, "lost", {})


def close(audit: AuditLog, state: JobState) -> None:
    """The line that closes the job's log, and its line in the studio-wide chain."""
    content: dict[str, Json] = {
        "printer": state.printer,
        "product": state.product,
        **name_fields(state.name),
        "sha256": state.sha256 or None,
        **_summary(state),
        **_where(state.group),
        "previous_job": state.previous_job,
        "released_by": None if state.release is None else state.release.by,
        "replaces": list(state.replaces),
        "replaced_by": state.replaced_by,
    }
    audit.close(state.job, content, f"closed{_again(state)}", state.chain_since or 0)


def notice_of(state: JobState, printer: Printer, at: datetime) -> JobNotice | None:
    """What to tell people of a delivered job; None for one that was lost."""
    result, group = state.result, state.group
    if result is None or group is None:
        return None
    return JobNotice(
        job=state.job,
        printer=state.printer,
        product=state.product,
        name=state.name,
        summary=result.summary,
        artwork=group.artwork_in(printer.folder),
        report=group.page_in(printer.folder),
        at=at,
        previous_job=state.previous_job,
        released_by=None if state.release is None else state.release.by,
        continues=state.continues,
    )


def log_line(state: JobState, at: datetime) -> str:
    """The one line of a job in the log."""
    summary = None if state.result is None else state.result.summary
    parts = {
        "job": state.job,
        "printer": state.printer,
        "file": _quoted(state.name),
        "verdict": "lost" if summary is None else str(summary.verdict),
        "findings": "0" if summary is None else f"{summary.must_fix}+{summary.advice}",
        "took_s": f"{(at - datetime.fromisoformat(state.began_at)).total_seconds():.1f}",
    }
    if state.release is not None:
        parts["released_by"] = _quoted(state.release.by)
    return " ".join(f"{key}={value}" for key, value in parts.items())


def _quoted(text: str) -> str:
    """`text` as one word of a log line: a quotation mark in it must not end it."""
    shown = shown_name(text).replace('"', '\\"')
    return f'"{shown}"'


def _summary(state: JobState) -> Mapping[str, Json]:
    result = state.result
    if result is None:
        return {"verdict": None, "must_fix": 0, "advice": 0, "unjudged": 0, "first": None, "rule_set": None}
    return {**result.summary.as_fields(), "problem": result.problem}


def _where(group: FileGroup | None) -> Mapping[str, Json]:
    if group is None:
        return {"folder": None, "delivered": None, "reports": None, "report_json": None, "report_html": None}
    page = group.report_html
    return {
        "folder": group.folder,
        **name_fields(group.artwork, "delivered"),
        "reports": group.reports,
        **name_fields(group.report_json, "report_json"),
        **({"report_html": None} if page is None else name_fields(page, "report_html")),
    }


def _again(state: JobState) -> str:
    return "" if state.release is None else "-released"
