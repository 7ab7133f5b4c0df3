"""Files with annotations where a level does not take them, and with traps."""

from collections.abc import Callable
from typing import Any, Final

import pikepdf
from pikepdf import Array, Dictionary, Name, Stream

from hotfolder.checks.shared.pdfx_levels import ALL, ON_PDF_13, X1A, Level
from tests.checks.pdf.pdfx.cases.case import Case

Edit = Callable[[pikepdf.Pdf], None]


def annotated(subtype: str, *rectangle: float, **entries: Any) -> Edit:  # noqa: ANN401 - objects of PDF
    """Puts an annotation on the second page."""

    def edit(pdf: pikepdf.Pdf) -> None:
        kind = Name(f"/{subtype}")
        annotation = Dictionary(Type=Name.Annot, Subtype=kind, Rect=Array(rectangle), **entries)
        pdf.pages[1].obj.Annots = Array([pdf.make_indirect(annotation)])

    return edit


def trapped(model: str = "DeviceCMYK", *, says_so: bool = True, faux: bool = False) -> Edit:
    """Puts a trap network on the second page, for the inks of `model`."""

    def edit(pdf: pikepdf.Pdf) -> None:
        traps = Stream(pdf, b"")
        traps.Type, traps.Subtype = Name.XObject, Name.Form
        traps.BBox, traps.PCM = Array([0, 0, 340, 460]), Name(f"/{model}")
        entries = {"FontFauxing": Array([pdf.pages[0].obj.Resources.Font.F1])} if faux else {}
        annotated(
            "TrapNet",
            0,
            0,
            340,
            460,
            F=68,
            AP=Dictionary(N=pdf.make_indirect(traps)),
            Version=Array([]),
            AnnotStates=Array([]),
            **entries,
        )(pdf)
        if says_so:
            say_trapped(pdf)

    return edit


def say_trapped(pdf: pikepdf.Pdf) -> None:
    """Makes the file say that it is trapped, wherever it says so."""
    pdf.docinfo.Trapped = Name("/True")
    if "/Metadata" in pdf.Root:
        xmp = pdf.Root.Metadata.read_bytes()
        pdf.Root.Metadata.write(xmp.replace(b"<pdf:Trapped>False", b"<pdf:Trapped>True"))


CASES: Final = (
    Case("annotation-on-page", "a comment in the middle", annotated("Text", 100, 100, 120, 120)),
    Case("annotation-on-page", "a link over the bleed's edge", annotated("Link", 10, 100, 21, 120)),
    Case("annotation-on-page", "a hidden text", annotated("FreeText", 100, 100, 120, 120, F=2)),
    Case("annotation-on-page", "a mark in the bleed", annotated("PrinterMark", 10, 100, 26, 120), ON_PDF_13),
    Case(
        "printers-mark-on-page",
        "a mark over the cut line",
        annotated("PrinterMark", 10, 99, 30, 120),
        ALL - ON_PDF_13,
    ),
    Case("traps-untold", "traps, and not trapped", trapped(says_so=False)),
    Case("trap-colour-model", "traps for RGB", trapped("DeviceRGB"), ALL - {Level.X4P}),
    Case("trap-colour-model", "traps for grey", trapped("DeviceGray"), X1A),
    Case("trap-fonts", "traps with other fonts", trapped(faux=True)),
)
