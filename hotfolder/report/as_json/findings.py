"""The report for programs: schema `hotfolder-report/1`. Keys may be added to it, never change meaning."""

from hotfolder.model.facts import FileFacts
from hotfolder.model.findings import Finding, OpenCause, Quantity, Unjudged
from hotfolder.model.ruleset import RuleSet
from hotfolder.report.as_json.strict import JsonObject, box, number, text
from hotfolder.report.model import Release, Report
from hotfolder.report.notes import Note, notes

SCHEMA = "hotfolder-report/1"


def report_json(report: Report) -> JsonObject:
    """`report` as strict JSON holds it.

    `measured` and `required` are null, words, or `{"value": 3, "unit": "mm"}` with a list of
    numbers where there is more than one (`148 x 210`). `boxes` are points in the page's
    unrotated user space. `further` are the later pages with the same cause, each with its boxes.
    `number` of a finding is the one it has in the HTML report. `follows` of a finding are those of other
    rules that have the same cause, and are not told beside it. `unjudged` has a line for each rule,
    `unjudged_causes` one for each cause, with its rules.
    """
    return {
        "schema": SCHEMA,
        "file": file_json(report.artwork.file),
        "rule_set": _rule_set(report.rule_set),
        "verdict": report.judgement.verdict.value,
        "findings": [_finding(note) for note in notes(report)],
        "unjudged": [_unjudged(item) for item in report.judgement.unjudged],
        "unjudged_causes": [_open_cause(cause) for cause in report.judgement.open_causes],
        "passed": list(report.judgement.passed),
        "changes": [{"rule": change.rule, "what": text(change.what)} for change in report.changes],
        "not_measured": [{"subject": subject, "what": what} for subject, what in report.not_measured],
        "job": report.job,
        "previous_job": report.previous_job,
        "same_bytes_as": report.same_bytes_as,
        "replaces": list(report.replaces),
        "released": None if report.released is None else release_json(report.released),
        "made_at": report.made_at.isoformat(),
        "measured_by": f"hotfolder {report.version}",
    }


def release_json(release: Release) -> JsonObject:
    """What stands under `released` once a person has sent the job on."""
    return {"by": text(release.by), "reason": text(release.reason), "at": release.at.isoformat()}


def file_json(file: FileFacts) -> JsonObject:
    """What every report says of the file itself."""
    return {
        "name": text(file.name),
        "bytes": file.bytes,
        "sha256": file.sha256,
        "format": None if file.format is None else file.format.value,
    }


def _rule_set(rule_set: RuleSet) -> JsonObject:
    return {
        "name": rule_set.name,
        "title": rule_set.title,
        "source": rule_set.source,
        "checked": None if rule_set.checked is None else rule_set.checked.isoformat(),
    }


def _finding(note: Note) -> JsonObject:
    return {
        "number": note.number,
        **_finding_alone(note.finding),
        "follows": [_finding_alone(each) for each in note.finding.follows],
    }


def _finding_alone(finding: Finding) -> JsonObject:
    return {
        "rule": finding.rule,
        "code": finding.code,
        "severity": finding.severity.value,
        "page": finding.page,
        "boxes": [box(place) for place in finding.boxes],
        "further": [
            {"page": place.page, "boxes": [box(each) for each in place.boxes]} for place in finding.further
        ],
        "measured": _quantity(finding.measured),
        "required": _quantity(finding.required),
        "message": text(finding.message),
        "remedy": text(finding.remedy),
        "standard": finding.standard,
    }


def _open_cause(cause: OpenCause) -> JsonObject:
    return {
        "rules": list(cause.rules),
        "severity": cause.severity.value,
        "reason": text(cause.reason),
        "page": cause.page,
    }


def _unjudged(item: Unjudged) -> JsonObject:
    return {
        "rule": item.rule,
        "severity": item.severity.value,
        "reason": text(item.reason),
        "page": item.page,
    }


def _quantity(value: Quantity | str | None) -> JsonObject | str | None:
    if value is None:
        return None
    if isinstance(value, str):
        return text(value)
    figures = [number(figure) for figure in value.values]
    return {"value": figures[0] if len(figures) == 1 else figures, "unit": value.unit}
