# Graphics state parameters and operators that come near to what no level takes, and keep it.
from collections.abc import Callable
from pathlib import Path

import pikepdf
import pytest
from pikepdf import Array, Dictionary, Name, String

from hotfolder.checks.pdf.pdfx.findings import findings_of
from hotfolder.checks.pdf.pdfx.level_rule import PdfxLevelSettings
from hotfolder.checks.shared.pdfx_levels import Level
from hotfolder.model.findings import Severity
from tests.checks.pdf.pdfx.bases import edited
from tests.checks.pdf.pdfx.cases.graphics_state import halftone, of_colorants
from tests.checks.pdf.pdfx.drawing import NULL, draw, paint_with, state, with_nulls
from tests.checks.pdf.pdfx.judged import broken, judged

FUNCTION = Dictionary(FunctionType=2, Domain=Array([0, 1]), N=1, C0=Array([1]), C1=Array([0]))


def _indirect_names(pdf: pikepdf.Pdf) -> None:
    paint_with(pdf, TR2=pdf.make_indirect(Name.Default), HT=pdf.make_indirect(Name.Default))


def _unused(pdf: pikepdf.Pdf) -> None:
    state(pdf, TR=FUNCTION)


def _circle(pdf: pikepdf.Pdf) -> None:
    whole = pdf.make_indirect(of_colorants())
    whole.Cyan = whole
    paint_with(pdf, HT=whole)


LOOK_ALIKES: list[tuple[str, Callable[[pikepdf.Pdf], None]]] = [
    ("transfer functions given back", lambda pdf: paint_with(pdf, TR2=Name.Default)),
    ("no transfer function", lambda pdf: paint_with(pdf, TR=NULL)),
    ("a transfer function that nothing uses", _unused),
    ("names behind numbers", _indirect_names),
    ("a halftone of type 1", lambda pdf: paint_with(pdf, HT=halftone())),
    ("a halftone of type 5", lambda pdf: paint_with(pdf, HT=of_colorants(Cyan=halftone(), Black=halftone()))),
    ("a halftone within itself", _circle),
    (
        "a transfer function for a spot ink",
        lambda pdf: paint_with(pdf, HT=of_colorants(Gold=halftone(TransferFunction=FUNCTION))),
    ),
    ("black generation", lambda pdf: paint_with(pdf, BG2=Name.Default, UCR2=Name.Default)),
    ("overprint mode 1", lambda pdf: paint_with(pdf, OPM=1, OP=True)),
    ("a compatibility section with nothing in it", lambda pdf: draw(pdf, b"BX 0 0 0 1 k 60 60 9 9 re f EX")),
    ("a number that is written badly", lambda pdf: draw(pdf, b"0 0 0 1 k 60 60 --9 9 re f")),
]


@pytest.mark.parametrize("level", Level)
@pytest.mark.parametrize(("_name", "edit"), LOOK_ALIKES, ids=[name for name, _ in LOOK_ALIKES])
def test_what_comes_near_breaks_nothing(
    _name: str, edit: Callable[[pikepdf.Pdf], None], level: Level, tmp_path: Path
) -> None:
    assert broken(judged(with_nulls(edited(level, edit)), level, tmp_path)) == {}


def test_things_are_named_as_they_stand_in_the_file(tmp_path: Path) -> None:
    def edit(pdf: pikepdf.Pdf) -> None:
        paint_with(pdf, TR=FUNCTION, TR2=FUNCTION, OPM=3)
        members = of_colorants(Gold=halftone(HalftoneType=6, HalftoneName=String("Fine")))
        paint_with(pdf, HT=members)
        draw(pdf, b"1 glow\x1b[31m")

    assert broken(judged(edited(Level.X1A_2001, edit), Level.X1A_2001, tmp_path)) == {
        "transfer-function": ["a transfer function (TR and TR2)"],
        "overprint-mode": ["an overprint mode of 3"],
        "halftone-type": ["a halftone of type 6 for Gold"],
        "halftone-name": ["a halftone by name for Gold"],
        "unknown-operator": [r"an instruction that no version of PDF has ('glow\x1b')"],
    }


@pytest.mark.parametrize(
    ("level", "severity"), [(Level.X1A_2001, Severity.MUST_FIX), (Level.X4, Severity.ADVICE)]
)
def test_what_is_from_memory_for_x4_is_advice_there(level: Level, severity: Severity, tmp_path: Path) -> None:
    data = edited(level, lambda pdf: paint_with(pdf, TR=FUNCTION))
    [finding] = findings_of(judged(data, level, tmp_path), "pdfx-level", PdfxLevelSettings(level=level))
    assert (finding.severity, finding.page) == (severity, 1)


def test_a_state_that_several_pages_apply_is_told_for_each_of_them(tmp_path: Path) -> None:
    def edit(pdf: pikepdf.Pdf) -> None:
        operator = state(pdf, HTP=Array([1, 1]))
        for page in pdf.pages:
            page.contents_add(operator)

    conformance = judged(edited(Level.X3_2002, edit), Level.X3_2002, tmp_path)
    [requirement] = conformance.broken
    assert [breach.page.number for breach in requirement.breaches if breach.page is not None] == [1, 2]
