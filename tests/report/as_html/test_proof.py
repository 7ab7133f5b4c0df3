# The geometry of the marked proof: turning, crop marks, numbers in the margin.

import re
from dataclasses import replace
from itertools import pairwise
from pathlib import Path

import pytest

from hotfolder import report
from hotfolder.model.facts import Unmeasured
from hotfolder.model.findings import Finding, Severity
from hotfolder.model.geometry import Box
from hotfolder.model.pages import Page, PageBoxes, Trim, TrimOrigin
from hotfolder.model.pictures import PagePicture
from hotfolder.report.as_html.proof import BADGE_RADIUS, NoteFrame, Proof, lay_out, note_places
from hotfolder.report.notes import Note
from tests.report.samples import MARGIN_FINDING, mm_box, page

# A sheet of 120 x 220 pt with 10 pt of bleed around a trim of 100 x 200.
SHEET, TRIM = Box(0, 0, 120, 220), Box(10, 10, 110, 210)
TOP_LEFT = Box(10, 200, 20, 210)  # a corner of the trim, as it lies in the file


def sheet(rotate: int = 0, trim: Trim | Unmeasured | None = None) -> Page:
    known = trim or Trim(TRIM, TrimOrigin.TRIM_BOX)
    return replace(page(1, rotate=rotate, boxes=PageBoxes(media=SHEET)), trim=known)


def note(*boxes: Box, number: int = 1, severity: Severity = Severity.ADVICE) -> Note:
    finding: Finding = replace(MARGIN_FINDING, boxes=boxes, severity=severity)
    return Note(number, finding, "Text and the trim")


def proof(rotate: int, *notes: Note, bleed_pt: float = 10) -> Proof:
    found = lay_out(sheet(rotate), None, notes, bleed_pt)
    assert found is not None
    return found


def relative(frame: NoteFrame, outer: NoteFrame) -> tuple[float, float, float, float]:
    """A frame as shares of another: left, top, width, height."""
    return (
        (frame.x - outer.x) / outer.width,
        (frame.y - outer.y) / outer.height,
        frame.width / outer.width,
        frame.height / outer.height,
    )


# The top left corner of the page as stored, and where a clockwise turn of the page takes it
# (ISO 32000-2, Table 31: Rotate is clockwise): shares of the trim from its left and top.
@pytest.mark.parametrize(
    ("rotate", "expected"),
    [
        (0, (0.0, 0.0, 0.1, 0.05)),
        (90, (0.95, 0.0, 0.05, 0.1)),
        (180, (0.9, 0.95, 0.1, 0.05)),
        (270, (0.0, 0.9, 0.05, 0.1)),
    ],
)
def test_places_turn_with_the_page(rotate: int, expected: tuple[float, float, float, float]) -> None:
    laid = proof(rotate, note(TOP_LEFT))
    assert laid.trim is not None
    assert relative(within(laid.places[0].frames[0]), laid.trim) == pytest.approx(expected)


def within(frame: NoteFrame) -> NoteFrame:
    """What a frame runs around."""
    clear = 3.2
    return NoteFrame(frame.x + clear, frame.y + clear, frame.width - 2 * clear, frame.height - 2 * clear)


def test_a_frame_and_its_casing_leave_the_letters_in_it_free() -> None:
    style = (Path(report.__file__).parent / "as_html/templates/report.css").read_text()
    (casing,) = re.findall(r"\.casing {[^}]*stroke-width: ([\d.]+)", style.replace("-casing", ""))
    line = Box(20, 100, 60, 102)  # a line of letters 2 pt high: some 6 units on the proof
    laid = proof(0, note(line))
    assert laid.trim is not None
    (frame,) = laid.places[0].frames
    scale = laid.trim.width / 100
    for scaled in (1.0, 0.66):  # on a wide screen, on a phone: lines keep their width there
        free = (frame.height * scaled - float(casing)) - 2 * scale * scaled
        assert free > 0


@pytest.mark.parametrize("rotate", [0, 90, 180, 270])
def test_the_sheet_has_the_shape_that_is_seen(rotate: int) -> None:
    laid = proof(rotate)
    seen = 120 / 220 if rotate in {0, 180} else 220 / 120
    assert laid.sheet.width / laid.sheet.height == pytest.approx(seen)
    assert laid.wide is (rotate in {90, 270})
    assert laid.trim is not None
    assert relative(laid.trim, laid.sheet) == pytest.approx(
        (10 / 120, 10 / 220, 100 / 120, 200 / 220)
        if rotate in {0, 180}
        else (10 / 220, 10 / 120, 200 / 220, 100 / 120)
    )


def test_crop_marks_stand_outside_of_the_bleed_in_line_with_the_trim() -> None:
    laid = proof(0)
    assert laid.trim is not None
    assert laid.bleed is not None
    assert len(laid.crop_marks) == 8
    lines_x = {laid.trim.x, laid.trim.x + laid.trim.width}
    lines_y = {laid.trim.y, laid.trim.y + laid.trim.height}
    for mark in laid.crop_marks:
        if mark.x1 == mark.x2:
            assert mark.x1 in lines_x
            outside = (
                max(mark.y1, mark.y2) < laid.bleed.y
                or min(mark.y1, mark.y2) > laid.bleed.y + laid.bleed.height
            )
        else:
            assert mark.y1 == mark.y2
            assert mark.y1 in lines_y
            outside = (
                max(mark.x1, mark.x2) < laid.bleed.x
                or min(mark.x1, mark.x2) > laid.bleed.x + laid.bleed.width
            )
        assert outside
        assert min(mark.x1, mark.x2, mark.y1, mark.y2) >= 0


def test_bleed_that_the_sheet_does_not_have_is_drawn_beyond_it() -> None:
    bare = replace(sheet(), boxes=PageBoxes(media=TRIM))
    laid = lay_out(bare, None, (), 10)
    assert laid is not None
    assert laid.bleed is not None
    assert laid.bleed.x < laid.sheet.x
    assert laid.bleed.width / laid.sheet.width == pytest.approx(120 / 100)


def test_a_declared_bleed_is_drawn_where_none_is_wanted() -> None:
    declared = replace(sheet(), boxes=PageBoxes(media=SHEET, bleed=TRIM.grown(5)))
    laid = lay_out(declared, None, (), 0)
    assert laid is not None
    assert laid.bleed_declared
    assert laid.bleed is not None
    assert laid.trim is not None
    assert relative(laid.bleed, laid.trim)[2:] == pytest.approx((1.1, 1.05))


def test_numbers_stand_in_the_nearer_margin_and_are_joined_to_their_place() -> None:
    right = Box(100, 100, 108, 108)
    laid = proof(0, note(TOP_LEFT, number=1), note(right, number=2))
    first, second = laid.places
    assert first.x < laid.sheet.x
    assert second.x > laid.sheet.x + laid.sheet.width
    for place in laid.places:
        line = place.leader
        assert line is not None
        frame = place.frames[0]
        assert frame.x <= line.x2 <= frame.x + frame.width
        assert frame.y <= line.y2 <= frame.y + frame.height
        assert (line.x1 - place.x) ** 2 + (line.y1 - place.y) ** 2 == pytest.approx(BADGE_RADIUS**2)


def test_numbers_never_cover_each_other_while_there_is_room() -> None:
    same_place = [note(TOP_LEFT, number=number) for number in range(1, 13)]
    heights = sorted(place.y for place in proof(0, *same_place).places)
    assert all(low + 2 * BADGE_RADIUS <= high for low, high in pairwise(heights))


def test_numbers_with_room_stand_level_with_their_places() -> None:
    far_apart = [
        note(Box(10, y, 20, y + 10), number=number) for number, y in enumerate((190, 120, 50), start=1)
    ]
    for place in proof(0, *far_apart).places:
        frame = place.frames[0]
        assert place.y == pytest.approx(frame.y + frame.height / 2)


def test_crowded_numbers_gather_about_the_middle_of_their_places() -> None:
    middle = Box(10, 105, 20, 115)
    laid = proof(0, *(note(middle, number=number) for number in range(1, 6)))
    heights = [place.y for place in laid.places]
    assert sum(heights) / len(heights) == pytest.approx(laid.height / 2)


def test_a_hundred_numbers_stay_on_the_proof() -> None:
    laid = proof(0, *(note(TOP_LEFT, number=number) for number in range(1, 101)))
    assert all(0 < place.y < laid.height for place in laid.places)


def test_many_places_of_one_note_are_framed_and_not_numbered() -> None:
    boxes = [Box(10, y, 20, y + 1) for y in range(10, 200)]
    (place,) = proof(0, note(*boxes)).places
    assert len(place.frames) == 80
    assert place.echoes == ()


def test_two_places_of_one_note_are_numbered_and_the_nearer_one_is_joined() -> None:
    (place,) = proof(0, note(Box(10, 100, 12, 108), Box(100, 100, 108, 108))).places
    near, far = sorted(place.frames, key=lambda frame: abs(frame.x - place.x))
    assert place.leader is not None
    assert near.x <= place.leader.x2 <= near.x + near.width
    assert place.echoes == ((far.x, far.y),)


def test_places_off_the_sheet_and_hairlines_can_still_be_seen() -> None:
    laid = proof(0, note(Box(-500, -500, -400, -400)), note(Box(50, 50, 60, 50), number=2))
    for place in laid.places:
        (frame,) = place.frames
        assert frame.width > 5
        assert frame.height > 5
        assert 0 < frame.x < laid.width
        assert 0 < frame.y < laid.height


def test_a_note_on_the_whole_page_has_a_number_and_no_frame() -> None:
    (place,) = proof(0, note()).places
    assert place.frames == ()
    assert place.leader is None


def test_a_raster_page_without_a_size_shows_its_picture_only() -> None:
    nothing = Unmeasured("size", "not known")
    unsized = replace(sheet(trim=nothing), boxes=PageBoxes(media=None))
    picture = PagePicture(1, b"", "image/png", 300, 200, None)
    laid = lay_out(unsized, picture, (), 10)
    assert laid is not None
    assert (laid.trim, laid.bleed, laid.crop_marks) == (None, None, ())
    assert laid.sheet.width / laid.sheet.height == pytest.approx(1.5)
    assert lay_out(unsized, None, (), 10) is None


@pytest.mark.parametrize(
    ("rotate", "words"),
    [
        (0, "1 mm from the left, 2 mm from the top, 30 mm wide, 4 mm high"),
        (90, "204 mm from the left, 1 mm from the top, 4 mm wide, 30 mm high"),
        (180, "117 mm from the left, 204 mm from the top, 30 mm wide, 4 mm high"),
        (270, "2 mm from the left, 117 mm from the top, 4 mm wide, 30 mm high"),
    ],
)
def test_places_in_words_are_told_as_the_page_is_seen(rotate: int, words: str) -> None:
    # The trim is 148 x 210 mm from 3, 3; the place ends 2 mm below its top.
    assert note_places(note(mm_box(4, 207, 34, 211)), page(1, rotate=rotate)) == words


def test_places_beyond_the_trim_in_words() -> None:
    words = note_places(note(mm_box(0, 213, 151, 216)), page(1))
    assert words == "3 mm beyond the left edge, 3 mm beyond the top edge, 151 mm wide, 3 mm high"
