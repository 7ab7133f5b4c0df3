# What a TIFF directory declares; tag numbers and values from TIFF 6.0 and its technical notes.
import math
import struct
from collections.abc import Sequence

import pytest

from hotfolder.model.colour import ColourKind
from hotfolder.model.facts import ProblemKind
from hotfolder.model.raster import ResolutionOrigin
from hotfolder.raster.headers.picture import Packing, PictureHeader, Pieces, TiffFrame
from hotfolder.raster.headers.tiff_picture import read_tiff
from tests.raster.raster_bytes import (
    ASCII,
    LONG,
    RATIONAL,
    SHORT,
    UNDEFINED,
    Field,
    only,
    plain_fields,
    source,
    srgb_profile,
    tiff,
    tiff_header,
)


def read(
    photometric: int, bits: Sequence[int], *more: Field, size: tuple[int, int] = (6, 4), order: str = "<"
) -> PictureHeader:
    width, height = size
    fields = plain_fields(width, height, photometric, bits)
    replaced = {tag for tag, _, _ in more}
    fields = [field for field in fields if field[0] not in replaced]
    pixels = bytes(height * ((width * sum(bits) + 7) // 8))
    return only(read_tiff(source(tiff(([*fields, *more], pixels), order=order))))


@pytest.mark.parametrize("order", ["<", ">"])
@pytest.mark.parametrize(
    ("photometric", "bits", "more", "expected"),
    [
        (0, [1], [], ("bitmap", ColourKind.GREY, 1)),
        (1, [8], [], ("grey", ColourKind.GREY, 1)),
        (1, [8, 8], [], ("grey", ColourKind.GREY, 1)),
        (2, [8, 8, 8], [], ("RGB", ColourKind.RGB, 3)),
        (2, [16, 16, 16, 16], [], ("RGB", ColourKind.RGB, 3)),
        (3, [8], [], ("indexed", ColourKind.RGB, 1)),
        (5, [8] * 4, [], ("CMYK", ColourKind.CMYK, 4)),
        (5, [8] * 6, [(332, SHORT, [1])], ("CMYK", ColourKind.CMYK, 4)),
        (5, [8] * 5, [(332, SHORT, [2])], ("multichannel", ColourKind.SPOT, 5)),
        (5, [8] * 3, [(332, SHORT, [2]), (338, SHORT, [2])], ("multichannel", ColourKind.SPOT, 2)),
        (6, [8, 8, 8], [], ("RGB", ColourKind.RGB, 3)),
        (8, [8, 8, 8], [], ("Lab", ColourKind.LAB, 3)),
        (32803, [16], [], ("unknown", ColourKind.UNKNOWN, 1)),
    ],
)
def test_modes(
    photometric: int, bits: list[int], more: list[Field], expected: tuple[str, ColourKind, int], order: str
) -> None:
    facts = read(photometric, bits, *more, order=order).facts
    assert (facts.width_px, facts.height_px, facts.bits) == (6, 4, bits[0])
    assert (facts.colour.family, facts.colour.kind, facts.colour.components) == expected
    assert facts.extra_channels == len(bits) - expected[2]


@pytest.mark.parametrize(("value", "alpha"), [(0, False), (1, True), (2, True)])
def test_only_declared_alpha_is_alpha(value: int, alpha: bool) -> None:  # noqa: FBT001 - a table
    facts = read(5, [8] * 5, (338, SHORT, [value])).facts
    assert (facts.alpha, facts.extra_channels) == (alpha, 1)


def test_inks_by_name() -> None:
    facts = read(5, [8, 8], (332, SHORT, [2]), (333, ASCII, b"Gold\0Night Blue\0")).facts
    assert facts.colour.inks == ("Gold", "Night Blue")
    assert read(5, [8] * 4).facts.colour.inks == ()  # the process inks go without saying


@pytest.mark.parametrize(
    ("fields", "expected"),
    [
        ([(282, RATIONAL, [300, 1]), (283, RATIONAL, [200, 1]), (296, SHORT, [2])], (300, 200)),
        ([(282, RATIONAL, [300, 1]), (283, RATIONAL, [300, 1])], (300, 300)),  # the inch is the default
        ([(282, RATIONAL, [11811, 100]), (283, RATIONAL, [11811, 100]), (296, SHORT, [3])],
         (pytest.approx(299.9994), pytest.approx(299.9994))),
        ([(282, RATIONAL, [300, 1]), (283, RATIONAL, [300, 1]), (296, SHORT, [1])], (None, None)),
        ([(282, RATIONAL, [300, 0]), (283, RATIONAL, [300, 1]), (296, SHORT, [2])], (None, None)),
        ([(282, RATIONAL, [300, 1]), (296, SHORT, [2])], (None, None)),
        ([(282, SHORT, [72]), (283, SHORT, [72])], (72, 72)),  # some writers give whole numbers
        ([], (None, None)),
    ],
)  # fmt: skip
def test_resolution(fields: list[Field], expected: tuple[float | None, float | None]) -> None:
    facts = read(1, [8], *fields).facts
    assert (facts.x_ppi, facts.y_ppi) == expected
    assert facts.resolution_origin == (None if expected[0] is None else ResolutionOrigin.TIFF)


@pytest.mark.parametrize(("ppi", "told"), [(1e-310, None), (1e-4, None), (0.0254, 0.0254), (math.inf, None)])
def test_a_resolution_by_which_a_sheet_would_have_no_end_is_none(ppi: float, told: float | None) -> None:
    number = (12, struct.pack("<d", ppi))  # of the type DOUBLE
    facts = read(1, [8], (282, *number), (283, *number)).facts
    assert (facts.x_ppi, facts.y_ppi) == (told, told)


def test_orientation_and_profile() -> None:
    facts = read(2, [8, 8, 8], (274, SHORT, [8]), (34675, UNDEFINED, srgb_profile())).facts
    assert facts.turned_px == (4, 6)
    assert facts.icc_space == "RGB"


def test_a_profile_that_is_none_is_damage() -> None:
    picture = read(2, [8, 8, 8], (34675, UNDEFINED, b"no profile"))
    assert [(t.part, t.kind) for t in picture.troubles] == [("icc_profile", ProblemKind.DAMAGED)]


def layer_data(order: str, key: bytes, count: int) -> bytes:
    signature = b"8BIM"
    if order == "<":
        signature, key = signature[::-1], key[::-1]
    return (
        b"Adobe Photoshop Document Data Block\0"
        + signature + (b"ttaP" if order == "<" else b"Patt") + struct.pack(order + "I", 3) + b"abc\0"
        + signature + key + struct.pack(order + "Ihxx", 4, count)
    )  # fmt: skip


@pytest.mark.parametrize("order", ["<", ">"])
@pytest.mark.parametrize(("key", "count"), [(b"Layr", 3), (b"Lr16", -2)])
def test_layers_are_counted(order: str, key: bytes, count: int) -> None:
    picture = read(2, [8, 8, 8], (37724, UNDEFINED, layer_data(order, key, count)), order=order)
    assert picture.facts.layers == abs(count)
    assert not picture.troubles


def test_layers_that_cannot_be_counted_are_at_least_one() -> None:
    picture = read(2, [8, 8, 8], (37724, UNDEFINED, b"something else altogether"))
    assert picture.facts.layers == 1
    assert [(t.part, t.kind) for t in picture.troubles] == [("layers", ProblemKind.NOTE)]


def page(*more: Field, size: int = 4) -> tuple[list[Field], bytes]:
    return [*plain_fields(size, size, 1, [8]), *more], bytes(size * size)


def test_previews_and_masks_are_no_pages() -> None:
    data = tiff(
        page(size=9), page((254, LONG, [1]), size=2), page((254, LONG, [2]), size=8),
        page((254, LONG, [4]), size=3), page((255, SHORT, [2]), size=1),
    )  # fmt: skip
    reading = read_tiff(source(data))
    assert [picture.facts.width_px for picture in reading.pictures] == [9, 8]
    assert {picture.facts.pictures for picture in reading.pictures} == {2}


def test_a_file_of_previews_only_has_its_first() -> None:
    reading = read_tiff(source(tiff(page((254, LONG, [1]), size=5), page((254, LONG, [1]), size=2))))
    assert [picture.facts.width_px for picture in reading.pictures] == [5]


def test_a_chain_that_leads_back_ends() -> None:
    data = bytearray(tiff(page()))
    entries = struct.unpack_from("<H", data, 8)[0]
    struct.pack_into("<I", data, 8 + 2 + 12 * entries, 8)
    assert only(read_tiff(source(bytes(data)))).facts.pictures == 1


def test_a_chain_that_leads_outside_keeps_what_came_before() -> None:
    data = bytearray(tiff(page()))
    entries = struct.unpack_from("<H", data, 8)[0]
    struct.pack_into("<I", data, 8 + 2 + 12 * entries, 1_000_000)
    reading = read_tiff(source(bytes(data)))
    assert len(reading.pictures) == 1
    assert [t.kind for t in reading.troubles] == [ProblemKind.DAMAGED]


def test_bigtiff() -> None:
    def entry(tag: int, kind: int, value: int) -> bytes:
        return struct.pack("<HHQQ", tag, kind, 1, value)

    entries = [
        entry(256, 4, 3), entry(257, 4, 2), entry(258, 3, 8), entry(259, 3, 1), entry(262, 3, 1),
        entry(273, 16, 400), entry(277, 3, 1), entry(278, 4, 2), entry(279, 16, 6),
        struct.pack("<HHQII", 282, 5, 1, 300, 1), struct.pack("<HHQII", 283, 5, 1, 300, 1),
    ]  # fmt: skip
    head = b"II" + struct.pack("<HHHQ", 43, 8, 0, 16) + struct.pack("<Q", len(entries))
    data = (head + b"".join(entries) + struct.pack("<Q", 0)).ljust(400, b"\0") + bytes(6)
    picture = only(read_tiff(source(data)))
    assert (picture.facts.width_px, picture.facts.height_px, picture.facts.x_ppi) == (3, 2, 300)
    assert picture.pixels == Pieces(Packing.NONE, (400,), (6,), (6,))


@pytest.mark.parametrize(
    ("code", "packing"),
    [(1, Packing.NONE), (8, Packing.DEFLATE), (32946, Packing.DEFLATE), (32773, Packing.PACKBITS)],
)
def test_packings_that_are_followed_here(code: int, packing: Packing) -> None:
    pixels = read(2, [8, 8, 8], (259, SHORT, [code])).pixels
    assert isinstance(pixels, Pieces)
    assert pixels.packing is packing
    assert pixels.unpacked_bytes == (6 * 4 * 3,)


@pytest.mark.parametrize(
    ("code", "name", "supported"),
    [(5, "LZW", True), (6, "JPEG (old)", False), (50001, "WebP", False), (4444, "TIFF 4444", False)],
)
def test_packings_for_the_decoder(code: int, name: str, supported: bool) -> None:  # noqa: FBT001 - a table
    picture = read(1, [8], (259, SHORT, [code]))
    assert picture.facts.compression == name
    assert isinstance(picture.pixels, TiffFrame)
    assert picture.pixels.supported is supported


def test_tiles_and_planes() -> None:
    # 100 x 70 px in tiles of 64 x 64: two across, two down, in each of three planes.
    fields = [field for field in plain_fields(100, 70, 2, [8, 8, 8]) if field[0] != 278]
    tiles = [(322, LONG, [64]), (323, LONG, [64]), (324, LONG, [8] * 12), (325, LONG, [4096] * 12)]
    picture = only(read_tiff(source(tiff(([*fields, (284, SHORT, [2]), *tiles], b"")))))
    assert isinstance(picture.pixels, Pieces)
    assert picture.pixels.unpacked_bytes == (4096,) * 12


def test_the_last_strip_is_shorter() -> None:
    fields = [field for field in plain_fields(10, 7, 1, [8]) if field[0] != 278]
    more: list[Field] = [(278, LONG, [3])]
    data = tiff(([*fields, *more], b""))
    picture = only(read_tiff(source(data)))
    assert isinstance(picture.pixels, TiffFrame)  # one strip where there should be three
    assert picture.pixels.pieces is None


@pytest.mark.parametrize(
    "data",
    [
        b"II*\0",
        b"II*\0\0\0\0\0",
        tiff_header("<", 5000),
        tiff_header("<", 8) + b"\xff\xff",
        tiff(([*plain_fields(0, 4, 1, [8])], b"")),
        tiff(([field for field in plain_fields(4, 4, 1, [8]) if field[0] != 257], b"")),
    ],
)
def test_files_without_a_picture(data: bytes) -> None:
    reading = read_tiff(source(data))
    assert reading.pictures == ()
    assert reading.troubles[0].kind is ProblemKind.UNREADABLE
