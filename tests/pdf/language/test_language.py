# The facts of the language, against the standard's own lists and what readers in wide use draw.
import shutil
import subprocess
import time
from pathlib import Path

import numpy as np
import pypdfium2
import pytest
from numpy.typing import NDArray
from PIL import Image

from hotfolder.drawing.rewriting.operators.table import OPERATORS as REWRITTEN
from hotfolder.drawing.rewriting.scan import last_numbers, numbers_in
from hotfolder.measure import measure
from hotfolder.model.facts import Unmeasured
from hotfolder.model.plates import PagePlates
from hotfolder.pdf.content.operators.table import OPERATORS as MEASURED
from hotfolder.pdf.language.numbers import mended_number
from hotfolder.pdf.language.operators import DEVICE_COLOURS, OPERANDS, PATH_PAINTING
from hotfolder.pdf.language.short_names import full_colour_space, full_filter, full_key
from tests.drawing.rewriting.rewritten_page import plates_of
from tests.pdf.raw_pdf import page, stream, write_raw

# ISO 32000-2:2020, Annex A, table A.1, in its order. The list is the same in ISO 32000-1:2008, table A.1.
STANDARD = """
b B b* B* BDC BI BMC BT BX c cm CS cs d d0 d1 Do DP EI EMC ET EX f F f* G g gs h i ID j J K k l m M MP n
q Q re RG rg ri s S SC sc SCN scn sh T* Tc Td TD Tf Tj TJ TL Tm Tr Ts Tw Tz v w W W* y ' "
""".split()  # noqa: SIM905 - the list reads as in the standard


def test_the_language_has_the_operators_of_the_standard_and_no_other() -> None:
    assert len(STANDARD) == len(set(STANDARD)) == 73
    assert set(OPERANDS) == set(STANDARD)
    assert set(PATH_PAINTING) == {"S", "s", "f", "F", "f*", "B", "B*", "b", "b*", "n"}


def test_both_readers_know_all_of_them() -> None:
    assert set(MEASURED) == set(OPERANDS)
    assert set(REWRITTEN) == {spelling.encode() for spelling in OPERANDS}
    assert {spelling: operator.operands for spelling, operator in MEASURED.items()} == OPERANDS


def test_a_device_colour_takes_a_number_for_each_component() -> None:
    components = {"DeviceGray": 1, "DeviceRGB": 3, "DeviceCMYK": 4}
    for spelling, (family, stroke) in DEVICE_COLOURS.items():
        assert OPERANDS[spelling] == components[family]
        assert stroke == spelling.isupper()


@pytest.mark.parametrize(
    ("operands", "operator", "numbers"),
    [
        (b"9 1 0 0 1 5 7", b"cm", [1, 0, 0, 1, 5, 7]),
        (b"1 0 0 1 5", b"cm", None),
        (b"", b"w", None),
        (b"1 2", b"w", [2]),
        (b"0.1 0.2 0.3", b"rg", [0.1, 0.2, 0.3]),
    ],
)
def test_the_last_operands_count(operands: bytes, operator: bytes, numbers: list[float] | None) -> None:
    assert last_numbers(operands, operator) == numbers


def test_short_names_stand_for_full_ones_and_full_ones_for_themselves() -> None:
    assert [full_key(each) for each in ("BPC", "IM", "F", "L", "Width")] == [
        "BitsPerComponent", "ImageMask", "Filter", "Length", "Width",
    ]  # fmt: skip
    assert [full_filter(each) for each in ("Fl", "CCF", "A85", "JPXDecode")] == [
        "FlateDecode", "CCITTFaxDecode", "ASCII85Decode", "JPXDecode",
    ]  # fmt: skip
    assert [full_colour_space(each) for each in ("G", "I", "CalCMYK", "CS0")] == [
        "DeviceGray", "Indexed", "DeviceCMYK", "CS0",
    ]  # fmt: skip


BROKEN = {
    "+-5": -5, "-+5": -5, "--5": -5, "---5": -5, "++5": 5, "5-3": 5, "5-": 5, "-5-3": -5, "0.5-3": 0.5,
    "1.5.25": 1.5, ".": 0, "-": 0, "-.": 0,
}  # fmt: skip
TOOLS = ("pdftocairo", "gs")


@pytest.mark.parametrize(("written", "read"), BROKEN.items())
def test_both_readers_read_a_broken_number_alike(written: str, read: float) -> None:
    assert mended_number(written) == (read, "")
    assert numbers_in(written.encode()) == [read]


@pytest.mark.skipif(not all(map(shutil.which, TOOLS)), reason="needs poppler and Ghostscript")
@pytest.mark.parametrize(("written", "read"), BROKEN.items())
def test_a_broken_number_is_read_as_one_of_the_other_readers_draws_it(
    written: str, read: float, tmp_path: Path
) -> None:
    path = _page_with_edge_at(written, tmp_path / "page.pdf")
    with pypdfium2.PdfDocument(path) as document:
        pdfium = _edge(document[0].render(scale=4, grayscale=True).to_numpy().squeeze())
    assert read in {_by_poppler(path), _by_ghostscript(path), pdfium}


def test_words_are_no_numbers() -> None:
    words = ("re", "e5", "T*", "", "'")
    assert [mended_number(word) for word in words] == [(None, word) for word in words]


# What is written without a space between a number and what follows, and where a black rectangle then lies:
# its left edge, or that there is none.
GLUED = {
    "5 50 10 10re f": 5,
    "5 50 m 15 50l 15 60l 5 60 l f": 5,
    "1 g 0g 5 50 10 10 re f": 5,
    "q 1 0 0 1 5 0cm 0 50 10 10 re f Q": 5,
    "5 50 10 10.re f": 5,
    "1e1 50 10 10 re f": None,
    "5x 50 10 10 re f": None,
    "5 50 10 1e1 re f": None,
    "8 5x 50 10 10 re f": None,
}


@pytest.mark.parametrize(("content", "left"), GLUED.items())
def test_both_readers_take_what_follows_a_number_for_a_word_of_its_own(
    content: str, left: float | None, tmp_path: Path
) -> None:
    path = _page_of(content, tmp_path / "page.pdf")
    pages = measure(path).pages
    assert not isinstance(pages, Unmeasured)
    marks = pages[0].marks
    assert not isinstance(marks, Unmeasured)
    assert [mark.box.x0 - 100 for mark in marks] == ([] if left is None else [pytest.approx(left)])
    assert _edge_on_plates(path) == (None if left is None else pytest.approx(left, abs=0.5))


@pytest.mark.skipif(not all(map(shutil.which, TOOLS)), reason="needs poppler and Ghostscript")
@pytest.mark.parametrize(("content", "left"), GLUED.items())
def test_what_follows_a_number_is_drawn_as_by_poppler_and_if_it_is_no_exponent_by_ghostscript(
    content: str, left: float | None, tmp_path: Path
) -> None:
    path = _page_of(content, tmp_path / "page.pdf")
    assert _by_poppler(path) == left
    if "1e1" not in content:
        assert _by_ghostscript(path) == left


def test_a_word_of_any_length_is_read_at_a_glance() -> None:
    began = time.process_time()
    assert mended_number("+" * 100_000 + "x") == (0, "x")
    assert time.process_time() - began < 2


def _page_with_edge_at(number: str, path: Path) -> Path:
    """A page with a black rectangle whose left edge lies at a number as written, from 100 points on."""
    return _page_of(f"{number} 50 10 10 re f", path)


def _page_of(content: str, path: Path) -> Path:
    content = f"1 0 0 1 100 0 cm 0 g {content}"
    return write_raw(path, {3: page("/MediaBox [0 0 200 100] /Contents 4 0 R"), 4: stream(content.encode())})


def _edge_on_plates(path: Path) -> float | None:
    drawn = plates_of(path)
    assert isinstance(drawn, PagePlates)
    columns = np.nonzero(drawn.inks["Black"] > 127)[1] if "Black" in drawn.inks else ()
    return drawn.frame.left + min(columns) * drawn.frame.pixel_pt - 100 if len(columns) else None


def _by_poppler(path: Path) -> float | None:
    _run("pdftocairo", "-r", "288", "-gray", "-png", "-singlefile", str(path), str(path.with_name("p")))
    return _edge(np.array(Image.open(path.with_name("p.png")).convert("L")))


def _by_ghostscript(path: Path) -> float | None:
    out = path.with_name("g.png")
    _run("gs", "-q", "-dNOPAUSE", "-dBATCH", "-sDEVICE=pnggray", "-r288", "-o", str(out), str(path))
    return _edge(np.array(Image.open(out).convert("L")))


def _run(*command: str) -> None:
    subprocess.run(command, check=True, capture_output=True, timeout=60)


def _edge(grey: NDArray[np.uint8]) -> float | None:
    """Where black begins, in points from 100 on; None without black. `grey` has 4 pixels a point."""
    columns = np.nonzero(grey < 128)[1]
    return float(columns.min()) / 4 - 100 if len(columns) else None
