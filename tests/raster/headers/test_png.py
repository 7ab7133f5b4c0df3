# What a PNG header declares; figures from the W3C specification, third edition.
import struct
import zlib

import pytest

from hotfolder.model.colour import ColourKind
from hotfolder.model.facts import ProblemKind
from hotfolder.model.raster import ResolutionOrigin
from hotfolder.raster.headers.picture import PictureHeader, PngRows
from hotfolder.raster.headers.png import read_png
from tests.raster.raster_bytes import SHORT, chunk, exif_block, only, phys, png, source, srgb_profile


def read(data: bytes) -> PictureHeader:
    return only(read_png(source(data)))


@pytest.mark.parametrize(
    ("kind", "depth", "family", "colour", "alpha", "extra"),
    [
        (0, 8, "grey", ColourKind.GREY, False, 0),
        (0, 1, "bitmap", ColourKind.GREY, False, 0),
        (0, 16, "grey", ColourKind.GREY, False, 0),
        (2, 8, "RGB", ColourKind.RGB, False, 0),
        (3, 4, "indexed", ColourKind.RGB, False, 0),
        (4, 8, "grey", ColourKind.GREY, True, 1),
        (6, 16, "RGB", ColourKind.RGB, True, 1),
    ],
)
def test_colour_types(
    kind: int,
    depth: int,
    family: str,
    colour: ColourKind,
    alpha: bool,  # noqa: FBT001 - a table
    extra: int,
) -> None:
    facts = read(png((6, 4), kind, depth)).facts
    assert (facts.width_px, facts.height_px, facts.bits) == (6, 4, depth)
    assert (facts.colour.family, facts.colour.kind) == (family, colour)
    assert (facts.alpha, facts.extra_channels) == (alpha, extra)
    assert facts.compression == "Deflate"


def test_transparency_without_a_channel() -> None:
    facts = read(png((6, 4), 2, 8, chunk(b"tRNS", bytes(6)))).facts
    assert (facts.alpha, facts.extra_channels) == (True, 0)


@pytest.mark.parametrize(
    ("x", "y", "unit", "expected"),
    [
        (11811, 11811, 1, (pytest.approx(299.9994), pytest.approx(299.9994), ResolutionOrigin.PHYS)),
        (2835, 5669, 1, (pytest.approx(72.009), pytest.approx(143.9926), ResolutionOrigin.PHYS)),
        (1, 1, 0, (None, None, None)),  # an aspect ratio
        (0, 0, 1, (None, None, None)),
    ],
)
def test_resolution(
    x: int, y: int, unit: int, expected: tuple[float | None, float | None, ResolutionOrigin | None]
) -> None:
    facts = read(png((6, 4), 2, 8, phys(x, y, unit))).facts
    assert (facts.x_ppi, facts.y_ppi, facts.resolution_origin) == expected


def test_a_chunk_with_a_wrong_checksum_is_no_fact() -> None:
    broken = phys(11811, 11811)[:-1] + b"\0"
    assert read(png((6, 4), 2, 8, broken)).facts.x_ppi is None


@pytest.mark.parametrize(
    ("chunks", "name", "signature"),
    [
        ([chunk(b"sRGB", b"\0")], "sRGB", None),
        ([chunk(b"cICP", b"\x0c\x0d\0\1"), chunk(b"sRGB", b"\0")], "Display P3", None),
        ([chunk(b"cICP", b"\x09\x10\0\1")], "colour code points 9/16/0/1", None),
        ([chunk(b"gAMA", b"\0\0\xb1\x8f")], None, None),
    ],
)
def test_named_colours(chunks: list[bytes], name: str | None, signature: str | None) -> None:
    facts = read(png((6, 4), 2, 8, *chunks)).facts
    assert (facts.icc_profile, facts.icc_space) == (name, signature)


def test_embedded_profile() -> None:
    body = b"a name\0\0" + zlib.compress(srgb_profile())
    facts = read(png((6, 4), 2, 8, chunk(b"iCCP", body))).facts
    assert facts.icc_space == "RGB"
    assert facts.icc_profile is not None
    assert "sRGB" in facts.icc_profile


def test_a_profile_that_unpacks_without_end_is_cut_and_told() -> None:
    body = b"bomb\0\0" + zlib.compress(bytes(64 * 2**20))
    picture = read(png((6, 4), 2, 8, chunk(b"iCCP", body)))
    assert [(t.part, t.kind) for t in picture.troubles] == [("icc_profile", ProblemKind.DAMAGED)]


def test_orientation_stands_before_or_behind_the_pixels() -> None:
    block = chunk(b"eXIf", exif_block((274, SHORT, [6])))
    before = png((6, 4), 2, 8, block)
    plain = png((6, 4), 2, 8)
    behind = plain[:-12] + block + plain[-12:]
    assert read(before).facts.turned_px == (4, 6)
    assert read(behind).facts.orientation == 6


def test_interlaced_passes_are_those_of_the_specification() -> None:
    # An 8 x 8 picture has passes of 1x1, 1x1, 2x1, 2x2, 4x2, 4x4 and 8x4 pixels (PNG, 8.1).
    picture = read(png((8, 8), 0, 8, interlaced=True))
    assert picture.facts.progressive
    assert isinstance(picture.pixels, PngRows)
    assert picture.pixels.passes == ((1, 2), (1, 2), (1, 3), (2, 3), (2, 5), (4, 5), (4, 9))


def test_empty_passes_are_left_out() -> None:
    picture = read(png((1, 1), 0, 8, interlaced=True))
    assert isinstance(picture.pixels, PngRows)
    assert picture.pixels.passes == ((1, 2),)


def test_an_animated_file_is_its_still_picture() -> None:
    picture = read(png((6, 4), 2, 8, chunk(b"acTL", bytes(8))))
    assert [t.kind for t in picture.troubles] == [ProblemKind.NOTE]
    assert picture.facts.pictures == 1


@pytest.mark.parametrize(
    "header",
    [
        struct.pack(">IIBBBBB", 0, 4, 8, 2, 0, 0, 0),
        struct.pack(">IIBBBBB", 4, 4, 8, 5, 0, 0, 0),
        struct.pack(">IIBBBBB", 4, 4, 3, 2, 0, 0, 0),
        struct.pack(">IIBBBBB", 4, 4, 8, 2, 0, 0, 2),
        b"short",
    ],
)
def test_headers_that_there_are_not(header: bytes) -> None:
    data = b"\x89PNG\r\n\x1a\n" + chunk(b"IHDR", header) + chunk(b"IEND", b"")
    reading = read_png(source(data))
    assert reading.pictures == ()
    assert reading.troubles[0].kind is ProblemKind.UNREADABLE
