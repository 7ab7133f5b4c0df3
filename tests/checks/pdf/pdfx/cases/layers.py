"""Files with layers, and with layers that are set up as a level does not take them."""

from typing import Final

import pikepdf
from pikepdf import Array, Dictionary, Name, String

from hotfolder.checks.shared.pdfx_levels import X1A, X3, X4
from tests.checks.pdf.pdfx.cases.case import Case


def _a_layer(pdf: pikepdf.Pdf) -> None:
    group = pdf.make_indirect(Dictionary(Type=Name.OCG, Name=String("Draft")))
    pdf.Root.OCProperties = Dictionary(OCGs=Array([group]), D=Dictionary(ON=Array([group])))


def _switched_by_the_occasion(pdf: pikepdf.Pdf) -> None:
    layers = pdf.Root.OCProperties
    usage = Dictionary(Event=Name.Print, Category=Array([Name.Print]), OCGs=layers.OCGs)
    layers.D.AS = Array([usage])


def _another_that_switches(pdf: pikepdf.Pdf) -> None:
    layers = pdf.Root.OCProperties
    usage = Dictionary(Event=Name.View, Category=Array([Name.View]), OCGs=layers.OCGs)
    layers.Configs = Array([Dictionary(Name=String("Proof"), AS=Array([usage]))])


def _default_without_name(pdf: pikepdf.Pdf) -> None:
    del pdf.Root.OCProperties.D["/Name"]


def _another_with_an_empty_name(pdf: pikepdf.Pdf) -> None:
    pdf.Root.OCProperties.Configs = Array([Dictionary(Name=String(""))])


def _not_listed(pdf: pikepdf.Pdf) -> None:
    layers = pdf.Root.OCProperties
    layers.OCGs.append(pdf.make_indirect(Dictionary(Type=Name.OCG, Name=String("Notes"))))


CASES: Final = (
    Case("layers", "a layer", _a_layer, X1A | X3),
    Case("automatic-layers", "off in print", _switched_by_the_occasion, X4),
    Case("automatic-layers", "in another setting", _another_that_switches, X4),
    Case("unnamed-layer-setting", "the default one", _default_without_name, X4),
    Case("unnamed-layer-setting", "another one", _another_with_an_empty_name, X4),
    Case("unlisted-layer", "a layer that is not in the list", _not_listed, X4),
)
