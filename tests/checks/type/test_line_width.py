# Line width: by number of inks, reversed out, of width 0, and lines drawn as filled shapes.
from dataclasses import replace

import pytest

from hotfolder.checks.type.line_width import LineWidthSettings, check
from hotfolder.model.colour import PROCESS_INKS, Colour
from hotfolder.model.findings import Quantity, Severity
from hotfolder.model.marks import MarkState
from hotfolder.units import LengthUnit, parse_length, pt_to_mm
from tests.artwork.colours import BLACK, BLUE, CMYK_WHITE, RICH_BLACK, SCREEN_BLACK, SCREEN_RED, cmyk
from tests.artwork.files import artwork, unreadable
from tests.artwork.flyer import Flyer, flyer
from tests.artwork.pictures import raster, unplaced
from tests.checks.said import codes, figures, findings, the_only, unjudged

# 0.25 pt in one ink: an advertisement specification; 0.5 pt in several and left blank: from memory.
WANTED = LineWidthSettings(
    one_ink=parse_length("0.25 pt"), several_inks=parse_length("0.5 pt"), reversed=parse_length("0.5 pt")
)


def ruled(width_pt: float, colour: Colour = BLACK, piece: Flyer | None = None) -> Flyer:
    """A horizontal line of this effective width."""
    return (piece or flyer()).with_outline(20, 50, 80, 50, pt_to_mm(width_pt), colour)


@pytest.mark.parametrize(
    ("width_pt", "colour", "expected"),
    [
        (0.25, BLACK, []), (0.249, BLACK, []), (0.24, BLACK, ["thin"]), (0.1, BLACK, ["thin"]),
        (0.3, RICH_BLACK, ["thin-in-inks"]), (0.5, RICH_BLACK, []), (0.3, BLUE, ["thin-in-inks"]),
        (0.3, cmyk(0, 100, 0, 0), []), (0.3, SCREEN_RED, ["thin-in-inks"]), (0.3, SCREEN_BLACK, []),
        (0.0, BLACK, ["hairline"]), (0.0, BLUE, ["hairline"]),
    ],
)  # fmt: skip
def test_the_least_width_follows_from_the_inks(width_pt: float, colour: Colour, expected: list[str]) -> None:
    assert codes(check(ruled(width_pt, colour).artwork(), WANTED)) == expected


def test_thin_lines_are_advice_and_hairlines_must_be_fixed() -> None:
    finding = the_only(check(ruled(0.1).artwork(), WANTED))
    assert (finding.severity, *figures(finding)) == (
        Severity.ADVICE,
        Quantity.of(0.1, unit="pt"),
        Quantity.of(0.25, unit="pt"),
    )
    assert the_only(check(ruled(0).artwork(), WANTED)).severity is Severity.MUST_FIX


def test_forty_thin_lines_are_one_finding_with_forty_places() -> None:
    piece = flyer()
    for step in range(40):
        piece = piece.with_outline(20, 10 + 4 * step, 80, 10 + 4 * step, pt_to_mm(0.2 - step / 1000))
    finding = the_only(check(artwork(piece.page(), piece.page()), WANTED))
    assert [(place.page, len(place.boxes)) for place in finding.places] == [(1, 40), (2, 40)]
    assert finding.measured == Quantity.of(0.16, unit="pt")  # the thinnest: 0.2 - 0.039
    assert "80 lines" in finding.message


def test_white_lines_count_where_they_are_left_blank_in_a_colour() -> None:
    ground = flyer().with_background()
    finding = the_only(check(ruled(0.3, CMYK_WHITE, ground).artwork(), WANTED))
    assert (finding.code, finding.severity) == ("thin-reversed", Severity.ADVICE)
    assert codes(check(ruled(0.5, CMYK_WHITE, ground).artwork(), WANTED)) == []


def test_a_line_drawn_as_a_filled_shape_is_a_line() -> None:
    thin = pt_to_mm(0.1)
    for area in ((20, 50, 80, 50 + thin), (20, 50, 20 + thin, 90)):
        assert codes(check(flyer().with_area(*area, colour=BLACK).artwork(), WANTED)) == ["thin"]
    assert codes(check(flyer().with_area(20, 50, 80, 50, colour=BLACK).artwork(), WANTED)) == ["hairline"]


def test_a_frame_around_bare_paper_is_a_line() -> None:
    piece = flyer().with_area(20, 50, 80, 90, colour=CMYK_WHITE)
    framed = replace(piece.marks[0], stroke=BLACK, line_width_pt=0.1)
    assert codes(check(piece.with_marks(framed).artwork(), WANTED)) == ["thin"]


def test_where_only_one_figure_is_named_it_counts_for_all() -> None:
    only = LineWidthSettings(one_ink=parse_length("0.25 pt"))
    assert codes(check(ruled(0.3, RICH_BLACK).artwork(), only)) == []
    assert codes(check(ruled(0.2, RICH_BLACK).artwork(), only)) == ["thin-in-inks"]


def test_figures_are_told_in_the_unit_of_the_rule_set() -> None:
    finding = the_only(check(ruled(0.1).artwork(), LineWidthSettings(one_ink=parse_length("0.1 mm"))))
    # 0.1 pt are 0.035 mm.
    assert figures(finding) == (Quantity.of(0.04, unit=LengthUnit.MM), Quantity.of(0.1, unit=LengthUnit.MM))


# With what the plates know of lines that overprint or are transparent


def carried_by(*inks: str, width_pt: float = 0.3, colour: Colour = BLACK) -> Flyer:
    """A line that mixes with what lies beneath, whose plates are known."""
    piece = ruled(width_pt, colour)
    return piece.with_marks(replace(piece.marks[0], inks=inks, state=MarkState(stroke_opacity=0.5)))


@pytest.mark.parametrize(
    ("inks", "colour", "expected"),
    [
        (("Black",), BLACK, []), (("Cyan", "Black"), BLACK, ["thin-in-inks"]),
        (("Cyan",), BLUE, []), (("Cyan", "Magenta"), BLUE, ["thin-in-inks"]),
        (("Black",), RICH_BLACK, []), (PROCESS_INKS, RICH_BLACK, ["thin-in-inks"]),
        (PROCESS_INKS, SCREEN_BLACK, []),  # the greys of screen colours count as one ink
        (("Cyan",), CMYK_WHITE, ["thin-reversed"]), (("Cyan", "Magenta"), CMYK_WHITE, ["thin-reversed"]),
    ],
)  # fmt: skip
def test_the_plates_tell_how_many_inks_a_mixed_line_has(
    inks: tuple[str, ...], colour: Colour, expected: list[str]
) -> None:
    assert codes(check(carried_by(*inks, colour=colour).artwork(), WANTED)) == expected


def test_a_white_line_in_several_inks_has_the_larger_width_of_both() -> None:
    wider = WANTED.model_copy(update={"several_inks": parse_length("0.7 pt")})
    white = carried_by("Cyan", "Magenta", colour=CMYK_WHITE, width_pt=0.6)
    finding = the_only(check(white.artwork(), wider))
    assert (finding.code, finding.required) == ("thin-in-inks", Quantity.of(0.7, unit="pt"))


def test_a_hairline_stays_one_whatever_its_plates() -> None:
    for inks in (("Black",), ("Cyan", "Black")):
        assert codes(check(carried_by(*inks, width_pt=0).artwork(), WANTED)) == ["hairline"]


def test_a_strip_that_is_filled_has_the_inks_of_its_plates() -> None:
    piece = flyer().with_area(20, 50, 80, 50 + pt_to_mm(0.3), colour=BLACK)
    spread = replace(piece.marks[0], inks=("Cyan", "Black"), state=MarkState(fill_opacity=0.5))
    assert codes(check(piece.artwork(), WANTED)) == []
    assert codes(check(piece.with_marks(spread).artwork(), WANTED)) == ["thin-in-inks"]


def test_the_message_says_that_mixing_makes_it_several_inks() -> None:
    mixed = carried_by("Cyan", "Black")
    assert "This comes from transparency or overprint. " in the_only(check(mixed.artwork(), WANTED)).message
    both = ruled(0.3, BLUE, mixed)
    assert (
        "This comes from transparency or overprint for 1 of them. "
        in the_only(check(both.artwork(), WANTED)).message
    )
    for piece in (ruled(0.3, BLUE), carried_by("Cyan", "Magenta", colour=BLUE)):
        finding = the_only(check(piece.artwork(), WANTED))
        assert "makes it so" not in finding.message
        assert "opaque" not in finding.remedy


# What is not flagged


def test_a_white_line_on_bare_paper_prints_nothing() -> None:
    assert codes(check(ruled(0.1, CMYK_WHITE).artwork(), WANTED)) == []
    on_white = flyer().with_background().with_area(0, 0, 148, 210, colour=CMYK_WHITE, white=True)
    assert codes(check(ruled(0.1, CMYK_WHITE, on_white).artwork(), WANTED)) == []


def test_a_thin_outline_of_a_filled_shape_or_of_text_is_no_line() -> None:
    piece = flyer().with_area(20, 50, 80, 90)
    outlined = replace(piece.marks[0], stroke=BLACK, line_width_pt=0.05)
    assert codes(check(piece.with_marks(outlined).artwork(), WANTED)) == []
    bold = flyer().with_text((20, 50), stroke=BLACK, line_width_pt=0.05)
    assert codes(check(bold.artwork(), WANTED)) == []


def test_the_strips_of_a_gradient_and_dots_are_no_lines() -> None:
    thin = pt_to_mm(0.1)
    gradient = flyer()
    for step in range(30):
        gradient = gradient.with_area(20, 50 + step * thin, 80, 50 + (step + 1) * thin, colour=BLACK)
    assert codes(check(gradient.artwork(), WANTED)) == []
    assert codes(check(flyer().with_area(20, 50, 20 + thin, 50 + thin).artwork(), WANTED)) == []


@pytest.mark.parametrize(
    "changes",
    [{"printed": False}, {"visible": None}, {"covered": True}, {"state": MarkState(stroke_opacity=0)}],
)
def test_what_does_not_show_is_not_flagged(changes: dict[str, object]) -> None:
    piece = flyer().with_outline(20, 50, 80, 50, 0, BLACK, **changes)
    assert codes(check(piece.artwork(), WANTED)) == []


def test_lines_outside_trim_and_bleed_are_not_flagged() -> None:
    piece = flyer()
    roomy = piece.with_boxes(replace(piece.boxes, media=piece.trim_box.grown(60)))
    assert codes(check(roomy.with_outline(0, -15, 9, -15, 0).artwork(), WANTED)) == []


def test_what_could_not_be_read_is_not_judged() -> None:
    assert [item.severity for item in unjudged(check(unreadable(), WANTED))] == [Severity.MUST_FIX]
    said = list(check(artwork(ruled(0).page(), flyer().unreadable().page()), WANTED))
    assert [item.code for item in findings(said[:1])] == ["hairline"]
    assert [item.page for item in unjudged(said[1:])] == [2]


def test_a_picture_file_of_unknown_size_is_no_question_for_this_rule() -> None:
    assert codes(check(unplaced(raster((1819, 2551)), "no size"), WANTED)) == []


# Slanting shapes, and letters drawn by their outline


def test_a_slanting_shape_is_as_wide_as_it_is_across() -> None:
    (mark,) = flyer().with_area(20, 20, 60, 50, colour=BLACK).marks
    for width, wanted in ((0.1, ["thin"]), (0.3, [])):
        piece = flyer().with_mark(replace(mark, sliver_pt=width))
        assert codes(check(piece.artwork(), WANTED)) == wanted


def test_slanting_strips_laid_side_by_side_are_a_gradient() -> None:
    """At 45 degrees, each moved by its width."""
    piece = flyer()
    for number in range(10):
        along = number * 0.2 / 72 * 25.4 / 2**0.5
        (mark,) = flyer().with_area(20 + along, 20 - along, 50 + along, 50 - along, colour=BLACK).marks
        piece = piece.with_mark(replace(mark, sliver_pt=0.2))
    assert codes(check(piece.artwork(), WANTED)) == []


def test_crossing_slanting_lines_are_lines() -> None:
    piece = flyer()
    for _ in range(2):
        (mark,) = flyer().with_area(20, 20, 50, 50, colour=BLACK).marks
        piece = piece.with_mark(replace(mark, sliver_pt=0.2))
    assert len(the_only(check(piece.artwork(), WANTED)).boxes) == 1  # in one place


@pytest.mark.parametrize(("width", "wanted"), [(0.0, ["hairline"]), (0.1, ["thin"]), (0.5, [])])
def test_letters_drawn_by_their_outline_alone_are_lines(width: float, wanted: list[str]) -> None:
    piece = flyer().with_text((20, 20), fill=None, stroke=BLACK, line_width_pt=width)
    assert codes(check(piece.artwork(), WANTED)) == wanted


# Lines drawn as areas that are bent or go around something


def _ring(inset_mm: float, width_pt: float, colour: Colour = BLACK, piece: Flyer | None = None) -> Flyer:
    """A frame filled as a ring."""
    (mark,) = (
        flyer().with_area(20 + inset_mm, 20 + inset_mm, 60 - inset_mm, 50 - inset_mm, colour=colour).marks
    )
    ring = replace(mark, sliver_pt=width_pt, hollow=mark.box.grown(-width_pt))
    return (piece or flyer()).with_mark(ring)


@pytest.mark.parametrize(("width", "wanted"), [(0.1, ["thin"]), (0.3, [])])
def test_a_frame_filled_as_a_ring_is_a_line(width: float, wanted: list[str]) -> None:
    assert codes(check(_ring(0, width).artwork(), WANTED)) == wanted


def test_frames_within_one_another_without_a_gap_are_a_gradient() -> None:
    piece = flyer()
    for step in range(10):
        piece = _ring(pt_to_mm(step * 0.2), 0.2, piece=piece)
    assert codes(check(piece.artwork(), WANTED)) == []


def test_frames_within_one_another_with_gaps_are_lines() -> None:
    piece = flyer()
    for step in range(4):
        piece = _ring(pt_to_mm(step * 2), 0.2, piece=piece)
    assert len(the_only(check(piece.artwork(), WANTED)).boxes) == 4


@pytest.mark.parametrize(
    ("width", "sides", "counts"), [(0.4, 10, []), (0.2, 10, 1), (0.4, 4, 1), (0.3, 10, 1)]
)
def test_a_tick_is_a_line_only_where_it_is_thinner_than_any(width: float, sides: int, counts: object) -> None:
    """4 pt across, in two inks, which ask for half a point of lines."""
    (mark,) = flyer().with_area(20, 20, 21, 21, colour=BLUE).marks
    piece = flyer().with_mark(replace(mark, sliver_pt=width, sides=sides))
    assert codes(check(piece.artwork(), WANTED)) == (["thin-in-inks"] if counts else [])


@pytest.mark.parametrize(("width", "wanted"), [(0.2, ["thin"]), (0.4, [])])
def test_letters_in_outlines_are_lines_only_where_they_are_thinner_than_any(
    width: float, wanted: list[str]
) -> None:
    """In two inks, which ask for half a point of lines."""
    piece, at = flyer(), 20.0
    for wide, high in zip((1.4, 1.0, 1.5, 1.1, 1.6, 1.2, 1.4, 1.3), (1.5, 2.1) * 4, strict=True):
        (mark,) = flyer().with_area(at, 20, at + wide, 20 + high, colour=BLUE).marks
        piece = piece.with_mark(replace(mark, sliver_pt=width))
        at += wide + 0.3
    expected = ["thin-in-inks"] if wanted else []
    assert codes(check(piece.artwork(), WANTED)) == expected
