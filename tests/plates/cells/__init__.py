"""A sheet of small pages, one for each thing that a page can paint with, and the inks that come of it."""

from tests.plates.cells import (
    annotations,
    blending,
    coded_images,
    glyphs,
    groups,
    images,
    overprint,
    patterns,
    screen_groups,
    shadings,
    soft_masks,
    spaces,
    tones,
)
from tests.plates.cells.sheet import Kind

__all__ = ["CELLS", "Kind"]

CELLS: tuple[Kind, ...] = tuple(
    kind
    for topic in (
        spaces, images, coded_images, shadings, patterns, glyphs, blending, groups, screen_groups,
        soft_masks, overprint, tones, annotations,
    )
    for kind in topic.KINDS
)  # fmt: skip
