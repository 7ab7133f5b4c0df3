# What the header of a layered file declares: modes, channels, spot inks, layers, the flat picture.
import struct

import pytest

from hotfolder.model.colour import PROCESS_INKS, ColourKind
from hotfolder.model.facts import ProblemKind
from hotfolder.model.raster import ResolutionOrigin
from hotfolder.raster.headers.picture import PackedRows, Packing, PictureHeader, Pieces
from hotfolder.raster.headers.psd import read_psd
from tests.raster.raster_bytes import only, psd, resolution_info, resource, source, srgb_profile


def read(data: bytes) -> PictureHeader:
    return only(read_psd(source(data)))


@pytest.mark.parametrize(
    ("mode", "channels", "depth", "family", "kind", "extra"),
    [
        (0, 1, 1, "bitmap", ColourKind.GREY, 0),
        (1, 1, 8, "grey", ColourKind.GREY, 0),
        (2, 1, 8, "indexed", ColourKind.RGB, 0),
        (3, 4, 8, "RGB", ColourKind.RGB, 1),
        (4, 4, 16, "CMYK", ColourKind.CMYK, 0),
        (7, 3, 8, "multichannel", ColourKind.SPOT, 0),
        (8, 1, 8, "duotone", ColourKind.SPOT, 0),
        (9, 3, 8, "Lab", ColourKind.LAB, 0),
    ],
)
def test_modes(mode: int, channels: int, depth: int, family: str, kind: ColourKind, extra: int) -> None:
    facts = read(psd((5, 3), mode, channels, depth=depth)).facts
    assert (facts.width_px, facts.height_px, facts.bits) == (5, 3, depth)
    assert (facts.colour.family, facts.colour.kind, facts.extra_channels) == (family, kind, extra)


def test_resolution_is_pixels_per_inch_whatever_unit_is_shown() -> None:
    facts = read(psd((5, 3), 4, 4, resolution_info(299.5, 150, shown=2))).facts
    assert (facts.x_ppi, facts.y_ppi) == (299.5, 150)
    assert facts.resolution_origin is ResolutionOrigin.PHOTOSHOP


@pytest.mark.parametrize("large", [False, True])
@pytest.mark.parametrize("depth", [8, 16])
@pytest.mark.parametrize(("count", "layers", "alpha"), [(None, 0, False), (4, 4, False), (-4, 4, True)])
def test_layers(count: int | None, layers: int, alpha: bool, depth: int, large: bool) -> None:  # noqa: FBT001 - a table
    data = psd((5, 3), 3, 4, depth=depth, layers=count, large=large)
    facts = read(data).facts
    assert (facts.layers, facts.alpha, facts.extra_channels) == (layers, alpha, 1)


@pytest.mark.parametrize("size", range(8))
def test_layers_behind_another_block_which_is_padded_to_four_bytes(size: int) -> None:
    # The padding is that of real files; the specification says "even". From memory.
    block = b"8BIMPatt" + struct.pack(">I", size) + bytes(size + 3 & ~3)
    assert read(psd((5, 3), 3, 4, depth=16, layers=7, before_layers=block)).facts.layers == 7


@pytest.mark.parametrize(
    ("key", "alpha"), [(b"Mt16", True), (b"Mt32", True), (b"Mtrn", True), (b"Patt", False)]
)
def test_an_empty_block_may_say_that_the_flat_picture_is_transparent(key: bytes, alpha: bool) -> None:  # noqa: FBT001 - a table
    block = b"8BIM" + key + bytes(4)
    facts = read(psd((5, 3), 3, 4, depth=16, layers=1, before_layers=block)).facts
    assert (facts.layers, facts.alpha) == (1, alpha)


@pytest.mark.parametrize(("flag", "valid"), [(b"\0", False), (b"\1", True)])
def test_whether_a_flat_picture_was_saved(flag: bytes, valid: bool) -> None:  # noqa: FBT001 - a table
    info = resource(1057, struct.pack(">I", 1) + flag + bytes(8))
    assert read(psd((5, 3), 4, 4, info)).facts.flat_picture_valid is valid
    assert read(psd()).facts.flat_picture_valid


def names(*words: str) -> bytes:
    body = b"".join(struct.pack(">I", len(word) + 1) + f"{word}\0".encode("utf-16-be") for word in words)
    return resource(1045, body)


def kinds(*values: int) -> bytes:
    body = b"".join(struct.pack(">H4HHB", 0, 0, 0, 0, 0, 100, value) for value in values)
    return resource(1077, struct.pack(">I", 1) + body)


def test_spot_channels_are_inks() -> None:
    facts = read(psd((5, 3), 4, 6, names("Mask", "Night Blue"), kinds(0, 2))).facts
    assert facts.colour.inks == (*PROCESS_INKS, "Night Blue")
    assert facts.extra_channels == 2


def test_channels_whose_kinds_do_not_match_their_names_are_not_guessed_at() -> None:
    assert read(psd((5, 3), 4, 6, names("Night Blue"), kinds(0, 2))).facts.colour.inks == ()


def test_channels_of_a_multichannel_picture_are_its_inks() -> None:
    pascal = resource(1006, b"\x04Gold\x05Black")
    assert read(psd((5, 3), 7, 2, pascal)).facts.colour.inks == ("Gold", "Black")


def test_profile() -> None:
    facts = read(psd((5, 3), 3, 3, resource(1039, srgb_profile()))).facts
    assert facts.icc_space == "RGB"
    broken = read(psd((5, 3), 3, 3, resource(1039, b"none")))
    assert [(t.part, t.kind) for t in broken.troubles] == [("icc_profile", ProblemKind.DAMAGED)]


def test_where_the_rows_of_the_flat_picture_lie() -> None:
    rows = read(psd((5, 3), 4, 5, depth=16)).pixels
    assert isinstance(rows, PackedRows)
    assert (rows.rows, rows.row_bytes, rows.entry_bytes) == (15, 10, 2)
    wide = read(psd((5, 3), 4, 5, large=True)).pixels
    assert isinstance(wide, PackedRows)
    assert wide.entry_bytes == 4
    plain = read(psd((5, 3), 4, 4, run_length=False)).pixels
    assert isinstance(plain, Pieces)
    assert (plain.packing, plain.unpacked_bytes) == (Packing.NONE, (60,))


def test_packings_of_the_flat_picture_that_are_not_read() -> None:
    data = bytearray(psd((5, 3), 4, 4, run_length=False))
    at = len(data) - 60 - 2
    for code, kind in ((2, ProblemKind.UNSUPPORTED), (77, ProblemKind.DAMAGED)):
        struct.pack_into(">H", data, at, code)
        picture = read(bytes(data))
        assert picture.pixels is None
        assert [t.kind for t in picture.troubles] == [kind]


@pytest.mark.parametrize(
    ("what", "place", "value"),
    [
        ("version", 4, 3),
        ("channels", 12, 3),
        ("height", 16, 0),
        ("width", 20, 0),
        ("depth", 22, 7),
        ("mode", 24, 5),
    ],
)
def test_headers_that_there_are_not(what: str, place: int, value: int) -> None:
    data = bytearray(psd((5, 3), 4, 4))
    struct.pack_into(">H", data, place, value)
    assert read_psd(source(bytes(data))).pictures == (), what


def test_a_file_that_ends_in_its_header() -> None:
    reading = read_psd(source(psd()[:28]))
    assert reading.pictures == ()
    assert reading.troubles[0].kind is ProblemKind.UNREADABLE


def test_a_file_that_ends_before_its_flat_picture_keeps_its_facts() -> None:
    data = psd((5, 3), 4, 4, resolution_info(300, 300))
    picture = read(data[: 26 + 4 + 4 + 28])
    assert picture.facts.x_ppi == 300
    assert [t.kind for t in picture.troubles] == [ProblemKind.DAMAGED]
