# Pixels that are missing or broken are told, whole ones are not, and no claim of a header costs memory.
import io
import struct
import zlib
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from hotfolder.model.facts import Format, ProblemKind
from hotfolder.raster import pixels as raster_pixels
from hotfolder.raster.pixels import packbits_length
from tests.raster.pixels_told import NOISE, kinds, told
from tests.raster.raster_bytes import (
    SHORT,
    bare_jpeg,
    jfif,
    measured,
    noise,
    packed,
    plain_fields,
    png,
    psd,
    raster,
    saved,
    tiff,
)

WHOLE = {
    "jpeg": (Format.JPEG, saved(NOISE, "JPEG")),
    "jpeg progressive": (Format.JPEG, saved(NOISE, "JPEG", progressive=True)),
    "jpeg cmyk": (Format.JPEG, saved(noise("CMYK", (64, 48)), "JPEG")),
    "jpeg grey": (Format.JPEG, saved(noise("L", (64, 48)), "JPEG")),
    "png": (Format.PNG, saved(NOISE, "PNG")),
    "png alpha": (Format.PNG, saved(noise("RGBA", (64, 48)), "PNG")),
    "png palette": (Format.PNG, saved(noise("L", (64, 48)).convert("P"), "PNG")),
    "png bitmap": (Format.PNG, saved(noise("L", (65, 48)).convert("1"), "PNG")),
    "tiff": (Format.TIFF, saved(NOISE, "TIFF")),
    "tiff lzw": (Format.TIFF, saved(NOISE, "TIFF", compression="tiff_lzw")),
    "tiff deflate": (Format.TIFF, saved(NOISE, "TIFF", compression="tiff_adobe_deflate")),
    "tiff packbits": (Format.TIFF, saved(NOISE, "TIFF", compression="packbits")),
    "tiff jpeg": (Format.TIFF, saved(NOISE, "TIFF", compression="jpeg")),
    "tiff g4": (Format.TIFF, saved(noise("L", (64, 48)).convert("1"), "TIFF", compression="group4")),
    "tiff cmyk": (Format.TIFF, saved(noise("CMYK", (64, 48)), "TIFF", compression="tiff_lzw")),
    "psd": (Format.PSD, psd((64, 48), 4, 5)),
    "psd raw": (Format.PSD, psd((64, 48), 3, 3, run_length=False)),
    "psd 16 bits": (Format.PSD, psd((64, 48), 4, 4, depth=16)),
    "psd large": (Format.PSD, psd((64, 48), 4, 4, large=True)),
}


@pytest.mark.parametrize("name", WHOLE)
def test_a_whole_picture_has_no_problem(name: str, tmp_path: Path) -> None:
    form, data = WHOLE[name]
    assert told(tmp_path, data, form) == []


@pytest.mark.parametrize("name", WHOLE)
@pytest.mark.parametrize("share", [0.6, 0.8, 0.95])
def test_a_picture_cut_short_is_damaged(name: str, share: float, tmp_path: Path) -> None:
    form, data = WHOLE[name]
    seen = kinds(tmp_path, data[: int(len(data) * share)], form)
    # TIFF files of some writers keep the directory behind the pixels: without it there is nothing.
    assert seen in ({ProblemKind.DAMAGED}, {ProblemKind.UNREADABLE} if form is Format.TIFF else set())


@pytest.mark.parametrize("name", ["png", "png alpha", "png palette", "png bitmap"])
def test_a_flipped_bit_in_the_pixels_is_seen(name: str, tmp_path: Path) -> None:
    form, data = WHOLE[name]
    start = data.index(b"IDAT") + 4
    broken = bytearray(data)
    broken[start + 200] ^= 0x10
    assert kinds(tmp_path, bytes(broken), form) == {ProblemKind.DAMAGED}


def test_a_wrong_checksum_of_the_pixels_is_damage(tmp_path: Path) -> None:
    broken = bytearray(WHOLE["png"][1])
    broken[-13] ^= 1  # the last byte before the end chunk
    assert kinds(tmp_path, bytes(broken), Format.PNG) == {ProblemKind.DAMAGED}


def test_the_size_stays_known_where_pixels_are_missing(tmp_path: Path) -> None:
    artwork = measured(tmp_path, bare_jpeg(NOISE, jfif(1, 300, 300))[:2000], Format.JPEG)
    facts = raster(artwork)
    assert (facts.width_px, facts.height_px, facts.x_ppi) == (64, 48, 300)
    assert [(p.where, p.kind) for p in artwork.problems] == [("pages[1].images[1]", ProblemKind.DAMAGED)]


def test_a_png_without_its_end_mark_has_all_its_pixels(tmp_path: Path) -> None:
    problems = measured(tmp_path, saved(NOISE, "PNG", dpi=(300, 300))[:-12], Format.PNG).problems
    assert [problem.kind for problem in problems] == [ProblemKind.NOTE]


def test_a_filter_that_there_is_not(tmp_path: Path) -> None:
    rows = bytearray(4 * 19)
    rows[2 * 19] = 5
    assert kinds(tmp_path, png((6, 4), 2, 8, pixels=bytes(rows)), Format.PNG) == {ProblemKind.DAMAGED}
    rows[2 * 19], rows[2 * 19 + 1] = 4, 5  # the same byte beside it is a sample
    assert kinds(tmp_path, png((6, 4), 2, 8, pixels=bytes(rows)), Format.PNG) == set()


def test_filters_are_seen_across_steps_and_passes(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(raster_pixels, "STEP_BYTES", 7)
    passes = [(1, 2), (1, 2), (1, 3), (2, 3), (2, 5), (4, 5), (4, 9)]  # 8 x 8 px, interlaced
    starts = [
        sum(r * b for r, b in passes[:i]) + row * passes[i][1]
        for i in range(7)
        for row in range(passes[i][0])
    ]
    total = sum(rows * row_bytes for rows, row_bytes in passes)
    for place in range(total):
        rows = bytearray(total)
        rows[place] = 9
        data = png((8, 8), 0, 8, interlaced=True, pixels=bytes(rows))
        assert (kinds(tmp_path, data, Format.PNG) == {ProblemKind.DAMAGED}) == (place in starts)


def test_strips_outside_the_file(tmp_path: Path) -> None:
    data = tiff((plain_fields(8, 8, 1, [8]), bytes(64)))
    assert kinds(tmp_path, data, Format.TIFF) == set()
    assert kinds(tmp_path, data[:-1], Format.TIFF) == {ProblemKind.DAMAGED}


@pytest.mark.parametrize(
    ("code", "body", "whole"),
    [
        (8, zlib.compress(bytes(64)), True),
        (8, zlib.compress(bytes(63)), False),
        (8, b"no such thing", False),
        (32773, packed(bytes(64)), True),
        (32773, packed(bytes(63)), False),
        (32773, packed(bytes(64))[:-1], False),
        (32773, b"\x80" * 20 + b"\xc1\0", True),  # no-ops, then one byte 64 times
    ],
)
def test_packed_strips(code: int, body: bytes, whole: bool, tmp_path: Path) -> None:  # noqa: FBT001 - a table
    fields = [field for field in plain_fields(8, 8, 1, [8]) if field[0] != 259]
    seen = kinds(tmp_path, tiff(([*fields, (259, SHORT, [code])], body)), Format.TIFF)
    assert seen == (set() if whole else {ProblemKind.DAMAGED})


def test_a_row_of_a_layered_file_that_is_too_short(tmp_path: Path) -> None:
    data = bytearray(psd((300, 4), 1, 1))
    table = len(data) - 4 * 303 - 4 * 2
    assert struct.unpack_from(">4H", data, table) == (303,) * 4
    struct.pack_into(">H", data, table + 6, 302)
    assert kinds(tmp_path, bytes(data), Format.PSD) == {ProblemKind.DAMAGED}


def test_a_legal_packing_that_no_decoder_here_knows_is_no_damage(tmp_path: Path) -> None:
    fields = [field for field in plain_fields(8, 8, 1, [8]) if field[0] != 259]
    data = tiff(([*fields, (259, SHORT, [34887])], bytes(64)))
    assert kinds(tmp_path, data, Format.TIFF) == {ProblemKind.UNSUPPORTED}


def test_every_page_is_looked_at(tmp_path: Path) -> None:
    pages = [noise("RGB", (40, 30 + number)) for number in range(3)]
    data = saved(pages[0], "TIFF", save_all=True, append_images=pages[1:], compression="tiff_lzw")
    artwork = measured(tmp_path, data, Format.TIFF)
    assert [page.raster.height_px for page in artwork.known_pages if page.raster] == [30, 31, 32]
    assert [problem for problem in artwork.problems if problem.kind is not ProblemKind.NOTE] == []


def test_a_page_that_is_not_whole_is_named(tmp_path: Path) -> None:
    whole = (plain_fields(8, 8, 1, [8]), bytes(64))
    short = ([f for f in plain_fields(8, 8, 1, [8]) if f[0] != 259] + [(259, SHORT, [8])], b"no")
    problems = told(tmp_path, tiff(whole, short, whole), Format.TIFF)
    assert [problem.where for problem in problems] == ["pages[2].images[1]"]


# PackBits


def slow_unpacked(data: bytes) -> bytes:
    """PackBits as TIFF 6.0, section 9 puts it, byte by byte."""
    out, stream = bytearray(), io.BytesIO(data)
    while head := stream.read(1):
        count = head[0]
        if count < 128:
            out += stream.read(count + 1)
        elif count > 128:
            out += stream.read(1) * (257 - count)
    return bytes(out)


@given(st.binary(max_size=400), st.integers(1, 60))
def test_packbits_is_counted_as_it_unpacks_however_it_is_cut(data: bytes, step: int) -> None:
    blocks = [data[at : at + step] for at in range(0, len(data), step)]
    length, _ = packbits_length(blocks, 10_000)
    expected = len(slow_unpacked(data))
    # A repeat whose byte is missing unpacks to nothing, and is counted but for that byte.
    missing = length - expected
    assert missing == 0 or (missing > 0 and data[-1] > 128)
