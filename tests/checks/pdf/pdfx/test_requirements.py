# Each requirement at each level: the base keeps it, and a file that breaks only it is told to break only it.
from pathlib import Path

import pytest

from hotfolder.checks.pdf.pdfx.judging import requirements_of
from hotfolder.checks.pdf.pdfx.register import REQUIREMENTS
from hotfolder.checks.pdf.pdfx.requirement import JudgedExtent
from hotfolder.checks.shared.pdfx_levels import Level
from tests.checks.pdf.pdfx.bases import base, saved
from tests.checks.pdf.pdfx.cases.all_cases import CASES
from tests.checks.pdf.pdfx.cases.case import Case
from tests.checks.pdf.pdfx.judged import broken, judged, left_open


@pytest.mark.parametrize("level", Level)
def test_a_file_that_keeps_a_level_is_told_to_break_nothing_and_leaves_nothing_open(
    level: Level, tmp_path: Path
) -> None:
    conformance = judged(saved(base(level), level), level, tmp_path)
    assert broken(conformance) == {}
    assert left_open(conformance) == []


@pytest.mark.parametrize(
    ("case", "level"),
    [
        pytest.param(case, level, id=f"{case.breaks}: {case.name} ({level})")
        for case in CASES
        for level in sorted(case.levels)
    ],
)
def test_a_file_that_breaks_one_requirement_is_told_to_break_that_one(
    case: Case, level: Level, tmp_path: Path
) -> None:
    conformance = judged(case.file(level), level, tmp_path)
    assert set(broken(conformance)) == {case.breaks} | case.also


def test_each_requirement_has_a_file_that_breaks_it_at_each_level() -> None:
    broken_by_cases = {(case.breaks, level) for case in CASES for level in case.levels}
    wanted = {
        (requirement.id, level)
        for level in Level
        for requirement in requirements_of(level)
        if requirement.extent is not JudgedExtent.NONE
    }
    assert sorted(wanted - broken_by_cases) == []


def test_requirements_have_names_of_their_own_and_say_what_is_not_judged() -> None:
    ids = [requirement.id for requirement in REQUIREMENTS]
    assert len(ids) == len(set(ids))
    for requirement in REQUIREMENTS:
        assert (requirement.judge is None) == (requirement.extent is JudgedExtent.NONE), requirement.id
        assert bool(requirement.limits) == (requirement.extent is not JudgedExtent.FULL), requirement.id
        assert requirement.levels, requirement.id
        assert requirement.unconfirmed <= requirement.levels, requirement.id
