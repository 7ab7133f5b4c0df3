# Knockout groups: doubtful where parts that shine through lie over others, and nowhere else.
#
# ISO 32000-2, 11.4.6: each part is laid on the backdrop of the group, and not on the parts before it.
from dataclasses import replace

import pytest

from hotfolder.measure.inks.knockouts import narrowed_doubts
from hotfolder.model.doubts import KNOCKOUT, NOT_ISOLATED
from hotfolder.model.geometry import Box
from hotfolder.model.inks import Doubt
from hotfolder.model.marks import Mark, MarkKind, MarkState, Source
from hotfolder.model.pages import Page
from tests.artwork.colours import BLUE, YELLOW
from tests.artwork.flyer import flyer, mm_box

SHEET = mm_box(0, 0, 148, 210)
PALE = MarkState(group=True, knockout_group=True, fill_opacity=0.5)
OPAQUE = MarkState(group=True, knockout_group=True)


def area(x0: float, x1: float, state: MarkState = PALE) -> Mark:
    box = mm_box(x0, 20, x1, 60)
    return Mark(MarkKind.PATH, box, box, Source("f"), fill=BLUE, state=state)


def places(*marks: Mark, reason: str = KNOCKOUT, page: Page | None = None) -> list[Box]:
    return [doubt.box for doubt in told(*marks, reason=reason, page=page)]


def told(*marks: Mark, reason: str = KNOCKOUT, page: Page | None = None) -> tuple[Doubt, ...]:
    return narrowed_doubts(page or flyer().with_marks(*marks).page(), (Doubt(reason, SHEET),))


def test_a_part_with_nothing_of_the_group_beneath_it_is_exact() -> None:
    assert places(area(20, 40), area(50, 70)) == []
    assert places(area(20, 40), area(40, 70)) == []  # side by side
    assert places(replace(area(20, 70), state=MarkState()), area(30, 60)) == []  # beneath the group


def test_where_parts_lie_over_one_another_it_is_doubtful() -> None:
    [box] = places(area(20, 40), area(30, 70))
    assert (box.x0, box.x1) == pytest.approx((mm_box(30, 0, 40, 1).x0, mm_box(30, 0, 40, 1).x1))


def test_parts_of_different_groups_do_not_knock_each_other_out() -> None:
    assert places(replace(area(20, 40), knockout=1), replace(area(30, 70), knockout=2)) == []


def test_an_opaque_part_covers_what_it_knocks_out() -> None:
    assert places(area(20, 40), area(30, 70, OPAQUE), area(90, 99)) == []
    assert len(places(area(30, 70, OPAQUE), area(20, 40))) == 1


def test_a_part_that_overprints_lets_show_what_it_knocks_out() -> None:
    over = replace(OPAQUE, overprint_fill=True)
    assert len(places(area(20, 40, OPAQUE), area(30, 70, over))) == 1
    assert places(area(20, 40, over), area(30, 70, OPAQUE)) == []


def test_places_that_lie_apart_are_told_apart() -> None:
    assert len(places(area(20, 40), area(30, 70), area(60, 90), area(80, 99))) == 3
    assert len(places(area(20, 80), area(30, 50), area(40, 60))) == 1


def test_other_doubts_and_what_is_not_known_stay_as_they_are() -> None:
    apart = (area(20, 40), area(50, 70))
    assert places(*apart, reason=NOT_ISOLATED) == [SHEET]
    assert places(*apart, page=flyer().unreadable().page()) == [SHEET]
    assert places(replace(apart[0], repeated=True), apart[1]) == [SHEET]
    assert places(area(20, 40, OPAQUE)) == [SHEET]  # what shines through is none of the marks


def test_inks_add_up_at_most_but_for_modes_that_lay_ink_where_none_was() -> None:
    assert [doubt.summed for doubt in told(area(20, 40), area(30, 70))] == [True]
    soft = replace(PALE, blend_mode="SoftLight")
    assert [doubt.summed for doubt in told(area(20, 40, soft), area(30, 70, soft))] == [True]
    inverted = replace(PALE, blend_mode="Difference")
    assert [doubt.summed for doubt in told(area(20, 40), area(30, 70, inverted))] == [False]
    page = replace(flyer().with_marks(area(20, 40), area(30, 70)).page(), sets_transfer=True)
    assert [doubt.summed for doubt in told(page=page)] == [False]
    below = replace(area(20, 99), fill=YELLOW, state=MarkState(blend_mode="Exclusion"))
    assert [doubt.summed for doubt in told(below, area(20, 40), area(30, 70))] == [False]
