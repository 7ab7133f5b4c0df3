# Registration colour in the artwork, and printer's marks that reach into the bleed.
from dataclasses import replace

import pytest

from hotfolder.checks.colour import registration_colour
from hotfolder.checks.colour.registration_colour import RegistrationColourSettings
from hotfolder.checks.size import printers_marks
from hotfolder.checks.size.printers_marks import PrintersMarksSettings
from hotfolder.model.colour import Colour
from hotfolder.model.facts import Unmeasured
from hotfolder.model.findings import Severity
from hotfolder.model.marks import MarkKind, MarkState
from hotfolder.model.pages import Trim, TrimOrigin
from hotfolder.units import parse_size
from tests.artwork.colours import ALL_PLATES, BLACK, BLUE, CMYK_BLACK, FOUR_FULL, RICH_BLACK
from tests.artwork.files import artwork, unreadable
from tests.artwork.flyer import Flyer, flyer
from tests.artwork.pictures import placed, raster, unplaced
from tests.checks.said import codes, mm, the_only, unjudged

PLAIN = RegistrationColourSettings()
CLEAR = PrintersMarksSettings()


def on_sheet() -> Flyer:
    """A flyer of 148 x 210 mm with 3 mm of bleed on a sheet with 20 mm around it."""
    piece = flyer()
    return piece.with_boxes(replace(piece.boxes, media=piece.trim_box.grown(57)))


def registration(piece: Flyer) -> list[str]:
    return codes(registration_colour.check(piece.artwork(), PLAIN))


def marks(piece: Flyer, settings: PrintersMarksSettings = CLEAR) -> list[str]:
    return codes(printers_marks.check(piece.artwork(), settings))


@pytest.mark.parametrize(("colour", "code"), [(ALL_PLATES, "all-plates"), (FOUR_FULL, "four-full-inks")])
def test_artwork_on_every_plate_must_be_fixed(colour: Colour, code: str) -> None:
    finding = the_only(registration_colour.check(flyer().with_text((20, 50), colour=colour).artwork(), PLAIN))
    assert (finding.code, finding.severity, finding.page, len(finding.boxes)) == (
        code,
        Severity.MUST_FIX,
        1,
        1,
    )
    over_bleed = flyer().with_area(-3, 20, 10, 40, colour=colour)
    assert registration(over_bleed) == [code]


def test_one_cause_on_two_pages_is_one_finding() -> None:
    page = flyer().with_text((20, 50), colour=ALL_PLATES).page()
    finding = the_only(registration_colour.check(artwork(page, page), PLAIN))
    assert [place.page for place in finding.places] == [1, 2]


@pytest.mark.parametrize("colour", [BLACK, RICH_BLACK, CMYK_BLACK, Colour(ALL_PLATES.space, (0.0,))])
def test_other_blacks_and_no_ink_are_not_flagged(colour: Colour) -> None:
    assert registration(flyer().with_text((20, 50), colour=colour)) == []


def test_marks_outside_the_page_are_not_flagged() -> None:
    sheet = on_sheet()
    assert registration(sheet.with_outline(-12, 0, -5, 0, 0.1, ALL_PLATES)) == []
    assert registration(sheet.with_outline(-2.5, 0, -1, 0, 0.1, ALL_PLATES)) == []  # in the bleed: below
    all_at_once = sheet.with_outline(-12, -12, 160, 222, 0.1, ALL_PLATES)
    assert registration(all_at_once) == []
    solid = sheet.with_area(-12, -12, 160, 222, colour=ALL_PLATES)
    assert registration(solid) == ["all-plates"]


def test_hidden_marks_and_pictures_are_not_flagged() -> None:
    assert registration(flyer().with_text((20, 50), colour=ALL_PLATES, printed=False)) == []
    assert registration(flyer().with_image((20, 50, 60, 90), (400, 400))) == []


def test_without_a_trim_all_of_the_sheet_counts() -> None:
    piece = on_sheet().with_trim(Unmeasured("trim", "no trim box"))
    assert registration(piece.with_outline(-12, 0, -5, 0, 0.1, ALL_PLATES)) == ["all-plates"]


# Printer's marks


@pytest.mark.parametrize(
    "line",
    [(-10, 0, -1, 0), (149, 210, 158, 210), (0, -10, 0, -1), (148, 211, 148, 220)],
    ids=["bottom left", "top right", "left below", "right above"],
)
@pytest.mark.parametrize("colour", [ALL_PLATES, CMYK_BLACK], ids=["all plates", "black"])
def test_a_crop_mark_in_the_bleed_is_advice(line: tuple[float, float, float, float], colour: Colour) -> None:
    finding = the_only(printers_marks.check(on_sheet().with_outline(*line, 0.1, colour).artwork(), CLEAR))
    assert (finding.code, finding.severity, len(finding.boxes)) == ("in-bleed", Severity.ADVICE, 1)
    assert finding.required == mm(3)
    assert finding.measured == mm(0.95)  # 1 mm less half the line's width


def test_marks_in_registration_colour_count_wherever_they_stand_in_the_bleed() -> None:
    target = on_sheet().with_area(-2.5, 100, -1, 102, colour=ALL_PLATES)
    assert marks(target) == ["in-bleed"]
    patch = on_sheet().with_area(-2.5, 100, -1, 102, colour=BLUE)
    assert marks(patch) == []


def test_without_a_bleed_box_the_named_bleed_is_kept_clear() -> None:
    piece = on_sheet()
    boxless = piece.with_boxes(replace(piece.boxes, bleed=None))
    drawn = boxless.with_outline(-10, 0, -2, 0, 0.1, ALL_PLATES)
    assert marks(drawn) == ["in-bleed"]
    assert marks(drawn, PrintersMarksSettings.model_validate({"bleed": "2 mm"})) == []


# What is not flagged


def test_marks_clear_of_the_bleed_and_the_artworks_own_lines_are_fine() -> None:
    sheet = on_sheet()
    assert marks(sheet.with_outline(-10, 0, -3, 0, 0.1, ALL_PLATES)) == []
    assert marks(sheet.with_outline(-10, 0, -2.9, 0, 0.1, ALL_PLATES)) == []  # rounding
    assert marks(sheet.with_outline(-3, 50, 151, 50, 0.1)) == []  # a line over the whole page
    assert marks(sheet.with_outline(-3, 50, -1, 50, 0.1)) == []  # black, and pointing at no corner
    assert marks(sheet.with_outline(-10, 0, -1, 0, 2)) == []  # too thick for a crop mark
    assert marks(sheet.with_outline(-10, 0, -1, 0, 0.1, ALL_PLATES, printed=False)) == []
    assert marks(on_sheet()) == []


def test_a_page_without_a_trim_and_a_picture() -> None:
    unknown = on_sheet().with_trim(Unmeasured("trim", "no trim box"))
    assert len(unjudged(printers_marks.check(unknown.artwork(), CLEAR))) == 1
    assert codes(printers_marks.check(placed(raster((1819, 2551)), parse_size("A5"), 3), CLEAR)) == []
    inferred = on_sheet().with_trim(Trim(flyer().trim_box, TrimOrigin.INFERRED))
    assert marks(inferred.with_outline(-10, 0, -1, 0, 0.1)) == ["in-bleed"]


def test_what_could_not_be_read_is_not_judged() -> None:
    assert [item.severity for item in unjudged(registration_colour.check(unreadable(), PLAIN))] == [
        Severity.MUST_FIX
    ]
    assert [item.severity for item in unjudged(printers_marks.check(unreadable(), CLEAR))] == [
        Severity.ADVICE
    ]


def test_a_picture_file_of_unknown_size_is_no_question_for_these_rules() -> None:
    piece = unplaced(raster((1819, 2551)), "no size")
    assert codes(registration_colour.check(piece, PLAIN)) == []
    assert codes(printers_marks.check(piece, CLEAR)) == []


@pytest.mark.parametrize("kind", [MarkKind.IMAGE, MarkKind.SHADING, MarkKind.PATH])
def test_a_picture_or_a_gradient_in_registration_colour_counts(kind: MarkKind) -> None:
    """It has no one colour: its space is what says that it is on every plate."""
    (mark,) = flyer().with_area(20, 20, 60, 50, colour=Colour(ALL_PLATES.space)).marks
    assert registration(flyer().with_mark(replace(mark, kind=kind))) == ["all-plates"]
    assert registration(flyer().with_mark(replace(mark, kind=kind, white=True))) == []
    clear = MarkState(fill_opacity=0.0)
    assert registration(flyer().with_mark(replace(mark, kind=kind, state=clear))) == []
