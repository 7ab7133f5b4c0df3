# Annotations and forms: what lies on the artwork and is no part of it.
from dataclasses import replace

import pytest

from hotfolder.checks.pdf.annotations import AnnotationsSettings, check
from hotfolder.model.findings import Quantity, Severity
from hotfolder.units import parse_size
from tests.artwork.files import A_PDF, artwork, unreadable
from tests.artwork.flyer import Flyer, flyer
from tests.artwork.pictures import placed, raster
from tests.checks.said import codes, the_only, unjudged

PLAIN = AnnotationsSettings()
ON_PAGE = (10, 10, 30, 30)


def roomy() -> Flyer:
    """A flyer on a sheet with 30 mm around it."""
    piece = flyer()
    return piece.with_boxes(replace(piece.boxes, media=piece.trim_box.grown(85)))


def test_a_page_without_annotations_passes() -> None:
    assert codes(check(flyer().with_background().artwork(), PLAIN)) == []


def test_a_printing_annotation_in_the_bleed_must_be_fixed() -> None:
    finding = the_only(check(flyer().with_annotation("FreeText", ON_PAGE, prints=True).artwork(), PLAIN))
    assert (finding.code, finding.severity, finding.page, len(finding.boxes)) == (
        "prints",
        Severity.MUST_FIX,
        1,
        1,
    )
    assert finding.measured == Quantity.of(1, unit="annotations")
    in_bleed = flyer().with_annotation("Stamp", (-2, 10, -1, 30), prints=True)
    assert codes(check(in_bleed.artwork(), PLAIN)) == ["prints"]


def test_one_that_does_not_print_is_advice() -> None:
    finding = the_only(check(flyer().with_annotation("Link", ON_PAGE, prints=False).artwork(), PLAIN))
    assert (finding.code, finding.severity) == ("inside", Severity.ADVICE)


def test_annotations_of_a_page_are_one_finding_that_counts_them() -> None:
    piece = (
        flyer()
        .with_annotation("Widget", ON_PAGE, prints=True)
        .with_annotation("Widget", (40, 40, 60, 60), prints=True)
        .with_annotation("Stamp", (70, 70, 80, 80), prints=True)
    )
    finding = the_only(check(piece.artwork(), PLAIN))
    assert "2 form fields and 1 stamp" in finding.message
    assert len(finding.boxes) == 3


def bare(subtype: str) -> Flyer:
    """A page with an annotation that may print and brings no looks of its own."""
    piece = flyer().with_annotation(subtype, ON_PAGE, prints=True)
    return replace(piece, annotations=(replace(piece.annotations[0], has_appearance=False),))


@pytest.mark.parametrize(("subtype", "code"), [("Link", "inside"), ("Widget", "inside"), ("Stamp", "prints")])
def test_a_link_without_looks_has_nothing_to_print(subtype: str, code: str) -> None:
    assert codes(check(bare(subtype).artwork(), PLAIN)) == [code]


@pytest.mark.parametrize(
    "piece",
    [
        pytest.param(flyer().with_annotation("Widget", (10, 10, 10, 10), prints=True), id="without extent"),
        pytest.param(roomy().with_annotation("Text", (-20, 10, -5, 30), prints=True), id="outside the bleed"),
        pytest.param(roomy().with_annotation("Text", (-20, 10, -3, 30), prints=True), id="touching its edge"),
        pytest.param(flyer().with_annotation("Popup", ON_PAGE, prints=False), id="pop-up window"),
        pytest.param(flyer().with_annotation("TrapNet", ON_PAGE, prints=True), id="trapping"),
        pytest.param(
            roomy().with_annotation("PrinterMark", (-3, 10, -1, 30), prints=True), id="printer's mark"
        ),
    ],
)
def test_not_flagged(piece: Flyer) -> None:
    assert codes(check(piece.artwork(), PLAIN)) == []


def test_a_printers_mark_on_the_page_is_flagged() -> None:
    assert codes(check(flyer().with_annotation("PrinterMark", ON_PAGE, prints=True).artwork(), PLAIN)) == [
        "prints"
    ]


def test_without_a_bleed_box_the_trim_counts() -> None:
    piece = roomy()
    unboxed = piece.with_boxes(replace(piece.boxes, bleed=None))
    beside = unboxed.with_annotation("Text", (-2, 10, -1, 30), prints=True)
    assert codes(check(beside.artwork(), PLAIN)) == []


@pytest.mark.parametrize(
    ("facts", "code", "severity"),
    [
        ({"form_fields": 3}, "form-fields", Severity.ADVICE),
        ({"scripts": 1}, "scripts", Severity.ADVICE),
        ({"attachments": 1}, "attachments", Severity.ADVICE),
        ({"xfa": True}, "living-form", Severity.MUST_FIX),
    ],
)
def test_what_the_document_carries(facts: dict[str, object], code: str, severity: Severity) -> None:
    pdf = replace(A_PDF, **facts)  # type: ignore[arg-type] # facts of a PDF
    finding = the_only(check(artwork(flyer().page(), pdf=pdf), PLAIN))
    assert (finding.code, finding.severity) == (code, severity)


def test_pages_with_the_same_fault_are_one_finding_with_all_their_places() -> None:
    page = flyer().with_annotation("Link", ON_PAGE, prints=False).page()
    finding = the_only(check(artwork(page, page, page), PLAIN))
    assert [(place.page, len(place.boxes)) for place in finding.places] == [(1, 1), (2, 1), (3, 1)]
    assert finding.message.startswith("Pages 1 to 3 (on page 1: ")
    assert finding.measured == Quantity.of(3, unit="annotations")


def test_raster_files_have_none() -> None:
    assert codes(check(placed(raster((1819, 2551)), parse_size("A5"), 3), PLAIN)) == []


def test_a_file_that_does_not_open_is_not_judged() -> None:
    assert [item.severity for item in unjudged(check(unreadable(), PLAIN))] == [Severity.MUST_FIX]
