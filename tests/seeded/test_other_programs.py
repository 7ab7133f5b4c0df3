# Poppler and qpdf see what was planted: pixels, places, fonts, boxes, locks; figures worked out by hand.
import re
from pathlib import Path

import pytest

from tests.reference.tools import missing_tools, run_tool
from tests.seeded.bases import BASES, Base
from tests.seeded.faults import FAULTS
from tests.seeded.judging import seeded
from tests.seeded.planting import Sheet

pytestmark = pytest.mark.skipif(bool(missing_tools()), reason=f"not installed: {', '.join(missing_tools())}")

BY_NAME = {fault.name: fault for fault in FAULTS}


@pytest.fixture(params=BASES, ids=lambda base: base.name)
def base(request: pytest.FixtureRequest) -> Base:
    found = request.param
    assert isinstance(found, Base)
    return found


def planted(name: str, base: Base, folder: Path) -> str:
    path = folder / "flyer.pdf"
    path.write_bytes(seeded(BY_NAME[name], base)[0])
    return str(path)


@pytest.mark.parametrize(
    ("name", "ppi"),
    [
        ("a picture that was enlarged", 100),
        ("a picture of 250 ppi", 250),
        ("a picture that is turned and enlarged by three matrices", 150),
        ("line art of 400 ppi", 400),
        ("a picture of 1200 ppi", 1200),
    ],
)
def test_pictures_have_that_resolution(name: str, ppi: int, base: Base, tmp_path: Path) -> None:
    lines = run_tool("pdfimages", "-list", planted(name, base, tmp_path)).text.splitlines()
    across, down = (int(figure) for figure in lines[-1].split()[-4:-2])
    assert (across, down) == pytest.approx((ppi, ppi), abs=1)


def test_text_stands_where_it_was_planted(base: Base, tmp_path: Path) -> None:
    path = planted("text within the safe margin", base, tmp_path)
    _, told = seeded(BY_NAME["text within the safe margin"], base)
    text = run_tool("pdftotext", "-bbox", path, "-").text
    matches = re.findall(r'xMin="([\d.]+)" yMin="([\d.]+)" xMax="([\d.]+)" yMax="([\d.]+)">WEEKDAYS', text)
    # As it is seen: across from the left and down from the top. The page by hand is turned by 90 degrees.
    last, media = matches[-1] if base.name != "hand" else matches[0], Sheet.of(base.path).media
    (box,) = told.boxes
    if base.name == "hand":
        begins, ends = float(last[1]) + media.x0, float(last[3]) + media.x0
    else:
        begins, ends = float(last[0]) + media.x0, float(last[2]) + media.x0
    assert box.x0 < begins < ends
    assert ends == pytest.approx(box.x1, abs=0.5)


@pytest.mark.parametrize(
    ("name", "font", "embedded"),
    [
        ("a font that is not in the file", "Absent-Book", "no"),
        ("a standard font that is not in the file", "Helvetica", "no"),
        ("text of 4 pt", "Seed-Text", "yes"),
    ],
)
def test_fonts_are_in_the_file_or_not(
    name: str, font: str, embedded: str, base: Base, tmp_path: Path
) -> None:
    lines = run_tool("pdffonts", planted(name, base, tmp_path)).text.splitlines()
    line = [line for line in lines if line.startswith(font)][-1]  # ReportLab names Helvetica too
    match = re.search(r" (yes|no) +(?:yes|no) +(?:yes|no) ", line)
    assert match is not None
    assert match[1] == embedded


@pytest.mark.parametrize(
    ("name", "box", "size_mm"),
    [
        ("a page five millimetres short", "TrimBox", (143, 210)),
        ("two pages side by side", "TrimBox", (198, 210)),
        ("a bleed box at the cut", "BleedBox", (148, 210)),
        ("a page cropped into its trim", "CropBox", (133, 216)),
    ],
)
def test_boxes_are_as_planted(
    name: str, box: str, size_mm: tuple[float, float], base: Base, tmp_path: Path
) -> None:
    text = run_tool("pdfinfo", "-box", planted(name, base, tmp_path)).text
    line = re.search(rf"^{box}:(.*)$", text, re.MULTILINE)
    assert line is not None
    x0, y0, x1, y1 = (float(side) for side in line[1].split())
    sides_mm = tuple(round(length * 25.4 / 72, 1) for length in (x1 - x0, y1 - y0))
    assert sides_mm == pytest.approx(size_mm, abs=0.11)


def test_locks_are_locks(base: Base, tmp_path: Path) -> None:
    path = planted("a file that asks for a password", base, tmp_path)
    assert not run_tool("qpdf", "--requires-password", path).failed
    path = planted("a file that is encrypted", base, tmp_path)
    assert not run_tool("qpdf", "--is-encrypted", path).failed


@pytest.mark.parametrize("name", ["a file that was cut off", "a table of contents that is elsewhere"])
def test_qpdf_complains_of_damage_too(name: str, base: Base, tmp_path: Path) -> None:
    done = run_tool("qpdf", "--check", planted(name, base, tmp_path))
    assert done.failed
    assert done.complaints != ""
