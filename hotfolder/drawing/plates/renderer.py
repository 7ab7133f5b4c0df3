"""Draws rewritten pages: a PDF in memory to arrays of pixels."""

import math
import time
from collections.abc import Sequence
from io import BytesIO
from typing import Final, Self

import numpy as np
import pikepdf
import pypdfium2
import pypdfium2.raw as pdfium

from hotfolder.drawing.pdfium import PDFIUM_ERRORS
from hotfolder.errors import NotDrawnError, TimeIsUpError
from hotfolder.model.plates import Bytes, PlateFrame

_PAPER: Final = (255, 255, 255, 255)


class PlateRenderer:
    """A document of rewritten pages, open in the renderer; a context manager.

    until: the processor time of this process at which a page is given up. The renderer asks between the
    objects of a page itself; those within one form, or one pattern, it draws in one go.
    """

    def __init__(self, document: pikepdf.Pdf, frame: PlateFrame, until: float = math.inf) -> None:
        file = BytesIO()
        document.save(
            file,
            compress_streams=False,
            stream_decode_level=pikepdf.StreamDecodeLevel.none,
            object_stream_mode=pikepdf.ObjectStreamMode.disable,
        )
        self._data = file.getvalue()
        self._frame = frame
        self._until = until
        self._opened: pypdfium2.PdfDocument | None = None

    def __enter__(self) -> Self:
        try:
            self._opened = pypdfium2.PdfDocument(self._data)
        except PDFIUM_ERRORS as trouble:
            raise NotDrawnError(f"the renderer could not open it ({trouble})") from trouble
        return self

    def __exit__(self, *_: object) -> None:
        if self._opened is not None:
            self._opened.close()

    @property
    def bytes_held(self) -> int:
        """How large the document is."""
        return len(self._data)

    def drawn(self, index: int, *, grey: bool = False, hard_text: bool = False) -> Bytes:
        """The page at `index` on the frame: its three channels, shape (height, width, 3), red first.

        grey: its only channel, shape (height, width, 1). Small text comes out 6 % heavier in colour.
        hard_text: a pixel is of a letter or is not, and never half of each colour.
        """
        [shown] = self.drawn_at(index, [self._frame], grey=grey, hard_text=hard_text)
        return shown

    def drawn_at(
        self, index: int, places: Sequence[PlateFrame], *, grey: bool = False, hard_text: bool = False
    ) -> list[Bytes]:
        """Places of the page at `index`, the content of which is read once; else as `drawn`."""
        if self._opened is None:
            raise NotDrawnError("the renderer is closed")
        flags = pdfium.FPDF_RENDER_NO_SMOOTHTEXT if hard_text else 0
        try:
            page = self._opened[index]
            try:
                return [self._picture(page, place, flags, grey=grey) for place in places]
            finally:
                page.close()
        except PDFIUM_ERRORS as trouble:
            raise NotDrawnError(f"the renderer could not draw it ({trouble})") from trouble

    def _picture(self, page: pypdfium2.PdfPage, place: PlateFrame, flags: int, *, grey: bool) -> Bytes:
        width, height = place.width_px, place.height_px
        form = pdfium.FPDFBitmap_Gray if grey else pdfium.FPDFBitmap_BGRx
        bitmap = pypdfium2.PdfBitmap.new_native(width, height, form)
        bitmap.fill_rect(_PAPER, 0, 0, width, height)
        self._render(bitmap, page, place, flags)
        pixels = bitmap.to_numpy().reshape(height, width, -1)
        shown = np.ascontiguousarray(pixels if grey else pixels[:, :, 2::-1])
        bitmap.close()
        return shown

    def _render(
        self, bitmap: pypdfium2.PdfBitmap, page: pypdfium2.PdfPage, place: PlateFrame, flags: int
    ) -> None:
        asked = pdfium.IFSDK_PAUSE(version=1)
        pypdfium2.internal.set_callback(asked, "NeedToPauseNow", lambda _: time.process_time() > self._until)
        whole, finer = self._frame, place.px_per_mm / self._frame.px_per_mm
        size = (
            round((whole.left - place.left) / place.pixel_pt),
            round((place.top - whole.top) / place.pixel_pt),
            round(whole.width_px * finer),
            round(whole.height_px * finer),
        )
        status = pdfium.FPDF_RenderPageBitmap_Start(bitmap, page, *size, 0, flags, asked)
        pdfium.FPDF_RenderPage_Close(page)
        if status == pdfium.FPDF_RENDER_TOBECONTINUED:
            raise TimeIsUpError
