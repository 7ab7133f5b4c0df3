# The command runs and tells of every piece and kind of content; how long anything took is not judged.

import re
import shutil
from pathlib import Path

import pytest

from hotfolder.checks.pdf.pdfx.judging import judge_level
from hotfolder.checks.pdf.pdfx.requirement import Subject
from hotfolder.checks.shared.pdfx_levels import Level
from hotfolder.measure import measure
from hotfolder.model.document import Font
from hotfolder.model.inventory.inventory import Inventory
from tests.bench.__main__ import main
from tests.bench.contents import KINDS, page_of
from tests.bench.pdfx_judgement import cost_of, print_judgement_costs, write_brochure
from tests.bench.pieces import write_pieces
from tests.bench.timing import POPPLER
from tests.bench.verdict_time import waits_s
from tests.bench.whole_check import TOOLS, check, print_whole_checks
from tests.bench.whole_pieces import write_jobs
from tests.producers import produced_files
from tests.reference.tools import missing_tools


@pytest.fixture(scope="module")
def pieces(tmp_path_factory: pytest.TempPathFactory) -> dict[str, Path]:
    return write_pieces(tmp_path_factory.mktemp("pieces"), share=0.02)


def test_ten_pieces_measure_without_trouble(pieces: dict[str, Path]) -> None:
    assert len(pieces) == 10
    for path in pieces.values():
        artwork = measure(path)
        assert artwork.problems == ()
        assert all(page.known_marks for page in artwork.known_pages)
    sizes = {what: len(measure(path).known_pages) for what, path in pieces.items()}
    assert (sizes["book, 4 pages"], sizes["catalogue, 24 pages, 288 pictures"]) == (4, 24)


def test_text_of_the_pieces_is_set_in_an_embedded_font(pieces: dict[str, Path]) -> None:
    [font] = measure(pieces["brochure, 8 pages"]).fonts
    assert isinstance(font, Font)
    assert (font.embedded, font.printed) == (True, True)


@pytest.mark.parametrize("kind", KINDS)
def test_each_kind_of_content_is_read_without_trouble(kind: str) -> None:
    page = page_of(kind, 500).read_as_is()
    assert page.problems == ()
    assert len(page.marks) > 50


def test_the_command_prints_its_tables(capsys: pytest.CaptureFixture[str]) -> None:
    if {tool for tool, *_ in POPPLER} & set(missing_tools()):
        pytest.skip("poppler's tools are not installed")
    few = ["--operators", "500", "--times", "1", "--share", "0.02"]
    assert main([*few, "--parts", "measure", "kinds"]) == 0
    said = capsys.readouterr().out
    for row in (*KINDS, "book, 4 pages", "all"):
        assert re.search(rf"^{re.escape(row)} .*\d\.\d", said, re.MULTILINE), row
    assert len(re.findall(r"^ +\d+\.\d%  .*called", said, re.MULTILINE)) == 3


def test_whole_checks_of_ten_jobs_are_timed_against_other_tools(
    capsys: pytest.CaptureFixture[str], tmp_path: Path
) -> None:
    if missing := [tool for tool in TOOLS if shutil.which(tool) is None]:
        pytest.skip(f"not installed: {', '.join(missing)}")
    print_whole_checks(tmp_path, share=0.02, times=1)
    said = capsys.readouterr().out
    assert len(re.findall(r"^.{40} *[\d,]+ +\d+\.\d\d +\d+\.\d\d +\d+\.\d\d$", said, re.MULTILINE)) == 10
    assert re.search(r"^median +\d+\.\d\d$", said, re.MULTILINE)
    for step in ("_facts", "measure_ink", "page_proofs", "judge"):  # before the fork, and after it
        assert re.search(rf"^ +\d+\.\d%  {step}$", said, re.MULTILINE), step
    assert len(re.findall(r"^ +\d+\.\d%  .*called", said, re.MULTILINE)) == 8


def test_each_job_measures_without_trouble_and_a_check_of_it_is_whole(tmp_path: Path) -> None:
    jobs = write_jobs(tmp_path, share=0.02)
    assert len(jobs) == 10
    assert [measure(job.path).problems for job in jobs] == [()] * 10
    assert check(jobs[0]) > 10_000  # bytes of the report: it has pictures


def test_the_wait_in_a_studio_is_read_from_its_audit_log(tmp_path: Path) -> None:
    [wait] = waits_s(tmp_path, next(path for path in produced_files() if path.stem == "pdflatex"), 1)
    assert 0 < wait < 60


def test_judging_a_brochure_is_timed_beside_its_facts(
    capsys: pytest.CaptureFixture[str], tmp_path: Path
) -> None:
    print_judgement_costs(tmp_path, share=0.02, times=1)
    said = capsys.readouterr().out
    assert len(re.findall(r"^.{40} +\d\.\d{3} +\d\.\d{3} +\d\.\d{3} +\d+\.\d%", said, re.MULTILINE)) == 2


def test_the_brochure_that_is_judged_has_24_pages_and_keeps_its_level(tmp_path: Path) -> None:
    artwork = measure(write_brochure(tmp_path))
    assert len(artwork.known_pages) == 24
    assert artwork.pdf is not None
    assert isinstance(artwork.pdf.inventory, Inventory)
    subject = Subject(artwork, artwork.pdf.inventory)
    assert judge_level(subject, Level.X1A_2003).broken == ()


def test_facts_are_timed_without_what_only_the_judgement_needs(tmp_path: Path) -> None:
    path = write_brochure(tmp_path)
    cost = cost_of(path, Level.X1A_2003, 1)
    assert cost.facts_s > 0
    assert cost.judging_s > 0
    artwork = measure(path)  # all is as it was
    assert artwork.pdf is not None
    assert isinstance(artwork.pdf.inventory, Inventory)
    assert artwork.pdf.inventory.xobjects.images
