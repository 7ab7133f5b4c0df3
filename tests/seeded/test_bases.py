# The sound pages are what they are said to be: by many programs, small, and without any fault.
import re
import shutil
from pathlib import Path

import pytest

from hotfolder.measure import measure
from tests.reference.tools import run_tool
from tests.seeded.bases import BASES, FILES, Base, some_bases
from tests.seeded.judging import judged
from tests.seeded.make import MAKERS, SOURCES
from tests.seeded.planting import Sheet

MOST_BYTES = 60_000
MOST_BYTES_OF_ALL = 600_000
LEAST_PROGRAMS = 8
A5_PT = (148 * 72 / 25.4, 210 * 72 / 25.4)  # ISO 216


@pytest.fixture(params=BASES, ids=lambda base: base.name)
def base(request: pytest.FixtureRequest) -> Base:
    found = request.param
    assert isinstance(found, Base)
    return found


def test_there_are_pages_by_enough_programs() -> None:
    assert len({base.producer for base in BASES}) >= LEAST_PROGRAMS
    assert {path.stem for path in FILES.glob("*.pdf")} == {base.name for base in BASES} == set(MAKERS)
    assert sum(base.path.stat().st_size for base in BASES) < MOST_BYTES_OF_ALL
    assert all(source.is_file() for source in SOURCES.iterdir())


def test_it_is_small_and_by_that_program(base: Base) -> None:
    pdf = measure(base.path).pdf
    assert pdf is not None
    assert base.path.stat().st_size < MOST_BYTES
    if base.producer is None:
        assert pdf.producer is None
    else:
        assert str(pdf.producer).startswith(base.producer)


def test_nothing_is_said_of_it(base: Base) -> None:
    judgement = judged(base.path.read_bytes())
    assert judgement.findings == ()
    assert judgement.unjudged == ()


def test_nothing_is_said_of_it_when_it_was_opened_for_planting(base: Base, tmp_path: Path) -> None:
    sheet = Sheet.of(base.path)
    sheet.draw("")
    sheet.pdf.save(tmp_path / "flyer.pdf")
    judgement = judged((tmp_path / "flyer.pdf").read_bytes())
    assert judgement.findings == ()
    assert judgement.unjudged == ()


def test_its_trim_is_a5(base: Base) -> None:
    trim = Sheet.of(base.path).trim
    assert (trim.width, trim.height) == pytest.approx(A5_PT, abs=0.02)


@pytest.mark.skipif(shutil.which("qpdf") is None, reason="qpdf is not installed")
def test_qpdf_finds_no_fault_in_it_either(base: Base) -> None:
    done = run_tool("qpdf", "--check", str(base.path))
    assert not done.failed
    assert done.complaints == ""


@pytest.mark.skipif(shutil.which("pdffonts") is None, reason="pdffonts is not installed")
def test_poppler_finds_all_its_fonts_in_it(base: Base) -> None:
    fonts = run_tool("pdffonts", str(base.path)).text.splitlines()[2:]
    missing = [line.split()[0] for line in fonts if not re.search(r" yes +(?:yes|no) +(?:yes|no) ", line)]
    # ReportLab names a font on each page that nothing is set in.
    assert missing == (["Helvetica"] if base.name == "reportlab" else [])
    assert bool(fonts) is (base.name != "tiff2pdf")  # its text is part of the picture


def test_some_bases_are_two_and_every_one_has_its_turn() -> None:
    turns = [base.name for place in range(len(BASES)) for base in some_bases(place)]
    assert {turns.count(base.name) for base in BASES} == {2}
    assert all(len({base.name for base in some_bases(place)}) == 2 for place in range(len(BASES)))
