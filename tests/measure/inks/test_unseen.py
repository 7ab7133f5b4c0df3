# Marks that leave no trace although nothing covers them, on plates painted by hand.
from dataclasses import replace

import pytest

from hotfolder.measure.inks.unseen import with_unseen
from hotfolder.model.colour import Colour
from hotfolder.model.geometry import Box
from hotfolder.model.marks import PLAIN_STATE, Mark, MarkKind, MarkState, Masking, Source
from hotfolder.model.pages import Page
from tests.artwork.colours import BLUE, CMYK_WHITE
from tests.artwork.flyer import image_facts
from tests.measure.inks.hand_plates import laid, mm_box, page_of, painted, plates_of

LOGO = mm_box(5, 5, 15, 15)
MASKED = MarkState(soft_mask=True)
MULTIPLIED = MarkState(blend_mode="Multiply")


def mark(box: Box = LOGO, state: MarkState = MASKED, colour: Colour = BLUE) -> Mark:
    return Mark(MarkKind.PATH, box, box, Source("f"), fill=colour, state=state)


def is_unseen(mark: Mark, *ink: tuple[Box, float]) -> bool:
    page: Page = replace(page_of(mm_box(0, 0, 60, 60), mm_box(3, 3, 57, 57)), marks=(mark,))
    (found,) = with_unseen(page, plates_of(page, {"Cyan": painted(laid(page).frame, *ink)}))  # type: ignore[misc]
    assert isinstance(found, Mark)
    assert found.shows is not found.unseen
    return found.unseen


def test_a_masked_mark_on_bare_paper_is_unseen() -> None:
    assert is_unseen(mark())
    assert is_unseen(mark(), (mm_box(20, 0, 60, 60), 50))


@pytest.mark.parametrize("percent", [1, 5, 100])
def test_a_masked_mark_that_shows_is_seen(percent: float) -> None:
    assert not is_unseen(mark(), (LOGO, percent))
    assert not is_unseen(mark(), (mm_box(14, 14, 15, 15), percent))


def test_a_masked_mark_over_ink_counts_as_seen() -> None:
    """Whether it adds to what lies there, the plates do not tell."""
    assert not is_unseen(mark(), (mm_box(0, 0, 60, 60), 50))


def test_an_opaque_mark_is_seen_whatever_the_plates_say() -> None:
    assert not is_unseen(mark(state=MarkState()))


def picture(state: MarkState = PLAIN_STATE, masking: Masking = Masking.NONE) -> Mark:
    facts = replace(image_facts((300, 300), (5, 5, 15, 15)), masking=masking)
    return replace(mark(state=state), kind=MarkKind.IMAGE, image=facts)


def is_white(mark: Mark, *ink: tuple[Box, float]) -> bool:
    page: Page = replace(page_of(mm_box(0, 0, 60, 60), mm_box(3, 3, 57, 57)), marks=(mark,))
    (found,) = with_unseen(page, plates_of(page, {"Cyan": painted(laid(page).frame, *ink)}))  # type: ignore[misc]
    assert isinstance(found, Mark)
    assert not found.unseen
    return found.white


def test_a_picture_that_leaves_the_plates_bare_is_white() -> None:
    assert is_white(picture())
    assert is_white(picture(), (mm_box(20, 0, 60, 60), 50))


def test_a_white_picture_on_a_ground_is_white_though_its_rim_shares_pixels() -> None:
    around = [mm_box(0, 0, 60, 5.1), mm_box(0, 14.9, 60, 60), mm_box(0, 0, 5.1, 60), mm_box(14.9, 0, 60, 60)]
    assert is_white(picture(), *((box, 50) for box in around))


@pytest.mark.parametrize("where", [LOGO, mm_box(13, 13, 15, 15), mm_box(9, 9, 11, 11)])
def test_a_picture_with_ink_anywhere_is_none(where: Box) -> None:
    assert not is_white(picture(), (where, 5))


def test_a_picture_that_overprints_is_not_called_white() -> None:
    """It may leave no ink, and hides nothing that lies beneath it."""
    assert not is_white(picture(MarkState(overprint_fill=True)))


def test_a_line_much_thinner_than_a_pixel_counts_as_seen() -> None:
    assert not is_unseen(mark(Box(15, 15.05, 40, 15.1)))


@pytest.mark.parametrize("mode", ["Multiply", "Darken", "ColorBurn"])
def test_white_that_multiplies_is_unseen_on_every_ground(mode: str) -> None:
    """ISO 32000-2, 11.3.5.2: white leaves the backdrop as it is in these modes."""
    ground = (mm_box(0, 0, 60, 60), 50)
    assert is_unseen(mark(state=MarkState(blend_mode=mode), colour=CMYK_WHITE), ground)
    assert not is_unseen(mark(state=MarkState(blend_mode="Screen"), colour=CMYK_WHITE), ground)
    assert not is_unseen(mark(state=MULTIPLIED), ground)


@pytest.mark.parametrize(
    ("state", "shows"),
    [
        (MarkState(fill_opacity=0), False),
        (MarkState(fill_opacity=0.01), True),
        (MarkState(stroke_opacity=0), True),
    ],
)
def test_what_has_no_opacity_does_not_show(state: MarkState, *, shows: bool) -> None:
    filled = mark(state=state)
    assert filled.shows is shows
    outlined = replace(filled, fill=None, stroke=BLUE)
    assert outlined.shows is (state.stroke_opacity > 0)
    picture = replace(filled, kind=MarkKind.IMAGE, fill=None)
    assert picture.shows is shows
