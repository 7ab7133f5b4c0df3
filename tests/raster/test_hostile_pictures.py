# No byte string makes measuring raise: cuts at every place, flipped bytes, and every foreign exception.
import inspect
import random
import sys
import tempfile
from pathlib import Path
from types import ModuleType

import pikepdf
import PIL
import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st
from PIL import Image, JpegImagePlugin, TiffImagePlugin

from hotfolder.model.artwork import Artwork
from hotfolder.model.facts import Format, ProblemKind, Unmeasured
from hotfolder.raster import decoder
from hotfolder.raster.decoder import DECODER_ERRORS
from tests.raster.raster_bytes import (
    RATIONAL,
    SHORT,
    bare_jpeg,
    chunk,
    exif_block,
    jfif,
    measured,
    noise,
    phys,
    png,
    psd,
    resolution_info,
    resource,
    saved,
    segment,
    srgb_profile,
)

EXIF = exif_block((274, SHORT, [6]), (282, RATIONAL, [300, 1]), (283, RATIONAL, [300, 1]), (296, SHORT, [2]))
RGB = noise("RGB", (24, 16))
SAMPLES = {
    "jpeg": (
        Format.JPEG,
        bare_jpeg(
            RGB,
            jfif(0, 1, 1),
            segment(0xE1, b"Exif\0\0" + EXIF),
            segment(0xE2, b"ICC_PROFILE\0\1\1" + srgb_profile()),
            segment(0xED, b"Photoshop 3.0\0" + resolution_info(300, 300)),
        ),
    ),
    "jpeg progressive": (Format.JPEG, saved(noise("CMYK", (24, 16)), "JPEG", progressive=True)),
    "png": (
        Format.PNG,
        png((6, 4), 6, 8, phys(11811, 11811), chunk(b"eXIf", EXIF), interlaced=True, pixels=bytes(104)),
    ),
    "png noise": (Format.PNG, saved(RGB, "PNG", icc_profile=srgb_profile(), dpi=(300, 300))),
    "tiff": (Format.TIFF, saved(RGB, "TIFF", icc_profile=srgb_profile(), dpi=(300, 300))),
    "tiff lzw": (Format.TIFF, saved(RGB, "TIFF", compression="tiff_lzw")),
    "tiff deflate": (Format.TIFF, saved(RGB, "TIFF", compression="tiff_adobe_deflate")),
    "tiff packbits": (Format.TIFF, saved(RGB, "TIFF", compression="packbits")),
    "tiff pages": (Format.TIFF, saved(RGB, "TIFF", save_all=True, append_images=[RGB, RGB])),
    "psd": (
        Format.PSD,
        psd((24, 16), 4, 5, resolution_info(300, 300), resource(1039, srgb_profile()), layers=-2),
    ),
    "psb": (Format.PSD, psd((24, 16), 3, 3, depth=16, layers=3, large=True)),
}


def well_formed(artwork: Artwork) -> bool:
    """Either pages with a header, or a reason why there are none; and marks only where there is a size."""
    if isinstance(artwork.pages, Unmeasured):
        return any(
            problem.kind in {ProblemKind.UNREADABLE, ProblemKind.UNSUPPORTED} for problem in artwork.problems
        )
    return bool(artwork.pages) and all(
        page.raster is not None
        and page.raster.width_px > 0
        and page.raster.height_px > 0
        and isinstance(page.marks, Unmeasured) == (page.boxes.media is None)
        for page in artwork.pages
    )


@pytest.mark.parametrize("name", SAMPLES)
def test_the_samples_are_fine_as_they_are(name: str, tmp_path: Path) -> None:
    form, data = SAMPLES[name]
    problems = measured(tmp_path, data, form).problems
    assert [problem for problem in problems if problem.kind is not ProblemKind.NOTE] == []


@pytest.mark.parametrize("name", SAMPLES)
def test_cut_at_any_place(name: str, tmp_path: Path) -> None:
    form, data = SAMPLES[name]
    step = max(1, len(data) // 400)
    for length in range(0, len(data), step):
        assert well_formed(measured(tmp_path, data[:length], form)), length


@pytest.mark.parametrize("name", SAMPLES)
def test_any_byte_changed(name: str, tmp_path: Path) -> None:
    form, data = SAMPLES[name]
    dice = random.Random(name)
    step = max(1, len(data) // 500)
    for place in range(0, len(data), step):
        broken = bytearray(data)
        broken[place] = dice.choice([0, 1, 0x7F, 0x80, 0xFF, broken[place] ^ 1 << dice.randrange(8)])
        assert well_formed(measured(tmp_path, bytes(broken), form)), place


@pytest.mark.parametrize("name", SAMPLES)
def test_many_bytes_changed(name: str, tmp_path: Path) -> None:
    form, data = SAMPLES[name]
    dice = random.Random(name)
    for _ in range(200):
        broken = bytearray(data)
        for _ in range(dice.randrange(2, 20)):
            # Half of the changes go to the first bytes, where the header is.
            place = dice.randrange(min(len(data), 200) if dice.random() < 0.5 else len(data))
            broken[place] = dice.randrange(256)
        assert well_formed(measured(tmp_path, bytes(broken), form))


@settings(max_examples=300, deadline=None, suppress_health_check=[HealthCheck.too_slow])
@given(st.sampled_from(sorted(SAMPLES)), st.data())
def test_pieces_of_a_file_put_together_anyhow(name: str, data: st.DataObject) -> None:
    form, whole = SAMPLES[name]
    cuts = sorted(data.draw(st.lists(st.integers(8, len(whole)), max_size=6)))
    pieces = [whole[a:b] for a, b in zip([8, *cuts], [*cuts, len(whole)], strict=True)]
    shuffled = data.draw(st.permutations(pieces))
    junk = data.draw(st.binary(max_size=30))
    with tempfile.TemporaryDirectory() as folder:
        assert well_formed(measured(Path(folder), whole[:8] + junk.join(shuffled), form))


def exceptions_in(*modules: ModuleType) -> set[type[Exception]]:
    """Every exception class, warnings apart, that has a name in one of the modules."""
    return {
        value
        for module in modules
        for value in vars(module).values()
        if inspect.isclass(value) and issubclass(value, Exception) and not issubclass(value, Warning)
    }


def test_every_exception_of_the_decoders_is_translated() -> None:
    Image.init()  # loads every file plugin
    pillow = [
        module
        for name, module in sys.modules.items()
        if name.split(".")[0] == "PIL" and name != "PIL.ImageCms"  # converts colours, and is not called
    ]
    found = exceptions_in(*pillow, pikepdf)
    assert {PIL.UnidentifiedImageError, Image.DecompressionBombError, pikepdf.DataDecodingError} <= found
    for exception in found:
        assert issubclass(exception, DECODER_ERRORS), exception


@pytest.mark.parametrize("exception", DECODER_ERRORS)
def test_what_the_decoders_raise_becomes_a_problem(
    exception: type[Exception], tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    def fails(*_: object) -> None:
        raise exception

    form, data = SAMPLES["tiff lzw"]
    monkeypatch.setattr(TiffImagePlugin.TiffImageFile, "load", fails)
    assert ProblemKind.DAMAGED in {p.kind for p in measured(tmp_path, data, form).problems}
    monkeypatch.setattr(TiffImagePlugin.TiffImageFile, "_open", fails)
    assert ProblemKind.UNSUPPORTED in {p.kind for p in measured(tmp_path, data, form).problems}

    form, data = SAMPLES["jpeg"]
    monkeypatch.setattr(pikepdf.Object, "read_bytes", fails)
    assert ProblemKind.DAMAGED in {p.kind for p in measured(tmp_path, data, form).problems}
    monkeypatch.setattr(decoder, "MOST_DECODED_BYTES", 5000)
    monkeypatch.setattr(JpegImagePlugin.JpegImageFile, "load", fails)
    assert ProblemKind.DAMAGED in {p.kind for p in measured(tmp_path, data, form).problems}
