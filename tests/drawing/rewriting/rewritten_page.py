# Makes one-page PDFs of given drawing instructions, draws their plates, and tells the inks at a place.

from dataclasses import dataclass, field
from pathlib import Path

import numpy as np
import pikepdf
import pytest
from pikepdf import Array, Dictionary, Name

from hotfolder.drawing.plates.pdf import PdfPlates
from hotfolder.measure import measure
from hotfolder.model.colour import PROCESS_INKS
from hotfolder.model.facts import Unmeasured
from hotfolder.model.plates import PagePlates
from hotfolder.model.press import Press
from hotfolder.presses.loading import load_press

SIDE = 72.0  # points
AREA = b"10 10 52 52 re f "

# What a channel of 8 bits can be off by after two roundings, of 1.
CLOSE = 0.012


@dataclass
class Plated:
    """A page under construction, and its plates once it has been drawn."""

    path: Path
    press: Press | None = None
    pdf: pikepdf.Pdf = field(default_factory=pikepdf.new)

    def __post_init__(self) -> None:
        self.page = self.pdf.add_blank_page(page_size=(SIDE, SIDE))
        self.page.obj.Resources = Dictionary()

    def resource(self, category: str, key: str, value: object) -> "Plated":
        resources = self.page.obj.Resources
        if f"/{category}" not in resources:
            resources[f"/{category}"] = Dictionary()
        resources[f"/{category}"][f"/{key}"] = value
        return self

    def state(self, key: str, **entries: object) -> "Plated":
        return self.resource("ExtGState", key, dictionary(**entries))

    def spot(self, key: str, ink: str) -> "Plated":
        return self.resource("ColorSpace", key, separation(ink))

    def form(self, key: str, content: bytes, **entries: object) -> pikepdf.Stream:
        made = self.stream(content, Type=Name.XObject, Subtype=Name.Form, **entries)
        if "/BBox" not in made:
            made.BBox = Array([0, 0, SIDE, SIDE])
        self.resource("XObject", key, made)
        return made

    def image(self, key: str, pixels: bytes, space: object, **entries: object) -> pikepdf.Stream:
        made = self.stream(
            pixels,
            Type=Name.XObject,
            Subtype=Name.Image,
            Width=2,
            Height=2,
            BitsPerComponent=8,
            ColorSpace=space,
            **entries,
        )
        self.resource("XObject", key, made)
        return made

    def stream(self, content: bytes, **entries: object) -> pikepdf.Stream:
        made = self.pdf.make_stream(content)
        for key, value in entries.items():
            made[f"/{key}"] = value
        return made

    def save(self, content: bytes) -> Path:
        self.page.obj.Contents = self.pdf.make_stream(content)
        self.pdf.save(self.path)
        return self.path

    def result(self, content: bytes) -> PagePlates | Unmeasured:
        return plates_of(self.save(content), self.press)

    def draw(self, content: bytes) -> "Inks":
        plates = self.result(content)
        assert isinstance(plates, PagePlates), plates
        return Inks(plates)


@dataclass(frozen=True)
class Inks:
    """The plates of a page."""

    plates: PagePlates

    def at(self, x: float, y: float) -> dict[str, float]:
        """The inks at a place in points, 0 to 1; those with nothing left out."""
        frame = self.plates.frame
        row, column = int((frame.top - y) / frame.pixel_pt), int((x - frame.left) / frame.pixel_pt)
        found = {ink: float(plate[row, column]) / 255 for ink, plate in self.plates.inks.items()}
        return {ink: share for ink, share in found.items() if share > 1 / 255}

    def screen_at(self, x: float, y: float) -> tuple[int, ...]:
        """The page's colour as its master means it, sRGB."""
        frame, screen = self.plates.frame, self.plates.screen
        assert screen is not None
        row, column = int((frame.top - y) / frame.pixel_pt), int((x - frame.left) / frame.pixel_pt)
        return tuple(int(each) for each in screen[row, column])

    def share(self, ink: str) -> float:
        """How much of an ink there is, in square points of solid ink."""
        return float(self.plates.inks[ink].sum(dtype=np.float64)) / 255 * self.plates.frame.pixel_pt**2


def plates_of(path: Path, press: Press | None = None, page: int = 1) -> PagePlates | Unmeasured:
    with PdfPlates(path, measure(path), press) as drawing:
        return drawing.draw(page)


def dictionary(**entries: object) -> Dictionary:
    return Dictionary({f"/{key}": value for key, value in entries.items()})


def separation(ink: str, *solid: float) -> Array:
    tint = Dictionary(FunctionType=2, N=1, Domain=[0, 1], C0=[0, 0, 0, 0], C1=[*(solid or (0, 1, 1, 0))])
    return Array([Name.Separation, Name(f"/{ink}"), Name.DeviceCMYK, tint])


def device_n(pdf: pikepdf.Pdf, *inks: str) -> Array:
    program = "{" + "pop " * len(inks) + "0 0 0 0}"
    domain, limits = Array([0, 1] * len(inks)), Array([0, 1] * 4)
    tint = pdf.make_stream(program.encode(), FunctionType=4, Domain=domain, Range=limits)
    return Array([Name.DeviceN, Array([Name(f"/{ink}") for ink in inks]), Name.DeviceCMYK, tint])


def inks(**shares: float) -> object:
    """What `Inks.at` gives for these shares."""
    return pytest.approx({ink: share for ink, share in shares.items() if share}, abs=CLOSE)


def cmyk(*shares: float, **spots: float) -> object:
    """The same for process inks in their order, and spots by name."""
    return inks(**dict(zip(PROCESS_INKS, shares, strict=False)), **spots)


def coated() -> Press:
    return load_press("coated")
