# Spot colours: how many, which, and one ink under two names.
from dataclasses import replace

import pytest

from hotfolder.checks.colour.spot_colours import SpotColoursSettings, check
from hotfolder.model.artwork import Artwork
from hotfolder.model.colour import Colour, ColourKind, ColourSpace
from hotfolder.model.findings import Quantity, Severity
from tests.artwork.colours import ALL_PLATES, DEVICE_CMYK, LAB, NO_PLATE, spot
from tests.artwork.files import artwork, unreadable
from tests.artwork.flyer import Flyer, flyer
from tests.artwork.pictures import raster, unplaced
from tests.checks.said import codes, figures, findings, the_only, unjudged

NONE = SpotColoursSettings()
ONE = SpotColoursSettings(allowed=1)
GREEN = SpotColoursSettings(allowed=("Leaf Green",))


def inked(*names: str) -> Flyer:
    piece = flyer()
    for step, name in enumerate(names):
        piece = piece.with_area(10, 10 + 20 * step, 30, 25 + 20 * step, colour=spot(name))
    return piece


def test_no_spot_colour_and_as_many_as_agreed_pass() -> None:
    assert codes(check(flyer().with_background().artwork(), NONE)) == []
    assert codes(check(inked("Leaf Green").artwork(), ONE)) == []
    assert codes(check(inked("leaf  green").artwork(), GREEN)) == []


def test_one_too_many_must_be_fixed() -> None:
    finding = the_only(check(inked("Leaf Green", "Sky Blue").artwork(), ONE))
    assert (finding.code, finding.severity, finding.page, len(finding.boxes)) == (
        "too-many",
        Severity.MUST_FIX,
        1,
        2,
    )
    assert figures(finding) == (Quantity.of(2, unit="spot colours"), Quantity.of(1, unit="spot colours"))


def test_an_ink_on_many_pages_counts_once() -> None:
    page = inked("Leaf Green").page()
    assert codes(check(artwork(page, page, page), ONE)) == []


def test_an_ink_that_is_not_agreed_is_named_with_its_pages() -> None:
    finding = the_only(check(artwork(flyer().page(), inked("Sky Blue").page()), GREEN))
    assert (finding.code, finding.page, finding.measured) == ("not-agreed", 2, "Sky Blue")
    assert finding.message.startswith("Page 2, ")


def test_inks_of_one_colour_are_counted_each() -> None:
    piece = flyer().with_area(10, 10, 30, 30, colour=spot("Leaf Green", "Sky Blue"))
    assert the_only(check(piece.artwork(), NONE)).measured == Quantity.of(2, unit="spot colours")


@pytest.mark.parametrize(
    "pair",
    [
        ("Leaf Green", "leaf green"),
        ("Leaf Green", "LeafGreen"),
        ("Leaf Green C", "Leaf Green U"),
        ("Leaf Green", "Leaf Green CVC"),
    ],
)
def test_one_ink_under_two_names_is_advice(pair: tuple[str, str]) -> None:
    finding = the_only(check(inked(*pair).artwork(), SpotColoursSettings(allowed=2)))
    assert (finding.code, finding.severity) == ("alike", Severity.ADVICE)


def test_different_inks_are_not_alike() -> None:
    assert codes(check(inked("Leaf Green", "Leaf Greens").artwork(), SpotColoursSettings(allowed=2))) == []


@pytest.mark.parametrize("name", ["CYAN", "Process Magenta", "black", "K", "Yellow 100%"])
def test_a_process_ink_under_a_name_of_its_own_must_be_fixed(name: str) -> None:
    finding = the_only(check(inked(name).artwork(), NONE))
    assert (finding.code, finding.severity) == ("process-ink", Severity.MUST_FIX)
    agreed = SpotColoursSettings(allowed=(name,))
    assert codes(check(inked(name).artwork(), agreed)) == []


@pytest.mark.parametrize("name", ["Black Pearl", "Cyanide", "Yellow 012", "M 21"])
def test_names_that_hold_the_word_for_a_process_ink_are_spot_colours(name: str) -> None:
    assert codes(check(inked(name).artwork(), ONE)) == []


def described(name: str, space: ColourSpace, *full_tint: float) -> Colour:
    separation = ColourSpace("Separation", ColourKind.SPOT, 1, (name,), space, full_tint=full_tint)
    return Colour(separation, (1.0,))


def both(one: Colour, other: Colour) -> Artwork:
    return flyer().with_area(10, 10, 30, 30, colour=one).with_area(40, 40, 60, 60, colour=other).artwork()


def test_one_ink_that_is_described_in_two_ways_is_advice() -> None:
    green = described("Leaf Green", DEVICE_CMYK, 0.8, 0, 1, 0), described("Leaf Green", LAB, 52, -40, 38)
    finding = the_only(check(both(*green), ONE))
    assert (finding.code, finding.severity, finding.measured) == (
        "two-looks",
        Severity.ADVICE,
        "CMYK and Lab",
    )
    assert len(finding.boxes) == 2


def test_one_ink_of_two_colours_is_advice() -> None:
    green = (
        described("Leaf Green", DEVICE_CMYK, 0.8, 0, 1, 0),
        described("Leaf Green", DEVICE_CMYK, 0.6, 0, 1, 0.1),
    )
    finding = the_only(check(both(*green), ONE))
    assert (finding.code, finding.severity, len(finding.boxes)) == ("two-looks", Severity.ADVICE, 2)
    assert finding.measured == "CMYK 80 % / 0 % / 100 % / 0 % and CMYK 60 % / 0 % / 100 % / 10 %"


# What is not flagged


@pytest.mark.parametrize(
    ("space", "one", "other"),
    [
        (DEVICE_CMYK, (0.8, 0, 1, 0), (0.8, 0, 1, 0)),
        (DEVICE_CMYK, (0.8, 0, 1, 0), (0.804, 0, 0.996, 0)),  # rounded to a 255th
        (LAB, (52, -40, 38), (52.4, -40.3, 38)),
        (DEVICE_CMYK, (0.8, 0, 1, 0), ()),  # nothing is known of the other
    ],
)
def test_one_ink_of_one_colour_give_or_take_the_rounding(
    space: ColourSpace, one: tuple[float, ...], other: tuple[float, ...]
) -> None:
    assert codes(check(both(described("Moss", space, *one), described("Moss", space, *other)), ONE)) == []


def test_an_ink_in_combination_with_others_may_look_otherwise() -> None:
    mixed = Colour(ColourSpace("DeviceN", ColourKind.SPOT, 2, ("Black", "Leaf Green"), LAB), (1.0, 1.0))
    piece = flyer().with_area(10, 10, 30, 30, colour=spot("Leaf Green"))
    assert codes(check(piece.with_area(40, 40, 60, 60, colour=mixed).artwork(), ONE)) == []


def test_a_palette_of_tints_is_the_ink_that_it_is_made_of() -> None:
    green = spot("Leaf Green").space
    palette = Colour(ColourSpace("Indexed", ColourKind.SPOT, 1, green.inks, green))
    piece = flyer().with_area(10, 10, 30, 30, colour=spot("Leaf Green"))
    assert codes(check(piece.with_image((40, 40, 60, 60), (400, 400), fill=palette).artwork(), ONE)) == []


def test_technical_inks_do_not_count() -> None:
    technical = SpotColoursSettings(technical=("Cut", "Crease"))
    assert codes(check(inked("CUT", "crease").artwork(), technical)) == []
    assert codes(check(inked("Varnish").artwork(), technical)) == ["too-many"]


def test_process_inks_by_name_are_no_spot_colours() -> None:
    # A DeviceN of process inks alone is CMYK; beside a spot colour they still are no spot colours.
    mixed = Colour(
        ColourSpace("DeviceN", ColourKind.SPOT, 2, ("Black", "Leaf Green"), DEVICE_CMYK), (1.0, 1.0)
    )
    assert codes(check(flyer().with_area(1, 1, 9, 9, colour=mixed).artwork(), ONE)) == []


@pytest.mark.parametrize("colour", [ALL_PLATES, Colour(NO_PLATE, (1.0,))])
def test_every_plate_and_no_plate_are_no_spot_colours(colour: Colour) -> None:
    assert codes(check(flyer().with_area(1, 1, 9, 9, colour=colour).artwork(), NONE)) == []


def test_hidden_and_outside_marks_do_not_count() -> None:
    hidden = flyer().with_area(1, 1, 9, 9, colour=spot("Sky Blue"), printed=False)
    assert codes(check(hidden.artwork(), NONE)) == []
    piece = flyer()
    roomy = piece.with_boxes(replace(piece.boxes, media=piece.trim_box.grown(60)))
    assert codes(check(roomy.with_area(0, -15, 9, -8, colour=spot("Sky Blue")).artwork(), NONE)) == []


def test_the_inks_of_a_picture_are_known_without_its_size() -> None:
    assert codes(check(unplaced(raster((1819, 2551)), "no size"), NONE)) == []
    duotone = raster((1819, 2551), colour=spot("Leaf Green").space)
    assert codes(check(unplaced(duotone, "no size"), NONE)) == ["too-many"]


def test_what_could_not_be_read_is_not_judged() -> None:
    pieces: list[Artwork] = [unreadable(), flyer().unreadable().artwork()]
    assert [len(unjudged(check(piece, NONE))) for piece in pieces] == [1, 1]


def test_findings_stay_beside_what_is_not_judged() -> None:
    said = list(check(artwork(inked("Sky Blue").page(), flyer().unreadable().page()), NONE))
    assert [item.code for item in findings(said[:1])] == ["too-many"]
    assert [item.page for item in unjudged(said[1:])] == [2]
