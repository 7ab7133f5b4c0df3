# What `hotfolder measure --json` prints of a few real files, against the reference tools' own words.
import json
import subprocess
import sys
from pathlib import Path
from typing import Any

import pytest

from hotfolder.model.facts import Format
from hotfolder.model.geometry import Box
from tests.corpus import corpus_files, corpus_folder, problems_with
from tests.producers import produced_files
from tests.reference.exif import header, tags_of
from tests.reference.poppler import listed_fonts, page_geometries, painted_images

pytestmark = pytest.mark.usefixtures("corpus")

PDFS = ["ocrmypdf/cmyk.pdf", "pypdf/side-by-side-subfig.pdf", "pikepdf/pdfx.pdf"]
PICTURES = ["Pillow/hopper.iccprofile.tif", "ocrmypdf/baiona_cmyk.jpg", "pytoshop/metadata.psd"]


def fetched(name: str) -> Path:
    (file,) = (file for file in corpus_files() if file.name == name)
    if reason := problems_with(file):
        pytest.skip(reason)
    return corpus_folder() / name


def measured(path: Path) -> dict[str, Any]:
    done = subprocess.run(
        [sys.executable, "-m", "hotfolder", "measure", "--json", "--", str(path)],
        capture_output=True,
        text=True,
        check=True,
    )
    facts: dict[str, Any] = json.loads(done.stdout)
    return facts


def agrees_with_poppler(path: Path) -> None:
    facts = measured(path)
    rows = [row for row in painted_images(path) if not row.is_mask]
    images = [
        (page["number"], image) for page in facts["pages"] for image in page["images"] if image["printed"]
    ]
    assert [(number, image["object"]) for number, image in images] == [(row.page, row.object) for row in rows]
    for (_, image), row in zip(images, rows, strict=True):
        assert (image["width_px"], image["height_px"]) == (row.width_px, row.height_px)
        assert image["x_ppi"] == pytest.approx(row.x_ppi, abs=1)
        assert image["y_ppi"] == pytest.approx(row.y_ppi, abs=1)
    geometries = page_geometries(path, len(facts["pages"]))
    for page in facts["pages"]:
        media = geometries[page["number"]].boxes["MediaBox"]
        assert Box(*page["boxes"]["media"]).holds(media, 0.006)
    fonts = {row.object: row for row in listed_fonts(path)}
    for font in facts["fonts"]:
        listed = fonts[font["object"]]
        assert (font["embedded"], font["subset"]) == (listed.embedded, listed.subset)


@pytest.mark.parametrize("name", PDFS)
def test_a_real_pdf(name: str) -> None:
    agrees_with_poppler(fetched(name))


def test_a_producers_pdf() -> None:
    agrees_with_poppler(next(path for path in produced_files() if path.stem == "inkscape"))


@pytest.mark.parametrize("name", PICTURES)
def test_a_real_picture(name: str) -> None:
    path = fetched(name)
    facts = measured(path)
    (page,) = facts["pages"]
    (image,) = page["images"]
    theirs = header(tags_of(path), Format(facts["file"]["format"]))
    assert (image["width_px"], image["height_px"]) == (theirs.width_px, theirs.height_px)
    assert image["bits"] == theirs.bits
    assert page["raster"]["icc_profile"] == theirs.icc_profile
    assert page["raster"]["declared_x_ppi"] == pytest.approx(theirs.x_ppi, rel=1e-4)
