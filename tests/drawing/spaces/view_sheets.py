"""A page of one view, drawn by the renderer itself: what the plates' colour spaces and images come to."""

from io import BytesIO

import numpy as np
import pikepdf
import pypdfium2
from numpy.typing import NDArray
from pikepdf import Array, Dictionary, Name

from hotfolder.colour.conversions import Conversions
from hotfolder.drawing.images.images import PlateImages
from hotfolder.drawing.spaces.reader import PaintSpaces
from hotfolder.drawing.spaces.view import View
from hotfolder.model.colour import PROCESS_INKS
from hotfolder.model.plates import PlateFrame
from hotfolder.pdf.objects.matrix import Matrix
from hotfolder.presses.loading import load_press

Pixels = NDArray[np.uint8]

CMY = View.of_inks(PROCESS_INKS[:3])
BLACK = View.of_inks(("Black",))
SIDE = 40  # pixels and points of a sheet


def press_conversions() -> Conversions:
    return Conversions(load_press("coated"))


def grid_frame(px_per_mm: int = 3, width: int = SIDE, height: int = SIDE) -> PlateFrame:
    """A frame whose top left corner is that of a sheet of as many pixels."""
    pixel = PlateFrame(0, 0, px_per_mm, width, height).pixel_pt
    return PlateFrame(0, height * pixel, px_per_mm, width, height)


class Sheet:
    """A page under construction, a point a pixel unless a frame says otherwise."""

    def __init__(self, conversions: Conversions | None = None, frame: PlateFrame | None = None) -> None:
        self.pdf = pikepdf.new()
        self.spaces = PaintSpaces(self.pdf, conversions)
        self.images = PlateImages(self.spaces)
        self.frame = frame
        self._content: list[bytes] = []
        self._resources: dict[str, dict[str, pikepdf.Object]] = {}

    def name(self, category: str, thing: pikepdf.Object) -> str:
        held = self._resources.setdefault(category, {})
        held[f"/X{len(held)}"] = thing
        return f"/X{len(held) - 1}"

    def write(self, text: str) -> None:
        self._content.append(text.encode("ascii"))

    def place(self, picture: pikepdf.Object, matrix: Matrix) -> None:
        """Draws an image where `matrix` puts its unit square."""
        numbers = " ".join(f"{value:.6f}" for value in matrix)
        self.write(f"q {numbers} cm {self.name('XObject', picture)} Do Q")

    def drawn(self) -> Pixels:
        """The page in R, G, B, row 0 on top."""
        width, height = (self.frame.width_px, self.frame.height_px) if self.frame else (SIDE, SIDE)
        pixel = self.frame.pixel_pt if self.frame else 1.0
        page = self.pdf.add_blank_page(page_size=(width * pixel, height * pixel))
        page.obj.MediaBox = Array([0, 0, width * pixel, height * pixel])
        page.obj.Contents = self.pdf.make_stream(b"\n".join(self._content))
        page.obj.Resources = Dictionary(
            {f"/{key}": Dictionary(held) for key, held in self._resources.items()}
        )
        saved = BytesIO()
        self.pdf.save(saved, compress_streams=False)
        with_pdfium = pypdfium2.PdfDocument(saved.getvalue())
        bitmap = pypdfium2.PdfBitmap.new_native(width, height, pypdfium2.raw.FPDFBitmap_BGR)
        bitmap.fill_rect((255, 255, 255, 255), 0, 0, width, height)
        loaded = with_pdfium[0]
        pypdfium2.raw.FPDF_RenderPageBitmap(bitmap, loaded, 0, 0, width, height, 0, 0)
        pixels: Pixels = bitmap.to_numpy()[..., ::-1].copy()
        bitmap.close()
        loaded.close()
        with_pdfium.close()
        return pixels


def image(pdf: pikepdf.Pdf, data: bytes, width: int, height: int, **entries: object) -> pikepdf.Stream:
    """An image XObject with 8 bits a component unless `entries` say otherwise."""
    made = pdf.make_stream(data)
    every = {
        "Type": Name.XObject,
        "Subtype": Name.Image,
        "Width": width,
        "Height": height,
        "BitsPerComponent": 8,
    }
    for key, value in {**every, **entries}.items():
        if value is not None:
            made[f"/{key}"] = value
    return made


def for_any_document(value: object) -> object:
    """A copy of a direct array or dictionary: it belongs to the document that it is first put into."""
    if isinstance(value, pikepdf.Object) and isinstance(value, Array | Dictionary):
        return pikepdf.Object.parse(value.unparse())
    return value


def tint(pdf: pikepdf.Pdf, full: list[float], none: list[float] | None = None) -> pikepdf.Object:
    """A tint transform of one ink: in a straight line from `none` (nothing) to `full`."""
    return pdf.make_indirect(
        Dictionary(FunctionType=2, N=1, Domain=[0, 1], C0=none or [0.0] * len(full), C1=full)
    )
