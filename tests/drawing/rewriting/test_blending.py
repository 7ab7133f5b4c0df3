# Blend modes, opacity and groups on every plate, against the formulas of ISO 32000-2, 11.3.
from collections.abc import Callable
from pathlib import Path

import pytest
from pikepdf import Dictionary, Name

from hotfolder.model.geometry import Box
from tests.drawing.rewriting.rewritten_page import AREA, Plated, cmyk, coated, dictionary

Blend = Callable[[float, float], float]
Light = tuple[float, float, float]

GROUND = (0.2, 0.4, 0.6, 0.3)
TOP = (0.7, 0.1, 0.3, 0.8)
SPOT_BENEATH, SPOT_ON_TOP = 0.5, 0.0
HERE = (36, 36)


def soft_light(b: float, s: float) -> float:
    d = ((16 * b - 12) * b + 4) * b if b <= 0.25 else b**0.5
    return b - (1 - 2 * s) * b * (1 - b) if s <= 0.5 else b + (2 * s - 1) * (d - b)


def hard_light(b: float, s: float) -> float:
    return b * 2 * s if s <= 0.5 else b + (2 * s - 1) - b * (2 * s - 1)


# Table 134: b is the backdrop, s the source, both as light.
SEPARABLE: dict[str, Blend] = {
    "Normal": lambda _b, s: s,
    "Multiply": lambda b, s: b * s,
    "Screen": lambda b, s: b + s - b * s,
    "Overlay": lambda b, s: hard_light(s, b),
    "Darken": min,
    "Lighten": max,
    "ColorDodge": lambda b, s: 0.0 if b == 0 else min(1, b / (1 - s)) if s < 1 else 1.0,
    "ColorBurn": lambda b, s: 1.0 if b == 1 else 1 - min(1, (1 - b) / s) if s > 0 else 0.0,
    "HardLight": hard_light,
    "SoftLight": soft_light,
    "Difference": lambda b, s: abs(b - s),
    "Exclusion": lambda b, s: b + s - 2 * b * s,
}
NOT_FOR_SPOTS = {"Difference", "Exclusion", "Hue", "Saturation", "Color", "Luminosity"}  # 11.7.4.2


def luminosity(c: Light) -> float:
    return 0.3 * c[0] + 0.59 * c[1] + 0.11 * c[2]


def with_luminosity(c: Light, wanted: float) -> Light:
    moved = [each + wanted - luminosity(c) for each in c]
    least, most = min(moved), max(moved)
    if least < 0:
        moved = [wanted + (each - wanted) * wanted / (wanted - least) for each in moved]
    if most > 1:
        moved = [wanted + (each - wanted) * (1 - wanted) / (most - wanted) for each in moved]
    return moved[0], moved[1], moved[2]


def saturation(c: Light) -> float:
    return max(c) - min(c)


def with_saturation(c: Light, wanted: float) -> Light:
    spread = saturation(c)
    found = [(each - min(c)) * wanted / spread if spread else 0.0 for each in c]
    return found[0], found[1], found[2]


# Table 135, on the light that cyan, magenta and yellow leave.
MIXING: dict[str, Callable[[Light, Light], Light]] = {
    "Hue": lambda b, s: with_luminosity(with_saturation(s, saturation(b)), luminosity(b)),
    "Saturation": lambda b, s: with_luminosity(with_saturation(b, saturation(s)), luminosity(b)),
    "Color": lambda b, s: with_luminosity(s, luminosity(b)),
    "Luminosity": lambda b, s: with_luminosity(b, luminosity(s)),
}


def expected(mode: str, opacity: float = 1.0) -> dict[str, float]:
    beneath, top = [1 - each for each in GROUND], [1 - each for each in TOP]
    if mode in SEPARABLE:
        blended = [SEPARABLE[mode](b, s) for b, s in zip(beneath, top, strict=True)]
    else:
        mixed = MIXING[mode]((beneath[0], beneath[1], beneath[2]), (top[0], top[1], top[2]))
        # 11.3.5.3: black is the backdrop's, under Luminosity the source's.
        blended = [*mixed, top[3] if mode == "Luminosity" else beneath[3]]
    spot_mode = "Normal" if mode in NOT_FOR_SPOTS else mode
    beneath.append(1 - SPOT_BENEATH)
    blended.append(SEPARABLE[spot_mode](1 - SPOT_BENEATH, 1 - SPOT_ON_TOP))
    laid = [1 - ((1 - opacity) * b + opacity * c) for b, c in zip(beneath, blended, strict=True)]
    return dict(zip(("Cyan", "Magenta", "Yellow", "Black", "Lantern"), laid, strict=True))


def setting(colour: tuple[float, ...]) -> bytes:
    return b"%g %g %g %g k " % colour


@pytest.fixture
def page(tmp_path: Path) -> Plated:
    made = Plated(tmp_path / "a.pdf")
    made.spot("Lantern", "Lantern").state("Over", op=True, OP=True, OPM=0)
    return made.state("Plain", op=False, OP=False)


def ground() -> bytes:
    spot = b"/Lantern cs %g scn " % SPOT_BENEATH
    return setting(GROUND) + AREA + b"/Over gs " + spot + AREA + b"/Plain gs "


@pytest.mark.parametrize("opacity", [1.0, 0.4])
@pytest.mark.parametrize("mode", [*SEPARABLE, *MIXING])
def test_each_plate_is_blended_by_the_standard(page: Plated, mode: str, opacity: float) -> None:
    page.state("Blend", BM=Name(f"/{mode}"), ca=opacity)
    drawn = page.draw(ground() + b"/Blend gs " + setting(TOP) + b"20 20 30 30 re f")
    assert drawn.at(*HERE) == cmyk(**expected(mode, opacity))
    assert drawn.at(15, 15) == cmyk(*GROUND, Lantern=SPOT_BENEATH)


def test_a_mode_that_is_not_known_is_passed_over_in_a_list(page: Plated) -> None:
    page.state("Blend", BM=[Name.NoSuchMode, Name.Multiply, Name.Screen])
    drawn = page.draw(ground() + b"/Blend gs " + setting(TOP) + b"20 20 30 30 re f")
    assert drawn.at(*HERE) == cmyk(**expected("Multiply"))


def test_on_bare_paper_every_mode_lays_its_own_colour(page: Plated) -> None:
    # A page is an isolated group: nothing lies beneath (11.4.7).
    page.state("Blend", BM=Name.Screen)
    assert page.draw(b"/Blend gs " + setting(TOP) + AREA).at(*HERE) == cmyk(*TOP)


def test_a_group_is_laid_down_as_a_whole(page: Plated) -> None:
    page.state("Half", ca=0.5)
    content = b"1 0 0 0 k 20 20 20 30 re f 0 1 0 0 k 30 20 20 30 re f"
    page.form("F", content, Group=Dictionary(S=Name.Transparency))
    drawn = page.draw(b"0 0 1 0 k " + AREA + b"/Half gs /F Do")
    assert drawn.at(25, 36) == cmyk(0.5, 0, 0.5)
    assert drawn.at(36, 36) == cmyk(0, 0.5, 0.5)  # the magenta one hides the cyan one


def test_without_a_group_each_part_of_a_form_is_laid_down(page: Plated) -> None:
    page.state("Half", ca=0.5)
    page.form("F", b"1 0 0 0 k 20 20 20 30 re f 0 1 0 0 k 30 20 20 30 re f")
    drawn = page.draw(b"0 0 1 0 k " + AREA + b"/Half gs /F Do")
    assert drawn.at(36, 36) == cmyk(0.25, 0.5, 0.25)


@pytest.mark.parametrize(("entries", "cyan"), [({}, 0.6), ({"I": True}, 0.5)])
def test_what_blends_in_a_group_meets_the_page_unless_it_is_isolated(
    page: Plated, entries: dict[str, object], cyan: float
) -> None:
    resources = Dictionary(ExtGState=Dictionary(M=Dictionary(BM=Name.Multiply)))
    group = dictionary(S=Name.Transparency, **entries)
    page.form("F", b"/M gs 0.5 0 0 0 k 20 20 30 30 re f", Group=group, Resources=resources)
    drawn = page.draw(b"0.2 0 0 0 k " + AREA + b"/F Do")
    assert drawn.at(*HERE) == cmyk(cyan)
    assert not drawn.plates.approximate


@pytest.mark.parametrize(
    ("entries", "told"),
    [
        ({"K": True}, "knockout"),
        ({"CS": Name.DeviceRGB, "I": True}, "blended in screen colours"),
    ],
)
@pytest.mark.parametrize("shines", [True, False])
def test_what_groups_do_that_is_drawn_only_nearly_is_said(
    page: Plated, entries: dict[str, object], told: str, *, shines: bool
) -> None:
    # Where all within the group is opaque, there is nothing to knock out or to blend.
    half = Dictionary(ExtGState=Dictionary(Half=Dictionary(ca=0.5)))
    group = dictionary(S=Name.Transparency, **entries)
    page.press = coated()
    content = b"1 0 0 0 k 20 20 30 30 re f"
    page.form("F", b"/Half gs " + content if shines else content, Group=group, Resources=half)
    drawn = page.draw(b"/F Do")
    assert any(told in reason for reason in drawn.plates.approximate) is shines


def test_a_page_in_screen_colours_without_transparency_is_exact(page: Plated) -> None:
    page.page.obj.Group = Dictionary(S=Name.Transparency, CS=Name.DeviceRGB)
    drawn = page.draw(setting(TOP) + AREA)
    assert drawn.at(*HERE) == cmyk(*TOP)
    assert not drawn.plates.approximate


@pytest.mark.parametrize("over", [b"", b"/Half gs 0 0.5 0 0 k 0 0 5 5 re f"])
def test_transfer_functions_are_carried_out_and_doubtful_where_something_shines_through(
    page: Plated, over: bytes
) -> None:
    # ISO 32000-2, 10.5; 11.7.5.2: what is seen through takes the device's own function.
    half = Dictionary(FunctionType=2, N=1, Domain=[0, 1], C0=[0], C1=[0.5])
    page.state("T", TR=half).state("Half", ca=0.5)
    drawn = page.draw(b"q /T gs 1 0 0 0 k " + AREA + b"Q " + over)
    assert drawn.at(*HERE) == cmyk(1, 0.5, 0.5, 0.5)
    assert any("transfer" in reason for reason in drawn.plates.approximate) is bool(over)


def test_a_transfer_function_that_cannot_be_read_is_left_out_and_told(page: Plated) -> None:
    page.state("T", TR=Dictionary(FunctionType=9, Domain=[0, 1]))
    drawn = page.draw(b"/T gs 1 0 0 0 k " + AREA)
    assert drawn.at(*HERE) == cmyk(1)
    assert any("transfer" in reason for reason in drawn.plates.approximate)


def test_a_doubt_has_the_place_of_the_group_each_time_that_it_is_shown(page: Plated) -> None:
    half = Dictionary(ExtGState=Dictionary(Half=Dictionary(ca=0.5)))
    group = dictionary(S=Name.Transparency, K=True)
    page.form("F", b"/Half gs 1 0 0 0 k 0 0 20 20 re f", Group=group, Resources=half, BBox=[0, 0, 20, 20])
    drawn = page.draw(b"q 1 0 0 1 5 6 cm /F Do Q q 1 0 0 1 40 30 cm /F Do Q")
    assert [each.box for each in drawn.plates.doubts] == [Box(5, 6, 25, 26), Box(40, 30, 60, 50)]
    assert [each.reason for each in drawn.plates.doubts] == [*drawn.plates.approximate] * 2


def test_more_groups_than_the_page_is_laid_back_for_are_doubtful(page: Plated) -> None:
    # Each takes a drawing of the page; the places of those beyond a dozen are told.
    resources = Dictionary(ExtGState=Dictionary(M=Dictionary(BM=Name.Multiply)))
    group = dictionary(S=Name.Transparency)
    page.state("Half", ca=0.5)
    page.form("F", b"/M gs 0.5 0 0 0 k 0 0 4 4 re f", Group=group, Resources=resources, BBox=[0, 0, 4, 4])
    shown = b"".join(b"q /Half gs 1 0 0 1 %d 10 cm /F Do Q " % (4 * place) for place in range(14))
    drawn = page.draw(b"0.2 0 0 0 k 0 0 72 72 re f " + shown)
    assert drawn.at(2, 12) == drawn.at(46, 12) == cmyk(0.2 + 0.5 * 0.4)
    assert [each.box for each in drawn.plates.doubts] == [Box(48, 10, 52, 14), Box(52, 10, 56, 14)]


def test_a_group_that_is_not_isolated_within_one_that_is_remains_doubtful(page: Plated) -> None:
    resources = Dictionary(ExtGState=Dictionary(M=Dictionary(BM=Name.Multiply), Half=Dictionary(ca=0.5)))
    inner = page.stream(
        b"/M gs 0.5 0 0 0 k 0 0 20 20 re f", Type=Name.XObject, Subtype=Name.Form, BBox=[0, 0, 20, 20],
        Group=dictionary(S=Name.Transparency), Resources=resources,
    )  # fmt: skip
    resources.XObject = Dictionary(Inner=inner)
    page.form("F", b"/Half gs /Inner Do", Group=dictionary(S=Name.Transparency, I=True), Resources=resources)
    assert [each.box for each in page.draw(b"/F Do").plates.doubts] == [Box(0, 0, 20, 20)]
