# What compares a fault with what is told of it sees each way in which that can be wrong.
from dataclasses import replace

import pytest

from hotfolder.model.findings import Finding, Judgement, Place, Quantity, Severity, Unjudged
from hotfolder.model.geometry import Box
from tests.seeded.judging import wrong_with
from tests.seeded.kinds import Fault, Told

PLACE = Box(10, 10, 50, 20)
FAULT = Fault("a coarse picture", "image-resolution", "below-floor", lambda _: Told())
DUE = Told((100,), "ppi", boxes=(PLACE,))
FOUND = Finding(
    "image-resolution", "below-floor", Severity.MUST_FIX, "Too few pixels.", "Use more.",
    page=1, boxes=(PLACE,), measured=Quantity.of(100, unit="ppi"),
)  # fmt: skip
OTHER = replace(FOUND, rule="bleed", code="not-drawn")


def wrong(*findings: Finding, unjudged: tuple[Unjudged, ...] = (), fault: Fault = FAULT) -> list[str]:
    return list(wrong_with(Judgement(findings, unjudged, ()), fault, DUE))


def test_what_is_as_due_is_right() -> None:
    assert wrong(FOUND) == []


@pytest.mark.parametrize(
    "finding",
    [
        replace(FOUND, code="below-wanted"),
        replace(FOUND, rule="image-weight"),
        replace(FOUND, page=2),
        replace(FOUND, page=None),
        replace(FOUND, measured=Quantity.of(101, unit="ppi")),
        replace(FOUND, measured=Quantity.of(100, unit="mm")),
        replace(FOUND, measured=Quantity.of(100, 100, unit="ppi")),
        replace(FOUND, measured="100 ppi"),
        replace(FOUND, measured=None),
        replace(FOUND, boxes=()),
        replace(FOUND, boxes=(Box(10, 10, 51, 20),)),
        replace(FOUND, boxes=(PLACE, Box(0, 0, 5, 5))),
        replace(FOUND, further=(Place(2),)),
    ],
)
def test_another_rule_figure_or_place_is_wrong(finding: Finding) -> None:
    assert wrong(finding) != []


def test_silence_repetition_and_company_are_wrong() -> None:
    assert wrong() != []
    assert wrong(FOUND, FOUND) != []
    assert wrong(FOUND, OTHER) != []
    assert wrong(FOUND, unjudged=(Unjudged("bleed", Severity.ADVICE, "unknown"),)) != []


def test_company_that_the_fault_brings_is_right() -> None:
    assert wrong(FOUND, OTHER, fault=replace(FAULT, also=frozenset({"bleed.not-drawn"}))) == []


def test_a_file_that_is_broken_may_have_other_faults_but_must_have_its_own() -> None:
    broken = replace(FAULT, breaks=True)
    assert wrong(FOUND, OTHER, fault=broken) == []
    assert wrong(OTHER, fault=broken) != []
