"""What a child leaves in its folder: written there, read by its supervisor.

`result.json` is written last and moved into its place whole, so that its presence says that
everything beside it is whole as well.
"""

import json
from collections.abc import Mapping, Sequence
from pathlib import Path
from typing import Final

from hotfolder.model.facts import Unmeasured
from hotfolder.model.findings import Severity
from hotfolder.model.jobs import Summary
from hotfolder.model.pictures import PagePicture, PageProof
from hotfolder.report import Report, first_line, report_html, report_json

REPORT_JSON: Final = "report.json"
REPORT_HTML: Final = "report.html"
FACTS_JSON: Final = "artwork.json"
RESULT: Final = "result.json"
_LARGEST_RESULT: Final = 100_000  # bytes; it holds counts and one sentence


def leave(
    report: Report, pictures: Sequence[PageProof | PagePicture | Unmeasured] | None, folder: Path
) -> Summary:
    """Write `report` into `folder`: its JSON, its page where there are `pictures`, and the result."""
    data = report_json(report)
    if pictures is not None:
        _write(folder / REPORT_HTML, report_html(report, pictures))
    _write(folder / REPORT_JSON, as_text(data))
    findings = report.judgement.findings
    must_fix = sum(finding.severity is Severity.MUST_FIX for finding in findings)
    summary = Summary(
        verdict=report.judgement.verdict,
        must_fix=must_fix,
        advice=len(findings) - must_fix,
        unjudged=len(report.judgement.unjudged),
        first_finding=first_line(data),
        rule_set=report.rule_set.name,
    )
    leave_result(summary.as_fields(), folder)
    return summary


def leave_result(result: Mapping[str, object], folder: Path) -> None:
    """Write the result, the last file of a child."""
    _write(folder / f"{RESULT}.new", as_text(result))
    (folder / f"{RESULT}.new").rename(folder / RESULT)


def has_result(folder: Path) -> bool:
    """Whether a child came to its end in `folder`."""
    return (folder / RESULT).is_file()


def collect(folder: Path) -> Summary | None:
    """The summary that a child left in `folder`; None where it left none, or no whole one."""
    try:
        with (folder / RESULT).open("rb") as file:
            return Summary.from_fields(json.loads(file.read(_LARGEST_RESULT)))
    except (OSError, ValueError, RecursionError):
        return None


def as_text(value: object) -> str:
    """`value` as strict JSON text."""
    return json.dumps(value, ensure_ascii=False, indent=1, allow_nan=False) + "\n"


def _write(path: Path, text: str) -> None:
    path.write_text(text, encoding="utf-8")
