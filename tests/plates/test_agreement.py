# Our plates against Ghostscript's tiffsep on real pages: plate means, and the most ink on 1 mm2.
#
# Reference: Ghostscript 10.00.0, drawn at 1219 ppi and reduced to 305, with the same press profile, intent
# and black point compensation.
# What differs is drawn once more by both, closely: 9754 ppi, cut to the places with the most ink.
# Pages that differ are named with their reason in `differences`; `python -m tests.plates` prints the table.
from pathlib import Path
from typing import Final

import pytest

from tests.corpus.fetch import fetch_corpus
from tests.plates.__main__ import main
from tests.plates.comparing import compare_all, compare_pages
from tests.plates.differences import DIFFERENCES, Difference
from tests.plates.pages import number_of, sample_pages, some_pages
from tests.plates.summary import Summary
from tests.plates.tiffsep import is_installed
from tests.seeded.bases import BASES

LEAST_PLATES: Final = 0.99
LEAST_PAGES: Final = 0.985
A_FEW: Final = 25


@pytest.fixture
def tools() -> None:
    if not is_installed():
        pytest.skip("gs is not installed")


@pytest.mark.usefixtures("tools")
def test_plates_of_some_pages_are_as_ghostscript_draws_them() -> None:
    fetch_corpus()
    wanted = some_pages(A_FEW)
    assert number_of(wanted) >= A_FEW - 1
    summary = Summary(
        tuple(page for each in wanted for page in compare_pages(each.path, each.name, each.pages))
    )
    assert summary.unexplained == ()
    assert summary.stale == ()
    assert len(summary.producers) >= 8


@pytest.mark.slow
@pytest.mark.usefixtures("tools")
def test_plates_of_many_pages_are_as_ghostscript_draws_them(tmp_path: Path) -> None:
    fetch_corpus(slow=True)
    wanted = sample_pages(tmp_path)
    summary = Summary(tuple(compare_all(wanted)))
    assert len(summary.compared) >= 200
    assert len({page.name.partition("/")[0] for page in summary.compared}) >= 100
    assert len(summary.producers) >= 8
    assert summary.plates_that_agree >= LEAST_PLATES, str(summary)
    assert summary.pages_that_agree >= LEAST_PAGES, str(summary)
    assert summary.unexplained == (), str(summary)
    assert summary.stale == (), str(summary)
    assert {(page.name, page.page) for page in summary.pages} >= set(DIFFERENCES)
    for page in summary.pages:
        if DIFFERENCES.get((page.name, page.page)) is Difference.NO_LOOKS:
            assert page.undrawn.startswith("ours"), page.name


@pytest.mark.usefixtures("tools")
def test_the_command_prints_what_differs_and_the_figures(capsys: pytest.CaptureFixture[str]) -> None:
    hand = next(base for base in BASES if base.name == "hand")
    assert main([str(hand.path)]) == 0
    said = capsys.readouterr().out
    assert "1 pages by 0 producers" in said
    assert "plate means within 0.5 points: 100.0%" in said
    assert "0 pages differ and nobody says why" in said
