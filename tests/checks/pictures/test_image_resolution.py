# Image resolution: floor and wanted, pictures and line art, and what has no resolution to lack.
from dataclasses import replace

import pytest
from pydantic import ValidationError

from hotfolder.checks.pictures.image_resolution import ImageResolutionSettings, check
from hotfolder.model.findings import Quantity, Severity
from hotfolder.model.marks import ImageFacts, Masking
from hotfolder.units import mm_to_pt, parse_size
from tests.artwork.colours import DEVICE_GREY
from tests.artwork.files import artwork, unreadable
from tests.artwork.flyer import Flyer, flyer, image_facts
from tests.artwork.pictures import placed, raster, unplaced
from tests.checks.said import codes, figures, the_only, unjudged

OFFSET = ImageResolutionSettings(wanted=300.0, floor=225.0)
WITH_LINE_ART = ImageResolutionSettings(
    wanted=300.0, floor=225.0, line_art_wanted=1200.0, line_art_floor=800.0
)
ONE_INCH = (10, 10, 35.4, 35.4)  # millimetres


def ppi(value: float) -> Quantity:
    return Quantity.of(value, unit="ppi")


@pytest.mark.parametrize("pixels", [300, 301, 1200])
def test_as_much_as_wanted_and_more_passes(pixels: int) -> None:
    piece = flyer().with_image(ONE_INCH, (pixels, pixels))
    assert codes(check(piece.artwork(), OFFSET)) == []


def test_between_floor_and_wanted_is_advice() -> None:
    finding = the_only(check(flyer().with_image(ONE_INCH, (250, 250)).artwork(), OFFSET))
    assert (finding.code, finding.severity, finding.page) == ("below-wanted", Severity.ADVICE, 1)
    assert figures(finding) == (ppi(250), ppi(300))
    assert len(finding.boxes) == 1


def test_below_the_floor_must_be_fixed() -> None:
    finding = the_only(check(flyer().with_image(ONE_INCH, (96, 300)).artwork(), OFFSET))
    assert (finding.code, finding.severity) == ("below-floor", Severity.MUST_FIX)
    assert figures(finding) == (ppi(96), ppi(225))


def test_a_missing_floor_equals_wanted() -> None:
    # Common practice: a printer that names one figure means it.
    card = ImageResolutionSettings(wanted=400.0)
    finding = the_only(check(flyer().with_image(ONE_INCH, (300, 300)).artwork(), card))
    assert (finding.code, *figures(finding)) == ("below-floor", ppi(300), ppi(400))


def test_pictures_of_a_page_are_one_finding_that_tells_the_worst() -> None:
    piece = flyer().with_image(ONE_INCH, (200, 200)).with_image((40, 40, 65.4, 65.4), (100, 120))
    finding = the_only(check(piece.artwork(), OFFSET))
    assert (finding.measured, len(finding.boxes)) == (ppi(100), 2)


def test_the_same_fault_on_two_pages_is_one_finding() -> None:
    page = flyer().with_image(ONE_INCH, (100, 100)).page()
    finding = the_only(check(artwork(page, page), OFFSET))
    assert [place.page for place in finding.places] == [1, 2]


def test_figures_are_rounded_and_one_that_rounds_to_what_is_wanted_keeps_it() -> None:
    # 2540 mm are 100 in: 29,960 px are 299.6 ppi, and 29,940 are 299.4.
    large = flyer("2540 x 2540 mm")
    assert codes(check(large.with_image((0, 0, 2540, 2540), (29_960, 29_960)).artwork(), OFFSET)) == []
    finding = the_only(check(large.with_image((0, 0, 2540, 2540), (29_940, 29_940)).artwork(), OFFSET))
    assert finding.measured == ppi(299)
    # Of few pixels an inch half a one is much: 9.6 are not 10.
    banner = ImageResolutionSettings(wanted=10.0)
    assert codes(check(large.with_image((0, 0, 2540, 2540), (960, 960)).artwork(), banner)) == ["below-floor"]


@pytest.mark.parametrize(("pixels", "told"), [(299, []), (298, ["below-wanted"])])
def test_a_row_of_pixels_less_is_no_fault(pixels: int, told: list[str]) -> None:
    assert codes(check(flyer().with_image(ONE_INCH, (300, pixels)).artwork(), OFFSET)) == told


def test_a_row_of_few_pixels_is_one() -> None:
    """19 of 20 is a twentieth."""
    small = ImageResolutionSettings(wanted=20.0)
    assert codes(check(flyer().with_image(ONE_INCH, (19, 19)).artwork(), small)) == ["below-floor"]


# Masks: the picture's own pixels count


@pytest.mark.parametrize("pixels", [2, 20, 100])
@pytest.mark.parametrize("masking", [Masking.SOFT, Masking.EXPLICIT])
def test_a_fine_mask_gives_a_coarse_picture_no_detail(pixels: int, masking: Masking) -> None:
    facts = masked((pixels, pixels), masking, 600)
    finding = the_only(check(flyer().with_image(ONE_INCH, (pixels, pixels), facts).artwork(), OFFSET))
    assert (finding.code, finding.measured) == ("below-floor", ppi(pixels))


def test_a_coarse_mask_without_tones_makes_a_fine_picture_coarse() -> None:
    facts = masked((300, 300), Masking.EXPLICIT, 60)
    finding = the_only(check(flyer().with_image(ONE_INCH, (300, 300), facts).artwork(), OFFSET))
    assert (finding.code, finding.measured) == ("below-floor", ppi(60))


def test_a_coarse_soft_mask_is_a_shadow() -> None:
    facts = masked((300, 300), Masking.SOFT, 60)
    assert codes(check(flyer().with_image(ONE_INCH, (300, 300), facts).artwork(), OFFSET)) == []


def test_a_flat_colour_behind_a_fine_mask_has_no_detail_to_lack() -> None:
    facts = replace(masked((2, 2), Masking.SOFT, 600), flat=True)
    assert codes(check(flyer().with_image(ONE_INCH, (2, 2), facts).artwork(), OFFSET)) == []


def masked(px: tuple[int, int], masking: Masking, mask_px: int) -> ImageFacts:
    facts = image_facts(px, ONE_INCH)
    return replace(facts, masking=masking, mask_width_px=mask_px, mask_height_px=mask_px)


# Slices of one picture


def sliced(ppi_of: float, rows: int, count: int, gap_mm: float = 0.0, *, turned: bool = False) -> Flyer:
    """A picture 50 mm wide in so many slices of so many rows each."""
    piece, tall = flyer(), rows / ppi_of * 25.4
    wide = round(50 / 25.4 * ppi_of)
    for number in range(count):
        low = 20 + number * (tall + gap_mm)
        at = (low, 20.0, low + tall, 70.0) if turned else (20.0, low, 70.0, low + tall)
        px = (rows, wide) if turned else (wide, rows)
        piece = piece.with_image(at, px, image_facts(px, at))
    return piece


@pytest.mark.parametrize("turned", [False, True])
def test_slices_that_lie_edge_to_edge_are_one_picture(*, turned: bool) -> None:
    finding = the_only(check(sliced(100, 8, 20, turned=turned).artwork(), OFFSET))
    assert (finding.code, finding.measured, len(finding.boxes)) == ("below-floor", ppi(100), 1)


def test_strips_that_are_cut_once_more_are_one_picture() -> None:
    """Ten columns of ten tiles, 8 pixels each way."""
    piece, side = flyer(), 8 / 100 * 25.4
    for number in range(100):
        left, low = 20 + number % 10 * side, 20 + number // 10 * side
        at = (left, low, left + side, low + side)
        piece = piece.with_image(at, (8, 8), image_facts((8, 8), at))
    finding = the_only(check(piece.artwork(), OFFSET))
    assert (finding.measured, len(finding.boxes)) == (ppi(100), 1)


@pytest.mark.parametrize(
    "piece",
    [
        pytest.param(sliced(300, 8, 20), id="fine slices"),
        pytest.param(sliced(100, 8, 1), id="a single slice"),
        pytest.param(sliced(100, 4, 20, gap_mm=2), id="slices that lie apart"),
        pytest.param(sliced(100, 4, 3), id="fewer rows than a picture has"),
    ],
)
def test_slices_that_make_no_coarse_picture(piece: Flyer) -> None:
    assert codes(check(piece.artwork(), OFFSET)) == []


# Facts of the trade


def test_an_a5_flyer_with_bleed_at_300_ppi_is_1819_by_2551_pixels() -> None:
    # ISO 216: A5 is 148 x 210 mm; with 3 mm each side 154 x 216; 25.4 mm an inch. 1818.9 and 2551.2
    # are rounded to whole pixels, which is why half a pixel is tolerated: 299.98 ppi are 300 there.
    # A row less is no fault either.
    size = parse_size("A5")
    whole = size.grown(mm_to_pt(3))
    assert (round(whole.width / 72 * 300), round(whole.height / 72 * 300)) == (1819, 2551)
    assert codes(check(placed(raster((1819, 2551)), size, 3), OFFSET)) == []
    assert codes(check(placed(raster((1819, 2550)), size, 3), OFFSET)) == []
    assert codes(check(placed(raster((1819, 2540)), size, 3), OFFSET)) == ["below-wanted"]


def test_a_business_card_at_300_ppi_fails_where_400_are_wanted() -> None:
    # 85 x 55 mm with 3 mm each side is 91 x 61 mm (common practice), 1075 x 720 px at 300 ppi.
    card = placed(raster((1075, 720)), parse_size("85 x 55 mm"), 3)
    assert codes(check(card, OFFSET)) == []
    assert codes(check(card, ImageResolutionSettings(wanted=400.0))) == ["below-floor"]


def test_the_flyers_pixels_make_a_poster_where_72_ppi_are_wanted() -> None:
    # 1819 px over 641 mm are 72.08 ppi.
    poster = placed(raster((1819, 2551)), parse_size("641 x 900 mm"), 0)
    assert codes(check(poster, ImageResolutionSettings(wanted=72.0))) == []
    assert codes(check(poster, ImageResolutionSettings(wanted=73.0))) == ["below-floor"]


def test_png_metres_make_300_ppi() -> None:
    # PNG counts pixels a metre: 11811 are 299.9994 ppi (PNG, pHYs).
    piece = flyer("1000 x 1000 mm").with_image((0, 0, 1000, 1000), (11_811, 11_811))
    assert codes(check(piece.artwork(), OFFSET)) == []


# Line art


def line_art(pixels: int) -> Flyer:
    facts = replace(image_facts((pixels, pixels), ONE_INCH), bits=1, colour=DEVICE_GREY)
    return flyer().with_image(ONE_INCH, (pixels, pixels), facts)


def test_line_art_has_figures_of_its_own() -> None:
    assert codes(check(line_art(1200).artwork(), WITH_LINE_ART)) == []
    assert codes(check(line_art(1000).artwork(), WITH_LINE_ART)) == ["line-art-below-wanted"]
    finding = the_only(check(line_art(600).artwork(), WITH_LINE_ART))
    assert (finding.code, *figures(finding)) == ("line-art-below-floor", ppi(600), ppi(800))


def test_line_art_is_judged_as_a_picture_where_no_figure_is_named() -> None:
    assert codes(check(line_art(600).artwork(), OFFSET)) == []
    assert codes(check(line_art(100).artwork(), OFFSET)) == ["below-floor"]


def test_a_stencil_is_line_art() -> None:
    facts = replace(image_facts((600, 600), ONE_INCH), bits=1, colour=None, masking=Masking.STENCIL)
    piece = flyer().with_image(ONE_INCH, (600, 600), facts)
    assert codes(check(piece.artwork(), WITH_LINE_ART)) == ["line-art-below-floor"]


# What is not flagged


def test_a_flat_picture_has_no_resolution_to_lack() -> None:
    facts = replace(image_facts((20, 20), ONE_INCH), flat=True)
    assert codes(check(flyer().with_image(ONE_INCH, (20, 20), facts).artwork(), OFFSET)) == []


@pytest.mark.parametrize(
    "piece",
    [
        pytest.param(flyer().with_image(ONE_INCH, (1, 1)), id="one pixel is one colour"),
        pytest.param(flyer().with_image(ONE_INCH, (50, 50), white=True), id="paper white"),
        pytest.param(flyer().with_image((10, 10, 10.3, 10.3), (1, 2)), id="under one point"),
        pytest.param(flyer().with_image((10, 10, 90, 12), (900, 15)), id="a slice of 15 pixels"),
        pytest.param(flyer().with_image(ONE_INCH, (50, 50), printed=False), id="hidden layer"),
        pytest.param(flyer().with_image(ONE_INCH, (50, 50), visible=None), id="clipped away"),
        pytest.param(
            flyer()
            .with_bleed_mm(20)
            .with_boxes(flyer().with_bleed_mm(3).boxes)
            .with_image((-19, 0, -4, 15), (20, 20)),
            id="outside trim and bleed",
        ),
    ],
)
def test_not_flagged(piece: Flyer) -> None:
    assert codes(check(piece.artwork(), OFFSET)) == []


def test_a_coarse_icon_is_no_slice() -> None:
    assert codes(check(flyer().with_image(ONE_INCH, (12, 12)).artwork(), OFFSET)) == ["below-floor"]


def test_x_and_y_that_differ_by_rounding_are_fine() -> None:
    # 154 x 216 mm at 300 ppi, rounded to whole pixels: 300.02 and 299.98 ppi.
    piece = flyer().with_image((-3, -3, 151, 213), (1819, 2551))
    assert codes(check(piece.artwork(), OFFSET)) == []


# What cannot be judged, and settings


def test_a_picture_of_unknown_size_is_not_judged() -> None:
    said = unjudged(check(unplaced(raster((1819, 2551)), "A4 and A5 fit"), OFFSET))
    assert [(item.severity, item.page) for item in said] == [(Severity.MUST_FIX, 1)]


def test_what_could_not_be_read_is_not_judged() -> None:
    assert len(unjudged(check(unreadable(), OFFSET))) == 1
    assert len(unjudged(check(flyer().unreadable().artwork(), OFFSET))) == 1


def test_a_floor_above_what_is_wanted_is_refused() -> None:
    with pytest.raises(ValidationError, match="floor"):
        ImageResolutionSettings(wanted=225.0, floor=300.0)
    with pytest.raises(ValidationError, match="line_art_floor"):
        ImageResolutionSettings(wanted=300.0, line_art_floor=800.0)


def test_a_picture_that_is_wholly_covered_is_left_alone() -> None:
    piece = flyer().with_image(ONE_INCH, (40, 40))
    covered = replace(piece, marks=(replace(piece.marks[0], covered=True),))
    assert codes(check(piece.artwork(), OFFSET)) == ["below-floor"]
    assert codes(check(covered.artwork(), OFFSET)) == []
