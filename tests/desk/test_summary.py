"""The summary of a job: what is stored of it keeps its form, since jobs in work outlive an upgrade."""

import json
from pathlib import Path

import pytest

from hotfolder.children.result_files import RESULT, collect
from hotfolder.desk.closed_jobs import summary_in
from hotfolder.model.findings import Verdict
from hotfolder.model.jobs import Summary
from hotfolder.store.audit_log.chained import Json
from hotfolder.store.jobs import STATE_FILE, Step, load_job
from tests.studio_at_work import AtWork, lay_studio

NO_BLEED = "p.1 bleed: 0 mm at the top, 3 mm wanted"
SUMMARY = Summary(Verdict.NEEDS_FIXING, 1, 2, 3, NO_BLEED, "flyer-offset-coated")
FIELDS: dict[str, Json] = {
    "verdict": "needs-fixing",
    "must_fix": 1,
    "advice": 2,
    "unjudged": 3,
    "first": NO_BLEED,
    "rule_set": "flyer-offset-coated",
}


def test_a_summary_is_stored_under_its_keys_and_read_from_them() -> None:
    assert SUMMARY.as_fields() == FIELDS
    assert Summary.from_fields({**FIELDS, "problem": None}) == SUMMARY
    assert summary_in({**FIELDS, "event": "judged"}) == SUMMARY
    assert SUMMARY.findings == 3


@pytest.mark.parametrize("key", sorted(FIELDS))
def test_a_summary_with_a_damaged_part_is_none(key: str, tmp_path: Path) -> None:
    with pytest.raises(ValueError, match=r"summary|Verdict"):
        Summary.from_fields({**FIELDS, key: ["something else"]})
    (tmp_path / RESULT).write_text(json.dumps({**FIELDS, key: "something else"}), encoding="utf-8")
    is_text = key in {"first", "rule_set"}
    assert (collect(tmp_path) is not None) is is_text


def test_a_record_without_a_verdict_has_no_summary() -> None:
    assert summary_in({**FIELDS, "verdict": None}) is None
    assert summary_in({**FIELDS, "advice": "many"}) == Summary(
        Verdict.NEEDS_FIXING, 1, 0, 3, NO_BLEED, "flyer-offset-coated"
    )


def test_the_result_in_a_jobs_state_lies_flat_beside_its_reports(tmp_path: Path) -> None:
    at_work = AtWork(lay_studio(tmp_path))
    job = at_work.begin(Step.JUDGED)
    folder = at_work.studio.printer("quay").work / job
    stored = json.loads((folder / STATE_FILE).read_text(encoding="ascii"))["result"]

    assert stored == {
        "verdict": "ready",
        "must_fix": 0,
        "advice": 2,
        "unjudged": 0,
        "first": None,
        "rule_set": "flyer-offset-coated",
        "report_json": "try-1/report.json",
        "report_html": "try-1/report.html",
        "problem": None,
    }
    result = load_job(folder).state.result
    assert result is not None
    assert result.summary == Summary(Verdict.READY, 0, 2, 0, None, "flyer-offset-coated")
    assert result.report_json == folder / "try-1" / "report.json"
