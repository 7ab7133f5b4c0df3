"""Files in which something is transparent, by what makes it so."""

from typing import Final

import pikepdf
from pikepdf import Array, Dictionary, Name

from hotfolder.checks.shared.pdfx_levels import ALL, X4
from tests.checks.pdf.pdfx.cases.case import Case
from tests.checks.pdf.pdfx.drawing import draw_form, draw_picture, group, paint_with, picture

EARLY: Final = ALL - X4


def _state(breaks: str, name: str, **entries: object) -> Case:
    return Case(
        breaks, name, lambda pdf: paint_with(pdf, **entries), X4 if breaks == "unknown-blend-mode" else EARLY
    )


def _soft_mask(pdf: pikepdf.Pdf) -> None:
    paint_with(pdf, SMask=Dictionary(S=Name.Luminosity, G=group(pdf)))


def _picture_with_mask(pdf: pikepdf.Pdf) -> None:
    draw_picture(pdf, SMask=picture(pdf, bytes(range(64)), ColorSpace=Name.DeviceGray))


def _group(pdf: pikepdf.Pdf) -> None:
    draw_form(pdf, Group=Dictionary(S=Name.Transparency))


def _page_group(pdf: pikepdf.Pdf) -> None:
    pdf.pages[1].obj.Group = Dictionary(S=Name.Transparency, CS=Name.DeviceCMYK)


CASES: Final = (
    Case("soft-mask", "a luminosity mask", _soft_mask, EARLY),
    Case("image-soft-mask", "a mask of greys", _picture_with_mask, EARLY),
    _state("opacity", "of fills", ca=0.5),
    _state("opacity", "of lines", CA=0.5),
    _state("blend-mode", "Multiply", BM=Name.Multiply),
    _state("blend-mode", "the second of a list", BM=Array([Name.Normal, Name.Darken])),
    _state("blend-mode", "no standard one", BM=Name.Glow),
    Case("transparency-group", "a form", _group, EARLY),
    Case("page-group", "a page", _page_group, EARLY),
    _state("unknown-blend-mode", "a program's own", BM=Name.Glow),
    _state("unknown-blend-mode", "the first of a list", BM=Array([Name.Glow, Name.Multiply])),
)
