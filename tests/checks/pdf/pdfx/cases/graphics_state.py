"""Files that set graphics state parameters, or use operators, that a level does not take."""

from collections.abc import Callable
from typing import Final

import pikepdf
from pikepdf import Array, Dictionary, Name, String

from tests.checks.pdf.pdfx.cases.case import Case
from tests.checks.pdf.pdfx.drawing import dictionary, draw, paint_with


def halftone(**entries: object) -> Dictionary:
    """A halftone dictionary of type 1, or with other entries."""
    plain = {"HalftoneType": 1, "Frequency": 60, "Angle": 45, "SpotFunction": Name.Round}
    return dictionary(Type=Name.Halftone, **(plain | entries))


def of_colorants(**members: Dictionary) -> Dictionary:
    """A halftone dictionary of type 5 with these members."""
    return dictionary(Type=Name.Halftone, HalftoneType=5, Default=halftone(), **members)


def _inverting() -> Dictionary:
    return Dictionary(FunctionType=2, Domain=Array([0, 1]), N=1, C0=Array([1]), C1=Array([0]))


def _state(breaks: str, name: str, **entries: object) -> Case:
    return Case(breaks, name, lambda pdf: paint_with(pdf, **entries))


def _threshold_halftone(pdf: pikepdf.Pdf) -> None:
    made = pikepdf.Stream(pdf, bytes(range(16)))
    made.Type, made.HalftoneType, made.Width, made.Height = Name.Halftone, 6, 4, 4
    paint_with(pdf, HT=pdf.make_indirect(made))


def _drawing(content: bytes) -> Callable[[pikepdf.Pdf], None]:
    return lambda pdf: draw(pdf, content)


CASES: Final = (
    _state("transfer-function", "TR", TR=_inverting()),
    _state("transfer-function", "TR by name", TR=Name.Identity),
    _state("transfer-function", "TR2", TR2=_inverting()),
    _state(
        "transfer-function",
        "TR2 of four",
        TR2=Array([Name.Identity, Name.Identity, _inverting(), Name.Default]),
    ),
    _state("halftone-phase", "HTP", HTP=Array([2, 0])),
    Case("halftone-type", "thresholds", _threshold_halftone),
    _state("halftone-type", "no type", HT=Dictionary(Type=Name.Halftone)),
    _state("halftone-type", "in one of type 5", HT=of_colorants(Cyan=halftone(HalftoneType=16))),
    _state("halftone-name", "of a screen", HT=halftone(HalftoneName=String("Fine screen"))),
    _state("halftone-name", "of one of several", HT=of_colorants(Cyan=halftone(HalftoneName=String("Fine")))),
    _state("halftone-transfer", "of a halftone", HT=halftone(TransferFunction=_inverting())),
    _state("halftone-transfer", "for cyan", HT=of_colorants(Cyan=halftone(TransferFunction=_inverting()))),
    _state("overprint-mode", "2", OPM=2),
    _state("overprint-mode", "a name", OPM=Name.One),
    Case("unknown-operator", "plain", _drawing(b"1 2 glow")),
    Case("unknown-operator", "in a compatibility section", _drawing(b"BX /Deep glow EX")),
)
