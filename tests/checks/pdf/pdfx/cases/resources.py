"""Files whose content names what is not there."""

from typing import Final

from pikepdf import Array, Name, Pdf, Stream

from tests.checks.pdf.pdfx.cases.case import Case
from tests.checks.pdf.pdfx.cases.painting import draw, resource


def _no_picture(pdf: Pdf) -> None:
    draw(pdf, "q 20 0 0 20 60 60 cm /Lost Do Q")


def _no_state(pdf: Pdf) -> None:
    draw(pdf, "q /Lost gs Q")


def _no_font(pdf: Pdf) -> None:
    draw(pdf, "BT /Lost 12 Tf ET")


def _no_space(pdf: Pdf) -> None:
    draw(pdf, "q /Lost cs 0.5 scn 60 60 20 20 re f Q")


def _no_gradient(pdf: Pdf) -> None:
    draw(pdf, "q 60 60 20 20 re W n /Lost sh Q")


def _no_pattern(pdf: Pdf) -> None:
    draw(pdf, "q /Pattern cs /Lost scn 60 60 20 20 re f Q")


def _no_resources(pdf: Pdf) -> None:
    blank = pdf.pages[1].obj
    blank.Contents = pdf.make_indirect(Stream(pdf, b"0 0 0 0.4 k 20 20 300 420 re f"))
    del blank["/Resources"]


def _form_without_resources(pdf: Pdf) -> None:
    form = Stream(pdf, b"q 20 0 0 20 0 0 cm /Picture Do Q")
    form.Type, form.Subtype, form.BBox = Name.XObject, Name.Form, Array([0, 0, 20, 20])
    resource(pdf, "XObject", "Frame", pdf.make_indirect(form))
    draw(pdf, "q 1 0 0 1 60 60 cm /Frame Do Q")


CASES: Final = (
    Case("missing-resource", "a picture", _no_picture),
    Case("missing-resource", "a graphics state", _no_state),
    Case("missing-resource", "a font", _no_font),
    Case("missing-resource", "a colour space", _no_space),
    Case("missing-resource", "a gradient", _no_gradient),
    Case("missing-resource", "a pattern", _no_pattern),
    Case("page-resources", "none", _no_resources),
    Case("own-resources", "a picture of the page", _form_without_resources),
)
