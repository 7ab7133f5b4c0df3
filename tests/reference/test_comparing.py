# The comparison can fail: a fact that is measured a little wrongly is seen, and no known reason excuses it.
import subprocess
import sys
from collections.abc import Callable
from dataclasses import replace
from pathlib import Path

import pikepdf
import pytest
from PIL import Image

from hotfolder.measure import measure
from hotfolder.model.artwork import Artwork
from hotfolder.model.document import Font
from hotfolder.model.geometry import Box
from hotfolder.model.marks import ImageFacts, Mark
from hotfolder.model.pages import Page, PageBoxes
from hotfolder.model.raster import RasterFacts
from tests.producers import produced_files
from tests.reference.facts import Comparison, Difference, Kind, table
from tests.reference.glyphs import caught_runs
from tests.reference.pdf import compare_pdf
from tests.reference.raster import compare_raster

pytestmark = pytest.mark.usefixtures("tools")

LEAFLET = next(path for path in produced_files() if path.stem == "pdflatex")


def compared(path: Path, change: Callable[[Artwork], Artwork] = lambda artwork: artwork) -> Comparison:
    """The comparison of a PDF whose facts are changed first."""
    with caught_runs() as runs:
        artwork = measure(path)
    return compare_pdf(path, change(artwork), runs)


def with_page(artwork: Artwork, change: Callable[[Page], Page]) -> Artwork:
    return replace(artwork, pages=tuple(change(page) for page in artwork.known_pages))


def with_images(artwork: Artwork, change: Callable[[ImageFacts], ImageFacts]) -> Artwork:
    def changed(mark: Mark) -> Mark:
        return mark if mark.image is None else replace(mark, image=change(mark.image))

    return with_page(artwork, lambda page: replace(page, marks=tuple(map(changed, page.known_marks))))


def with_fonts(artwork: Artwork, change: Callable[[Font], Font]) -> Artwork:
    return replace(artwork, fonts=tuple(change(font) for font in artwork.fonts))


def grown(page: Page) -> Page:
    assert page.boxes.trim is not None
    return replace(page, boxes=replace(page.boxes, trim=page.boxes.trim.grown(0.02)))


def without_pictures(page: Page) -> Page:
    return replace(page, marks=tuple(mark for mark in page.known_marks if mark.image is None))


WRONG: dict[str, tuple[Kind, Callable[[Artwork], Artwork]]] = {
    "resolution": (
        Kind.RESOLUTION,
        lambda artwork: with_images(artwork, lambda image: replace(image, y_ppi=image.y_ppi * 1.02)),
    ),
    "depth": (Kind.DEPTH, lambda artwork: with_images(artwork, lambda image: replace(image, bits=16))),
    "pixels": (
        Kind.PLACED,
        lambda artwork: with_images(artwork, lambda image: replace(image, width_px=image.width_px + 1)),
    ),
    "no image": (Kind.PLACED, lambda artwork: with_page(artwork, without_pictures)),
    "trim": (Kind.BOX, lambda artwork: with_page(artwork, grown)),
    "turn": (Kind.TURN, lambda artwork: with_page(artwork, lambda page: replace(page, rotate=90))),
    "pages": (Kind.PAGES, lambda artwork: replace(artwork, pages=artwork.known_pages * 2)),
    "not embedded": (
        Kind.EMBEDDED,
        lambda artwork: with_fonts(artwork, lambda font: replace(font, program=None)),
    ),
    "no subset": (Kind.SUBSET, lambda artwork: with_fonts(artwork, lambda font: replace(font, subset=False))),
    "font name": (
        Kind.FONT_NAME,
        lambda artwork: with_fonts(artwork, lambda font: replace(font, name="Other")),
    ),
    "font missed": (Kind.UNUSED, lambda artwork: replace(artwork, fonts=())),
}


def unexplained_kinds(comparison: Comparison) -> set[Kind]:
    return {fact.kind for fact in comparison.unexplained}


def test_the_leaflet_agrees_as_it_is() -> None:
    assert unexplained_kinds(compared(LEAFLET)) == set()


@pytest.mark.parametrize("name", WRONG)
def test_a_wrong_fact_of_a_pdf_is_seen(name: str) -> None:
    kind, spoil = WRONG[name]
    assert kind in unexplained_kinds(compared(LEAFLET, spoil))


def test_boxes_are_compared_as_poppler_fills_them_in(tmp_path: Path) -> None:
    path = tmp_path / "boxes.pdf"
    with pikepdf.new() as pdf:
        page = pdf.add_blank_page(page_size=(400, 300))
        page.obj.CropBox = pikepdf.Array([10, 10, 405, 290])  # reaches past the media box
        page.obj.UserUnit = 2
        pdf.save(path)
    artwork = measure(path)
    assert artwork.known_pages[0].boxes == PageBoxes(media=Box(0, 0, 800, 600), crop=Box(20, 20, 810, 580))
    comparison = compared(path)
    assert unexplained_kinds(comparison) == set()
    assert sum(fact.kind is Kind.BOX for fact in comparison.facts) == 5


@pytest.fixture
def picture(tmp_path: Path) -> Path:
    """A small TIFF with a resolution of its own along each axis."""
    path = tmp_path / "picture.tif"
    Image.new("CMYK", (40, 30)).save(path, dpi=(300, 200), compression="tiff_lzw")
    return path


@pytest.mark.parametrize(
    ("kinds", "spoil"),
    [
        (
            {Kind.CANVAS, Kind.MAGICK_SIZE, Kind.TIFF_SIZE},
            lambda raster: replace(raster, height_px=31),
        ),
        ({Kind.CHANNEL_BITS, Kind.MAGICK_SIZE, Kind.TIFF_SIZE}, lambda raster: replace(raster, bits=16)),
        (
            {Kind.MODE, Kind.MAGICK_COLOUR, Kind.TIFF_COLOUR},
            lambda raster: replace(raster, colour=replace(raster.colour, family="RGB")),
        ),
        (
            {Kind.PACKING, Kind.MAGICK_HEADER, Kind.TIFF_HEADER},
            lambda raster: replace(raster, compression="none"),
        ),
        (
            {Kind.DECLARED, Kind.MAGICK_DECLARED, Kind.TIFF_DECLARED},
            lambda raster: replace(raster, y_ppi=201.0),
        ),
        (
            {Kind.DECLARED, Kind.MAGICK_DECLARED, Kind.TIFF_DECLARED},
            lambda raster: replace(raster, y_ppi=None),
        ),
        (
            {Kind.ORIENTATION, Kind.MAGICK_HEADER, Kind.TIFF_HEADER},
            lambda raster: replace(raster, orientation=6),
        ),
        ({Kind.PROFILE}, lambda raster: replace(raster, icc_profile="Other")),
        (
            {Kind.PROFILE, Kind.MAGICK_HEADER, Kind.TIFF_HEADER},
            lambda raster: replace(raster, icc_profile="Other", icc_space="CMYK"),
        ),
        ({Kind.PROGRESSIVE, Kind.MAGICK_HEADER}, lambda raster: replace(raster, progressive=True)),
        ({Kind.LAYERS}, lambda raster: replace(raster, layers=2)),
        ({Kind.LAYERS}, lambda raster: replace(raster, flat_picture_valid=False)),
        ({Kind.MAGICK_COLOUR}, lambda raster: replace(raster, alpha=True)),
        ({Kind.TIFF_COLOUR}, lambda raster: replace(raster, extra_channels=1)),
        ({Kind.TIFF_SIZE}, lambda raster: replace(raster, pictures=2)),
    ],
)
def test_a_wrong_fact_of_a_picture_is_seen(
    picture: Path, kinds: set[Kind], spoil: Callable[[RasterFacts], RasterFacts]
) -> None:
    def spoiled(page: Page) -> Page:
        assert page.raster is not None
        return replace(page, raster=spoil(page.raster))

    artwork = measure(picture)
    assert unexplained_kinds(compare_raster(picture, artwork)) == set()
    assert unexplained_kinds(compare_raster(picture, with_page(artwork, spoiled))) == kinds


def test_a_known_reason_needs_its_proof_in_the_file(tmp_path: Path) -> None:
    # An image that only a screen shows is excused; the same one with the print flag is not.
    for flags, reason in ((0, Difference.SCREEN_ONLY), (4, None)):
        path = tmp_path / f"{flags}.pdf"
        with pikepdf.new() as pdf:
            page = pdf.add_blank_page(page_size=(200, 200))
            grey = {"Subtype": pikepdf.Name.Image, "Width": 2, "Height": 2, "BitsPerComponent": 8}
            image = pdf.make_stream(bytes(4), ColorSpace=pikepdf.Name.DeviceGray, **grey)
            form = pdf.make_stream(
                b"/I Do",
                Subtype=pikepdf.Name.Form,
                BBox=pikepdf.Array([0, 0, 1, 1]),
                Resources=pikepdf.Dictionary(XObject=pikepdf.Dictionary(I=image)),
            )
            stamp = pikepdf.Dictionary(
                Subtype=pikepdf.Name.Stamp,
                Rect=pikepdf.Array([20, 20, 100, 100]),
                F=flags,
                AP=pikepdf.Dictionary(N=form),
            )
            page.obj.Annots = pikepdf.Array([pdf.make_indirect(stamp)])
            pdf.save(path)
        blind = compared(path, lambda artwork: with_page(artwork, without_pictures))
        placed = [fact for fact in blind.facts if fact.kind is Kind.PLACED]
        assert [fact.difference for fact in placed] == [reason]


def test_the_table_counts_each_fact_once() -> None:
    right, wrong = (compared(LEAFLET, spoil) for spoil in (lambda a: a, WRONG["turn"][1]))
    rows = {row.kind: row for row in table([right, wrong])}
    assert (rows[Kind.TURN].agree, rows[Kind.TURN].named, rows[Kind.TURN].unexplained) == (1, 0, 1)
    told = sum(len(each.facts) + sum(each.agreeing.values()) for each in (right, wrong))
    assert sum(row.compared for row in rows.values()) == told


def test_the_command_tells_the_differences_of_a_file() -> None:
    done = subprocess.run(
        [sys.executable, "-m", "tests.reference", str(LEAFLET)], capture_output=True, text=True, check=False
    )
    assert done.returncode == 0, done.stderr
    assert done.stdout.splitlines()[-1].split()[:2] == ["1", "files"]
