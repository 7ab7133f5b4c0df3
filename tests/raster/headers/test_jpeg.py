# What a JPEG header declares: size, colour, resolution and where it comes from, profile, orientation.
import struct

import pytest
from PIL import Image

from hotfolder.model.colour import ColourKind
from hotfolder.model.facts import ProblemKind
from hotfolder.model.raster import ResolutionOrigin
from hotfolder.raster.headers.jpeg import read_jpeg
from hotfolder.raster.headers.picture import JpegScans, PictureHeader
from tests.raster.raster_bytes import (
    RATIONAL,
    SHORT,
    Field,
    bare_jpeg,
    exif_block,
    jfif,
    only,
    resolution_info,
    saved,
    segment,
    source,
    srgb_profile,
)

GREY = Image.new("L", (40, 24), 128)


def read(*segments: bytes, image: Image.Image = GREY) -> PictureHeader:
    return only(read_jpeg(source(bare_jpeg(image, *segments))))


def declared(*segments: bytes) -> tuple[float | None, float | None, ResolutionOrigin | None]:
    facts = read(*segments).facts
    return facts.x_ppi, facts.y_ppi, facts.resolution_origin


def exif(*fields: Field, order: str = "<") -> bytes:
    return segment(0xE1, b"Exif\0\0" + exif_block(*fields, order=order))


def exif_resolution(x: int, y: int, unit: int) -> bytes:
    return exif((282, RATIONAL, [x, 1]), (283, RATIONAL, [y, 1]), (296, SHORT, [unit]))


def photoshop(*resources: bytes) -> bytes:
    return segment(0xED, b"Photoshop 3.0\0" + b"".join(resources))


@pytest.mark.parametrize(
    ("mode", "family", "kind", "components"),
    [
        ("L", "grey", ColourKind.GREY, 1),
        ("RGB", "RGB", ColourKind.RGB, 3),
        ("CMYK", "CMYK", ColourKind.CMYK, 4),
    ],
)
def test_mode_and_size(mode: str, family: str, kind: ColourKind, components: int) -> None:
    facts = only(read_jpeg(source(saved(Image.new(mode, (40, 24)), "JPEG")))).facts
    assert (facts.width_px, facts.height_px, facts.bits) == (40, 24, 8)
    assert (facts.colour.family, facts.colour.kind, facts.colour.components) == (family, kind, components)
    assert not facts.progressive
    assert (facts.compression, facts.extra_channels, facts.alpha) == ("JPEG", 0, False)


def scans(image: Image.Image, **options: object) -> JpegScans:
    pixels = only(read_jpeg(source(saved(image, "JPEG", **options)))).pixels
    assert isinstance(pixels, JpegScans)
    return pixels


def test_progressive_is_told_and_needs_memory_for_all_its_coefficients() -> None:
    image = Image.new("CMYK", (400, 300))
    assert only(read_jpeg(source(saved(image, "JPEG", progressive=True)))).facts.progressive
    coefficients = 400 * 300 * 4 * 2  # two bytes each, nothing subsampled
    assert scans(image, progressive=True).reduced_bytes >= coefficients
    assert scans(image).reduced_bytes < 400 * 300


def test_subsampled_colour_keeps_half_the_coefficients() -> None:
    image = Image.new("RGB", (400, 300))
    full = scans(image, progressive=True, subsampling="4:4:4").reduced_bytes
    half = scans(image, progressive=True, subsampling="4:2:0").reduced_bytes
    assert full - half == 400 * 300 * 3 // 2 * 2


def test_the_least_that_scans_can_take_is_less_than_the_emptiest_picture_takes() -> None:
    for options in ({}, {"progressive": True}, {"subsampling": "4:2:0"}):
        data = saved(Image.new("RGB", (800, 640)), "JPEG", quality=1, optimize=True, **options)
        least = scans(Image.new("RGB", (800, 640)), quality=1, optimize=True, **options).least_bytes
        assert 1000 < least < len(data)


@pytest.mark.parametrize(
    ("segments", "expected"),
    [
        # JFIF 1.02: units 1 are per inch, 2 per centimetre, 0 an aspect ratio.
        ([jfif(1, 300, 200)], (300, 200, ResolutionOrigin.JFIF)),
        ([jfif(2, 118, 118)], (pytest.approx(299.72), pytest.approx(299.72), ResolutionOrigin.JFIF)),
        ([jfif(0, 1, 1)], (None, None, None)),
        ([jfif(1, 0, 0)], (None, None, None)),
        ([jfif(1, 72, 72)], (72, 72, ResolutionOrigin.JFIF)),
        ([jfif(1, 1, 1)], (1, 1, ResolutionOrigin.JFIF)),
        ([], (None, None, None)),
        # JFIF comes first, then Exif, then the image resource.
        ([jfif(0, 1, 1), exif_resolution(240, 240, 2)], (240, 240, ResolutionOrigin.EXIF)),
        ([jfif(1, 300, 300), exif_resolution(240, 240, 2)], (300, 300, ResolutionOrigin.JFIF)),
        ([exif_resolution(100, 50, 3)], (254, 127, ResolutionOrigin.EXIF)),
        ([exif_resolution(100, 50, 1)], (None, None, None)),
        ([photoshop(resolution_info(300, 150))], (300, 150, ResolutionOrigin.PHOTOSHOP)),
        (
            [exif_resolution(72, 72, 2), photoshop(resolution_info(300, 300))],
            (72, 72, ResolutionOrigin.EXIF),
        ),
        # The unit that a resource shows (2: centimetre) does not change its figures.
        ([photoshop(resolution_info(300, 300, shown=2))], (300, 300, ResolutionOrigin.PHOTOSHOP)),
    ],
)
def test_the_resolution_and_where_it_comes_from(
    segments: list[bytes], expected: tuple[float | None, float | None, ResolutionOrigin | None]
) -> None:
    assert declared(*segments) == expected


def test_exif_divides_by_zero_and_the_next_declaration_counts() -> None:
    broken = exif((282, RATIONAL, [300, 0]), (283, RATIONAL, [300, 0]), (296, SHORT, [2]))
    assert declared(broken, photoshop(resolution_info(200, 200))) == (200, 200, ResolutionOrigin.PHOTOSHOP)


def test_two_declared_resolutions_are_told() -> None:
    picture = read(jfif(1, 72, 72), exif_resolution(300, 300, 2))
    (trouble,) = picture.troubles
    assert (trouble.part, trouble.kind) == ("x_ppi", ProblemKind.NOTE)
    assert not read(jfif(2, 118, 118), exif_resolution(300, 300, 2)).troubles  # 299.7 is rounding


@pytest.mark.parametrize("order", ["<", ">"])
@pytest.mark.parametrize("value", range(1, 9))
def test_orientation(value: int, order: str) -> None:
    facts = read(exif((274, SHORT, [value]), order=order)).facts
    assert facts.orientation == value
    assert facts.turned_px == ((24, 40) if value >= 5 else (40, 24))


@pytest.mark.parametrize("value", [0, 9, 300])
def test_an_orientation_that_there_is_not_is_upright(value: int) -> None:
    assert read(exif((274, SHORT, [value]))).facts.orientation == 1


def test_an_exif_block_that_is_none_is_a_note() -> None:
    picture = read(segment(0xE1, b"Exif\0\0nothing here"))
    assert picture.facts.x_ppi is None
    assert [trouble.kind for trouble in picture.troubles] == [ProblemKind.NOTE]


def test_exif_names_srgb_where_no_profile_does() -> None:
    sub = struct.pack("<HHHIII", 1, 40961, 3, 1, 1, 0)
    block = exif_block((34665, 4, [8 + 2 + 12 + 4]))
    facts = read(segment(0xE1, b"Exif\0\0" + block + sub), image=Image.new("RGB", (8, 8))).facts
    assert (facts.icc_profile, facts.icc_space) == ("sRGB", None)


def profile_pieces(profile: bytes, *numbers: int, count: int) -> list[bytes]:
    step = -(-len(profile) // count)
    return [
        segment(
            0xE2, b"ICC_PROFILE\0" + bytes([number, count]) + profile[(number - 1) * step : number * step]
        )
        for number in numbers
    ]


def test_a_profile_in_pieces_out_of_order() -> None:
    facts = read(*profile_pieces(srgb_profile(), 3, 1, 2, count=3)).facts
    assert facts.icc_space == "RGB"
    assert facts.icc_profile is not None
    assert "sRGB" in facts.icc_profile
    assert facts.colour.profile == facts.icc_profile


def test_a_profile_that_lacks_a_piece_is_damage() -> None:
    picture = read(*profile_pieces(srgb_profile(), 1, 3, count=3))
    assert picture.facts.icc_profile is None
    assert [(t.part, t.kind) for t in picture.troubles] == [("icc_profile", ProblemKind.DAMAGED)]


def test_resources_may_run_on_over_segments() -> None:
    block = resolution_info(300, 300)
    title = b"Photoshop 3.0\0"
    parts = (segment(0xED, title + block[:9]), segment(0xED, title + block[9:]))
    assert declared(*parts) == (300, 300, ResolutionOrigin.PHOTOSHOP)


def test_bytes_between_segments_are_skipped() -> None:
    data = bare_jpeg(GREY, jfif(1, 300, 300) + b"\0\0\0\xff\xff\xff")
    assert only(read_jpeg(source(data))).facts.x_ppi == 300


@pytest.mark.parametrize(
    ("marker", "precision", "compression"),
    [(0xC3, 8, "JPEG (lossless)"), (0xC1, 12, "JPEG"), (0xCB, 8, "JPEG (lossless, arithmetic)")],
)
def test_kinds_that_no_decoder_here_reads(marker: int, precision: int, compression: str) -> None:
    frame = segment(marker, struct.pack(">BHHB", precision, 30, 20, 1) + b"\x01\x11\0")
    picture = only(read_jpeg(source(b"\xff\xd8" + frame + segment(0xDA, b"\1\1\0\0\x3f\0"))))
    assert (picture.facts.compression, picture.facts.bits) == (compression, precision)
    assert isinstance(picture.pixels, JpegScans)
    assert not picture.pixels.supported


@pytest.mark.parametrize(
    ("data", "kind"),
    [
        (b"\xff\xd8", ProblemKind.UNREADABLE),
        (b"\xff\xd8\xff\xd9", ProblemKind.UNREADABLE),
        (b"\xff\xd8" + b"\0" * 100_000, ProblemKind.UNREADABLE),
        (b"\xff\xd8" + segment(0xC0, b"\x08\0\0\0\x10\1\1\x11\0") + b"\xff\xd9", ProblemKind.UNSUPPORTED),
        (b"\xff\xd8" + segment(0xC0, b"\x08\0\x10\0\0\1\1\x11\0") + b"\xff\xd9", ProblemKind.UNREADABLE),
        (b"\xff\xd8" + segment(0xC0, b"\x08\0\x10\0\x10\xff") + b"\xff\xd9", ProblemKind.UNREADABLE),
    ],
)
def test_files_without_a_picture(data: bytes, kind: ProblemKind) -> None:
    reading = read_jpeg(source(data))
    assert reading.pictures == ()
    assert [trouble.kind for trouble in reading.troubles] == [kind]
