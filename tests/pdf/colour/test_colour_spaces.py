# Colour spaces as facts: every family of ISO 32000-2, 8.6, and junk in their place.

import pikepdf
import pytest
from pikepdf import Array, Dictionary, Name
from PIL import ImageCms

from hotfolder.model.colour import Colour, ColourKind, ColourSpace
from hotfolder.pdf.colour.colour_spaces import (
    DEVICE_CMYK,
    DEVICE_GREY,
    DEVICE_RGB,
    UNKNOWN,
    initial_colour,
    is_white,
    read_colour_space,
)
from hotfolder.pdf.objects.resources import Resources

_TINT = Dictionary(FunctionType=2, Domain=[0, 1], C0=[0], C1=[1], N=1)


def _separation(name: str) -> Array:
    return Array([Name.Separation, Name(f"/{name}"), Name.DeviceCMYK, _TINT])


def _device_n(*names: str, attributes: object = None) -> Array:
    rest = [] if attributes is None else [attributes]
    return Array([Name.DeviceN, Array([Name(f"/{name}") for name in names]), Name.DeviceCMYK, _TINT, *rest])


def _icc(pdf: pikepdf.Pdf, data: bytes, count: int) -> Array:
    stream = pdf.make_stream(data)
    stream.N = count
    return Array([Name.ICCBased, stream])


@pytest.mark.parametrize(
    ("name", "space"),
    [
        ("DeviceGray", DEVICE_GREY),
        ("DeviceRGB", DEVICE_RGB),
        ("DeviceCMYK", DEVICE_CMYK),
        ("G", DEVICE_GREY),
        ("RGB", DEVICE_RGB),
        ("CMYK", DEVICE_CMYK),
    ],
)
def test_device_spaces_and_their_abbreviations(name: str, space: ColourSpace) -> None:
    assert read_colour_space(Name(f"/{name}")) == space
    assert read_colour_space(Array([Name(f"/{name}")])) == space


@pytest.mark.parametrize(
    ("family", "kind", "components"),
    [("CalGray", ColourKind.GREY, 1), ("CalRGB", ColourKind.RGB, 3), ("Lab", ColourKind.LAB, 3)],
)
def test_cie_based_spaces(family: str, kind: ColourKind, components: int) -> None:
    value = Array([Name(f"/{family}"), Dictionary(WhitePoint=[0.9505, 1, 1.089])])
    assert read_colour_space(value) == ColourSpace(family, kind, components)


@pytest.mark.parametrize(
    ("ink", "kind"),
    [
        ("Harbour#20Blue", ColourKind.SPOT),
        ("Black", ColourKind.CMYK),
        ("All", ColourKind.REGISTRATION),
        ("None", ColourKind.NONE),
    ],
)
def test_separations(ink: str, kind: ColourKind) -> None:
    space = read_colour_space(pikepdf.Object.parse(f"[/Separation /{ink} /DeviceCMYK << >>]".encode()))
    assert (space.family, space.kind, space.components) == ("Separation", kind, 1)
    assert space.inks == (ink.replace("#20", " "),)
    assert space.base == DEVICE_CMYK


@pytest.mark.parametrize(
    ("names", "kind"),
    [
        (("Cyan", "Black"), ColourKind.CMYK),
        (("Cyan", "Harbour Blue"), ColourKind.SPOT),
        (("None", "Magenta"), ColourKind.CMYK),
        (("None", "None"), ColourKind.NONE),
    ],
)
def test_device_n_is_what_its_inks_are(names: tuple[str, ...], kind: ColourKind) -> None:
    space = read_colour_space(_device_n(*names))
    assert (space.kind, space.components, space.inks) == (kind, len(names), names)


def test_process_inks_of_an_nchannel_space_may_have_other_names() -> None:
    process = Dictionary(ColorSpace=Name.DeviceCMYK, Components=[Name.C, Name.M, Name.Y, Name.K])
    attributes = Dictionary(Subtype=Name.NChannel, Process=process)
    assert read_colour_space(_device_n("C", "K", attributes=attributes)).kind is ColourKind.CMYK
    assert read_colour_space(_device_n("C", "K")).kind is ColourKind.SPOT


def test_an_indexed_space_is_of_its_bases_kind() -> None:
    space = read_colour_space(Array([Name.Indexed, _separation("Moss"), 1, pikepdf.String(b"\x00\xff")]))
    assert (space.kind, space.components, space.base) == (
        ColourKind.SPOT,
        1,
        read_colour_space(_separation("Moss")),
    )


def test_an_uncoloured_pattern_has_a_space_beneath() -> None:
    space = read_colour_space(Array([Name.Pattern, _separation("Moss")]))
    assert (space.kind, space.components) == (ColourKind.PATTERN, 1)
    assert space.base is not None
    assert space.base.kind is ColourKind.SPOT


def test_a_profile_says_what_an_iccbased_space_is() -> None:
    pdf = pikepdf.new()
    profile = ImageCms.ImageCmsProfile(ImageCms.createProfile("sRGB"))
    space = read_colour_space(_icc(pdf, profile.tobytes(), 3))
    # The description as Pillow's colour engine reads it from the same profile.
    wanted = profile.profile.profile_description
    assert (space.kind, space.components, space.profile) == (ColourKind.RGB, 3, wanted)
    grey = ImageCms.ImageCmsProfile(ImageCms.createProfile("LAB")).tobytes()
    assert read_colour_space(_icc(pdf, grey, 3)).kind is ColourKind.LAB


@pytest.mark.parametrize(
    ("count", "kind"),
    [(1, ColourKind.GREY), (3, ColourKind.RGB), (4, ColourKind.CMYK), (7, ColourKind.UNKNOWN)],
)
def test_without_a_profile_that_fits_the_number_of_components_counts(count: int, kind: ColourKind) -> None:
    pdf = pikepdf.new()
    assert read_colour_space(_icc(pdf, b"no profile", count)).kind is kind
    if count != 3:
        srgb = ImageCms.ImageCmsProfile(ImageCms.createProfile("sRGB")).tobytes()
        assert read_colour_space(_icc(pdf, srgb, count)).components == (count if count != 7 else 0)


def test_names_are_looked_up_in_resources() -> None:
    resources = Resources([Dictionary(ColorSpace=Dictionary(Moss=_separation("Moss")))])
    assert read_colour_space(Name.Moss, resources).inks == ("Moss",)
    assert read_colour_space(Name.Heather, resources) == UNKNOWN


def test_a_default_colour_space_stands_for_its_device_space() -> None:
    default = Array([Name.CalRGB, Dictionary(WhitePoint=[0.9505, 1, 1.089])])
    resources = Resources([Dictionary(ColorSpace=Dictionary(DefaultRGB=default))])
    assert read_colour_space(Name.DeviceRGB, resources).family == "CalRGB"
    assert read_colour_space(Name.DeviceCMYK, resources) == DEVICE_CMYK
    indexed = Array([Name.Indexed, Name.DeviceRGB, 0, pikepdf.String(b"\x00\x00\x00")])
    base = read_colour_space(indexed, resources).base
    assert base is not None
    assert base.family == "CalRGB"


def test_a_default_of_another_number_of_components_does_not_count() -> None:
    resources = Resources([Dictionary(ColorSpace=Dictionary(DefaultRGB=_separation("Moss")))])
    assert read_colour_space(Name.DeviceRGB, resources) == DEVICE_RGB


def test_a_default_that_names_itself_comes_to_an_end() -> None:
    resources = Resources([Dictionary(ColorSpace=Dictionary(DefaultRGB=Name.DeviceRGB, Loop=Name.Loop))])
    assert read_colour_space(Name.DeviceRGB, resources) == DEVICE_RGB
    assert read_colour_space(Name.Loop, resources) == UNKNOWN


@pytest.mark.parametrize(
    "junk",
    ["null", "42", "(text)", "[]", "[42]", "[/Nonsense]", "<< /A 1 >>", "/Nonsense", "[/Pattern /Nonsense]"],
)
def test_junk_is_of_unknown_kind(junk: str) -> None:
    value = pikepdf.Object.parse(junk.encode())
    assert read_colour_space(value).kind in {ColourKind.UNKNOWN, ColourKind.PATTERN}


@pytest.mark.parametrize(
    "junk",
    ["[/ICCBased]", "[/Indexed]", "[/Separation]", "[/DeviceN]", "[/DeviceN /A]", "[/Indexed 4 5]"],
)
def test_incomplete_spaces_are_of_unknown_kind(junk: str) -> None:
    assert read_colour_space(pikepdf.Object.parse(junk.encode())).kind is ColourKind.UNKNOWN


def test_spaces_within_spaces_end_somewhere() -> None:
    value: pikepdf.Object = Name.DeviceRGB
    for _ in range(100):
        value = Array([Name.Indexed, value, 0, pikepdf.String(b"")])
    assert read_colour_space(value).kind is ColourKind.UNKNOWN


@pytest.mark.parametrize(
    ("value", "components", "white"),
    [
        (Name.DeviceGray, (1.0,), True),
        (Name.DeviceGray, (0.99,), False),
        (Name.DeviceRGB, (1.0, 1.0, 1.0), True),
        (Name.DeviceRGB, (1.0, 1.0, 0.9), False),
        (Name.DeviceCMYK, (0.0, 0.0, 0.0, 0.0), True),
        (Name.DeviceCMYK, (0.0, 0.0, 0.0, 0.01), False),
        (_separation("Moss"), (0.0,), True),
        (_separation("Moss"), (1.0,), False),
        (_separation("None"), (1.0,), True),
        (_device_n("Moss", "Cyan"), (0.0, 0.0), True),
        (Array([Name.Lab, Dictionary()]), (100.0, 0.0, 0.0), True),
        (Array([Name.Lab, Dictionary()]), (100.0, 5.0, 0.0), False),
        (Array([Name.Indexed, Name.DeviceGray, 0, pikepdf.String(b"\xff")]), (0.0,), False),
        (Name.Pattern, (), False),
    ],
)
def test_white_is_no_ink_or_all_light(
    value: pikepdf.Object,
    components: tuple[float, ...],
    white: bool,  # noqa: FBT001 - a column of the table
) -> None:
    assert is_white(Colour(read_colour_space(value), components)) is white


def test_initial_colours_are_those_of_the_standard() -> None:
    # ISO 32000-2, 8.6.8, `CS`, and the clauses of each family.
    assert initial_colour(DEVICE_CMYK).components == (0.0, 0.0, 0.0, 1.0)
    assert initial_colour(DEVICE_RGB).components == (0.0, 0.0, 0.0)
    assert initial_colour(read_colour_space(_separation("Moss"))).components == (1.0,)
