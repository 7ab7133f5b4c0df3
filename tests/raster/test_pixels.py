# Pixels that are missing or broken are told, whole ones are not, and no claim of a header costs memory.
import io
import random
import struct
import subprocess
import sys
import warnings
import zlib
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st
from PIL import Image
from PIL.TiffImagePlugin import TiffImageFile

from hotfolder.model.facts import Format, Problem, ProblemKind
from hotfolder.raster import decoder
from hotfolder.raster import pixels as raster_pixels
from hotfolder.raster.headers.jpeg import read_jpeg
from hotfolder.raster.headers.picture import JpegScans, TiffFrame
from hotfolder.raster.headers.tiff_picture import read_tiff
from hotfolder.raster.pixels import packbits_length
from tests.raster.raster_bytes import (
    SHORT,
    bare_jpeg,
    chunk,
    jfif,
    measured,
    noise,
    packed,
    plain_fields,
    png,
    psd,
    raster,
    saved,
    segment,
    source,
    tiff,
)

NOISE = noise("RGB", (64, 48))


def told(folder: Path, data: bytes, form: Format) -> list[Problem]:
    """The problems of a file, but for notes."""
    return [
        problem for problem in measured(folder, data, form).problems if problem.kind is not ProblemKind.NOTE
    ]


def kinds(folder: Path, data: bytes, form: Format) -> set[ProblemKind]:
    return {problem.kind for problem in told(folder, data, form)}


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
    found = kinds(tmp_path, data[: int(len(data) * share)], form)
    # TIFF files of some writers keep the directory behind the pixels: without it there is nothing.
    assert found in ({ProblemKind.DAMAGED}, {ProblemKind.UNREADABLE} if form is Format.TIFF else set())


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
    found = kinds(tmp_path, tiff(([*fields, (259, SHORT, [code])], body)), Format.TIFF)
    assert found == (set() if whole else {ProblemKind.DAMAGED})


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


# Limits

READERS = {Format.JPEG: read_jpeg, Format.TIFF: read_tiff}


MEMORY_SCRIPT = """
import sys
from pathlib import Path
from hotfolder.model.facts import FileFacts, Format
from hotfolder.measure.raster import measure_raster

def most_kb():  # the high-water mark of this process alone (proc(5)); getrusage's outlives exec
    lines = Path("/proc/self/status").read_text().splitlines()
    return next(int(line.split()[1]) for line in lines if line.startswith("VmHWM"))

path = Path(sys.argv[1])
form = Format(sys.argv[2])
before = most_kb()
artwork = measure_raster(path, FileFacts(path.name, 0, "", form))
facts = artwork.pages[0].raster
kinds = ",".join(sorted(problem.kind for problem in artwork.problems if problem.kind != "note"))
print(facts.width_px, facts.height_px, (most_kb() - before) // 1024, kinds or "-")
"""


def measured_apart(path: Path, form: Format) -> tuple[int, int, int, str]:
    """Width, height, growth of memory in MB and kinds of problems, from a process of its own."""
    out = subprocess.run(
        [sys.executable, "-c", MEMORY_SCRIPT, str(path), form.value],
        capture_output=True,
        text=True,
        check=True,
        cwd=Path(__file__).parents[2],
        timeout=120,
    )
    width, height, grown, found = out.stdout.split()
    return int(width), int(height), int(grown), found


def zeros_packed(count: int) -> bytes:
    """`count` zeros, packed without ever being held."""
    packer = zlib.compressobj(1)
    step = bytes(2**20)
    parts = [packer.compress(step) for _ in range(count >> 20)]
    return b"".join([*parts, packer.compress(bytes(count & 2**20 - 1)), packer.flush()])


@pytest.mark.parametrize(
    ("side", "found"),
    [(30_000, "-"), (40_000, "limit")],  # 2.7 GB are unpacked in passing, 4.8 GB are not
)
def test_a_png_bomb_costs_no_memory(side: int, found: str, tmp_path: Path) -> None:
    path = tmp_path / "bomb.png"
    header = struct.pack(">IIBBBBB", side, side, 8, 2, 0, 0, 0)
    data = zeros_packed(side * (1 + 3 * side)) if found == "-" else b"\x78\x9c\x03\0\0\0\0\1"
    path.write_bytes(
        b"\x89PNG\r\n\x1a\n" + chunk(b"IHDR", header) + chunk(b"IDAT", data) + chunk(b"IEND", b"")
    )
    width, height, grown, problems = measured_apart(path, Format.PNG)
    assert (width, height, problems) == (side, side, found)
    assert grown < 40  # the file itself has 12 MB


def claiming(data: bytes, side: int) -> bytes:
    """A JPEG file whose frame header says that the picture has `side` x `side` px."""
    changed = bytearray(data)
    frame = max(data.find(b"\xff\xc0"), data.find(b"\xff\xc2"))
    changed[frame + 5 : frame + 9] = struct.pack(">HH", side, side)
    return bytes(changed)


@pytest.mark.parametrize(
    ("progressive", "padding", "found"),
    [
        (False, 0, "damaged"),
        (True, 0, "damaged"),
        # With 50 MB behind its scan the file has bytes enough for so many pixels.
        (False, 50_000_000, "damaged"),
        (True, 50_000_000, "limit"),
    ],
)
def test_a_jpeg_that_claims_to_be_huge_costs_no_memory(
    progressive: bool,  # noqa: FBT001 - a table
    padding: int,
    found: str,
    tmp_path: Path,
) -> None:
    small = saved(Image.new("RGB", (16, 16)), "JPEG", progressive=progressive, subsampling=0)
    path = tmp_path / "bomb.jpg"
    path.write_bytes(claiming(small, 60_000)[:-2] + bytes(padding))
    width, height, grown, problems = measured_apart(path, Format.JPEG)
    assert (width, height) == (60_000, 60_000)
    assert problems == found
    assert grown < 400


def test_a_jpeg_whose_scan_ends_early_is_damaged_though_its_end_mark_is_there(tmp_path: Path) -> None:
    for options in ({}, {"progressive": True}):
        data = saved(NOISE, "JPEG", **options)
        assert kinds(tmp_path, data[: len(data) * 2 // 3] + b"\xff\xd9", Format.JPEG) == {ProblemKind.DAMAGED}


def test_a_jpeg_with_bits_that_make_no_sense_is_damaged(tmp_path: Path) -> None:
    data = saved(NOISE, "JPEG")
    middle = len(data) * 2 // 3
    broken = data[:middle] + bytes(20) + data[middle + 20 :]
    assert kinds(tmp_path, broken, Format.JPEG) == {ProblemKind.DAMAGED}


@pytest.mark.parametrize(
    "data",
    [
        bare_jpeg(NOISE, jfif(1, 300, 300) + b"\0\0\0"),
        bare_jpeg(NOISE, segment(0xEE, b"Adobe")),
        bare_jpeg(NOISE, segment(0xE1, b"Exif\0\0nothing")),
        saved(NOISE, "JPEG")[:-2],
        saved(NOISE, "JPEG") + bytes(500),
    ],
)
def test_oddities_beside_the_pixels_are_no_damage(data: bytes, tmp_path: Path) -> None:
    assert told(tmp_path, data, Format.JPEG) == []


def test_a_jpeg_too_large_for_memory_is_looked_at_loosely(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    whole = bare_jpeg(noise("RGB", (640, 480)), jfif(1, 300, 300))
    monkeypatch.setattr(decoder, "MOST_DECODED_BYTES", 640 * 480 // 8)
    assert [p.kind for p in measured(tmp_path, whole, Format.JPEG).problems] == [ProblemKind.NOTE]
    assert kinds(tmp_path, whole[: len(whole) // 2], Format.JPEG) == {ProblemKind.DAMAGED}
    monkeypatch.setattr(decoder, "MOST_DECODED_BYTES", 100)
    assert kinds(tmp_path, whole, Format.JPEG) == {ProblemKind.LIMIT}


def test_a_tiff_that_claims_to_be_huge_costs_no_memory(tmp_path: Path) -> None:
    fields = [f for f in plain_fields(60_000, 60_000, 2, [8, 8, 8]) if f[0] != 259]
    path = tmp_path / "bomb.tif"
    path.write_bytes(tiff(([*fields, (259, SHORT, [5])], bytes(64))))
    width, height, grown, problems = measured_apart(path, Format.TIFF)
    assert (width, height, problems) == (60_000, 60_000, "limit")
    assert grown < 40


def test_a_poster_is_honest_work(tmp_path: Path) -> None:
    # 143 megapixels: more than Pillow opens without a warning (89), and warnings are errors here.
    data = saved(Image.new("L", (10_000, 14_300), 200), "TIFF", compression="tiff_lzw", dpi=(300, 300))
    artwork = measured(tmp_path, data, Format.TIFF)
    assert artwork.problems == ()
    assert raster(artwork).width_px * raster(artwork).height_px == 143_000_000


def test_decoding_takes_about_the_memory_that_was_expected(tmp_path: Path) -> None:
    # 30 megapixels: the figures that our limits are asked about must be near what is really taken.
    image = Image.linear_gradient("L").resize((5000, 6000))
    colour = Image.merge("CMYK", [image] * 4)
    for form, data in (
        (Format.JPEG, saved(colour, "JPEG")),
        (Format.JPEG, saved(colour, "JPEG", progressive=True)),
        (Format.TIFF, saved(colour, "TIFF", compression="tiff_lzw")),
        (Format.TIFF, saved(colour, "TIFF", compression="tiff_lzw", strip_size=2**30)),
    ):
        path = tmp_path / f"picture.{form}"
        path.write_bytes(data)
        pixels = READERS[form](source(data)).pictures[0].pixels
        assert isinstance(pixels, JpegScans | TiffFrame)
        _, _, grown, problems = measured_apart(path, form)
        assert problems == "-"
        assert 0.4 < grown / (pixels.memory_bytes / 2**20) < 1.15


def test_a_decoder_that_runs_out_of_memory_is_a_limit(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    def no_room(_self: object) -> None:
        raise MemoryError

    monkeypatch.setattr(TiffImageFile, "load", no_room)
    data = saved(NOISE, "TIFF", compression="tiff_lzw")
    assert kinds(tmp_path, data, Format.TIFF) == {ProblemKind.LIMIT}


def test_pillows_own_limit_is_as_it_was(tmp_path: Path) -> None:
    before = Image.MAX_IMAGE_PIXELS
    measured(tmp_path, saved(NOISE, "TIFF", compression="tiff_lzw"), Format.TIFF)
    assert before is not None
    assert before == Image.MAX_IMAGE_PIXELS


def test_what_pillow_warns_of_is_a_note(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    def warn(_self: object) -> None:
        warnings.warn("odd", UserWarning, stacklevel=1)

    monkeypatch.setattr(TiffImageFile, "load", warn)
    artwork = measured(tmp_path, saved(NOISE, "TIFF", compression="tiff_lzw", dpi=(300, 300)), Format.TIFF)
    assert [(p.where, p.kind) for p in artwork.problems] == [("pages[1].images[1]", ProblemKind.NOTE)]


def test_random_bytes_behind_each_signature(tmp_path: Path) -> None:
    heads = {
        Format.JPEG: b"\xff\xd8\xff",
        Format.TIFF: b"II*\0\x08\0\0\0",
        Format.PNG: b"\x89PNG\r\n\x1a\n",
        Format.PSD: b"8BPS\0\1",
    }
    dice = random.Random(7)
    for form, head in heads.items():
        for _ in range(150):
            artwork = measured(tmp_path, head + dice.randbytes(dice.randrange(400)), form)
            assert artwork.problems
