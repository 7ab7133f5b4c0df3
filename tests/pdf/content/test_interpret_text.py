# Text: where runs lie, how large they are, how they are shown, and which fonts they use.

import re
import shutil
import subprocess
from pathlib import Path

import pytest
from pikepdf import Array, Dictionary, Name

from hotfolder.model.facts import ProblemKind
from hotfolder.model.marks import Mark, MarkKind
from hotfolder.pdf.content.interpret import PageMarks
from tests.pdf.drawn_page import Drawn, corners, helvetica, kinds, only

# Helvetica's widths of a, b and space in thousandths of the em (its AFM file, from the 14 standard fonts).
_A, _B, _SPACE = 0.556, 0.556, 0.278


def _read(content: bytes) -> PageMarks:
    return Drawn().resource("Font", "F", helvetica()).read(content)


def _run(content: bytes) -> Mark:
    page = _read(content)
    assert page.problems == ()
    return only(page, MarkKind.TEXT)


def _across(content: bytes) -> tuple[float, float]:
    box = _run(content).box
    return round(box.x0, 4), round(box.x1, 4)


@pytest.mark.parametrize(
    ("content", "x0", "x1"),
    [
        (b"BT /F 10 Tf 50 60 Td (ab) Tj ET", 50, 50 + 10 * (_A + _B)),
        (b"BT /F 10 Tf 50 Tz 50 60 Td (ab) Tj ET", 50, 50 + 5 * (_A + _B)),
        # Spacing after the last glyph is not painted.
        (b"BT /F 10 Tf 3 Tc 50 60 Td (ab) Tj ET", 50, 53 + 10 * (_A + _B)),
        (b"BT /F 10 Tf 4 Tw 50 60 Td (a b) Tj ET", 50, 54 + 10 * (_A + _B + _SPACE)),
        (b"BT /F 10 Tf 50 60 Td [(a) -500 (b)] TJ ET", 50, 55 + 10 * (_A + _B)),
        # TJ may go back.
        (b"BT /F 10 Tf 50 60 Td [(a) 2000 (b)] TJ ET", 50 - 20 + 10 * _A, 50 + 10 * _A),
        # Spaces at either end show nothing.
        (b"BT /F 10 Tf 50 60 Td (  ab   ) Tj ET", 50 + 20 * _SPACE, 50 + 10 * (_A + _B + 2 * _SPACE)),
        (b"BT /F 1 Tf 20 0 0 20 50 60 Tm (ab) Tj ET", 50, 50 + 20 * (_A + _B)),
        (b"2 0 0 2 0 0 cm BT /F 10 Tf 50 60 Td (ab) Tj ET", 100, 100 + 20 * (_A + _B)),
        (b"BT /F 10 Tf 12 TL 50 60 Td (a) ' ET", 50, 50 + 10 * _A),
        (b'BT /F 10 Tf 50 60 Td 4 3 (a b) " ET', 50, 50 + 4 + 2 * 3 + 10 * (_A + _B + _SPACE)),
        (b"/F 10 Tf 50 60 Td (ab) Tj", 50, 50 + 10 * (_A + _B)),
    ],
)
def test_runs_reach_from_first_to_last_glyph(content: bytes, x0: float, x1: float) -> None:
    assert _across(content) == pytest.approx((x0, x1), abs=1e-3)


@pytest.mark.parametrize(
    ("content", "baseline"),
    [
        (b"BT /F 10 Tf 50 60 Td (a) Tj ET", 60),
        (b"BT /F 10 Tf 50 60 Td 3 Ts (a) Tj ET", 63),
        (b"BT /F 10 Tf 50 60 Td 0 -12 TD T* (a) Tj ET", 36),
        (b"BT /F 10 Tf 12 TL 50 60 Td T* T* (a) Tj ET", 36),
        (b"BT /F 10 Tf 12 TL 50 60 Td (a) ' ET", 48),
        (b"BT /F 10 Tf 1 0 0 1 50 60 Tm 0 -7 Td (a) Tj ET", 53),
    ],
)
def test_lines_lie_where_positioning_puts_them(content: bytes, baseline: float) -> None:
    box = _run(content).box
    wanted = _run(f"BT /F 10 Tf 1 0 0 1 50 {baseline} Tm (a) Tj ET".encode()).box
    assert (box.y0, box.y1) == pytest.approx((wanted.y0, wanted.y1))
    assert box.y0 < baseline < box.y1


def test_runs_follow_one_another() -> None:
    first, second = _read(b"BT /F 10 Tf 2 Tc 50 60 Td (ab) Tj (a) Tj ET").marks
    assert second.box.x0 == pytest.approx(first.box.x1 + 2)


@pytest.mark.parametrize(
    ("content", "size"),
    [
        (b"BT /F 10 Tf 50 60 Td (a) Tj ET", 10),
        (b"BT /F -10 Tf 50 60 Td (a) Tj ET", 10),
        (b"BT /F 1 Tf 30 0 0 20 50 60 Tm (a) Tj ET", 20),
        (b"0 2 -2 0 300 0 cm BT /F 10 Tf 50 60 Td (a) Tj ET", 20),
        (b"BT /F 10 Tf 1 0 0.5 1 50 60 Tm (a) Tj ET", 11.1803),
    ],
)
def test_size_is_the_height_of_the_em_on_the_page(content: bytes, size: float) -> None:
    facts = _run(content).text
    assert facts is not None
    assert facts.size_pt == pytest.approx(size, abs=1e-3)
    assert facts.font == "Helvetica"


@pytest.mark.parametrize(
    ("mode", "filled", "stroked", "printed"),
    [
        (0, True, False, True),
        (1, False, True, True),
        (2, True, True, True),
        (3, False, False, False),
        (4, True, False, True),
        (5, False, True, True),
        (6, True, True, True),
        (7, False, False, False),
    ],
)
def test_rendering_modes(mode: int, filled: bool, stroked: bool, printed: bool) -> None:  # noqa: FBT001 - columns
    page = _read(f"BT /F 10 Tf {mode} Tr 50 60 Td (ab) Tj ET".encode())
    mark = only(page)
    assert (mark.fill is not None, mark.stroke is not None, mark.printed) == (filled, stroked, printed)
    assert mark.text is not None
    assert mark.text.invisible is not printed
    # Letters that only clip give their shape to what is painted after them, so their font prints.
    assert [font.printed for font in page.fonts] == [mode != 3]


def test_a_stroked_run_is_wider_by_its_line() -> None:
    plain, stroked = (
        _run(b"BT /F 10 Tf 50 60 Td (ab) Tj ET"),
        _run(b"4 w BT /F 10 Tf 1 Tr 50 60 Td (ab) Tj ET"),
    )
    assert corners(stroked.box) == corners(plain.box.grown(2))
    assert (plain.line_width_pt, stroked.line_width_pt) == (None, 4)


def test_text_clips_what_follows() -> None:
    page = _read(b"q BT /F 40 Tf 7 Tr 50 60 Td (ab) Tj ET 0 0 300 400 re f Q 0 0 300 400 re f")
    text, inside, after = page.marks
    assert inside.visible == text.box
    assert after.visible != text.box


def test_spaces_alone_are_no_mark_and_use_no_font() -> None:
    page = _read(b"BT /F 10 Tf 50 60 Td (   ) Tj ET")
    assert (page.marks, page.fonts, page.problems) == ((), (), ())


def test_glyphs_are_counted_with_spaces() -> None:
    facts = _run(b"BT /F 10 Tf 50 60 Td [(a b) 20 (c)] TJ ET").text
    assert facts is not None
    assert facts.glyphs == 4


def test_text_in_a_font_that_is_missing_is_told() -> None:
    page = Drawn().read(b"BT /F 10 Tf 50 60 Td (ab) Tj ET")
    assert page.marks == ()
    assert kinds(page) == [ProblemKind.DAMAGED]


def test_a_font_is_printed_if_one_run_is() -> None:
    page = _read(b"BT /F 10 Tf 3 Tr (a) Tj 0 Tr (a) Tj 3 Tr (a) Tj ET")
    assert [(font.name, font.printed) for font in page.fonts] == [("Helvetica", True)]


def test_white_text_is_no_paint() -> None:
    assert _run(b"1 g BT /F 10 Tf (a) Tj ET").white
    assert not _run(b"1 g BT /F 10 Tf 2 Tr (a) Tj ET").white
    assert not _run(b"1 g BT /F 10 Tf 3 Tr (a) Tj ET").white


def test_a_code_32_that_is_no_space_is_painted() -> None:
    # Fonts cut down to their used glyphs give the code away (seen in mathematics set with an office program).
    font = helvetica()
    font.Encoding = Dictionary(BaseEncoding=Name.WinAnsiEncoding, Differences=Array([32, Name.a]))
    page = Drawn().resource("Font", "F", font).read(b"BT /F 10 Tf 50 60 Td ( ) Tj ET")
    assert only(page).box.width == pytest.approx(10 * _A)


def _composite(drawn: Drawn, **entries: object) -> Dictionary:
    descendant = Dictionary(
        Type=Name.Font, Subtype=Name.CIDFontType2, BaseFont=Name("/Quayside"),
        CIDSystemInfo=Dictionary(Registry=b"Adobe", Ordering=b"Identity", Supplement=0),
        DW=1000, W=Array([5, Array([500, 250])]),
    )  # fmt: skip
    font = Dictionary(
        Type=Name.Font, Subtype=Name.Type0, BaseFont=Name("/Quayside"), Encoding=Name("/Identity-H"),
        DescendantFonts=Array([descendant]),
    )  # fmt: skip
    for key, value in entries.items():
        font[f"/{key}"] = value
    drawn.resource("Font", "F", font)
    return font


def test_a_composite_font_has_the_space_where_its_map_says() -> None:
    drawn = Drawn()
    content = b"BT /F 10 Tf 50 60 Td <000500050006> Tj ET"
    _composite(drawn)
    assert only(drawn.read(content)).box.width == pytest.approx(12.5)
    unicode_map = b"1 beginbfchar <0006> <0020> endbfchar 1 beginbfrange <0005> <0005> <0041> endbfrange"
    _composite(drawn, ToUnicode=drawn.pdf.make_stream(unicode_map))
    assert only(drawn.read(content)).box.width == pytest.approx(10)


def test_vertical_text_goes_down_and_lies_centred_on_its_line() -> None:
    # ISO 32000-2, 9.7.4.3: DW2 is [880 -1000], and the origin lies half the width to the left.
    drawn = Drawn()
    _composite(drawn, Encoding=Name("/Identity-V"))
    box = only(drawn.read(b"BT /F 10 Tf 100 300 Td <00010001> Tj ET")).box
    assert (box.x0, box.x1) == pytest.approx((95, 105))
    assert box.y0 < 300 - 10 - 8
    assert 300 - 8.8 < box.y1 < 302


@pytest.mark.skipif(shutil.which("pdftotext") is None, reason="poppler's pdftotext is missing")
def test_boxes_are_those_of_pdftotext(tmp_path: Path) -> None:
    drawn = Drawn().resource("Font", "F", helvetica())
    times = helvetica()
    times.BaseFont = Name("/Times-Italic")
    drawn.resource("Font", "T", times)
    page = drawn.read(
        b"BT /F 12 Tf 40 300 Td (Harbour) Tj ET "
        b"BT /T 1 Tf 24 0 0 18 40 250 Tm (Regatta) Tj ET "
        b"q 1.5 0 0 1.5 20 30 cm BT /F 9 Tf 0.5 Tc 80 Tz 10 100 Td (Lighthouse) Tj ET Q "
        b"BT /T 20 Tf 40 120 Td [(Sea) -60 (gulls)] TJ ET"
    )
    drawn.pdf.save(tmp_path / "drawn.pdf")
    command = ["pdftotext", "-bbox", str(tmp_path / "drawn.pdf"), "-"]
    text = subprocess.run(command, capture_output=True, text=True, check=True, timeout=60).stdout
    words = re.findall(r'<word xMin="(.*?)" yMin="(.*?)" xMax="(.*?)" yMax="(.*?)">', text)
    assert len(words) == len(page.marks) == 4
    for word, mark in zip(words, page.marks, strict=True):
        x0, top, x1, bottom = (float(number) for number in word)
        wanted = (x0, 400 - bottom, x1, 400 - top)
        # Poppler substitutes the standard fonts and takes ascent and descent from the substitute.
        assert (mark.box.x0, mark.box.x1) == pytest.approx(wanted[::2], abs=0.51)
        assert (mark.box.y0, mark.box.y1) == pytest.approx(wanted[1::2], abs=1.5)
