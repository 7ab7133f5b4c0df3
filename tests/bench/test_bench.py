# The command runs and tells of every piece and kind of content; how long anything took is not judged.

import re
from pathlib import Path

import pytest

from hotfolder.artwork import Font
from hotfolder.measure import measure
from tests.bench.__main__ import main
from tests.bench.contents import KINDS, page_of
from tests.bench.pieces import write_pieces
from tests.bench.timing import POPPLER
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
    found = page_of(kind, 500).read_as_is()
    assert found.problems == ()
    assert len(found.marks) > 50


def test_the_command_prints_its_tables(capsys: pytest.CaptureFixture[str]) -> None:
    if {tool for tool, *_ in POPPLER} & set(missing_tools()):
        pytest.skip("poppler's tools are not installed")
    assert main(["--operators", "500", "--times", "1", "--share", "0.02"]) == 0
    said = capsys.readouterr().out
    for row in (*KINDS, "book, 4 pages", "all"):
        assert re.search(rf"^{re.escape(row)} .*\d\.\d", said, re.MULTILINE), row
    assert len(re.findall(r"^ +\d+\.\d%  .*called", said, re.MULTILINE)) == 3
