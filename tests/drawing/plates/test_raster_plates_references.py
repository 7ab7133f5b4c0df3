# Raster plates of real pictures against other decoders and converters, and what a large poster takes.
#
# Converters: littleCMS's `tificc` and `jpgicc` (Debian's liblcms2-utils), libvips' own colour management,
# Pillow's ImageCms. Decoders: ImageMagick for layered files, Pillow for the rest.
import io
import json
import shutil
import subprocess
import sys
from pathlib import Path

import numpy as np
import pytest
from PIL import Image, ImageCms

from hotfolder.drawing.plates import raster
from hotfolder.drawing.plates.raster import RasterPlates
from hotfolder.model.colour import PROCESS_INKS
from hotfolder.model.plates import Bytes, PagePlates
from tests.corpus import corpus_files, corpus_folder, problems_with
from tests.drawing.images.placed_pictures import (
    FORMATS,
    cell_means,
    coated,
    means,
    measured,
    placed,
    plates_of,
    worst,
)

RGB_PICTURES = (
    "Pillow/flower2.jpg", "Pillow/hopper.tif", "Pillow/hopper_lzw.tif", "Pillow/pil_sample_rgb.jpg",
    "ocrmypdf/baiona_color.jpg", "ocrmypdf/baiona.png", "Pillow/tiff_adobe_deflate.tif",
)  # fmt: skip

# How far plate means may lie apart, in percent points, and the mean of any millimetre.
MEANS, CELLS = 0.1, 1.0


def corpus_picture(name: str) -> Path:
    """A picture of the corpus; the test is skipped where it is not there."""
    for file in corpus_files():
        if file.name == name:
            if reason := problems_with(file):
                pytest.skip(reason)
            return corpus_folder() / name
    pytest.skip(f"left out of the corpus: {name}")


def needs(tool: str) -> pytest.MarkDecorator:
    return pytest.mark.skipif(shutil.which(tool) is None, reason=f"not installed: {tool}")


def run(*command: str | Path) -> bytes:
    done = subprocess.run([str(word) for word in command], capture_output=True, timeout=120, check=True)
    return done.stdout


def pixels(path: Path) -> Bytes:
    """The inks of a CMYK picture as Pillow decodes it."""
    with Image.open(path) as image:
        assert image.mode == "CMYK"
        return np.asarray(image)


def compare(plates: PagePlates, inks: Bytes, *, cells: float = CELLS) -> None:
    """Plates of a picture laid at three pixels a millimetre against its inks as others make them."""
    wanted = {name: float(inks[..., place].mean()) / 2.55 for place, name in enumerate(PROCESS_INKS)}
    assert worst(means(plates), wanted) <= MEANS
    side = plates.frame.px_per_mm
    for place, name in enumerate(PROCESS_INKS):
        ours, theirs = cell_means(plates.inks[name], side), cell_means(inks[..., place], 3)
        rows, columns = theirs.shape
        assert np.abs(ours[:rows, :columns] - theirs).max() / 2.55 <= cells


@needs("tificc")
@pytest.mark.parametrize("name", RGB_PICTURES)
def test_as_tificc_converts_it(tmp_path: Path, name: str) -> None:
    """It reads TIFF only: Pillow decodes. Without its tables (-c0) each pixel goes all the way."""
    path = corpus_picture(name)
    with Image.open(path) as image:
        profile = image.info.get("icc_profile")
        image.convert("RGB").save(tmp_path / "rgb.tif")
    given = "*sRGB"
    if profile:
        (tmp_path / "rgb.icc").write_bytes(profile)
        given = str(tmp_path / "rgb.icc")
    press = coated()
    run(
        "tificc",
        "-c0",
        "-t1",
        "-b",
        f"-i{given}",
        f"-o{press.profile}",
        tmp_path / "rgb.tif",
        tmp_path / "inks.tif",
    )
    compare(plates_of(path, press=press, px_per_mm=3), pixels(tmp_path / "inks.tif"))


@needs("jpgicc")
@pytest.mark.parametrize("name", ["Pillow/flower2.jpg", "ocrmypdf/baiona_color.jpg"])
def test_as_jpgicc_converts_it(tmp_path: Path, name: str) -> None:
    """It writes a JPEG file again, of the best quality that it has."""
    path, press = corpus_picture(name), coated()
    run("jpgicc", "-c0", "-t1", "-b", "-q100", "-i*sRGB", f"-o{press.profile}", path, tmp_path / "inks.jpg")
    compare(plates_of(path, press=press, px_per_mm=3), pixels(tmp_path / "inks.jpg"), cells=2.5)


@pytest.mark.parametrize("name", ["Pillow/flower2.jpg", "ocrmypdf/baiona.png"])
def test_as_libvips_converts_it(name: str) -> None:
    """It drives the same engine in its own way, with 8 bits and tables."""
    import pyvips  # noqa: PLC0415 - starts threads

    path, press = corpus_picture(name), coated()
    image = pyvips.Image.new_from_file(str(path)).colourspace("srgb")
    if image.hasalpha():
        image = image.flatten(background=255)
    inks = image.icc_transform(
        str(press.profile),
        input_profile="srgb",
        intent="relative",
        black_point_compensation=True,
        embedded=True,
    )
    plates = plates_of(path, press=press, px_per_mm=3)
    wanted = {ink: inks.extract_band(place).avg() / 2.55 for place, ink in enumerate(PROCESS_INKS)}
    assert worst(means(plates), wanted) <= 0.4


@pytest.mark.parametrize("name", ["Pillow/pil_sample_cmyk.jpg", "ocrmypdf/baiona_cmyk.jpg"])
def test_cmyk_pictures_as_pillow_decodes_them(name: str) -> None:
    path = corpus_picture(name)
    compare(plates_of(path, px_per_mm=3), pixels(path))


def decoded(path: Path, frame: int) -> dict[str, float] | None:
    """The plate means of a picture that Pillow decodes and converts; None where it has no way for it."""
    with Image.open(path) as opened:
        opened.seek(frame)
        opened.load()
        image: Image.Image = opened
        profile = image.info.get("icc_profile")
        opacity = None
        if image.has_transparency_data:
            clear = image.convert("RGBA")
            opacity = np.asarray(clear.getchannel("A")) / 255
            image = clear.convert("L" if image.mode == "LA" else "RGB")
        if image.mode.startswith("I;16"):
            inks = {"Black": 255 - np.asarray(image) / 257}
        elif image.mode in {"1", "L"}:
            inks = {"Black": 255 - np.asarray(image.convert("L")).astype(float)}
        elif image.mode == "CMYK":
            inks = {
                name: np.asarray(image)[..., place].astype(float) for place, name in enumerate(PROCESS_INKS)
            }
        elif image.mode in {"P", "RGB"}:
            picture = converted(image.convert("RGB"), profile)
            inks = {name: picture[..., place].astype(float) for place, name in enumerate(PROCESS_INKS)}
        else:
            return None
    weight = 1.0 if opacity is None else opacity
    return {name: float((plate * weight).mean()) / 2.55 for name, plate in inks.items()}


def converted(image: Image.Image, profile: object) -> Bytes:
    source = ImageCms.ImageCmsProfile(ImageCms.createProfile("sRGB"))
    if isinstance(profile, bytes):
        embedded = ImageCms.ImageCmsProfile(io.BytesIO(profile))
        source = embedded if embedded.profile.xcolor_space.strip() == "RGB" else source
    inks = ImageCms.profileToProfile(
        image,
        source,
        str(coated().profile),
        renderingIntent=ImageCms.Intent.RELATIVE_COLORIMETRIC,
        outputMode="CMYK",
        flags=ImageCms.Flags.BLACKPOINTCOMPENSATION | ImageCms.Flags.NOOPTIMIZE,
    )
    assert inks is not None
    return np.asarray(inks)


@pytest.mark.filterwarnings("ignore::UserWarning")  # Pillow tells of odd metadata in some of them
@pytest.mark.filterwarnings("ignore::DeprecationWarning")
def test_every_picture_of_the_corpus_as_pillow_decodes_it() -> None:
    """All JPEG, TIFF and PNG files that both read, up to four pages of each."""
    compared, apart = 0, {}
    files = [file for file in corpus_files() if Path(file.name).suffix.lower() in FORMATS]
    for file in files:
        path = corpus_folder() / file.name
        if problems_with(file) is not None or path.suffix == ".psd":
            continue
        artwork = placed(measured(path), 6)
        for page in artwork.known_pages[:4]:
            plates = RasterPlates(path, artwork, coated()).draw(page.number)
            wanted = decoded(path, page.number - 1) if isinstance(plates, PagePlates) else None
            if isinstance(plates, PagePlates) and wanted is not None:
                compared += 1
                if worst(means(plates), wanted) > 0.3:
                    apart[f"{file.name} {page.number}"] = means(plates), wanted
    if not compared:
        pytest.skip("corpus not fetched")
    assert apart == {}
    assert compared >= 60


@needs("convert")
@pytest.mark.parametrize(
    "name", ["hopper.psd", "hopper_merged.psd", "gray1.psd", "layer_params.psd", "2layers.psd", "mask.psd"]
)
def test_layered_files_as_imagemagick_decodes_them(tmp_path: Path, name: str) -> None:
    folder = "Pillow" if name.startswith("hopper") else "pytoshop"
    path = corpus_picture(f"{folder}/{name}")
    run("convert", f"{path}[0]", "-alpha", "off", "-depth", "8", tmp_path / "flat.png")
    plates = plates_of(path, press=coated())
    with Image.open(tmp_path / "flat.png") as flat:
        image, profile = flat.copy(), flat.info.get("icc_profile")
    if set(plates.inks) == {"Black"}:
        wanted = {"Black": float((255 - np.asarray(image.convert("L")).astype(float)).mean()) / 2.55}
    else:
        inks = converted(image.convert("RGB"), profile)
        wanted = {ink: float(inks[..., place].mean()) / 2.55 for place, ink in enumerate(PROCESS_INKS)}
    assert worst(means(plates), wanted) <= 0.3


# Large pictures


def line_art() -> Image.Image:
    """Black lines of one pixel on white, one pixel apart: the hardest that reducing can meet."""
    picture = np.full((480, 480, 3), 255, np.uint8)
    picture[::2] = 0
    return Image.fromarray(picture)


@pytest.mark.parametrize("name", ["Pillow/flower2.jpg", "Pillow/hopper.tif", "ocrmypdf/typewriter.png"])
def test_reducing_before_converting_hardly_moves_a_real_picture(
    name: str, monkeypatch: pytest.MonkeyPatch
) -> None:
    """Each of the plates' pixels is still the mean of four or more."""
    path, press = corpus_picture(name), coated()
    whole = plates_of(path, press=press, px_per_mm=24)
    monkeypatch.setattr(raster, "_MANY_PIXELS", 1)
    reduced = plates_of(path, press=press, px_per_mm=24)
    assert worst(means(whole), means(reduced)) <= 1.0
    totals = []
    for plates in (whole, reduced):
        total = np.sum(list(plates.inks.values()), axis=0)
        totals.append(cell_means(total, plates.frame.px_per_mm).max())
    assert totals[0] == pytest.approx(totals[1], abs=2.55 * 3)


def test_the_worst_that_reducing_can_do_is_known(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """Lines at the picture's own resolution become grey before they become ink, which moves plates by far.

    In a large poster such lines are a fourteenth of a millimetre wide, and no picture that anybody prints.
    """
    line_art().save(tmp_path / "a.png")
    whole = plates_of(tmp_path / "a.png", press=coated(), px_per_mm=24)
    monkeypatch.setattr(raster, "_MANY_PIXELS", 1)
    reduced = plates_of(tmp_path / "a.png", press=coated(), px_per_mm=24)
    assert 5 < worst(means(whole), means(reduced)) < 45


def test_a_table_is_as_good_as_converting_each_pixel() -> None:
    """Photos take the table from half a million pixels on."""
    path = corpus_picture("ocrmypdf/baiona_color.jpg")
    with Image.open(path) as image:
        picture = np.asarray(image.convert("RGB").resize((900, 900)))
    from hotfolder.colour.colour_tables import tabled  # noqa: PLC0415
    from hotfolder.colour.conversions import Conversions  # noqa: PLC0415

    conversions = Conversions(coated())
    exact, quick = conversions.to_press(picture), tabled(conversions.to_press)(picture)
    apart = np.abs(exact.astype(int) - quick.astype(int))
    assert (apart <= 2).mean() > 0.999
    assert np.abs(exact.mean(axis=(0, 1)) - quick.mean(axis=(0, 1))).max() < 0.1


POSTER = """
import json, re, sys, time
from pathlib import Path
from hotfolder.measure.inks.ink import measure_ink
from hotfolder.drawing.plates.raster import RasterPlates
from tests.drawing.images.placed_pictures import coated, measured, placed
path = Path(sys.argv[1])
import hotfolder.measure.raster as raster
raster.look_at_pixels = lambda *_: ()  # measuring decodes the picture as well, and is not what is asked here
artwork = placed(measured(path), 360 / 25.4)
started = time.process_time()
ink = measure_ink(RasterPlates(path, artwork, coated()), artwork, coated()).known_pages[0].ink
print(json.dumps({
    "seconds": time.process_time() - started,
    # What getrusage says of a child counts its parent's memory at the time of the fork as well.
    "bytes": 1024 * int(re.search(r"VmHWM:\\s+(\\d+)", Path("/proc/self/status").read_text())[1]),
    "plates": [plate.ink for plate in ink.plates],
    "total": ink.max_1mm2_percent,
}))
"""


def poster(path: Path, mode: str, size: tuple[int, int]) -> None:
    """A picture of many colours and some grain."""
    random = np.random.default_rng(5)
    bands = len(Image.new(mode, (1, 1)).getbands())
    small = random.integers(0, 256, (40, 30, bands), dtype=np.uint8)
    image = Image.fromarray(small, mode).resize(size, Image.Resampling.BICUBIC)
    image.save(path, dpi=(360, 360))


def taken(path: Path) -> dict[str, float | list[str]]:
    done = subprocess.run(
        [sys.executable, "-c", POSTER, str(path)], capture_output=True, timeout=300, check=False, text=True
    )
    assert done.returncode == 0, done.stderr
    figures: dict[str, float | list[str]] = json.loads(done.stdout)
    return figures


@pytest.mark.parametrize(
    ("name", "mode", "size", "most_mb"),
    [
        pytest.param("a.jpg", "RGB", (4961, 7087), 300, id="A2 at 300 ppi"),
        *(
            pytest.param(
                name, mode, (9921, 14429), 500, id=f"143 megapixels, {name} {mode}", marks=pytest.mark.slow
            )
            for name, mode in (
                ("a.jpg", "RGB"),
                ("a.jpg", "CMYK"),
                ("a.tif", "CMYK"),
                ("a.tif", "RGB"),
                ("a.png", "RGB"),
            )
        ),
    ],
)
def test_a_poster_takes_little_memory(
    tmp_path: Path, name: str, mode: str, size: tuple[int, int], most_mb: int
) -> None:
    """The plates of the larger one are 26 MB in four inks, and 19 MB for the picture as meant."""
    poster(tmp_path / name, mode, size)
    figures = taken(tmp_path / name)
    assert figures["plates"]
    assert isinstance(figures["bytes"], int)
    assert figures["bytes"] < most_mb * 1_000_000
    assert isinstance(figures["seconds"], float)
    assert figures["seconds"] < 20  # some 4 s on an idle machine
