# Lines on a narrow terminal: folded between words, under what they belong to.

import pytest

from hotfolder.wording.folding import folded, say

COLUMNS = "  bleed                     Paint that touches the trim must run on beyond it."


def test_a_line_that_fits_stays_as_it_is() -> None:
    assert folded(COLUMNS, 80) == [COLUMNS]


def test_a_second_column_goes_on_below_itself() -> None:
    assert folded(COLUMNS, 60) == [
        "  bleed                     Paint that touches the trim must",
        "                            run on beyond it.",
    ]


def test_a_column_that_leaves_too_little_goes_on_below_its_name() -> None:
    assert folded(COLUMNS, 40) == [
        "  bleed",
        "    Paint that touches the trim must run",
        "    on beyond it.",
    ]


def test_prose_is_folded_under_its_own_indent() -> None:
    assert folded("  one two three four", 12) == ["  one two", "    three", "    four"]


def test_a_path_is_never_cut() -> None:
    path = "/srv/studio/quay/needs-fixing/a-very-long-name.pdf.report.html"
    assert folded(f"  report: {path}", 40) == ["  report:", f"    {path}"]


@pytest.mark.parametrize("prose", [True, False], ids=["prose", "lines"])
def test_where_nobody_looks_only_prose_is_folded(capsys: pytest.CaptureFixture[str], *, prose: bool) -> None:
    say(["word " * 39 + "words"], prose=prose)
    longest = max(map(len, capsys.readouterr().out.splitlines()))
    assert longest <= 100 if prose else longest == 200
