"""What a child leaves in its folder: written there, read by its supervisor.

`result.json` is written last and moved into its place whole, so that its presence says that
everything beside it is whole as well.
"""

import json
from collections.abc import Sequence
from dataclasses import dataclass
from pathlib import Path
from typing import Any, Final

from hotfolder.model.facts import Unmeasured
from hotfolder.model.findings import Severity, Verdict
from hotfolder.model.pictures import PagePicture, PageProof
from hotfolder.report import Report, first_line, report_html, report_json

REPORT_JSON: Final = "report.json"
REPORT_HTML: Final = "report.html"
FACTS_JSON: Final = "artwork.json"
RESULT: Final = "result.json"
_LARGEST_RESULT: Final = 100_000  # bytes; it holds counts and one sentence


@dataclass(frozen=True, slots=True)
class Outcome:
    """The result of one examination in short. first: the gravest finding in one line."""

    verdict: Verdict
    must_fix: int
    advice: int
    unjudged: int
    first: str | None
    rule_set: str


def leave(
    report: Report, pictures: Sequence[PageProof | PagePicture | Unmeasured] | None, folder: Path
) -> Outcome:
    """Write `report` into `folder`: its JSON, its page where there are `pictures`, and the result."""
    data = report_json(report)
    if pictures is not None:
        _write(folder / REPORT_HTML, report_html(report, pictures))
    _write(folder / REPORT_JSON, as_text(data))
    findings = report.judgement.findings
    must_fix = sum(finding.severity is Severity.MUST_FIX for finding in findings)
    outcome = Outcome(
        verdict=report.judgement.verdict,
        must_fix=must_fix,
        advice=len(findings) - must_fix,
        unjudged=len(report.judgement.unjudged),
        first=first_line(data),
        rule_set=report.rule_set.name,
    )
    leave_result({name: getattr(outcome, name) for name in Outcome.__slots__}, folder)
    return outcome


def leave_result(result: dict[str, Any], folder: Path) -> None:
    """Write the result, the last file of a child."""
    _write(folder / f"{RESULT}.new", as_text(result))
    (folder / f"{RESULT}.new").rename(folder / RESULT)


def has_result(folder: Path) -> bool:
    """Whether a child came to its end in `folder`."""
    return (folder / RESULT).is_file()


def collect(folder: Path) -> Outcome | None:
    """The outcome that a child left in `folder`; None where it left none, or no whole one."""
    try:
        with (folder / RESULT).open("rb") as file:
            read = json.loads(file.read(_LARGEST_RESULT))
        return Outcome(
            verdict=Verdict(read["verdict"]),
            must_fix=int(read["must_fix"]),
            advice=int(read["advice"]),
            unjudged=int(read["unjudged"]),
            first=None if read["first"] is None else str(read["first"]),
            rule_set=str(read["rule_set"]),
        )
    except (OSError, ValueError, KeyError, TypeError):
        return None


def as_text(value: object) -> str:
    """`value` as strict JSON text."""
    return json.dumps(value, ensure_ascii=False, indent=1, allow_nan=False) + "\n"


def _write(path: Path, text: str) -> None:
    path.write_text(text, encoding="utf-8")
