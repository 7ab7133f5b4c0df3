"""Pages of a PDF as a printer's program paints them: whole sheet, printing annotations, printing layers."""

import math
from collections.abc import Sequence
from pathlib import Path

import pypdfium2
import pypdfium2.raw as pdfium
from PIL import Image

from hotfolder.drawing.pdfium import PDFIUM_ERRORS
from hotfolder.drawing.proofs.encoding import encoded
from hotfolder.model.facts import Unmeasured
from hotfolder.model.geometry import Box
from hotfolder.model.pages import Page
from hotfolder.model.pictures import PagePicture, picture_fact

# Without a media box a page is US Letter to the renderer (its default, not the standard's).
_NO_MEDIA_BOX = Box(0, 0, 612, 792)

# Boxes are single precision inside the renderer; a sheet of 14,400 pt keeps about 0.001 pt.
_SIZE_TOLERANCE_PT = 0.5


def draw_pdf_pages(path: Path, pages: Sequence[Page], max_px: int) -> tuple[PagePicture | Unmeasured, ...]:
    """Pictures of `pages` of the PDF at `path`; `Unmeasured` for those that cannot be drawn."""
    try:
        document = pypdfium2.PdfDocument(path)
    except PDFIUM_ERRORS as trouble:
        return tuple(_no_picture(page, f"the renderer could not open the file ({trouble})") for page in pages)
    try:
        # Unprinted annotations go before forms are set up: the renderer then draws a form's
        # fields itself, and would draw those as well that are for the screen only.
        for page in pages:
            _drop_unprinted_annotations(document, page.number - 1)
        _set_up_forms(document)
        return tuple(_draw(document, page, max_px) for page in pages)
    finally:
        document.close()


def _draw(document: pypdfium2.PdfDocument, page: Page, max_px: int) -> PagePicture | Unmeasured:
    box = page.boxes.media or _NO_MEDIA_BOX
    sheet = Box(*(value / page.user_unit for value in (box.x0, box.y0, box.x1, box.y1)))
    if not (0 < sheet.width < math.inf and 0 < sheet.height < math.inf):
        return _no_picture(page, "the page has no extent")
    try:
        drawn = document[page.number - 1]
        try:
            # The renderer shows the crop box; bleed and slug often lie outside of it.
            drawn.set_cropbox(sheet.x0, sheet.y0, sheet.x1, sheet.y1)
            if not _same_size(drawn.get_size(), sheet, page.rotate):
                return _no_picture(page, "the renderer sees a page of another size")
            # A hair less, since the renderer rounds up what floating point makes of max_px.
            scale = max_px * (1 - 1e-6) / max(drawn.get_size())
            bitmap = drawn.render(scale=scale, optimize_mode="print", draw_annots=True)
            # A copy, since the bitmap's memory goes when it is closed.
            image: Image.Image = bitmap.to_pil().copy()
            bitmap.close()
        finally:
            drawn.close()
        media_type, data = encoded(image)
    except PDFIUM_ERRORS as trouble:
        return _no_picture(page, f"the renderer could not draw it ({trouble})")
    return PagePicture(page.number, data, media_type, image.width, image.height, box, page.rotate)


def _same_size(size: tuple[float, float], sheet: Box, rotate: int) -> bool:
    expected = (sheet.width, sheet.height) if rotate in {0, 180} else (sheet.height, sheet.width)
    return all(math.isclose(a, b, abs_tol=_SIZE_TOLERANCE_PT) for a, b in zip(size, expected, strict=True))


def _drop_unprinted_annotations(document: pypdfium2.PdfDocument, index: int) -> None:
    """Takes annotations without the print flag (ISO 32000-2, 12.5.3) out of the document in memory."""
    try:
        page = document[index]
    except PDFIUM_ERRORS:
        return  # drawing this page meets the same trouble and tells it
    try:
        for number in reversed(range(pdfium.FPDFPage_GetAnnotCount(page))):
            annotation = pdfium.FPDFPage_GetAnnot(page, number)
            if not annotation:
                continue
            flags = pdfium.FPDFAnnot_GetFlags(annotation)
            pdfium.FPDFPage_CloseAnnot(annotation)
            if not flags & pdfium.FPDF_ANNOT_FLAG_PRINT:
                pdfium.FPDFPage_RemoveAnnot(page, number)
    finally:
        page.close()


def _set_up_forms(document: pypdfium2.PdfDocument) -> None:
    """Lets the renderer draw the fields of a form; a form it cannot read is drawn without them."""
    if document.get_formtype() in {pdfium.FORMTYPE_XFA_FULL, pdfium.FORMTYPE_XFA_FOREGROUND}:
        return  # needs a renderer with XFA, which print has no use for
    try:
        document.init_forms()
    except PDFIUM_ERRORS:
        return


def _no_picture(page: Page, reason: str) -> Unmeasured:
    return Unmeasured(picture_fact(page.number), reason)
