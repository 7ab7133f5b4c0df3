# Placing: which size a picture or a PDF page is meant to have, and when that cannot be told.
from dataclasses import replace

import pytest
from hypothesis import assume, given
from hypothesis import strategies as st

from hotfolder.model.artwork import Artwork
from hotfolder.model.colour import ColourKind, ColourSpace
from hotfolder.model.facts import Format, Unmeasured
from hotfolder.model.geometry import Box
from hotfolder.model.marks import ImageFacts
from hotfolder.model.pages import Page, PageBoxes, Trim, TrimOrigin
from hotfolder.model.raster import RasterFacts, ResolutionOrigin, raster_mark
from hotfolder.model.ruleset import Product
from hotfolder.units import keeps_ppi, mm_to_pt, parse_size, pt_to_mm
from hotfolder.workshop.placing import place
from tests.workshop.placed_pages import FILE, approx_mm, pdf, placed, product, trim_mm

A5 = (1748, 2480)  # 148 x 210 mm at 300 ppi are 1748.03 x 2480.3 px
RGB = ColourSpace("RGB", ColourKind.RGB, 3)
A5_WITH_BLEED = (1819, 2551)  # 154 x 216 mm at 300 ppi are 1818.9 x 2551.2 px


def picture(px: tuple[int, int], ppi: float | tuple[float, float] | None, orientation: int = 1) -> Artwork:
    """A raster file as measuring gives it."""
    x, y = ppi if isinstance(ppi, tuple) else (ppi, ppi)
    facts = RasterFacts(
        *px, 8, RGB, x, y, ResolutionOrigin.JFIF if x else None, "JPEG", orientation=orientation
    )
    media = None
    if x is not None and y is not None:
        width, height = px[0] / x * 72, px[1] / y * 72
        media = Box(0, 0, *((height, width) if orientation >= 5 else (width, height)))
    unknown = Unmeasured("marks", "no resolution")
    marks = unknown if media is None else (raster_mark(facts, media),)
    page = Page(1, 0, 1, PageBoxes(media), Unmeasured("trim", "a picture"), marks, raster=facts)
    return Artwork(replace(FILE, format=Format.JPEG), (page,))


def media_mm(page: Page) -> tuple[float, float]:
    assert page.boxes.media is not None
    return pt_to_mm(page.boxes.media.width), pt_to_mm(page.boxes.media.height)


def image(page: Page) -> ImageFacts:
    (mark,) = page.known_marks
    assert mark.image is not None
    return mark.image


# Pictures


@pytest.mark.parametrize(("px", "canvas", "bleed"), [(A5_WITH_BLEED, (154, 216), 3), (A5, (148, 210), 0)])
@pytest.mark.parametrize("ppi", [300.0, 72.0, 96.0, 1.0, None])
def test_an_a5_flyer_is_an_a5_flyer_whatever_its_header_says(
    px: tuple[int, int], canvas: tuple[int, int], bleed: int, ppi: float | None
) -> None:
    page = placed(picture(px, ppi), product("A5"))
    assert media_mm(page) == approx_mm(*canvas)
    assert trim_mm(page) == approx_mm(148, 210)
    assert isinstance(page.trim, Trim)
    assert page.trim.origin is TrimOrigin.CANVAS
    assert page.boxes.media == page.trim.box.grown(mm_to_pt(bleed))
    assert image(page).x_ppi == pytest.approx(300, abs=0.1)
    assert image(page).y_ppi == pytest.approx(300, abs=0.1)
    assert keeps_ppi(px[1], page.boxes.media.height, 300)
    (mark,) = page.known_marks
    assert mark.box == mark.visible == page.boxes.media
    assert page.raster is not None
    assert page.raster.x_ppi == ppi  # the facts keep what the header declared


def test_the_note_says_how_the_size_was_concluded() -> None:
    page = placed(picture(A5_WITH_BLEED, 72), product("A5"))
    assert isinstance(page.trim, Trim)
    assert page.trim.note == (
        "The header says 72 ppi (641.7 x 899.9 mm), which is none of this printer's sizes; "
        "by its shape the picture is A5 with 3 mm bleed (154 x 216 mm), so it has 300 ppi."
    )
    page = placed(picture(A5, 300), product("A5"))
    assert isinstance(page.trim, Trim)
    assert page.trim.note == "The header says 300 ppi, which makes the picture A5 without bleed."


@pytest.mark.parametrize("px", [A5_WITH_BLEED, A5])
@pytest.mark.parametrize("ppi", [72.0, None])
def test_a_shape_of_two_sizes_is_a_question(px: tuple[int, int], ppi: float | None) -> None:
    # 154 : 216 is 0.71296, 216 : 303 is 0.71287; at these pixels both are within half a pixel.
    page = placed(picture(px, ppi), product("A5", "A4"))
    assert isinstance(page.trim, Unmeasured)
    assert "A5" in page.trim.reason
    assert "A4" in page.trim.reason
    assert isinstance(page.marks, Unmeasured)
    assert page.boxes == picture(px, ppi).known_pages[0].boxes


def test_a_declared_size_decides_between_sizes_of_one_shape() -> None:
    page = placed(picture(A5_WITH_BLEED, 300), product("A4", "A5"))
    assert trim_mm(page) == approx_mm(148, 210)
    page = placed(picture(A5_WITH_BLEED, 300 * 154 / 216), product("A4", "A5"))
    assert trim_mm(page) == approx_mm(210, 297)


@pytest.mark.parametrize("ppi", [(1819 / 641 * 25.4, 2551 / 900 * 25.4), 72.0])
def test_a_poster_at_72_ppi_is_that_poster(ppi: float | tuple[float, float]) -> None:
    page = placed(picture(A5_WITH_BLEED, ppi), product("641 x 900 mm", bleed_mm=0))
    assert trim_mm(page) == approx_mm(641, 900)
    assert image(page).x_ppi == pytest.approx(72, abs=0.1)


def test_a_poster_and_a_flyer_of_one_shape_are_told_apart_by_the_header() -> None:
    sizes = product("641.7 x 899.9 mm", "154 x 216 mm", bleed_mm=0)
    assert trim_mm(placed(picture(A5_WITH_BLEED, 72), sizes)) == approx_mm(641.7, 899.9)
    assert trim_mm(placed(picture(A5_WITH_BLEED, 300), sizes)) == approx_mm(154, 216)
    assert isinstance(placed(picture(A5_WITH_BLEED, 150), sizes).trim, Unmeasured)


@pytest.mark.parametrize("ppi", [300.0, 72.0])
@pytest.mark.parametrize("orientation", range(1, 9))
def test_both_ways_of_turning_fit(orientation: int, ppi: float) -> None:
    width, height = A5_WITH_BLEED
    page = placed(picture((height, width), ppi, orientation), product("A5"))
    upright = orientation >= 5
    assert media_mm(page) == (approx_mm(154, 216) if upright else approx_mm(216, 154))
    assert image(page).width_px == height  # as stored
    assert image(page).x_ppi == pytest.approx(299.98, abs=0.01)  # 2551 px over 216 mm
    assert image(page).y_ppi == pytest.approx(300.02, abs=0.01)  # 1819 px over 154 mm


@pytest.mark.parametrize(
    ("off_mm", "fits"), [(0.0, True), (0.45, True), (-0.45, True), (0.55, False), (-0.55, False)]
)
def test_a_declared_size_may_be_half_a_millimetre_off(off_mm: float, fits: bool) -> None:  # noqa: FBT001 - a table
    # 3000 px wide, so that half a pixel is less; and of another shape than A5 where it does not fit.
    ppi = (3000 / (154 + off_mm) * 25.4, 4000 / 216 * 25.4)
    page = placed(picture((3000, 4000), ppi), product("A5"))
    assert isinstance(page.trim, Trim)
    assert ("makes the picture" in page.trim.note) == fits


def test_half_a_pixel_is_more_than_half_a_millimetre_in_coarse_pictures() -> None:
    # 1000 x 1414 mm at 10 ppi: a pixel is 2.54 mm. 394 px are 1000.8 mm, 557 px are 1414.8 mm.
    page = placed(picture((394, 557), 10), product("B0", bleed_mm=0))
    assert isinstance(page.trim, Trim)
    assert "makes the picture B0" in page.trim.note


def test_oblong_pixels_count_as_declared() -> None:
    # A fax: 1687 x 1146 px at 204 x 98 ppi are 210 x 297 mm, though there are fewer rows than columns.
    page = placed(picture((1687, 1146), (204, 98)), product("A4", "A5", bleed_mm=0))
    assert media_mm(page) == approx_mm(210, 297)
    # At half of both it would be A2; its shape is still that of A4.
    page = placed(picture((1687, 1146), (102, 49)), product("A4", bleed_mm=0))
    assert media_mm(page) == approx_mm(210, 297)
    assert image(page).x_ppi == pytest.approx(204, abs=0.1)
    assert image(page).y_ppi == pytest.approx(98, abs=0.1)


def test_another_shape_is_no_size() -> None:
    page = placed(picture((1000, 1000), 300), product("A5", "A4"))
    assert isinstance(page.trim, Unmeasured)
    assert "84.7 x 84.7 mm" in page.trim.reason
    assert image(page).x_ppi == pytest.approx(300)  # its own word on its size counts
    page = placed(picture((1000, 1000), 72), product("A5", "A4"))
    assert isinstance(page.trim, Unmeasured)
    assert "A5" in page.trim.reason
    assert isinstance(page.marks, Unmeasured)


@pytest.mark.parametrize("ppi", [100.0, 150.0, 300.0, 600.0])
def test_a_resolution_chosen_on_purpose_outweighs_the_shape(ppi: float) -> None:
    """A5 with bleed has the shape of A3 with bleed; at 300 ppi it is no A3 at 152."""
    page = placed(picture(A5_WITH_BLEED, ppi), product("A3"))
    assert isinstance(page.trim, Unmeasured)
    assert "none of this printer's sizes" in page.trim.reason
    assert image(page).x_ppi == pytest.approx(ppi)
    assert page.boxes == picture(A5_WITH_BLEED, ppi).known_pages[0].boxes


@pytest.mark.parametrize("ppi", [None, 1.0, 72.0, 96.0, 99.0])
def test_a_resolution_that_nobody_chose_does_not(ppi: float | None) -> None:
    assert trim_mm(placed(picture(A5_WITH_BLEED, ppi), product("A3"))) == approx_mm(297, 420)


@pytest.mark.parametrize("ppi", [299.0, 118 * 2.54])
def test_a_resolution_that_was_rounded_is_the_one_that_was_meant(ppi: float) -> None:
    """A1 at 300 ppi; at 299, or at 118 pixels a centimetre, it is a millimetre or two larger."""
    page = placed(picture((7016, 9933), ppi), product("A1", "A2", bleed_mm=0))
    assert trim_mm(page) == approx_mm(594, 841)


@pytest.mark.parametrize(("px", "room"), [((1866, 2598), 5), ((1890, 2622), 6)])
def test_a_picture_with_bleed_of_another_width_is_the_product_all_the_same(
    px: tuple[int, int], room: float
) -> None:
    page = placed(picture(px, 300), product("A5", "A4"))
    assert trim_mm(page) == approx_mm(148, 210)
    assert page.boxes.media is not None
    assert isinstance(page.trim, Trim)
    assert page.trim.box.x0 - page.boxes.media.x0 == pytest.approx(mm_to_pt(room), abs=0.15)


def test_two_sizes_that_ask_for_one_canvas_are_a_question() -> None:
    page = placed(picture(A5_WITH_BLEED, 300), product("A5", "154 x 216 mm"))
    assert isinstance(page.trim, Unmeasured)


def test_the_nearest_size_wins() -> None:
    sizes = product("148 x 210 mm", "148.4 x 210 mm", bleed_mm=0)
    page = placed(picture(A5, 300), sizes)
    assert trim_mm(page) == approx_mm(148, 210)
    page = placed(picture((1752, 2480), 300), sizes)
    assert trim_mm(page) == approx_mm(148.4, 210)


def test_a_business_card_in_inches() -> None:
    # 3.5 x 2 in with 1/8 in of bleed, at 300 ppi 1125 x 675 px.
    card = Product((parse_size("3.5 x 2 in"),), 9.0)
    page = placed(picture((1125, 675), 72), card)
    assert page.trim == Trim(
        Box(9, 9, 261, 153), TrimOrigin.CANVAS, page.trim.note if isinstance(page.trim, Trim) else ""
    )
    assert isinstance(page.trim, Trim)
    assert "3.5 x 2 in with 0.125 in bleed (3.75 x 2.25 in)" in page.trim.note


def test_every_page_is_placed() -> None:
    one = picture(A5_WITH_BLEED, 72)
    (page,) = one.known_pages
    both = replace(one, pages=(page, replace(page, number=2)))
    assert [trim_mm(page) for page in place(both, product("A5")).known_pages] == [approx_mm(148, 210)] * 2


# Pictures without a product


def test_without_sizes_a_chosen_resolution_is_believed() -> None:
    page = placed(picture(A5_WITH_BLEED, 300), Product())
    assert isinstance(page.trim, Trim)
    assert page.trim.origin is TrimOrigin.CANVAS
    assert page.trim.box == page.boxes.media
    assert image(page).x_ppi == pytest.approx(300)


@pytest.mark.parametrize("ppi", [72.0, 96.0, 1.0, None, (300.0, 72.0), 30_000.0])
def test_without_sizes_other_figures_are_a_question(ppi: float | tuple[float, float] | None) -> None:
    page = placed(picture(A5_WITH_BLEED, ppi), Product())
    assert isinstance(page.trim, Unmeasured)
    assert isinstance(page.marks, Unmeasured)


# Properties

SIZES = st.sampled_from(["A6", "A5", "A4", "DL", "85 x 55 mm", "Letter", "594 x 841 mm"])


@given(SIZES, st.floats(0, 8), st.floats(90, 1200), st.booleans(), st.integers(1, 8))
def test_what_is_built_for_a_size_is_placed_at_it(
    name: str,
    bleed_mm: float,
    ppi: float,
    turned: bool,  # noqa: FBT001 - drawn
    orientation: int,
) -> None:
    size = parse_size(name)
    canvas = (size.turned() if turned else size).grown(mm_to_pt(bleed_mm))
    shown = (round(canvas.width * ppi / 72), round(canvas.height * ppi / 72))
    stored = shown[::-1] if orientation >= 5 else shown
    page = placed(picture(stored, ppi, orientation), product(name, bleed_mm=bleed_mm))
    assume(isinstance(page.trim, Trim))  # very small bleeds leave two answers
    assert isinstance(page.trim, Trim)
    assert page.boxes.media is not None
    # Never more than the tolerance away from what was built: half a pixel or half a millimetre.
    allowed = max(mm_to_pt(0.5), 36 / ppi) + 36 / ppi
    assert abs(page.boxes.media.width - canvas.width) <= allowed
    assert abs(page.boxes.media.height - canvas.height) <= allowed
    assert sorted((page.trim.box.width, page.trim.box.height)) == pytest.approx(
        sorted((size.width, size.height))
    )
    assert image(page).x_ppi == pytest.approx(ppi, rel=0.02)


@given(
    st.sampled_from(["A5", "A4"]), st.booleans(), st.floats(0, 8), st.floats(-0.3, 0.3), st.floats(-0.3, 0.3)
)
def test_an_inferred_trim_lies_in_the_page_and_is_a_size_of_the_product(
    name: str,
    turned: bool,  # noqa: FBT001 - drawn
    bleed_mm: float,
    wider_mm: float,
    taller_mm: float,
) -> None:
    size = parse_size(name)
    canvas = (size.turned() if turned else size).grown(mm_to_pt(bleed_mm))
    media = Box(0, 0, canvas.width + mm_to_pt(wider_mm), canvas.height + mm_to_pt(taller_mm))
    page = placed(pdf(media), product("A5", "A4", bleed_mm=bleed_mm))
    assume(isinstance(page.trim, Trim))  # so near to a size of the product most pages have one
    assert isinstance(page.trim, Trim)
    assert media.holds(page.trim.box, mm_to_pt(0.25) + 1e-6)
    sides = sorted(round(side) for side in trim_mm(page))
    assert sides == {"A5": [148, 210], "A4": [210, 297]}[name]
