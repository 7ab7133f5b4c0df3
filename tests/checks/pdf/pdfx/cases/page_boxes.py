"""Files whose page boxes are not as a level wants them."""

from typing import Final

import pikepdf
from pikepdf import Array, Dictionary, Name

from tests.checks.pdf.pdfx.bases import BLEED, MEDIA, TRIM
from tests.checks.pdf.pdfx.cases.case import Case


def _second(pdf: pikepdf.Pdf) -> pikepdf.Object:
    return pdf.pages[1].obj


def _no_media_box(pdf: pikepdf.Pdf) -> None:
    del _second(pdf)["/MediaBox"]


def _no_trim_box(pdf: pikepdf.Pdf) -> None:
    del _second(pdf)["/TrimBox"]


def _trim_box_only_inherited(pdf: pikepdf.Pdf) -> None:
    del _second(pdf)["/TrimBox"]
    pdf.Root.Pages.TrimBox = Array(TRIM)


def _trim_box_without_area(pdf: pikepdf.Pdf) -> None:
    _second(pdf).TrimBox = Array([30, 30, 30, 400])


def _art_box_beside(pdf: pikepdf.Pdf) -> None:
    _second(pdf).ArtBox = Array(TRIM)


def _trim_beyond_bleed(pdf: pikepdf.Pdf) -> None:
    _second(pdf).BleedBox = Array([30, 20, 320, 440])


def _art_beyond_bleed(pdf: pikepdf.Pdf) -> None:
    page = _second(pdf)
    del page["/TrimBox"]
    page.ArtBox = Array([28, 28, 312, 440.5])


def _bleed_beyond_page(pdf: pikepdf.Pdf) -> None:
    _second(pdf).BleedBox = Array([-2, 20, 320, 440])


def _crop_beyond_page(pdf: pikepdf.Pdf) -> None:
    _second(pdf).CropBox = Array([0, 0, 340, 470])


def _crop_in_bleed(pdf: pikepdf.Pdf) -> None:
    _second(pdf).CropBox = Array([22, 20, 320, 440])


def _printed_by_the_trim_box(pdf: pikepdf.Pdf) -> None:
    pdf.Root.ViewerPreferences = Dictionary(PrintArea=Name.TrimBox)


def _clipped_to_the_crop_box(pdf: pikepdf.Pdf) -> None:
    pdf.Root.ViewerPreferences = Dictionary(ViewClip=Name.CropBox, ViewArea=Name.MediaBox)


def _one_plate(pdf: pikepdf.Pdf) -> None:
    pages = Array([page.obj for page in pdf.pages])
    _second(pdf).SeparationInfo = Dictionary(Pages=pages, DeviceColorant=Name.Cyan)


# Named so that the figures above can be followed.
assert MEDIA[2] == 340
assert BLEED[0] == 20

CASES: Final = (
    # what is drawn on a page of no size is not read, so that all else about it is open
    Case("media-box", "no media box", _no_media_box),
    Case("trim-box", "no trim box", _no_trim_box),
    Case("trim-box", "a trim box that could only be inherited", _trim_box_only_inherited),
    Case("trim-box", "a trim box without area", _trim_box_without_area),
    Case("trim-and-art-box", "an art box beside the trim box", _art_box_beside),
    Case("trim-in-bleed", "a trim box beyond the bleed box", _trim_beyond_bleed),
    Case("trim-in-bleed", "an art box beyond the bleed box", _art_beyond_bleed),
    Case("boxes-in-page", "a bleed box beyond the media box", _bleed_beyond_page),
    Case("boxes-in-page", "a crop box beyond the media box", _crop_beyond_page),
    Case("crop-box", "a crop box within the bleed box", _crop_in_bleed),
    Case("viewer-area", "printing by the trim box", _printed_by_the_trim_box),
    Case("viewer-area", "showing by the crop box", _clipped_to_the_crop_box),
    Case("separated-page", "a page that is one plate", _one_plate),
)
