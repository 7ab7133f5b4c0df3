# Clips: upright rectangles are exact, other outlines count by their bounds, and a point leaves nothing.

import io

import pypdfium2
import pytest
from pikepdf import Array

from tests.pdf.drawn_page import Drawn, corners, helvetica, marks, only

_ALL = b"0 0 300 400 re f"


@pytest.mark.parametrize(
    ("clip", "bounds", "exact"),
    [
        (b"20 30 40 50 re W n", (20, 30, 60, 80), True),
        (b"60 80 -40 -50 re W* n", (20, 30, 60, 80), True),
        (b"20 30 m 60 30 l 60 80 l 20 80 l W n", (20, 30, 60, 80), True),
        (b"0 1 -1 0 80 0 cm 30 20 50 40 re W n 0 -1 1 0 0 80 cm", (20, 30, 60, 80), True),
        (b"20 30 m 60 30 l 40 80 l W n", (20, 30, 60, 80), False),
        (b"20 30 m 60 30 l 60 80 l 20 80 l 20 30 l 40 50 l W n", (20, 30, 60, 80), False),
        (b"20 30 10 50 re 50 30 10 50 re W n", (20, 30, 60, 80), False),
        (b"20 30 40 50 re 30 40 10 10 re W* n", (20, 30, 60, 80), False),
        (b"20 30 m 60 30 l 60 80 l 20.01 80 l W n", (20, 30, 60, 80), False),
        # A curve counts as far as it bends, not as far as its control points lie.
        (b"20 30 m 60 30 l 60 96.6667 20 96.6667 20 30 c W n", (20, 30, 60, 80), False),
        (b"20 30 40 50 re W n 0 0 m 300 0 l 0 700 l W n", (20, 30, 60, 80), False),
        # A rectangle with one side that bends inwards.
        (b"20 30 m 60 30 l 60 80 l 20 80 l 40 70 40 40 20 30 c W n", (20, 30, 60, 80), False),
    ],
)
def test_a_clip_is_its_bounds_and_known_for_exact_or_not(
    clip: bytes,
    bounds: tuple[float, float, float, float],
    exact: bool,  # noqa: FBT001 - a column of the table
) -> None:
    mark = marks(clip + b" " + _ALL)[-1]
    assert corners(mark.visible) == bounds
    assert (mark.solid == mark.visible) is exact


@pytest.mark.parametrize(
    ("clip", "shows"),
    [
        (b"W n", True),
        (b"20 20 m W n", False),
        (b"20 20 m h W n", False),
        (b"20 20 0 0 re W n", False),
        (b"900 900 9 9 re W n", False),
        (b"0 0 99 99 re W n", True),
    ],
)
def test_a_clip_without_an_area_leaves_nothing(clip: bytes, shows: bool) -> None:  # noqa: FBT001 - a column
    [mark] = marks(clip + b" 10 10 50 50 re f")
    assert (mark.visible is not None) is shows
    # Outside judge: what pdfium draws (Ghostscript and poppler draw the same).
    assert _inked(clip + b" 10 10 50 50 re f") is shows


def _inked(content: bytes) -> bool:
    drawn = Drawn()
    drawn.page.obj.Contents = drawn.pdf.make_stream(content)
    file = io.BytesIO()
    drawn.pdf.save(file)
    with pypdfium2.PdfDocument(file.getvalue()) as document:
        picture = document[0].render(scale=1, grayscale=True).to_pil()
    return bool(picture.getextrema()[0] < 128)


def test_a_line_in_a_clip_that_is_thinner_than_it_is_cut() -> None:
    [mark] = marks(b"0 20 300 5 re W n 20 w 10 22 m 90 22 l S")
    assert corners(mark.visible) == (10, 20, 90, 25)


def test_text_clips_by_the_bounds_of_all_that_is_shown_until_the_text_ends() -> None:
    drawn = Drawn().resource("Font", "F", helvetica())
    shown = b"BT /F 10 Tf 7 Tr 50 100 Td (HH) Tj 100 50 Td (H) Tj ET "
    *_, mark = drawn.read(b"1 g " + shown + b"0 g " + _ALL).marks
    assert mark.visible is not None
    assert mark.visible.x0 == pytest.approx(50)
    assert mark.visible.x1 == pytest.approx(150 + 7.22)  # Helvetica's H is 722 wide (its AFM file)
    assert mark.visible.y0 < 100
    assert mark.visible.y1 > 150
    assert mark.solid is None


@pytest.mark.parametrize(("shown", "shows"), [(b"()", True), (b"(H)", False)])
def test_text_without_any_letter_clips_nothing(shown: bytes, *, shows: bool) -> None:
    """ISO 32000-2, 9.3.6: if no glyphs are shown, no clipping occurs. Of spaces, readers in use let it."""
    drawn = Drawn().resource("Font", "F", helvetica())
    content = b"BT /F 10 Tf 7 Tr 50 100 Td " + shown + b" Tj ET 200 300 50 50 re f"
    mark = drawn.read(content).marks[-1]
    assert (mark.visible is not None) is shows
    file = io.BytesIO()
    drawn.pdf.save(file)
    with pypdfium2.PdfDocument(file.getvalue()) as document:
        picture = document[0].render(scale=1, grayscale=True).to_pil()
    assert bool(picture.getextrema()[0] < 128) is shows


def test_a_clip_holds_for_forms_and_ends_with_its_state() -> None:
    drawn = Drawn()
    drawn.resource("XObject", "F", drawn.form(_ALL, BBox=Array([0, 0, 300, 400])))
    first, second, third = drawn.read(
        b"q 20 30 40 50 re W n /F Do q 30 40 m 50 40 l 30 60 l W n /F Do Q /F Do Q"
    ).marks
    assert [corners(mark.visible) for mark in (first, second, third)] == [
        (20, 30, 60, 80), (30, 40, 50, 60), (20, 30, 60, 80),
    ]  # fmt: skip
    assert [mark.solid is not None for mark in (first, second, third)] == [True, False, True]


def test_a_form_that_is_turned_does_not_clip_exactly() -> None:
    drawn = Drawn()
    drawn.resource(
        "XObject",
        "F",
        drawn.form(b"0.7 -0.7 0.7 0.7 0 0 cm -99 -99 999 999 re f", BBox=Array([0, 0, 50, 50])),
    )
    turned = only(drawn.read(b"0.7 0.7 -0.7 0.7 100 100 cm /F Do"))
    assert corners(turned.visible) == (65, 100, 135, 170)
    assert turned.solid is None
