# What a name or an array says of a colour space, sound or damaged.
import pikepdf
import pytest
from pikepdf import Array, Dictionary, Name, String

from hotfolder.pdf.colour.written_spaces import (
    CalibratedSpace,
    IccSpace,
    IndexedSpace,
    InkSpace,
    NamedSpace,
    PatternSpace,
    written_space,
)
from hotfolder.pdf.objects.limits import COLOUR_COMPONENTS
from hotfolder.pdf.objects.resources import Resources


@pytest.mark.parametrize(
    ("value", "name", "family"),
    [
        (Name.DeviceRGB, "DeviceRGB", "DeviceRGB"),
        (Name.G, "G", "DeviceGray"),
        (Array([Name.CMYK]), "CMYK", "DeviceCMYK"),
        (Name.Pattern, "Pattern", "Pattern"),
        (Name.CS0, "CS0", "CS0"),
        (Array([Name.CS0, 1]), "CS0", "CS0"),
        (Array([]), "", ""),
        (Array([1]), "", ""),
        (None, "", ""),
        (7, "", ""),
    ],
)
def test_a_name_is_kept_as_written_with_the_family_that_it_may_be(
    value: object, name: str, family: str
) -> None:
    assert written_space(value) == NamedSpace(name, family)


def test_a_short_name_may_be_that_of_a_resource_and_a_default_only_that_of_a_device() -> None:
    spaces = Dictionary(G=Name.DeviceRGB, DefaultGray=Name.DeviceCMYK, DefaultCS0=Name.DeviceCMYK)
    resources = Resources((Dictionary(ColorSpace=spaces),))
    grey = NamedSpace("G", "DeviceGray")
    assert grey.default(resources) == Name.DeviceCMYK
    assert grey.resource(resources) == Name.DeviceRGB
    assert NamedSpace("CS0", "CS0").default(resources) is None
    assert NamedSpace("", "").resource(resources) is None


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


def test_an_icc_space_says_its_components_and_what_stands_in() -> None:
    with pikepdf.new() as pdf:
        stream = pdf.make_stream(b"profile", N=3, Alternate=Name.DeviceRGB)
        written = written_space(Array([Name.ICCBased, stream]))
        assert isinstance(written, IccSpace)
        assert (written.components, written.alternate, written.profile()) == (3, Name.DeviceRGB, b"profile")
        assert written.ranges is None
    nothing = written_space(Array([Name.ICCBased]))
    assert isinstance(nothing, IccSpace)
    assert (nothing.components, nothing.alternate, nothing.profile()) == (None, None, None)


def test_a_table_may_be_a_string_or_a_stream_or_damaged() -> None:
    with pikepdf.new() as pdf:
        tables = [String("abcdef"), pdf.make_stream(b"abcdef"), 7]
        found = [written_space(Array([Name.I, Name.DeviceRGB, 1, table])) for table in tables]
        written = [each for each in found if isinstance(each, IndexedSpace)]
        assert [each.table_bytes() for each in written] == [b"abcdef", b"abcdef", b""]
        assert {each.top for each in written} == {1}


def test_a_pattern_space_may_have_one_beneath() -> None:
    assert written_space(Array([Name.Pattern])) == PatternSpace(None)
    assert written_space(Array([Name.Pattern, Name.DeviceRGB])) == PatternSpace(Name.DeviceRGB)


def test_inks_are_read_with_what_stands_for_them_and_what_they_are_called() -> None:
    process = Dictionary(ColorSpace=Name.DeviceCMYK, Components=Array([Name.C1, 7]))
    names = Array([Name.Foil, Name.C1])
    value = Array([Name.DeviceN, names, Name.DeviceCMYK, Dictionary(), Dictionary(Process=process)])
    written = written_space(value)
    assert isinstance(written, InkSpace)
    assert (written.family, written.inks, written.nameless) == ("DeviceN", ("Foil", "C1"), False)
    assert (written.alternate, written.process_space) == (Name.DeviceCMYK, Name.DeviceCMYK)
    assert written.process_inks == ("C1", None)


@pytest.mark.parametrize(
    ("value", "inks", "nameless"),
    [
        (Array([Name.Separation, Name.Foil, Name.DeviceCMYK]), ("Foil",), False),
        (Array([Name.Separation, 1]), (), True),
        (Array([Name.DeviceN, Array([Name.Foil, 1])]), ("Foil",), True),
        (Array([Name.DeviceN, Name.Foil]), (), False),
        (Array([Name.DeviceN, Array([Name.Foil] * 100)]), ("Foil",) * COLOUR_COMPONENTS, False),
    ],
)
def test_inks_without_a_name_are_noticed(value: object, inks: tuple[str, ...], *, nameless: bool) -> None:
    written = written_space(value)
    assert isinstance(written, InkSpace)
    assert (written.inks, written.nameless) == (inks, nameless)
