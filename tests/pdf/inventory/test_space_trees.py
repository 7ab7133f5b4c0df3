# Colour spaces with all that they are built on: names, defaults, inks, profiles, tables; circles and damage.
import hashlib

import pikepdf
import pytest
from pikepdf import Array, Dictionary, Name, Stream, String

from hotfolder.model.inventory.colour import ColourTable, SpaceTree, SpaceTrouble, TintTransform
from hotfolder.pdf.inventory.space_trees import SpaceTrees
from hotfolder.pdf.objects.resources import Resources
from tests.checks.pdf.pdfx.profiles_by_hand import profile_by_hand

NO_RESOURCES = Resources()


def tree(value: object, resources: Resources = NO_RESOURCES) -> SpaceTree:
    return SpaceTrees().read(value, resources)


def spaces(**entries: object) -> Resources:
    return Resources((Dictionary(ColorSpace=Dictionary({f"/{key}": each for key, each in entries.items()})),))


def icc(pdf: pikepdf.Pdf, data: bytes, **entries: object) -> Array:
    stream = Stream(pdf, data)
    for key, value in entries.items():
        stream[f"/{key}"] = value
    return Array([Name.ICCBased, pdf.make_indirect(stream)])


def test_a_device_space_has_the_default_that_stands_for_it() -> None:
    default = Array([Name.CalRGB, Dictionary(WhitePoint=Array([0.95, 1, 1.09]))])
    read = tree(Name.DeviceRGB, spaces(DefaultRGB=default))
    assert (read.family, read.components) == ("DeviceRGB", 3)
    assert read.default is not None
    assert (read.default.family, read.default.white) == ("CalRGB", (0.95, 1.0, 1.09))


def test_a_default_of_another_number_of_components_stands_for_nothing() -> None:
    assert tree(Name.DeviceRGB, spaces(DefaultRGB=Name.DeviceCMYK)).default is None


def test_a_name_stands_for_the_space_among_the_resources() -> None:
    read = tree(Name.Sea, spaces(Sea=Array([Name.Indexed, Name.DeviceCMYK, 1, String(b"12345678")])))
    assert (read.family, read.table) == ("Indexed", ColourTable(1, 8))
    assert read.named_colours.family == "DeviceCMYK"


def test_a_name_that_is_not_there_is_told_from_what_is_no_space() -> None:
    assert tree(Name.Sea).trouble is SpaceTrouble.MISSING
    assert tree(Name.Sea, spaces(Sea=Array([Name.Ocean, 7]))).trouble is SpaceTrouble.NO_SPACE
    assert [tree(value).trouble for value in (None, 7, Array([]), Dictionary())] == [
        SpaceTrouble.NO_SPACE
    ] * 4


def test_a_circle_of_spaces_ends() -> None:
    pdf = pikepdf.new()
    circle = pdf.make_indirect(Array([Name.Indexed, Name.DeviceGray, 0, String(b"1")]))
    circle[1] = circle
    assert SpaceTrouble.ENDLESS in {part.trouble for part in tree(circle).parts()}


def test_inks_have_their_names_their_look_and_the_function_between() -> None:
    pdf = pikepdf.new()
    function = Stream(pdf, b"{pop pop 0 0 0 0}")
    function.FunctionType, function.Domain, function.Range = 4, Array([0, 1] * 2), Array([0, 1] * 4)
    moss = Array(
        [Name.Separation, Name.Moss, Name.DeviceGray, Dictionary(FunctionType=2, Domain=[0, 1], N=1)]
    )
    process = Dictionary(ColorSpace=Name.DeviceCMYK, Components=Array([Name.Cyan]))
    attributes = Dictionary(Colorants=Dictionary(Moss=moss), Process=process)
    read = tree(Array([Name.DeviceN, Array([Name.Moss, 7]), Name.DeviceCMYK, function, attributes]))
    assert (read.inks, read.nameless, read.components) == (("Moss",), True, 2)
    assert read.alternate == SpaceTree("DeviceCMYK", 4)
    assert read.tint == TintTransform(is_function=True, inputs=2, outputs=4)
    assert (read.process, read.process_inks) == (SpaceTree("DeviceCMYK", 4), 1)
    ((ink, described),) = read.colorants
    assert (ink, described.family, described.tint) == ("Moss", "Separation", TintTransform(True, 1, 1))  # noqa: FBT003


@pytest.mark.parametrize(
    ("function", "told"),
    [
        (None, TintTransform(is_function=False)),
        (Name.Identity, TintTransform(is_function=False)),
        (Dictionary(FunctionType=9, Domain=[0, 1]), TintTransform(is_function=False)),
        (Dictionary(FunctionType=2, C1=[1, 1, 1]), TintTransform(is_function=True, outputs=3)),
        (
            Dictionary(FunctionType=3, Domain=[0, 1], Functions=[Dictionary(FunctionType=2, C0=[0, 0])]),
            TintTransform(is_function=True, inputs=1, outputs=2),
        ),
        (Dictionary(FunctionType=3, Domain=[0, 1]), TintTransform(is_function=True, inputs=1)),
    ],
)
def test_what_a_function_takes_and_gives_is_told_by_its_entries(
    function: object, told: TintTransform
) -> None:
    assert tree(Array([Name.Separation, Name.Moss, Name.DeviceCMYK, function])).tint == told


def test_a_profile_is_told_by_its_header() -> None:
    pdf = pikepdf.new()
    data = profile_by_hand("CMYK", "prtr", (4, 3))
    read = tree(icc(pdf, data, N=4, Alternate=Name.DeviceCMYK, Range=Array([0, 1])))
    profile = read.profile
    assert profile is not None
    assert (profile.readable, profile.version, profile.space) == (True, (4, 3), "CMYK")
    assert (profile.device_class, profile.components, profile.stated) == ("prtr", 4, 4)
    assert (profile.alternate, profile.range_numbers) == (SpaceTree("DeviceCMYK", 4), 2)


def test_what_is_no_profile_is_told_to_be_none() -> None:
    pdf = pikepdf.new()
    for space in (icc(pdf, b"short", N=3), Array([Name.ICCBased, 7]), Array([Name.ICCBased])):
        profile = tree(space).profile
        assert profile is not None
        assert not profile.readable


def test_the_profile_of_the_output_is_known_by_its_bytes_or_by_its_checksum() -> None:
    pdf = pikepdf.new()
    data = profile_by_hand("CMYK", "prtr")
    same, other = icc(pdf, data, N=4), icc(pdf, data + b"\0", N=4)
    for trees in (
        SpaceTrees(pdf.make_indirect(Stream(pdf, data))),
        SpaceTrees(None, hashlib.md5(data, usedforsecurity=False).digest()),
    ):
        first, second = trees.read(same, NO_RESOURCES).profile, trees.read(other, NO_RESOURCES).profile
        assert first is not None
        assert second is not None
        assert (first.is_output, second.is_output) == (True, False)


def test_single_inks_within_single_inks_are_not_read_on_and_on() -> None:
    pdf = pikepdf.new()
    mix = pdf.make_indirect(Array([Name.DeviceN, Array([Name.A]), Name.DeviceGray, Name.None_]))
    colorants = Dictionary({f"/Ink{number}": mix for number in range(60)})
    mix.append(Dictionary(Colorants=colorants, Process=Dictionary(ColorSpace=mix)))
    assert sum(1 for _ in tree(mix).parts()) < 10_000
