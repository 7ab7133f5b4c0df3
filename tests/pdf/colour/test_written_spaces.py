# The tree of spaces that a name or an array stands for, sound or damaged.
from collections.abc import Callable

import pikepdf
import pytest
from pikepdf import Array, Dictionary, Name, String

from hotfolder.pdf.colour.written_spaces import (
    CalibratedSpace,
    DeviceSpace,
    IccSpace,
    IndexedSpace,
    InkSpace,
    PatternSpace,
    UnknownSpace,
    WrittenSpace,
    written_space,
)
from hotfolder.pdf.objects.limits import COLOUR_COMPONENTS, COLOUR_SPACE_NESTING
from hotfolder.pdf.objects.resources import Resources

GREY, RGB, CMYK = (DeviceSpace(each, each) for each in ("DeviceGray", "DeviceRGB", "DeviceCMYK"))
MOST = ("F",) * COLOUR_COMPONENTS
FUNCTION = Dictionary(FunctionType=2, Domain=[0, 1], C0=[0], C1=[1], N=1)


def resources(**spaces: pikepdf.Object) -> Resources:
    named = Dictionary({f"/{name}": space for name, space in spaces.items()})
    return Resources((Dictionary(ColorSpace=named),))


@pytest.mark.parametrize(
    ("value", "space"),
    [
        (Name.DeviceRGB, RGB),
        (Name.G, DeviceSpace("G", "DeviceGray")),
        (Array([Name.CMYK]), DeviceSpace("CMYK", "DeviceCMYK")),
        (Name.Pattern, PatternSpace(None, None)),
        (Name.CS0, UnknownSpace("CS0")),
        (Array([Name.CS0, 1]), UnknownSpace("CS0")),
        (Array([]), UnknownSpace()),
        (Array([1]), UnknownSpace()),
        (None, UnknownSpace()),
        (7, UnknownSpace()),
    ],
)
def test_a_name_alone_is_that_of_a_device_or_of_patterns(value: object, space: WrittenSpace) -> None:
    assert written_space(value) == space


def test_other_names_are_looked_up_wherever_they_stand() -> None:
    held = resources(CS0=Name.DeviceCMYK, CS1=Name.CS0)
    assert written_space(Name.CS1, held) == written_space(Array([Name.CS1]), held) == CMYK
    table = written_space(Array([Name.Indexed, Name.CS0, 1, String("")]), held)
    assert isinstance(table, IndexedSpace)
    assert table.base == CMYK


def test_a_resource_goes_before_the_short_name_of_a_device() -> None:
    """As pdfium and poppler have it; short names are those of inline images (ISO 32000-2, 8.9.7)."""
    held = resources(G=Name.DeviceRGB, CMYK=Array([Name.Separation, Name.Leaf, Name.DeviceCMYK, FUNCTION]))
    assert written_space(Name.G, held) == written_space(Array([Name.G]), held) == RGB
    assert written_space(Name.CMYK, held).family == "Separation"
    assert written_space(Name.RGB, held) == DeviceSpace("RGB", "DeviceRGB")
    assert written_space(Name.G, resources(G=Name.G)) == UnknownSpace(endless=True)


def test_a_default_stands_for_its_device_and_is_read_without_resources() -> None:
    held = resources(DefaultGray=Name.DeviceGray, DefaultRGB=Name.CS0, CS0=Name.DeviceRGB)
    grey = written_space(Name.G, held)
    assert grey == DeviceSpace("G", "DeviceGray", default=GREY)
    assert isinstance(grey, DeviceSpace)
    assert grey.meant == GREY
    assert written_space(Name.CS0, held) == DeviceSpace("DeviceRGB", "DeviceRGB", UnknownSpace("CS0"))
    assert written_space(Name.DeviceCMYK, held) == CMYK


def test_a_default_with_another_number_of_components_does_not_count() -> None:
    device = written_space(Name.DeviceRGB, resources(DefaultRGB=Name.DeviceCMYK))
    assert isinstance(device, DeviceSpace)
    assert device.default == CMYK
    assert device.meant is device


def test_a_default_stands_for_the_alternate_of_inks() -> None:
    """One of the places that ISO 32000-2, 8.6.5.6 names; programs rely on it, such as Apache FOP."""
    held = resources(DefaultRGB=Array([Name.CalRGB, Dictionary(WhitePoint=[1, 1, 1])]))
    for inks in (Array([Name.Separation, Name.A]), Array([Name.DeviceN, Array([Name.A])])):
        inks.extend([Name.DeviceRGB, FUNCTION])
        written = written_space(inks, held)
        assert isinstance(written, InkSpace)
        assert isinstance(written.alternate, DeviceSpace)
        assert isinstance(written.alternate.meant, CalibratedSpace)


def test_no_default_stands_for_the_process_inks_or_beneath_a_profile() -> None:
    held = resources(DefaultCMYK=Array([Name.DeviceN, Array([Name.A] * 4), Name.DeviceCMYK, FUNCTION]))
    process = Dictionary(Process=Dictionary(ColorSpace=Name.DeviceCMYK))
    inks = written_space(Array([Name.DeviceN, Array([Name.A]), Name.DeviceCMYK, FUNCTION, process]), held)
    assert isinstance(inks, InkSpace)
    assert inks.process_space == CMYK
    with pikepdf.new() as pdf:
        stream = pdf.make_stream(b"profile", N=4, Alternate=Name.DeviceCMYK)
        profiled = written_space(Array([Name.ICCBased, stream]), held)
        assert isinstance(profiled, IccSpace)
        assert profiled.alternate == CMYK


@pytest.mark.parametrize(
    ("given", "ranges"),
    [
        (None, ((0, 100), (-100, 100), (-100, 100))),
        (Array([-50, 60, -70, 80]), ((0, 100), (-50, 60), (-70, 80))),
        (Array([10, -10, 0, 5]), ((0, 100), (10, 10), (0, 5))),
        (Array([1, 2]), ((0, 100), (-100, 100), (-100, 100))),
    ],
)
def test_ranges_of_lab_are_in_order_and_have_a_default(
    given: pikepdf.Array | None, ranges: tuple[tuple[float, float], ...]
) -> None:
    parameters = Dictionary() if given is None else Dictionary(Range=given)
    written = written_space(Array([Name.Lab, parameters]))
    assert isinstance(written, CalibratedSpace)
    assert written.lab_ranges == ranges


def test_an_icc_space_says_its_components_its_profile_and_what_stands_in() -> None:
    with pikepdf.new() as pdf:
        stream = pdf.make_stream(b"profile", N=3, Alternate=Name.DeviceRGB)
        written = written_space(Array([Name.ICCBased, stream]))
        assert isinstance(written, IccSpace)
        assert (written.components, written.alternate, written.profile()) == (3, RGB, b"profile")
        assert written.profile_number == f"{stream.objgen[0]} 0"
        assert written.ranges is None
    nothing = written_space(Array([Name.ICCBased]))
    assert isinstance(nothing, IccSpace)
    assert (nothing.components, nothing.alternate, nothing.profile()) == (None, None, None)
    assert nothing.profile_number is None


def test_a_table_may_be_a_string_or_a_stream_or_damaged() -> None:
    with pikepdf.new() as pdf:
        tables = [String("abcdef"), pdf.make_stream(b"abcdef"), 7]
        spaces = [written_space(Array([Name.I, Name.DeviceRGB, 1, table])) for table in tables]
        indexed = [each for each in spaces if isinstance(each, IndexedSpace)]
        assert [each.table_bytes() for each in indexed] == [b"abcdef", b"abcdef", b""]
        assert {each.top for each in indexed} == {1}
        assert [each.base for each in indexed] == [RGB] * 3


def test_a_pattern_space_may_have_one_beneath() -> None:
    without = written_space(Array([Name.Pattern]))
    beneath = written_space(Array([Name.Pattern, Name.DeviceRGB]))
    assert isinstance(without, PatternSpace)
    assert isinstance(beneath, PatternSpace)
    assert (without.base, beneath.base) == (None, RGB)


def test_inks_are_read_with_what_stands_for_them_and_what_they_are_called() -> None:
    process = Dictionary(ColorSpace=Name.DeviceCMYK, Components=Array([Name.C1, 7]))
    foil = Array([Name.Separation, Name.Foil, Name.DeviceGray, FUNCTION])
    attributes = Dictionary(Subtype=Name.NChannel, Process=process, Colorants=Dictionary(Foil=foil, Odd=7))
    names = Array([Name.Foil, Name.C1])
    written = written_space(Array([Name.DeviceN, names, Name.DeviceCMYK, FUNCTION, attributes]))
    assert isinstance(written, InkSpace)
    assert (written.family, written.names) == ("DeviceN", ("Foil", "C1"))
    assert (written.alternate, written.process_space) == (CMYK, CMYK)
    assert (written.tint, written.attributes) == (FUNCTION, attributes)
    assert written.process_inks == ("C1", None)
    assert written.colorants() == {"Foil": written_space(foil), "Odd": UnknownSpace()}


@pytest.mark.parametrize(
    ("value", "names", "inks"),
    [
        (Array([Name.Separation, Name.Foil, Name.DeviceCMYK]), ("Foil",), ("Foil",)),
        (Array([Name.Separation, 1]), (None,), ()),
        (Array([Name.DeviceN, Array([Name.Foil, 1])]), ("Foil", None), ("Foil",)),
        (Array([Name.DeviceN, Name.Foil]), (), ()),
        (
            Array([Name.DeviceN, Array([Name.F] * 100)]),
            ("F",) * COLOUR_COMPONENTS,
            ("F",) * COLOUR_COMPONENTS,
        ),
    ],
)
def test_inks_without_a_name_are_noticed(
    value: object, names: tuple[str | None, ...], inks: tuple[str, ...]
) -> None:
    written = written_space(value)
    assert isinstance(written, InkSpace)
    assert (written.names, written.inks) == (names, inks)
    assert written.alternate in {UnknownSpace(), CMYK}
    assert (written.process_space, written.colorants()) == (None, {})


@pytest.mark.parametrize(
    ("value", "components"),
    [
        (Name.DeviceCMYK, 4),
        (Array([Name.CalGray, Dictionary()]), 1),
        (Array([Name.Lab, Dictionary()]), 3),
        (Array([Name.ICCBased, Dictionary(N=3)]), 3),
        (Array([Name.Indexed, Name.DeviceRGB, 1, String("")]), 1),
        (Name.Pattern, 0),
        (Array([Name.Pattern, Name.DeviceRGB]), 3),
        (Array([Name.DeviceN, Array([Name.A, 1])]), 2),
        (Name.CS0, None),
    ],
)
def test_components_are_told_as_written(value: object, components: int | None) -> None:
    assert written_space(value).components == components


def depth(space: WrittenSpace) -> int:
    return 1 + depth(space.base) if isinstance(space, IndexedSpace) else 0


def test_spaces_within_spaces_end_somewhere() -> None:
    value: pikepdf.Object = Name.DeviceRGB
    for _ in range(100):
        value = Array([Name.Indexed, value, 0, String("")])
    assert depth(written_space(value)) == COLOUR_SPACE_NESTING


def test_a_space_that_holds_itself_is_read_once() -> None:
    with pikepdf.new() as pdf:
        indexed = pdf.make_indirect(Array([Name.Indexed, 0, 0, String("")]))
        indexed[1] = indexed
        inks = pdf.make_indirect(Array([Name.Separation, Name.Foil, 0, FUNCTION]))
        inks[2] = inks
        named = pdf.make_indirect(Array([Name.CS0]))
        by_index, by_inks = written_space(indexed), written_space(inks)
        assert isinstance(by_index, IndexedSpace)
        assert isinstance(by_inks, InkSpace)
        assert by_index.base == by_inks.alternate == UnknownSpace(endless=True)
        assert written_space(named, resources(CS0=named)) == UnknownSpace(endless=True)


def indexed_over(base: pikepdf.Object) -> pikepdf.Array:
    return Array([Name.Indexed, base, 0, String("abc")])


def inks_over(base: pikepdf.Object) -> pikepdf.Array:
    return Array([Name.Separation, Name.Moss, base, FUNCTION])


@pytest.mark.parametrize(
    "over", [indexed_over, inks_over, lambda base: Array([Name.Pattern, base]), lambda base: base]
)
def test_the_meaning_of_a_name_within_is_that_of_the_resource(
    over: Callable[[pikepdf.Object], pikepdf.Object],
) -> None:
    of_inks = Array([Name.Separation, Name.Foil, Name.DeviceCMYK, FUNCTION])
    one, same, other = resources(CS0=of_inks), resources(CS0=of_inks), resources(CS0=Name.DeviceRGB)
    value = over(Name.CS0)
    assert written_space(value, one).meaning == written_space(value, same).meaning
    assert written_space(value, one).meaning != written_space(value, other).meaning
    default = resources(DefaultRGB=of_inks)
    assert written_space(over(Name.DeviceRGB)).meaning != written_space(over(Name.DeviceRGB), default).meaning
