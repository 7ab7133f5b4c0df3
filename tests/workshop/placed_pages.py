"""Pages to be placed, and their sizes in millimetres."""

from dataclasses import replace

import pytest

from hotfolder.model.artwork import Artwork
from hotfolder.model.facts import FileFacts, Format, Unmeasured
from hotfolder.model.geometry import Box
from hotfolder.model.pages import Page, PageBoxes, Trim
from hotfolder.model.ruleset import Product
from hotfolder.units import mm_to_pt, parse_size, pt_to_mm
from hotfolder.workshop.placing import place

FILE = FileFacts("flyer", 1, "", None)


def product(*sizes: str, bleed_mm: float = 3) -> Product:
    return Product(tuple(parse_size(size) for size in sizes), mm_to_pt(bleed_mm))


def placed(artwork: Artwork, wanted: Product) -> Page:
    (page,) = place(artwork, wanted).known_pages
    return page


def trim_mm(page: Page) -> tuple[float, float]:
    assert isinstance(page.trim, Trim), page.trim
    return pt_to_mm(page.trim.box.width), pt_to_mm(page.trim.box.height)


def approx_mm(width: float, height: float) -> object:
    return (pytest.approx(width, abs=1e-6), pytest.approx(height, abs=1e-6))


# PDF pages

NO_TRIM = Unmeasured("trim", "the file declares none")


def pdf(
    media: Box | None, crop: Box | None = None, trim: Trim | Unmeasured = NO_TRIM, rotate: int = 0
) -> Artwork:
    page = Page(1, rotate, 1, PageBoxes(media, crop=crop), trim, ())
    return Artwork(replace(FILE, format=Format.PDF), (page,))
