"""What came of a piece of the demonstration, and whether that is what was to come."""

import json
from collections.abc import Mapping
from dataclasses import dataclass
from pathlib import Path
from typing import Any

from hotfolder.config.studio import Studio
from hotfolder.delivery.sidecars import read_report
from hotfolder.demo.artwork.pieces import DemoPiece
from hotfolder.desk.closed_jobs import ClosedJob
from hotfolder.model.findings import Severity, Verdict


@dataclass(frozen=True, slots=True)
class PieceResult:
    """A piece, its verdict (None where it has none), its gravest finding, the report page to look at.

    differs: in words, how it came otherwise than expected; empty where it did not.
    """

    piece: DemoPiece
    verdict: Verdict | None
    first_finding: str
    page: Path | None
    differs: str


def result_of(studio: Studio, piece: DemoPiece, closed: ClosedJob | None) -> PieceResult:
    """What the audit log and the report beside the delivered file say of `piece`."""
    if closed is None or closed.group is None:
        return PieceResult(piece, None, "", None, "it was not finished")
    folder = studio.printer(piece.printer).folder
    report = json.loads(read_report(closed.group.json_in(folder)))
    place, page = closed.group.artwork_in(folder), closed.group.page_in(folder)
    verdict = Verdict(report["verdict"])
    first_finding = "" if closed.summary is None else closed.summary.first_finding or ""
    return PieceResult(
        piece, verdict, first_finding, page, "; ".join(_differences(piece, closed, report, place))
    )


def _differences(piece: DemoPiece, closed: ClosedJob, report: Mapping[str, Any], place: Path) -> list[str]:
    wanted = Verdict.READY if piece.is_to_be_ready else Verdict.NEEDS_FIXING
    differing = []
    if report["verdict"] != wanted:
        differing.append(f"{wanted.words} was expected")
    if closed.verdict != report["verdict"]:
        differing.append(f"the audit log says {closed.verdict}, the report {report['verdict']}")
    home = "outbox" if report["verdict"] == Verdict.READY else "needs-fixing"
    if place.parent.name != home or not place.is_file():
        differing.append(f"the file is not in {home}")
    for severity, expected in ((Severity.MUST_FIX, piece.must_fix), (Severity.ADVICE, piece.advice)):
        codes = {
            f"{finding['rule']}.{finding['code']}"
            for finding in report["findings"]
            if finding["severity"] == severity
        }
        differing += [f"{code} ({severity.words}) was not found" for code in sorted(expected - codes)]
        if not piece.more_may_follow:
            differing += [f"{code} ({severity.words}) was not expected" for code in sorted(codes - expected)]
    return differing
