# Raster files as plates: every kind of colour, opacity, depth, spot inks, orientation; what cannot be drawn.

import struct
from collections.abc import Sequence
from dataclasses import replace
from pathlib import Path

import numpy as np
import pytest
from PIL import Image

from hotfolder.colour.conversions import Intent
from hotfolder.drawing.plates.raster import RasterPlates
from hotfolder.model.colour import PROCESS_INKS
from hotfolder.model.geometry import Box
from hotfolder.model.pages import PageBoxes
from hotfolder.model.plates import Bytes, PagePlates
from hotfolder.model.press import Press
from tests.colour.transicc import ICC_FREE, needs_file, needs_transicc, transicc
from tests.drawing.images.placed_pictures import (
    cell_means,
    coated,
    means,
    measured,
    plates_of,
    worst,
)
from tests.drawing.plates.raster_plates_read import OLIVE, unmeasured
from tests.raster.raster_bytes import ASCII, SHORT, Field, plain_fields, psd, resource, tiff

RGB_PROFILE = ICC_FREE / "compatibleWithAdobeRGB1998.icc"


def flat(plates: PagePlates) -> dict[str, float]:
    """The inks of a picture of one colour, in percent, taken from its middle; inks of nothing left out."""
    row, column = plates.frame.height_px // 2, plates.frame.width_px // 2
    percents = {name: float(plate[row, column]) / 2.55 for name, plate in plates.inks.items()}
    return {name: percent for name, percent in percents.items() if percent}


def by_transicc(
    colour: Sequence[float], source: str = "*sRGB", *, press: Press | None = None
) -> dict[str, float]:
    """The inks, in percent, that littleCMS's own converter makes of a colour."""
    target = str((press or coated()).profile)
    (inks,) = transicc(np.array([colour], np.float64), source, target, Intent.RELATIVE, black_point=True)
    return dict(zip(PROCESS_INKS, inks.tolist(), strict=True))


# Inks as delivered


def test_inks_of_a_cmyk_picture_are_as_delivered(tmp_path: Path) -> None:
    """12 pixels to a millimetre; the plates have 6, and each of their pixels is the mean of four."""
    picture = np.random.default_rng(1).integers(0, 256, (240, 360, 4), dtype=np.uint8)
    Image.fromarray(picture, "CMYK").save(tmp_path / "a.tif")
    plates = plates_of(tmp_path / "a.tif", px_per_mm=12)
    assert (plates.frame.px_per_mm, plates.frame.width_px, plates.frame.height_px) == (6, 180, 120)
    assert plates.screen is None
    assert tuple(plates.inks) == PROCESS_INKS
    for place, name in enumerate(PROCESS_INKS):
        assert np.abs(plates.inks[name] - cell_means(picture[..., place], 2)).max() <= 0.51


@pytest.mark.parametrize("press", [None, "coated"])
def test_a_press_changes_nothing_of_them(tmp_path: Path, press: str | None) -> None:
    Image.new("CMYK", (60, 40), (200, 150, 100, 50)).save(tmp_path / "a.tif")
    plates = plates_of(tmp_path / "a.tif", press=coated() if press else None)
    assert [int(plate[0, 0]) for plate in plates.inks.values()] == [200, 150, 100, 50]
    assert plates.screen is None


def test_a_cmyk_jpeg_is_stored_inverted(tmp_path: Path) -> None:
    """Pillow writes it as Adobe's programs do, with their marker."""
    Image.new("CMYK", (64, 64), (255, 0, 128, 26)).save(tmp_path / "a.jpg", quality=98)
    assert flat(plates_of(tmp_path / "a.jpg")) == pytest.approx(
        {"Cyan": 100, "Yellow": 50.2, "Black": 10.2}, abs=0.5
    )


@pytest.mark.parametrize("name", ["a.jpg", "a.tif", "a.png"])
def test_grey_is_black_ink(tmp_path: Path, name: str) -> None:
    Image.new("L", (64, 64), 255 - 51).save(tmp_path / name)
    assert flat(plates_of(tmp_path / name)) == pytest.approx({"Black": 20}, abs=0.5)


def test_line_art_is_black_ink_where_it_is_black(tmp_path: Path) -> None:
    image = Image.new("1", (120, 60), 1)
    image.paste(0, (0, 0, 30, 60))
    image.save(tmp_path / "a.tif", compression="group4")
    image.save(tmp_path / "a.png")
    for name in ("a.tif", "a.png"):
        assert means(plates_of(tmp_path / name)) == pytest.approx({"Black": 25})


# Colours that are converted


@needs_transicc
@pytest.mark.parametrize("name", ["a.tif", "a.png", "a.jpg"])
@pytest.mark.parametrize("colour", [OLIVE, (255, 0, 0), (0, 0, 0), (250, 250, 250), (20, 180, 230)])
def test_rgb_becomes_the_inks_that_littlecms_makes_of_it(
    tmp_path: Path, name: str, colour: tuple[int, int, int]
) -> None:
    options = {"quality": 100, "subsampling": 0} if name == "a.jpg" else {}
    Image.new("RGB", (64, 64), colour).save(tmp_path / name, None, **options)
    plates = plates_of(tmp_path / name, press=coated())
    # A JPEG file may be off by one of 255 in each value of the colour.
    assert worst(flat(plates), by_transicc(colour)) <= (1.6 if name == "a.jpg" else 0.4)
    assert plates.screen is not None
    assert plates.screen[10, 10].tolist() == pytest.approx(colour, abs=1)


@needs_transicc
@needs_file(RGB_PROFILE, "icc-profiles-free")
def test_the_profile_that_a_picture_brings_is_followed(tmp_path: Path) -> None:
    data = RGB_PROFILE.read_bytes()
    for name in ("a.tif", "a.png", "a.jpg"):
        Image.new("RGB", (64, 64), OLIVE).save(tmp_path / name, icc_profile=data)
        percents = flat(plates_of(tmp_path / name, press=coated()))
        wanted = by_transicc(OLIVE, str(RGB_PROFILE))
        assert worst(percents, wanted) <= (1.6 if name == "a.jpg" else 0.4)
        assert worst(percents, by_transicc(OLIVE)) > 3  # sRGB would be seen


def test_a_profile_that_does_not_fit_its_picture_is_left_aside(tmp_path: Path) -> None:
    press = coated()
    assert press.profile is not None
    Image.new("RGB", (60, 40), OLIVE).save(tmp_path / "a.png", icc_profile=press.profile.read_bytes())
    Image.new("RGB", (60, 40), OLIVE).save(tmp_path / "b.png")
    Image.new("RGB", (60, 40), OLIVE).save(tmp_path / "c.png", icc_profile=b"no profile at all")
    first = flat(plates_of(tmp_path / "b.png", press=press))
    assert flat(plates_of(tmp_path / "a.png", press=press)) == first
    assert flat(plates_of(tmp_path / "c.png", press=press)) == first


@needs_transicc
def test_lab_is_the_colour_that_it_names(tmp_path: Path) -> None:
    """TIFF 6.0, section 23: a* and b* are signed; in 16 bits L* of 100 is 65535 and 256 is a unit of a*."""
    lab = (54.1176, 40.0, -20.0)
    eight = bytes([138, 40, 256 - 20]) * (64 * 64)
    sixteen = struct.pack("<Hhh", round(54.1176 * 655.35), 40 * 256, -20 * 256) * (64 * 64)
    (tmp_path / "8.tif").write_bytes(tiff((plain_fields(64, 64, 8, [8, 8, 8]), eight)))
    (tmp_path / "16.tif").write_bytes(tiff((plain_fields(64, 64, 8, [16, 16, 16]), sixteen)))
    for name in ("8.tif", "16.tif"):
        assert worst(flat(plates_of(tmp_path / name, press=coated())), by_transicc(lab, "*Lab")) <= 0.6


def test_sixteen_bits_are_as_good_as_eight(tmp_path: Path) -> None:
    grey = np.full((64, 64), 0x4000, np.uint16)
    Image.fromarray(grey).save(tmp_path / "grey.png")
    assert flat(plates_of(tmp_path / "grey.png")) == pytest.approx({"Black": 75}, abs=0.3)
    inks = struct.pack("<4H", 0x8000, 0, 0xFFFF, 0x1000) * (64 * 64)
    (tmp_path / "inks.tif").write_bytes(tiff((plain_fields(64, 64, 5, [16] * 4), inks)))
    assert flat(plates_of(tmp_path / "inks.tif")) == pytest.approx(
        {"Cyan": 50, "Yellow": 100, "Black": 6.25}, abs=0.3
    )
    colour = struct.pack("<3H", *(value * 257 for value in OLIVE)) * (64 * 64)
    (tmp_path / "rgb.tif").write_bytes(tiff((plain_fields(64, 64, 2, [16] * 3), colour)))
    Image.new("RGB", (64, 64), OLIVE).save(tmp_path / "rgb.png")
    deep, plain = (plates_of(tmp_path / name, press=coated()) for name in ("rgb.tif", "rgb.png"))
    assert flat(deep) == flat(plain)


def test_an_indexed_picture_has_the_colours_of_its_palette(tmp_path: Path) -> None:
    palette = Image.new("P", (60, 40), 1)
    palette.putpalette([255, 0, 0, *OLIVE])
    Image.new("RGB", (60, 40), OLIVE).save(tmp_path / "rgb.png")
    wanted = flat(plates_of(tmp_path / "rgb.png", press=coated()))
    for name in ("p.png", "p.tif"):
        palette.save(tmp_path / name)
        assert flat(plates_of(tmp_path / name, press=coated())) == wanted
    palette.save(tmp_path / "clear.png", transparency=1)
    assert means(plates_of(tmp_path / "clear.png", press=coated())) == dict.fromkeys(PROCESS_INKS, 0.0)


# Opacity


def test_what_lets_through_shows_bare_paper(tmp_path: Path) -> None:
    """A half opaque colour lays half its ink; a clear one none, whatever colour is stored beneath."""
    Image.new("RGBA", (64, 64), (*OLIVE, 128)).save(tmp_path / "half.png")
    Image.new("RGBA", (64, 64), (*OLIVE, 0)).save(tmp_path / "clear.png")
    Image.new("RGB", (64, 64), OLIVE).save(tmp_path / "full.png")
    Image.new("LA", (64, 64), (0, 64)).save(tmp_path / "grey.png")
    full = flat(plates_of(tmp_path / "full.png", press=coated()))
    half = plates_of(tmp_path / "half.png", press=coated())
    assert flat(half) == pytest.approx({ink: percent / 2 for ink, percent in full.items()}, abs=0.5)
    assert half.screen is not None
    assert half.screen[9, 9].tolist() == pytest.approx([(value + 255) / 2 for value in OLIVE], abs=1)
    clear = plates_of(tmp_path / "clear.png", press=coated())
    assert flat(clear) == {}
    assert clear.screen is not None
    assert clear.screen.min() == 255
    assert flat(plates_of(tmp_path / "grey.png")) == pytest.approx({"Black": 25}, abs=0.3)


@pytest.mark.parametrize("kind", [1, 2])
@pytest.mark.parametrize("bits", [8, 16])
def test_tiff_keeps_colours_multiplied_with_opacity_or_not(tmp_path: Path, kind: int, bits: int) -> None:
    """ExtraSamples 1 is multiplied, 2 is not (TIFF 6.0, section 18): the same picture in two ways."""
    full = 2**bits - 1
    stored = [round(value / 255 * full * (0.5 if kind == 1 else 1)) for value in OLIVE]
    pixels = struct.pack(f"<4{'B' if bits == 8 else 'H'}", *stored, round(full / 2)) * (64 * 64)
    fields: list[Field] = [*plain_fields(64, 64, 2, [bits] * 4), (338, SHORT, [kind])]
    (tmp_path / "a.tif").write_bytes(tiff((fields, pixels)))
    Image.new("RGBA", (64, 64), (*OLIVE, 128)).save(tmp_path / "a.png")
    percents, wanted = (flat(plates_of(tmp_path / name, press=coated())) for name in ("a.tif", "a.png"))
    assert worst(percents, wanted) <= 0.8


# Spot inks


def ink_names(*names: str) -> Field:
    return (333, ASCII, b"".join(name.encode() + b"\0" for name in names))


def test_a_tiff_file_that_names_its_inks(tmp_path: Path) -> None:
    """TIFF 6.0, section 16: InkSet 2, a sample for each of InkNames, 255 is full ink."""
    fields: list[Field] = [
        *plain_fields(64, 64, 5, [8] * 3), (332, SHORT, [2]), ink_names("Black", "Harbour Blue", "Gloss")
    ]  # fmt: skip
    (tmp_path / "a.tif").write_bytes(tiff((fields, bytes([51, 255, 102]) * (64 * 64))))
    assert flat(plates_of(tmp_path / "a.tif")) == pytest.approx(
        {"Black": 20, "Harbour Blue": 100, "Gloss": 40}
    )


def test_an_ink_that_is_named_twice_is_one_plate(tmp_path: Path) -> None:
    fields: list[Field] = [*plain_fields(64, 64, 5, [8] * 2), (332, SHORT, [2]), ink_names("Gold", "Gold")]
    (tmp_path / "a.tif").write_bytes(tiff((fields, bytes([51, 102]) * (64 * 64))))
    assert flat(plates_of(tmp_path / "a.tif")) == pytest.approx({"Gold": 40})


def test_inks_without_names_are_not_measured(tmp_path: Path) -> None:
    fields: list[Field] = [*plain_fields(64, 64, 5, [8] * 5), (332, SHORT, [2])]
    (tmp_path / "a.tif").write_bytes(tiff((fields, bytes([51, 0, 102, 0, 0]) * (64 * 64))))
    assert "does not name" in unmeasured(tmp_path / "a.tif")


def spot_resources(*channels: tuple[str, int, tuple[int, ...]]) -> list[bytes]:
    """Names and DisplayInfo of extra channels: name, kind (2 is a spot ink), and a colour in CIELAB."""
    names = b"".join(struct.pack(">I", len(name)) + name.encode("utf-16-be") for name, _, _ in channels)
    shown = b"".join(struct.pack(">H4hHB", 7, *colour, 0, 100, kind) for _, kind, colour in channels)
    return [resource(1045, names), resource(1077, struct.pack(">I", 1) + shown)]


def document(planes: Sequence[int], mode: int, *resources: bytes, depth: int = 8, side: int = 64) -> bytes:
    """A flat layered file whose channels have one value each."""
    data = psd((side, side), mode, len(planes), *resources, depth=depth, run_length=False)
    size = side * side * depth // 8
    body = b"".join(value.to_bytes(depth // 8, "big") * (side * side) for value in planes)
    return data[: len(data) - size * len(planes)] + body


def test_spot_channels_of_a_layered_file_are_plates_with_their_looks(tmp_path: Path) -> None:
    """It keeps inks as light: 255 is none. A saved selection beside them is no ink."""
    resources = spot_resources(
        ("Harbour Blue", 2, (3500, -800, -4200)), ("cutout", 0, (0, 0, 0)), ("Gloss", 2, (9000, 0, 0))
    )
    (tmp_path / "a.psd").write_bytes(document((0, 255, 128, 255, 51, 0, 204), 4, *resources))
    plates = plates_of(tmp_path / "a.psd")
    assert flat(plates) == pytest.approx(
        {"Cyan": 100, "Yellow": 49.8, "Harbour Blue": 80, "Gloss": 20}, abs=0.1
    )
    assert plates.looks == {"Harbour Blue": (35, -8, -42), "Gloss": (90, 0, 0)}
    assert len(plates.approximate) == 1  # what was left out is said


def test_channels_whose_use_is_unknown_are_left_out_and_that_is_said(tmp_path: Path) -> None:
    fields: list[Field] = [*plain_fields(64, 64, 5, [8] * 5), (338, SHORT, [0])]
    (tmp_path / "a.tif").write_bytes(tiff((fields, bytes([255, 0, 0, 0, 99]) * (64 * 64))))
    plates = plates_of(tmp_path / "a.tif")
    assert flat(plates) == {"Cyan": 100}
    assert len(plates.approximate) == 1


def test_a_spot_ink_beside_rgb(tmp_path: Path) -> None:
    resources = spot_resources(("Harbour Blue", 2, (3500, -800, -4200)))
    (tmp_path / "a.psd").write_bytes(document((*OLIVE, 204), 3, *resources))
    Image.new("RGB", (64, 64), OLIVE).save(tmp_path / "a.png")
    wanted = flat(plates_of(tmp_path / "a.png", press=coated()))
    assert flat(plates_of(tmp_path / "a.psd", press=coated())) == pytest.approx(wanted | {"Harbour Blue": 20})


# Layered files


@pytest.mark.parametrize("depth", [8, 16])
def test_a_layered_file_in_rgb_grey_and_cmyk(tmp_path: Path, depth: int) -> None:
    scale = 1 if depth == 8 else 257
    Image.new("RGB", (64, 64), OLIVE).save(tmp_path / "a.png")
    (tmp_path / "rgb.psd").write_bytes(document([value * scale for value in OLIVE], 3, depth=depth))
    (tmp_path / "grey.psd").write_bytes(document([204 * scale], 1, depth=depth))
    (tmp_path / "cmyk.psd").write_bytes(
        document([value * scale for value in (0, 255, 204, 153)], 4, depth=depth)
    )
    wanted = flat(plates_of(tmp_path / "a.png", press=coated()))
    assert flat(plates_of(tmp_path / "rgb.psd", press=coated())) == wanted
    assert flat(plates_of(tmp_path / "grey.psd")) == pytest.approx({"Black": 20})
    assert flat(plates_of(tmp_path / "cmyk.psd")) == pytest.approx({"Cyan": 100, "Yellow": 20, "Black": 40})


@needs_transicc
@pytest.mark.parametrize("depth", [8, 16])
def test_a_layered_file_in_lab(tmp_path: Path, depth: int) -> None:
    values = (138, 168, 108) if depth == 8 else (138 * 257, 168 * 256, 108 * 256)
    (tmp_path / "a.psd").write_bytes(document(values, 9, depth=depth))
    percents = flat(plates_of(tmp_path / "a.psd", press=coated()))
    assert worst(percents, by_transicc((54.1176, 40, -20), "*Lab")) <= 0.6


def test_layers_without_a_flat_picture_have_no_plates(tmp_path: Path) -> None:
    """VersionInfo (1057) says whether a flat picture was saved; its layout is from memory."""
    version = resource(1057, struct.pack(">IB", 1, 0) + bytes(8))
    (tmp_path / "a.psd").write_bytes(psd((64, 64), 4, 4, version))
    assert "flat picture" in unmeasured(tmp_path / "a.psd")


# Place


# Where the black left edge of the stored picture lies (Exif 2.32, CIPA DC-008, tag Orientation: which sides
# row 0 and column 0 of the stored picture are), as a share of width and height; and its grey top edge.
@pytest.mark.parametrize(
    ("orientation", "black_at", "grey_at"),
    [
        (1, "left", "top"),
        (2, "right", "top"),
        (3, "right", "bottom"),
        (4, "left", "bottom"),
        (5, "top", "left"),
        (6, "top", "right"),
        (7, "bottom", "right"),
        (8, "bottom", "left"),
    ],
)
@pytest.mark.parametrize("name", ["a.jpg", "a.tif"])
def test_a_picture_is_laid_as_it_is_meant_to_be_seen(
    tmp_path: Path, name: str, orientation: int, black_at: str, grey_at: str
) -> None:
    image = Image.new("L", (120, 78), 255)
    image.paste(128, (0, 0, 120, 8))
    image.paste(0, (0, 0, 8, 78))
    exif = Image.Exif()
    exif[0x0112] = orientation
    image.save(tmp_path / name, exif=exif)
    plates = plates_of(tmp_path / name)
    black = plates.inks["Black"]
    assert black.shape == ((78, 120) if orientation < 5 else (120, 78))
    assert side_of(black, black_at) == pytest.approx(255, abs=3)
    assert side_of(black, grey_at) == pytest.approx(127, abs=3)


def side_of(plate: Bytes, side: str) -> float:
    """The tone in the middle of a side, four pixels from its edge."""
    height, width = plate.shape
    row, column = {
        "left": (height // 2, 4), "right": (height // 2, width - 5),
        "top": (4, width // 2), "bottom": (height - 5, width // 2),
    }[side]  # fmt: skip
    return float(plate[row, column])


def test_a_picture_fills_the_sheet_to_the_fraction_of_a_pixel(tmp_path: Path) -> None:
    """A card of 85.6 x 53.98 mm at 300 ppi, whose trim begins 1.3 mm inside."""
    Image.new("L", (1011, 638), 0).save(tmp_path / "a.png")
    artwork = measured(tmp_path / "a.png")
    sheet = Box(0, 0, 85.6 / 25.4 * 72, 53.98 / 25.4 * 72)
    pages = tuple(replace(page, boxes=PageBoxes(media=sheet), marks=()) for page in artwork.known_pages)
    plates = RasterPlates(tmp_path / "a.png", replace(artwork, pages=pages), None).draw(1)
    assert isinstance(plates, PagePlates)
    assert means(plates) == pytest.approx({"Black": 100}, abs=0.01)


def test_each_page_of_a_tiff_file_is_its_own_and_previews_are_none(tmp_path: Path) -> None:
    """NewSubfileType 1 is a reduced picture (TIFF 6.0, section 8)."""
    pages = [
        ([*plain_fields(64, 64, 1, [8]), (254, SHORT, [kind])], bytes([255 - tone]) * (64 * 64))
        for kind, tone in ((0, 51), (1, 255), (0, 102))
    ]
    (tmp_path / "a.tif").write_bytes(tiff(*pages))
    assert len(measured(tmp_path / "a.tif").known_pages) == 2
    assert flat(plates_of(tmp_path / "a.tif", page=1)) == pytest.approx({"Black": 20})
    assert flat(plates_of(tmp_path / "a.tif", page=2)) == pytest.approx({"Black": 40})
