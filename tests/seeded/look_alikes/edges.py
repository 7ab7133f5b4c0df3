"""Edges that look wrong and are not."""

from tests.seeded.faults.edges import gradient
from tests.seeded.kinds import look_alike
from tests.seeded.planting import Sheet


@look_alike("bleed")
def a_gradient_that_ends_with_the_bleed(sheet: Sheet) -> None:
    """It does not extend, and need not."""
    sheet.draw(f"{gradient(sheet, -3, 50, 151, 50)} sh")


@look_alike("bleed")
def a_gradient_that_ends_well_inside_the_cut(sheet: Sheet) -> None:
    sheet.clip(20, 20, 128, 190)
    sheet.draw(f"{gradient(sheet, 20, 50, 128, 50)} sh")
