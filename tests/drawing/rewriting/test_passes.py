# Which plates are drawn together: three at once, unless an overprinting thing treats them differently.
from hypothesis import given
from hypothesis import strategies as st

from hotfolder.drawing.rewriting.overprint import Touched
from hotfolder.drawing.rewriting.passes import Pass, plan
from hotfolder.drawing.spaces.view import View

CMY, K = ("Cyan", "Magenta", "Yellow"), "Black"
ALL = {*CMY, K}


def plates(
    inks: set[str], overprinted: dict[Touched, set[str]] | None = None, modes: tuple[str, ...] = ()
) -> list[tuple[str, ...]]:
    return [each.plates for each in plan(inks, overprinted or {}, modes).passes]


def test_three_plates_go_together_process_inks_first() -> None:
    assert plates(ALL) == [CMY, (K,)]
    assert plates({*ALL, "Lantern", "Acorn"}) == [CMY, (K, "Acorn", "Lantern")]
    assert plates(set()) == []


def test_plates_without_ink_are_not_drawn() -> None:
    assert plates({"Magenta", K, "Lantern"}) == [("Magenta", K, "Lantern")]


def test_what_touches_one_plate_of_three_is_drawn_apart() -> None:
    cyan_only = Touched(frozenset({"Cyan"}))
    assert plates(ALL, {cyan_only: ALL}) == [("Cyan",), ("Magenta", "Yellow", K)]


def test_what_has_nothing_beneath_it_needs_no_drawing_of_its_own() -> None:
    cyan_only = Touched(frozenset({"Cyan"}))
    assert plates(ALL, {cyan_only: {"Cyan"}}) == [CMY, (K,)]
    assert plates(ALL, {cyan_only: {"Cyan", K}}) == [CMY, (K,)]


def test_black_that_overprints_stays_clear_of_spots_beneath() -> None:
    black = Touched(frozenset({K}))
    inks = {*ALL, "Lantern"}
    assert plates(inks, {black: inks}) == [CMY, ("Lantern",), (K,)]


def test_modes_that_spots_do_not_take_part_them_from_process_inks() -> None:
    inks = {*ALL, "Lantern"}
    assert plates(inks, modes=("Multiply",)) == [CMY, (K, "Lantern")]
    assert plates(inks, modes=("Difference",)) == [CMY, (K,), ("Lantern",)]


def test_modes_that_mix_channels_get_all_three() -> None:
    assert plates({"Cyan", K}, modes=("Hue",)) == [CMY, (K,)]
    assert not plan({"Cyan", K}, {}, ("Hue",)).mixed_apart
    assert plan(ALL, {Touched(frozenset({"Cyan"})): ALL}, ("Hue",)).mixed_apart


def test_a_blend_mode_is_what_the_plates_take() -> None:
    process, black, spot = Pass(View.of_inks(CMY)), Pass(View.of_inks((K,))), Pass(View.of_inks(("Lantern",)))
    assert [each.blend_mode("Hue") for each in (process, black, spot)] == ["Hue", "Normal", "Normal"]
    assert [each.blend_mode("Exclusion") for each in (process, black, spot)] == [
        "Exclusion",
        "Exclusion",
        "Normal",
    ]
    assert {each.blend_mode("Multiply") for each in (process, black, spot)} == {"Multiply"}


_INKS = st.sets(st.sampled_from([*CMY, K, "Lantern", "Acorn", "Moss"]))


@given(_INKS, st.lists(st.tuples(_INKS, _INKS), max_size=4), st.sets(st.sampled_from(["Hue", "Difference"])))
def test_no_drawing_holds_plates_that_something_parts(
    inks: set[str], pairs: list[tuple[set[str], set[str]]], modes: set[str]
) -> None:
    overprinted = {Touched(frozenset(only)): beneath for only, beneath in pairs}
    groups = [each.plates for each in plan(inks, overprinted, modes).passes]
    drawn = [ink for group in groups for ink in group]
    assert len(drawn) == len(set(drawn))
    assert inks <= set(drawn)
    for group in groups:
        assert len(group) <= 3
        for touched, beneath in overprinted.items():
            left = [ink for ink in group if ink not in touched and ink in beneath]
            assert not left or not touched.any_of(group)
