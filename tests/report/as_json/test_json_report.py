# The report for programs: its keys are a contract, its values strict JSON.

import json
import math
from dataclasses import replace

import pytest

from hotfolder.model.findings import Change, Quantity, Severity, Unjudged
from hotfolder.report import Release, failure_report, report_json
from tests.report.samples import (
    BLEED_FINDING,
    MADE_AT,
    RULES,
    faulty_report,
    flyer,
    judgement,
    ready_report,
    rule_set,
)

CONTRACT = {"schema", "file", "rule_set", "verdict", "findings", "unjudged", "passed", "changes"}
FINDING = {
    "rule",
    "code",
    "severity",
    "page",
    "boxes",
    "measured",
    "required",
    "message",
    "remedy",
    "standard",
}


def test_the_keys_of_the_contract_are_there() -> None:
    report = report_json(faulty_report())
    assert report["schema"] == "hotfolder-report/1"
    assert set(report) >= CONTRACT
    assert all(set(finding) >= FINDING for finding in report["findings"])
    assert set(report["unjudged"][0]) >= {"rule", "severity", "reason"}
    assert report["file"] == {"name": "flyer.pdf", "bytes": 1_234_567, "sha256": "ab" * 32, "format": "pdf"}
    assert report["rule_set"] == {
        "name": "flyer-offset-coated",
        "title": "Flyer, offset on coated paper",
        "source": "common practice of sheetfed offset printers",
        "checked": "2026-02-11",
    }
    assert report["passed"] == ["colour-space", "output-intent", "page-count", "trim-size"]
    assert (report["job"], report["previous_job"]) == ("2026-03-03-000017", "2026-03-02-000003")


def test_findings_come_in_the_order_of_their_numbers() -> None:
    findings = report_json(faulty_report())["findings"]
    assert [(item["number"], item["page"], item["rule"], item["severity"]) for item in findings] == [
        (1, None, "font-embedding", "must-fix"),
        (2, 1, "bleed", "must-fix"),
        (3, 1, "image-resolution", "must-fix"),
        (4, 1, "safe-margin", "advice"),
    ]


@pytest.mark.parametrize(
    ("measured", "shape"),
    [
        (None, None),
        ("RGB", "RGB"),
        (Quantity.of(3, unit="mm"), {"value": 3, "unit": "mm"}),
        (Quantity.of(2.95, unit="mm"), {"value": 2.95, "unit": "mm"}),
        (Quantity.of(148, 210, unit="mm"), {"value": [148, 210], "unit": "mm"}),
        (Quantity.of(math.inf, unit="ppi"), {"value": None, "unit": "ppi"}),
    ],
)
def test_measured_and_required_have_one_shape(measured: Quantity | str | None, shape: object) -> None:
    finding = replace(BLEED_FINDING, measured=measured, required=measured)
    report = replace(faulty_report(), judgement=replace(judgement(), findings=(finding,)))
    (item,) = report_json(report)["findings"]
    assert item["measured"] == shape
    assert item["required"] == shape


def test_boxes_are_four_numbers_in_points() -> None:
    (box,) = report_json(faulty_report())["findings"][1]["boxes"]
    # 3, 213, 154 and 216 mm at 72 / 25.4 pt per mm
    assert box == pytest.approx([8.5039, 603.7795, 436.5354, 612.2835])


def test_a_verdict_changes_and_a_release_are_told() -> None:
    assert report_json(ready_report())["verdict"] == "ready"
    assert report_json(faulty_report())["verdict"] == "needs-fixing"
    assert report_json(faulty_report())["released"] is None
    report = replace(
        faulty_report(),
        released=Release("R. Vale", "agreed", MADE_AT),
        changes=(Change("bleed", "mirrored the edge"),),
    )
    told = report_json(report)
    assert told["released"] == {"by": "R. Vale", "reason": "agreed", "at": "2026-03-03T14:05:00+00:00"}
    assert told["changes"] == [{"rule": "bleed", "what": "mirrored the edge"}]
    assert len(told["findings"]) == 4


def test_it_is_strict_json_in_valid_unicode() -> None:
    name = "caf\udce9\n\u202egpj.pdf"  # a byte that is no UTF-8, a newline, a right-to-left override
    report = replace(
        faulty_report(name),
        judgement=replace(judgement(), findings=(replace(BLEED_FINDING, message="odd \ud800 text"),)),
    )
    line = json.dumps(report_json(report), ensure_ascii=False, allow_nan=False)
    again = json.loads(line.encode("utf-8"))
    assert again["file"]["name"] == "caf\\xe9\\n\\u202egpj.pdf"
    assert again["findings"][0]["message"] == "odd \\ud800 text"


def test_a_name_that_unicode_can_hold_is_left_as_it_is() -> None:
    name = "Prospekt \u00fc\U0001f389 #2.pdf"
    assert report_json(faulty_report(name))["file"]["name"] == name


def test_a_file_that_could_not_be_measured_needs_fixing_whatever_the_rules_weigh() -> None:
    report = failure_report(flyer().file, rule_set(), "it took longer than 60 s, twice", MADE_AT, "job-1")
    told = report_json(report)
    assert told["verdict"] == "needs-fixing"
    assert [(item["rule"], item["code"], item["severity"]) for item in told["findings"]] == [
        ("measuring", "stopped", "must-fix")
    ]
    assert "it took longer than 60 s, twice" in told["findings"][0]["message"]
    assert len(told["unjudged"]) == len(RULES)
    assert told["passed"] == []
    assert told["job"] == "job-1"
    assert "save or export it again" in told["findings"][0]["remedy"]
    smaller = failure_report(flyer().file, rule_set(), "it has 12 GB", MADE_AT, remedy="Make it smaller.")
    assert report_json(smaller)["findings"][0]["remedy"] == "Make it smaller."
    without_rules = failure_report(flyer().file, replace(rule_set(), rules=()), "it crashed", MADE_AT)
    assert report_json(without_rules)["verdict"] == "needs-fixing"
    assert report.judgement.findings[0].severity is Severity.MUST_FIX


# One cause, one finding; each reason once


def test_what_has_the_cause_of_a_finding_stands_with_it() -> None:
    follower = replace(BLEED_FINDING, rule="output-intent", code="absent", measured="no output intent")
    finding = replace(BLEED_FINDING, follows=(follower,))
    (item,) = report_json(replace(faulty_report(), judgement=replace(judgement(), findings=(finding,))))[
        "findings"
    ]
    assert [(each["rule"], each["code"], each["measured"]) for each in item["follows"]] == [
        ("output-intent", "absent", "no output intent")
    ]
    assert set(item["follows"][0]) >= FINDING


def test_each_rule_left_unjudged_has_its_line_and_each_cause_has_one() -> None:
    why = "the pages could not be read: it ends too early"
    unjudged = tuple(
        Unjudged(rule, severity, why, cause="it ends too early")
        for rule, severity in (("layers", Severity.ADVICE), ("bleed", Severity.MUST_FIX))
    )
    report = report_json(
        replace(faulty_report(), judgement=replace(judgement(), findings=(), unjudged=unjudged))
    )
    assert [item["rule"] for item in report["unjudged"]] == ["layers", "bleed"]
    assert report["unjudged_causes"] == [
        {"rules": ["bleed", "layers"], "severity": "must-fix", "reason": why, "page": None}
    ]
