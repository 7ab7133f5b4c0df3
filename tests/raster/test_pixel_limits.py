# No claim of a header costs memory or time, and what a decoder says stays in words.
import random
import struct
import subprocess
import sys
import warnings
import zlib
from pathlib import Path

import pytest
from PIL import Image
from PIL.TiffImagePlugin import TiffImageFile

from hotfolder.model.facts import Format, ProblemKind
from hotfolder.raster import decoder
from hotfolder.raster.headers.jpeg import read_jpeg
from hotfolder.raster.headers.picture import JpegScans, TiffFrame
from hotfolder.raster.headers.tiff_picture import read_tiff
from tests.raster.pixels_told import NOISE, kinds, told
from tests.raster.raster_bytes import (
    SHORT,
    bare_jpeg,
    chunk,
    jfif,
    measured,
    noise,
    plain_fields,
    raster,
    saved,
    segment,
    source,
    tiff,
)

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
    width, height, grown, problems = out.stdout.split()
    return int(width), int(height), int(grown), problems


def zeros_packed(count: int) -> bytes:
    """`count` zeros, packed without ever being held."""
    packer = zlib.compressobj(1)
    step = bytes(2**20)
    parts = [packer.compress(step) for _ in range(count >> 20)]
    return b"".join([*parts, packer.compress(bytes(count & 2**20 - 1)), packer.flush()])


@pytest.mark.parametrize(
    ("side", "expected"),
    [(30_000, "-"), (40_000, "limit")],  # 2.7 GB are unpacked in passing, 4.8 GB are not
)
def test_a_png_bomb_costs_no_memory(side: int, expected: str, tmp_path: Path) -> None:
    path = tmp_path / "bomb.png"
    header = struct.pack(">IIBBBBB", side, side, 8, 2, 0, 0, 0)
    data = zeros_packed(side * (1 + 3 * side)) if expected == "-" else b"\x78\x9c\x03\0\0\0\0\1"
    path.write_bytes(
        b"\x89PNG\r\n\x1a\n" + chunk(b"IHDR", header) + chunk(b"IDAT", data) + chunk(b"IEND", b"")
    )
    width, height, grown, problems = measured_apart(path, Format.PNG)
    assert (width, height, problems) == (side, side, expected)
    assert grown < 40  # the file itself has 12 MB


def claiming(data: bytes, side: int) -> bytes:
    """A JPEG file whose frame header says that the picture has `side` x `side` px."""
    changed = bytearray(data)
    frame = max(data.find(b"\xff\xc0"), data.find(b"\xff\xc2"))
    changed[frame + 5 : frame + 9] = struct.pack(">HH", side, side)
    return bytes(changed)


@pytest.mark.parametrize(
    ("progressive", "padding", "expected"),
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
    expected: str,
    tmp_path: Path,
) -> None:
    small = saved(Image.new("RGB", (16, 16)), "JPEG", progressive=progressive, subsampling=0)
    path = tmp_path / "bomb.jpg"
    path.write_bytes(claiming(small, 60_000)[:-2] + bytes(padding))
    width, height, grown, problems = measured_apart(path, Format.JPEG)
    assert (width, height) == (60_000, 60_000)
    assert problems == expected
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
