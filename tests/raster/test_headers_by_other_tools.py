# Header facts against two programs of other authors: exiftool, and ImageMagick's identify.
import json
import shutil
import struct
import subprocess
from pathlib import Path

import pytest
from PIL import Image

from hotfolder.model.facts import Format
from hotfolder.model.raster import RasterFacts
from tests.raster.raster_bytes import (
    ENDINGS,
    RATIONAL,
    SHORT,
    bare_jpeg,
    exif_block,
    jfif,
    measured,
    noise,
    phys,
    plain_fields,
    png,
    psd,
    raster,
    resolution_info,
    resource,
    saved,
    segment,
    srgb_profile,
    tiff,
)

PROFILE = srgb_profile()
EXIF = exif_block((274, SHORT, [6]), (282, RATIONAL, [240, 1]), (283, RATIONAL, [240, 1]), (296, SHORT, [2]))
NAMES = resource(1045, struct.pack(">I", 5) + "Gold\0".encode("utf-16-be"))


def inked(mode: str, size: tuple[int, int], **options: object) -> bytes:
    return saved(noise(mode, size), "TIFF", **options)


FILES = {
    "jpeg-grey": (Format.JPEG, saved(noise("L", (40, 24)), "JPEG", dpi=(300, 300))),
    "jpeg-rgb-exif": (
        Format.JPEG, bare_jpeg(noise("RGB", (40, 24)), jfif(0, 1, 1), segment(0xE1, b"Exif\0\0" + EXIF)),
    ),
    "jpeg-cmyk-cm": (Format.JPEG, bare_jpeg(noise("CMYK", (40, 24)), jfif(2, 118, 118))),
    "jpeg-progressive": (Format.JPEG, saved(noise("RGB", (41, 25)), "JPEG", progressive=True, dpi=(72, 72))),
    "jpeg-profile": (Format.JPEG, saved(noise("RGB", (40, 24)), "JPEG", icc_profile=PROFILE)),
    "jpeg-resource": (
        Format.JPEG,
        bare_jpeg(noise("RGB", (40, 24)), segment(0xED, b"Photoshop 3.0\0" + resolution_info(250, 250))),
    ),
    "png-rgb": (Format.PNG, saved(noise("RGB", (40, 24)), "PNG", dpi=(300, 300), icc_profile=PROFILE)),
    "png-grey-16": (Format.PNG, png((40, 24), 0, 16, phys(2835, 2835))),
    "png-grey-alpha": (Format.PNG, saved(noise("LA", (40, 24)), "PNG")),
    "png-palette": (Format.PNG, saved(noise("RGB", (40, 24)).convert("P"), "PNG", dpi=(150, 150))),
    "png-interlaced": (Format.PNG, saved(noise("RGB", (41, 25)), "PNG", dpi=(150, 150))),
    "png-ratio": (Format.PNG, png((40, 24), 2, 8, phys(1, 1, 0))),
    "tiff-bitmap": (Format.TIFF, inked("1", (40, 24), compression="group4", dpi=(1200, 1200))),
    "tiff-rgb-lzw": (Format.TIFF, inked("RGB", (40, 24), compression="tiff_lzw", dpi=(300, 200))),
    "tiff-cmyk": (Format.TIFF, inked("CMYK", (40, 24), dpi=(300, 300), icc_profile=PROFILE)),
    "tiff-lab": (Format.TIFF, inked("LAB", (40, 24), dpi=(300, 300))),
    "tiff-alpha": (Format.TIFF, inked("RGBA", (40, 24), compression="tiff_adobe_deflate")),
    "tiff-big-endian": (
        Format.TIFF,
        tiff(
            (
                [
                    *plain_fields(40, 24, 5, [8] * 5),
                    (274, SHORT, [8]), (282, RATIONAL, [11811, 100]), (283, RATIONAL, [11811, 100]),
                    (296, SHORT, [3]), (332, SHORT, [1]), (338, SHORT, [0]),
                ],
                bytes(40 * 24 * 5),
            ),
            order=">",
        ),
    ),
    "psd-cmyk": (Format.PSD, psd((40, 24), 4, 4, resolution_info(300, 300))),
    "psd-spot-layers": (Format.PSD, psd((40, 24), 4, 5, resolution_info(299.5, 299.5), NAMES, layers=3)),
    "psd-rgb-profile": (Format.PSD, psd((40, 24), 3, 3, resource(1039, PROFILE), layers=-2)),
    "psd-grey-16": (Format.PSD, psd((40, 24), 1, 1, resolution_info(72, 72), depth=16, layers=2)),
    "psb-lab": (Format.PSD, psd((40, 24), 9, 3, resolution_info(300, 300), large=True, run_length=False)),
}  # fmt: skip


def tool(name: str) -> str:
    found = shutil.which(name)
    if found is None:
        pytest.skip(f"{name} is not installed")
    return found


def facts(name: str, folder: Path) -> RasterFacts:
    form, data = FILES[name]
    return raster(measured(folder, data, form))


def exiftool(path: Path) -> dict[str, object]:
    """All tags of a file by group and name, as numbers."""
    out = subprocess.run(
        [tool("exiftool"), "-j", "-n", "-G1", "-a", str(path)], capture_output=True, text=True, check=True
    ).stdout
    (tags,) = json.loads(out)
    assert isinstance(tags, dict)
    return tags


def first(tags: dict[str, object], *names: str) -> object:
    return next((tags[name] for name in names if name in tags), None)


def number(tags: dict[str, object], *names: str) -> float | None:
    value = first(tags, *names)
    return float(value) if isinstance(value, int | float) else None


def exiftool_ppi(tags: dict[str, object]) -> float | None:
    """The resolution by the order of JFIF, Exif or TIFF, pHYs and image resource, from exiftool's figures."""
    for group in ("JFIF", "IFD0"):
        value, unit = number(tags, f"{group}:XResolution"), number(tags, f"{group}:ResolutionUnit")
        # JFIF: 1 inch, 2 centimetre; Exif and TIFF: 2 inch, 3 centimetre.
        scale = {"JFIF": {1: 1.0, 2: 2.54}, "IFD0": {2: 1.0, 3: 2.54}}[group].get(int(unit or 0))
        if value is not None and scale is not None:
            return value * scale
    metre = number(tags, "PNG-pHYs:PixelsPerUnitX", "PNG:PixelsPerUnitX")
    if metre is not None:
        return metre * 0.0254 if number(tags, "PNG-pHYs:PixelUnits", "PNG:PixelUnits") == 1 else None
    return number(tags, "Photoshop:XResolution")


@pytest.mark.parametrize("name", FILES)
def test_against_exiftool(name: str, tmp_path: Path) -> None:
    ours = facts(name, tmp_path)
    form, _ = FILES[name]
    tags = exiftool(tmp_path / f"picture.{ENDINGS[form]}")
    groups = {Format.JPEG: "File", Format.PNG: "PNG", Format.TIFF: "IFD0", Format.PSD: "Photoshop"}
    group = groups[form]
    assert ours.width_px == number(tags, f"{group}:ImageWidth", "File:ImageWidth")
    assert ours.height_px == number(tags, f"{group}:ImageHeight", "File:ImageHeight")
    theirs = exiftool_ppi(tags)
    assert (ours.x_ppi is None) == (theirs is None)
    assert ours.x_ppi == (None if theirs is None else pytest.approx(theirs, rel=1e-4))
    assert ours.orientation == (number(tags, "IFD0:Orientation") or 1)
    assert ours.layers == (number(tags, "Photoshop:LayerCount") or 0)
    if ours.icc_profile is not None or first(tags, "ICC_Profile:ProfileDescription") is not None:
        assert ours.icc_profile == first(tags, "ICC_Profile:ProfileDescription")
        assert ours.icc_space == str(first(tags, "ICC-header:ColorSpaceData")).strip()


@pytest.mark.parametrize("name", FILES)
def test_against_identify(name: str, tmp_path: Path) -> None:
    ours = facts(name, tmp_path)
    form, _ = FILES[name]
    path = tmp_path / f"picture.{ENDINGS[form]}"
    out = subprocess.run(
        [tool("identify"), "-quiet", "-format", "%w %h %[colorspace] %z %[interlace]\n", f"{path}[0]"],
        capture_output=True,
        text=True,
        check=True,
    ).stdout
    width, height, colours, bits, interlace = out.split()
    assert (ours.width_px, ours.height_px) == (int(width), int(height))
    theirs = {"sRGB": {"RGB", "indexed"}, "Gray": {"grey", "bitmap"}, "CMYK": {"CMYK"}, "CIELab": {"Lab"}}
    assert ours.colour.family in theirs[colours]
    if ours.colour.family not in {"indexed", "bitmap"}:  # it names the depth of the palette's colours there
        assert ours.bits == int(bits)
    if form in {Format.JPEG, Format.PNG}:
        assert ours.progressive == (interlace != "None")


def test_a_tiff_of_libtiffs_own_making_is_whole(tmp_path: Path) -> None:
    # tiffcp (libtiff) cuts pictures into tiles, planes and strips that Pillow does not write.
    path, copy = tmp_path / "one.tif", tmp_path / "copy.tif"
    noise("RGB", (150, 90)).save(path, dpi=(300, 300))
    for options in (
        ["-t", "-w", "64", "-l", "32"],
        ["-p", "separate"],
        ["-r", "7", "-c", "zip"],
        ["-8"],
        ["-B"],
    ):
        subprocess.run([tool("tiffcp"), *options, str(path), str(copy)], check=True, capture_output=True)
        for data, whole in ((copy.read_bytes(), True), (copy.read_bytes()[:-1500], False)):
            artwork = measured(tmp_path, data, Format.TIFF)
            if whole:
                assert artwork.problems == (), options
                assert raster(artwork).x_ppi == pytest.approx(300)
            else:
                assert artwork.problems, options


def test_what_pillow_saves_keeps_its_size(tmp_path: Path) -> None:
    image = Image.new("RGB", (31, 17))
    for form, name in ((Format.JPEG, "JPEG"), (Format.PNG, "PNG"), (Format.TIFF, "TIFF")):
        ours = raster(measured(tmp_path, saved(image, name, dpi=(300, 300)), form))
        assert (ours.width_px, ours.height_px) == image.size
        assert ours.x_ppi == pytest.approx(300, abs=0.001)
