"""Tiling patterns (ISO 32000-2, 8.7.3)."""

from typing import Final

import pikepdf
from pikepdf import Array, Name

from tests.plates.cells.reference_colours import from_screen
from tests.plates.cells.sheet import MM, Page, Sample, Topic, cmyk, everywhere, separation

_TOPIC = Topic()
KINDS = _TOPIC.kinds

# The left half of a tile in the middle of the page, and the right half.
_LEFT: Final = (8.5, 8.5, 11.5, 15.5)
_RIGHT: Final = (12.5, 8.5, 15.5, 15.5)


def _tile(page: Page, content: str, paint: int, **entries: object) -> pikepdf.Stream:
    """A tile of 8 x 8 mm; content is what it paints."""
    return page.stream(
        content.encode(), PatternType=1, PaintType=paint, TilingType=1, BBox=Array([0, 0, 8, 8]), XStep=8,
        YStep=8, Resources=page.page.obj.Resources, Matrix=Array([MM, 0, 0, MM, 0, 0]), **entries,
    )  # fmt: skip


@_TOPIC.cell("8.7.3.2")
def coloured_tiles(page: Page) -> tuple[Sample, ...]:
    """The left half of each tile is cyan, the right one black."""
    pattern = page.named("Pattern", _tile(page, "0.8 0 0 0 k 0 0 4 8 re f 0 0 0 1 k 4 0 4 8 re f", 1))
    page.fill(f"/Pattern cs {pattern} scn")
    return Sample(cmyk(0.8), _LEFT), Sample(cmyk(black=1), _RIGHT)


@_TOPIC.cell("8.7.3.2")
def coloured_tiles_over_a_ground(page: Page) -> tuple[Sample, ...]:
    page.fill("0 0.6 0 0 k")
    pattern = page.named("Pattern", _tile(page, "0.8 0 0 0 k 0 0 4 8 re f", 1))
    page.fill(f"/Pattern cs {pattern} scn")
    return Sample(cmyk(0.8), _LEFT), Sample(cmyk(magenta=0.6), _RIGHT)


@_TOPIC.cell("8.7.3.2")
def coloured_tiles_of_an_ink(page: Page) -> tuple[Sample, ...]:
    space = page.space(separation("Lantern"))
    pattern = page.named("Pattern", _tile(page, f"{space} cs 0.6 scn 0 0 4 8 re f", 1))
    page.fill(f"/Pattern cs {pattern} scn")
    return Sample({"Lantern": 0.6}, _LEFT), Sample({}, _RIGHT)


@_TOPIC.cell("8.7.3.2")
def coloured_tiles_in_screen_colour(page: Page) -> tuple[Sample, ...]:
    pattern = page.named("Pattern", _tile(page, "0.8 0.6 0.4 rg 0 0 8 8 re f", 1))
    page.fill(f"/Pattern cs {pattern} scn")
    return everywhere(from_screen(0.8, 0.6, 0.4))


@_TOPIC.cell("8.7.3.3")
def tiles_in_a_given_CMYK(page: Page) -> tuple[Sample, ...]:  # noqa: N802 - the standard's name
    space = page.space(Array([Name.Pattern, Name.DeviceCMYK]))
    pattern = page.named("Pattern", _tile(page, "0 0 4 8 re f", 2))
    page.fill(f"{space} cs 0.8 0.4 0 0.2 {pattern} scn")
    return Sample(cmyk(0.8, 0.4, 0, 0.2), _LEFT), Sample({}, _RIGHT)


@_TOPIC.cell("8.7.3.3")
def tiles_in_a_given_ink(page: Page) -> tuple[Sample, ...]:
    space = page.space(Array([Name.Pattern, separation("Lantern")]))
    pattern = page.named("Pattern", _tile(page, "0 0 4 8 re f", 2))
    page.fill(f"{space} cs 0.8 {pattern} scn")
    return Sample({"Lantern": 0.8}, _LEFT), Sample({}, _RIGHT)


@_TOPIC.cell("8.7.3.3")
def the_same_tiles_in_two_inks(page: Page) -> tuple[Sample, ...]:
    lantern, moss = (page.space(Array([Name.Pattern, separation(ink)])) for ink in ("Lantern", "Moss"))
    pattern = page.named("Pattern", _tile(page, "0 0 4 8 re f", 2))
    page.fill(f"{lantern} cs 0.8 {pattern} scn", (0, 0, 12, 24))
    page.fill(f"{moss} cs 0.4 {pattern} scn", (12, 0, 24, 24))
    return Sample({"Lantern": 0.8}, (1, 9, 3, 15)), Sample({"Moss": 0.4}, (17, 9, 19, 15))


@_TOPIC.cell("8.7.3.1")
def tiles_as_a_strokes_pattern(page: Page) -> tuple[Sample, ...]:
    pattern = page.named("Pattern", _tile(page, "0.8 0 0 0 k 0 0 4 8 re f", 1))
    page.draw(f"/Pattern CS {pattern} SCN 20 w 0 12 m 24 12 l S")
    return Sample(cmyk(0.8), _LEFT), Sample({}, _RIGHT)


@_TOPIC.cell("8.7.3.1")
def tiles_with_an_image(page: Page) -> tuple[Sample, ...]:
    image = page.show(page.image(1, 1, bytes([51, 102, 153, 51]), ColorSpace=Name.DeviceCMYK), (0, 0, 4, 8))
    pattern = page.named("Pattern", _tile(page, image, 1))
    page.fill(f"/Pattern cs {pattern} scn")
    return Sample(cmyk(0.2, 0.4, 0.6, 0.2), _LEFT), Sample({}, _RIGHT)


@_TOPIC.cell("11.6.7")
def tiles_at_half_opacity(page: Page) -> tuple[Sample, ...]:
    half = page.state(ca=0.5)
    pattern = page.named("Pattern", _tile(page, "0.8 0 0 0 k 0 0 4 8 re f", 1))
    page.fill("0 0.6 0 0 k")
    page.fill(f"{half} /Pattern cs {pattern} scn")
    return Sample(cmyk(0.4, 0.3), _LEFT), Sample(cmyk(magenta=0.6), _RIGHT)


@_TOPIC.cell("8.7.3.1")
def tiles_smaller_than_a_millimetre(page: Page) -> tuple[Sample, ...]:
    """Half of each tile of 0.5 mm is paint: so is half of the area."""
    tile = page.stream(
        b"0 0 0.25 0.5 re f", PatternType=1, PaintType=2, TilingType=1, BBox=Array([0, 0, 0.5, 0.5]),
        XStep=0.5, YStep=0.5, Resources=page.page.obj.Resources, Matrix=Array([MM, 0, 0, MM, 0, 0]),
    )  # fmt: skip
    space = page.space(Array([Name.Pattern, Name.DeviceCMYK]))
    page.fill(f"{space} cs 0.8 0.4 0 0.2 {page.named('Pattern', tile)} scn")
    return everywhere(cmyk(0.4, 0.2, 0, 0.1))
