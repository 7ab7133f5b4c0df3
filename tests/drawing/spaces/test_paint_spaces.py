# Colour spaces as plates see them: which inks their colours lay, and what the renderer draws of their views.
from collections.abc import Callable

import numpy as np
import pikepdf
import pytest
from pikepdf import Array, Dictionary, Name, String

from hotfolder.colour.conversions import Conversions, Intent
from hotfolder.drawing.spaces.reader import PaintSpaces
from hotfolder.drawing.spaces.view import View
from hotfolder.errors import NotDrawnError
from hotfolder.model.colour import PROCESS_INKS
from hotfolder.pdf.objects.resources import Resources
from hotfolder.presses.loading import load_press
from tests.colour.transicc import needs_transicc, transicc
from tests.drawing.spaces.view_sheets import BLACK, CMY, Sheet, press_conversions, tint

BLACK_AND_SPOT = View.of_inks(("Black", "Spot"))
VIEWS = (CMY, BLACK_AND_SPOT, BLACK, View.screen(), View.luminosity())
D50 = [0.9642, 1, 0.8249]
SRGB_MATRIX = [0.4124, 0.2126, 0.0193, 0.3576, 0.7152, 0.1192, 0.1805, 0.0722, 0.9505]

Make = Callable[[pikepdf.Pdf], pikepdf.Object]


@pytest.fixture(scope="module")
def conversions() -> Conversions:
    return press_conversions()


def separation(name: str, *full: float) -> Make:
    return lambda pdf: Array([Name.Separation, Name(f"/{name}"), Name.DeviceCMYK, tint(pdf, list(full))])


def calculator(pdf: pikepdf.Pdf, program: bytes, inputs: int, outputs: int) -> pikepdf.Stream:
    made = pdf.make_stream(program)
    made["/FunctionType"], made["/Domain"], made["/Range"] = (
        4,
        Array([0, 1] * inputs),
        Array([0, 1] * outputs),
    )
    return made


def device_n(*names: str, program: bytes, attributes: Callable[[], Dictionary] | None = None) -> Make:
    def make(pdf: pikepdf.Pdf) -> pikepdf.Object:
        inks = Array([Name(f"/{name}") for name in names])
        made = [Name.DeviceN, inks, Name.DeviceCMYK, calculator(pdf, program, len(names), 4)]
        return Array([*made, attributes()] if attributes is not None else made)

    return make


def icc(data: bytes, count: int, alternate: pikepdf.Object | None = None) -> Make:
    def make(pdf: pikepdf.Pdf) -> pikepdf.Object:
        stream = pdf.make_stream(data)
        stream["/N"] = count
        if alternate is not None:
            stream["/Alternate"] = alternate
        return Array([Name.ICCBased, stream])

    return make


def lab(white: list[float] | None = None) -> Make:
    return lambda _: Array([Name.Lab, Dictionary(WhitePoint=white or D50, Range=[-100, 100, -100, 100])])


def indexed(base: Make, top: int, table: bytes) -> Make:
    return lambda pdf: Array([Name.Indexed, base(pdf), top, String(table)])


def device(name: str) -> Make:
    return lambda _: Name(f"/{name}")


MAGENTA_SPOT_BLACK = device_n("Magenta", "Spot", "Black", program=b"{exch pop 0 3 1 roll 0 exch}")


def cal_rgb(_: pikepdf.Pdf) -> pikepdf.Object:
    parameters = Dictionary(WhitePoint=[0.9505, 1, 1.089], Gamma=[2.2] * 3, Matrix=SRGB_MATRIX)
    return Array([Name.CalRGB, parameters])


# Spaces that name their inks: what a colour lays follows from its numbers alone (8.6.4, 8.6.6).
OWN = [
    (device("DeviceGray"), (0.3,), {"Black": 0.7}),
    (device("DeviceCMYK"), (0.1, 0.4, 0.6, 0.2),
     dict(zip(PROCESS_INKS, (0.1, 0.4, 0.6, 0.2), strict=True))),
    (separation("Spot", 0, 1, 1, 0), (0.37,), {"Spot": 0.37}),
    (separation("Cyan", 1, 0, 0, 0), (0.37,), {"Cyan": 0.37}),
    (separation("None", 1, 0, 0, 0), (0.37,), {}),
    (separation("All", 1, 1, 1, 1), (0.6,), dict.fromkeys((*PROCESS_INKS, "All"), 0.6)),
    (MAGENTA_SPOT_BLACK, (0.2, 0.7, 0.4), {"Magenta": 0.2, "Spot": 0.7, "Black": 0.4}),
    (device_n("None", "Spot", program=b"{exch pop 0 exch dup 0}"), (0.9, 0.3), {"Spot": 0.3}),
    # Twice the same name is against the standard (8.6.6.5): the fuller counts.
    (device_n("Spot", "Spot", program=b"{pop 0 exch dup 0}"), (0.2, 0.8), {"Spot": 0.8}),
    (indexed(separation("Spot", 0, 1, 1, 0), 1, b"\x00\x80"), (1,), {"Spot": 128 / 255}),
    (indexed(device("DeviceCMYK"), 1, bytes(4) + b"\xff\x00\x33\x00"), (1,),
     {"Cyan": 1, "Magenta": 0, "Yellow": 0.2, "Black": 0}),
]  # fmt: skip

CONVERTED = [
    (device("DeviceRGB"), (0.2, 0.5, 0.8)),
    (cal_rgb, (0.7, 0.3, 0.1)),
    (lambda _: Array([Name.CalGray, Dictionary(WhitePoint=[0.9505, 1, 1.089], Gamma=2.2)]), (0.4,)),
    (lab(), (55, 30, -40)),
    (indexed(device("DeviceRGB"), 1, b"\x11\x66\xcc\0\xff\0"), (0,)),
]


@pytest.mark.parametrize(("make", "colour", "expected"), OWN)
def test_named_inks_are_laid_as_the_numbers_say(
    make: Make, colour: tuple[float, ...], expected: dict[str, float]
) -> None:
    sheet = Sheet(None)  # no press is needed for them
    space = sheet.spaces.read(make(sheet.pdf))
    assert space.own
    assert space.inks(colour) == pytest.approx(expected)
    assert space.touches == frozenset(expected)


@pytest.mark.parametrize(("make", "colour"), CONVERTED)
def test_other_colours_lay_process_inks_and_need_a_press(
    conversions: Conversions, make: Make, colour: tuple[float, ...]
) -> None:
    sheet = Sheet(conversions)
    space = sheet.spaces.read(make(sheet.pdf))
    assert not space.own
    assert space.touches == frozenset(PROCESS_INKS)
    assert max(space.inks(colour).values()) > 0.1
    without = Sheet(None)
    with pytest.raises(NotDrawnError):
        without.spaces.read(make(without.pdf)).inks(colour)


@pytest.mark.parametrize("view", VIEWS)
@pytest.mark.parametrize(("make", "colour"), [(make, colour) for make, colour, _ in OWN] + CONVERTED)
def test_the_renderer_draws_views_as_the_colours_are_told(
    conversions: Conversions, make: Make, colour: tuple[float, ...], view: View
) -> None:
    # Left as operands of `rg`, right as components of the view's colour space: the renderer is the judge of
    # what the space's function gives.
    sheet = Sheet(conversions)
    space = sheet.spaces.read(make(sheet.pdf))
    sheet.write("{} {} {} rg 0 0 20 40 re f".format(*space.shown(colour, view)))
    name = sheet.name("ColorSpace", space.view(view))
    sheet.write(f"{name} cs {' '.join(map(str, colour))} scn 20 0 20 40 re f")
    drawn = sheet.drawn().astype(int)
    expected = np.array(space.shown(colour, view)) * 255
    assert np.abs(drawn[20, 10] - expected).max() <= 1
    # A table between two and four inputs is read by the renderer only nearly (see `sampled_views`).
    tolerance = 1 if space.own and view.plates else 3
    assert np.abs(drawn[20, 30] - expected).max() <= tolerance


@needs_transicc
@pytest.mark.parametrize("intent", list(Intent))
def test_rgb_becomes_inks_as_by_transicc(conversions: Conversions, intent: Intent) -> None:
    # Reference: littleCMS's transicc, press profile as target, black point compensation on but for the
    # absolute intent, for which there is none.
    steps = np.linspace(0, 255, 4)
    grid = np.array([(red, green, blue) for red in steps for green in steps for blue in steps])
    expected = transicc(
        grid, "*sRGB", str(conversions.press.profile), intent, black_point=intent is not Intent.ABSOLUTE
    )
    space = Sheet(conversions).spaces.device("DeviceRGB")
    found = [[space.inks(tuple(row / 255), intent)[ink] for ink in PROCESS_INKS] for row in grid]
    assert np.abs(np.array(found) * 255 - expected * 2.55).max() <= 1


def test_the_initial_colour_is_that_of_the_standard() -> None:
    # ISO 32000-2, 8.6.8 (CS).
    sheet = Sheet(None)
    spaces, pdf = sheet.spaces, sheet.pdf
    assert spaces.read(Name.DeviceCMYK).initial == (0, 0, 0, 1)
    assert spaces.read(Name.DeviceGray).initial == (0,)
    assert spaces.read(MAGENTA_SPOT_BLACK(pdf)).initial == (1, 1, 1)
    assert spaces.read(icc(b"junk", 4)(pdf)).initial == (0, 0, 0, 1)  # DeviceCMYK stands in for it
    shifted = Array([Name.Lab, Dictionary(WhitePoint=D50, Range=[10, 100, -100, -5])])
    assert spaces.read(shifted).initial == (0, 10, -5)


def test_colours_out_of_range_count_as_the_nearest() -> None:
    space = Sheet(None).spaces.read(Name.DeviceCMYK)
    assert space.inks((-1, 2, 0.5, 0)) == {"Cyan": 0, "Magenta": 1, "Yellow": 0.5, "Black": 0}


def test_profiled_grey_and_cmyk_keep_their_numbers(conversions: Conversions) -> None:
    profile = conversions.press.profile
    assert profile is not None
    sheet = Sheet(conversions)
    space = sheet.spaces.read(icc(profile.read_bytes(), 4)(sheet.pdf))
    assert (space.family, space.own) == ("ICCBased", True)
    assert space.inks((0.1, 0.2, 0.3, 0.4)) == pytest.approx(
        dict(zip(PROCESS_INKS, (0.1, 0.2, 0.3, 0.4), strict=True))
    )


@pytest.mark.parametrize(
    ("data", "count", "alternate", "family"),
    [
        (b"junk", 1, None, "DeviceGray"),
        (b"junk", 3, None, "DeviceRGB"),
        (b"junk", 4, None, "DeviceCMYK"),
        (b"junk", 3, Array([Name.Lab, Dictionary(WhitePoint=D50)]), "Lab"),
        (b"junk", 3, Name.DeviceCMYK, "DeviceRGB"),  # an alternate of another number of components
    ],
)
def test_a_profile_of_no_use_gives_way_to_what_stands_in_for_it(
    data: bytes, count: int, alternate: pikepdf.Object | None, family: str
) -> None:
    sheet = Sheet(None)
    assert sheet.spaces.read(icc(data, count, alternate)(sheet.pdf)).family == family


def test_a_profile_for_another_number_of_components_is_not_used(conversions: Conversions) -> None:
    profile = conversions.press.profile
    assert profile is not None
    sheet = Sheet(conversions)
    assert sheet.spaces.read(icc(profile.read_bytes(), 3)(sheet.pdf)).family == "DeviceRGB"


def test_a_default_space_stands_for_a_device_space() -> None:
    sheet = Sheet(None)
    spot = separation("Spot", 0, 1, 1, 0)(sheet.pdf)
    resources = Resources([Dictionary(ColorSpace=Dictionary(DefaultGray=spot, DefaultCMYK=spot, CS0=spot))])
    assert sheet.spaces.read(Name.DeviceGray, resources).family == "Separation"
    # Not one of another number of components (8.6.5.6).
    assert sheet.spaces.read(Name.DeviceCMYK, resources).family == "DeviceCMYK"
    assert sheet.spaces.read(Name.CS0, resources).touches == {"Spot"}
    assert sheet.spaces.read(Name.G, resources).family == "Separation"  # as inline images call it


def test_process_inks_by_other_names_go_by_their_order() -> None:
    # NChannel (8.6.6.5, tables 71 and 72).
    def attributes() -> Dictionary:
        called = Array([Name.C, Name.M, Name.Y, Name.K])
        return Dictionary(
            Subtype=Name.NChannel, Process=Dictionary(ColorSpace=Name.DeviceCMYK, Components=called)
        )

    sheet = Sheet(None)
    made = device_n("M", "Spot", program=b"{pop 0 exch 0 0}", attributes=attributes)(sheet.pdf)
    assert sheet.spaces.read(made).inks((0.3, 0.6)) == {"Magenta": 0.3, "Spot": 0.6}


def test_a_spot_looks_like_its_alternate_at_full_strength() -> None:
    # The press's own red: FOGRA39 has it at 47, 68, 48 (characterisation data, magenta over yellow).
    sheet = Sheet(Conversions(load_press("coated"), paper_white=True))
    space = sheet.spaces.read(separation("Spot", 0, 1, 1, 0)(sheet.pdf))
    assert space.looks["Spot"] == pytest.approx((47, 68, 48), abs=1)
    in_lab = Array([Name.Separation, Name.Spot, lab()(sheet.pdf), tint(sheet.pdf, [60, 20, 30], [100, 0, 0])])
    assert sheet.spaces.read(in_lab).looks["Spot"] == pytest.approx((60, 20, 30))


def test_a_tint_transform_of_no_use_leaves_the_plate_known() -> None:
    sheet = Sheet(None)
    space = sheet.spaces.read(Array([Name.Separation, Name.Spot, Name.DeviceCMYK, Dictionary()]))
    assert space.inks((0.5,)) == {"Spot": 0.5}
    assert not space.looks


def test_lab_under_another_white_is_adapted_to_that_of_profiles(conversions: Conversions) -> None:
    # sRGB's red: CIELAB under D65, and under D50 as ISO 15076-1, annex E, adapts it (Bradford); both figures
    # by the formulas of CIE 15 and IEC 61966-2-1.
    sheet = Sheet(conversions)
    under_d65 = sheet.spaces.read(lab([0.9505, 1, 1.089])(sheet.pdf)).inks((53.24, 80.09, 67.20))
    under_d50 = sheet.spaces.read(lab()(sheet.pdf)).inks((54.29, 80.81, 69.89))
    assert under_d65 == pytest.approx(under_d50, abs=0.01)


@pytest.mark.parametrize(
    "value",
    [
        Name.CS9, Array(), Array([Name.Indexed, Name.DeviceRGB, 300, String(b"")]),
        Array([Name.Indexed, Name.Pattern, 1, String(b"")]), Array([Name.Separation]),
        Array([Name.DeviceN, Array(), Name.DeviceCMYK]), Array([Name.ICCBased, Dictionary(N=2)]), 7, None,
    ],
)  # fmt: skip
def test_what_is_no_colour_space_is_not_drawn(value: object) -> None:
    with pytest.raises(NotDrawnError):
        Sheet(None).spaces.read(value)


def test_a_space_within_itself_is_not_drawn() -> None:
    sheet = Sheet(None)
    made = sheet.pdf.make_indirect(Array([Name.Indexed, Name.DeviceRGB, 1, String(b"abcdef")]))
    made[1] = made
    with pytest.raises(NotDrawnError):
        sheet.spaces.read(made)


def test_a_pattern_space_is_seen_through_its_base() -> None:
    sheet = Sheet(None)
    space = sheet.spaces.read(Array([Name.Pattern, separation("Spot", 0, 1, 1, 0)(sheet.pdf)]))
    assert (space.components, set(space.touches), space.inks((0.5,))) == (1, {"Spot"}, {"Spot": 0.5})
    viewed = space.view(BLACK_AND_SPOT)
    assert isinstance(viewed, Array)
    assert viewed[0] == Name.Pattern


@pytest.mark.parametrize("count", [8, 16])
def test_many_inks_are_drawn(count: int) -> None:
    # The renderer keeps no more than 16 operands; colours of more inks are written as they are shown.
    names = [f"Ink{number}" for number in range(count)]
    sheet = Sheet(None)
    space = sheet.spaces.read(device_n(*names, program=b"{" + b"pop " * count + b"0 0 0 0}")(sheet.pdf))
    view = View.of_inks((names[0], names[count // 2], names[-1]))
    colour = [number / 40 for number in range(count)]
    name = sheet.name("ColorSpace", space.view(view))
    sheet.write(f"{name} cs {' '.join(map(str, colour))} scn 0 0 40 40 re f")
    expected = [255 * (1 - colour[at]) for at in (0, count // 2, -1)]
    np.testing.assert_allclose(sheet.drawn()[20, 20], expected, atol=1)


def test_thirty_two_inks_are_told() -> None:
    # As many as ISO 32000-1, annex C, allows.
    names = [f"Ink{number}" for number in range(32)]
    sheet = Sheet(None)
    space = sheet.spaces.read(device_n(*names, program=b"{" + b"pop " * 32 + b"0 0 0 0}")(sheet.pdf))
    colour = [number / 40 for number in range(32)]
    view = View.of_inks(("Ink0", "Ink15", "Ink31"))
    assert space.shown(colour, view) == pytest.approx((1, 1 - 15 / 40, 1 - 31 / 40))


def test_a_view_has_room_for_three_plates() -> None:
    with pytest.raises(ValueError, match="one to three plates"):
        View.of_inks(("A", "B", "C", "D"))


def test_spaces_are_read_once() -> None:
    sheet = Sheet(None)
    made = sheet.pdf.make_indirect(separation("Spot", 0, 1, 1, 0)(sheet.pdf))
    assert sheet.spaces.read(made) is sheet.spaces.read(made)
    assert isinstance(sheet.spaces, PaintSpaces)
