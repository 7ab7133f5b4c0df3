# PDF/X claim: absent, another level, not kept; which of it weighs how much.
from dataclasses import replace
from pathlib import Path

import pikepdf
import pytest
from pikepdf import Name, String
from pydantic import ValidationError

from hotfolder.checks.pdf.pdfx_claim import PdfxClaimSettings, check
from hotfolder.checks.shared.pdfx_levels import Level, judged_level, level_name
from hotfolder.model.artwork import Artwork
from hotfolder.model.document import PdfxClaim
from hotfolder.model.facts import Unmeasured
from hotfolder.model.findings import Finding, Severity, Unjudged
from hotfolder.units import parse_size
from tests.artwork.files import A_PDF, X1A_2001, X1A_2003, X3_2003, X4, artwork, unreadable
from tests.artwork.flyer import flyer
from tests.artwork.inventories import inventory_of
from tests.artwork.pictures import placed, raster
from tests.checks.pdf.pdfx.bases import Edit, base, saved
from tests.checks.pdf.pdfx.judged import measured
from tests.checks.said import codes, figures, the_only, unjudged, without_pages

ALL = PdfxClaimSettings(accepted=tuple(Level))
X1A_ONLY = PdfxClaimSettings(accepted=(Level.X1A_2001, Level.X1A_2003))
GOOD = flyer().with_background()


def claimed(claim: PdfxClaim | None) -> Artwork:
    pdf = replace(A_PDF, pdfx=claim)
    level = judged_level(level_name(claim.name)) if claim is not None else None
    if level is not None:
        pdf = replace(pdf, inventory=inventory_of(level))
    return artwork(GOOD.page(), pdf=pdf)


def of_file(level: Level, edit: Edit, folder: Path) -> Artwork:
    pdf = base(level)
    edit(pdf)
    return measured(saved(pdf, level), folder)


# What the file says of itself


@pytest.mark.parametrize("claim", [X1A_2001, X1A_2003, X3_2003, X4])
def test_accepted_levels_pass(claim: PdfxClaim) -> None:
    assert codes(check(claimed(claim), ALL)) == []


def test_no_claim_must_be_fixed() -> None:
    finding = the_only(check(claimed(None), ALL))
    assert (finding.code, finding.severity, finding.measured) == ("absent", Severity.MUST_FIX, "no PDF/X")


def test_another_level_must_be_fixed() -> None:
    finding = the_only(check(claimed(X4), X1A_ONLY))
    assert (finding.code, *figures(finding)) == ("other", "PDF/X-4", "PDF/X-1a:2001 or PDF/X-1a:2003")


def test_a_conformance_that_is_left_over_in_an_x3_file_says_nothing() -> None:
    claim = PdfxClaim("PDF/X-3:2002", "PDF/X-1a:2001", "Info")
    assert codes(check(claimed(claim), ALL)) == []
    finding = the_only(check(claimed(claim), X1A_ONLY))
    assert (finding.code, finding.measured) == ("other", "PDF/X-3:2002")


def test_a_level_of_nonsense_beside_a_right_conformance_is_no_level() -> None:
    finding = the_only(check(claimed(PdfxClaim("Press quality", "PDF/X-1a:2001", "Info")), ALL))
    assert (finding.code, finding.measured) == ("wrong-identifier", "Press quality")
    assert "there is no such level" in finding.message


@pytest.mark.parametrize("name", ["PDF/X-5g", "PDF/X-6"])
def test_levels_that_are_not_judged_are_told_as_that(name: str) -> None:
    settings = PdfxClaimSettings(accepted=(name,))
    (left,) = unjudged(check(claimed(PdfxClaim(name, None, "XMP")), settings))
    assert (left.severity, left.reason) == (
        Severity.ADVICE,
        f"whether the file keeps {name} is not judged here",
    )


# What it keeps of it


def _no_label(pdf: pikepdf.Pdf) -> None:
    del pdf.docinfo["/GTS_PDFXVersion"]


def test_a_file_that_lacks_only_the_label_is_told_so(tmp_path: Path) -> None:
    piece = of_file(Level.X3_2003, _no_label, tmp_path)
    finding = the_only(check(piece, PdfxClaimSettings(accepted=(Level.X3_2003,))))
    assert finding.code == "absent"
    assert "It would be PDF/X-3:2003 but for that label" in finding.message


def _no_label_and_no_title(pdf: pikepdf.Pdf) -> None:
    _no_label(pdf)
    del pdf.docinfo["/Title"]


def test_a_file_that_lacks_the_label_and_more_is_told_what_else(tmp_path: Path) -> None:
    piece = of_file(Level.X3_2003, _no_label_and_no_title, tmp_path)
    finding = the_only(check(piece, PdfxClaimSettings(accepted=(Level.X1A_2003, Level.X3_2003))))
    assert "nearest to PDF/X-3:2003, and breaks 1 requirement of that (no-title)" in finding.message


def _both_labels(pdf: pikepdf.Pdf) -> None:
    pdf.docinfo.GTS_PDFXVersion = String("PDF/X-1a:2003")


@pytest.mark.parametrize(
    ("settings", "severity"),
    [(ALL, Severity.MUST_FIX), (PdfxClaimSettings(accepted=(Level.X3_2003,)), Severity.ADVICE)],
)
def test_what_a_level_asks_that_the_printer_does_not_take_is_advice(
    settings: PdfxClaimSettings, severity: Severity, tmp_path: Path
) -> None:
    said = list(check(of_file(Level.X4, _both_labels, tmp_path), settings))
    (finding,) = [each for each in said if isinstance(each, Finding) and each.code == "contradiction"]
    assert finding.severity is severity


def _in_compressed_nonsense(pdf: pikepdf.Pdf) -> None:
    content = pdf.pages[1].obj.Contents
    content.write(b"this is no flate data", filter=Name.FlateDecode)


def test_what_could_not_be_read_leaves_requirements_of_content_open(tmp_path: Path) -> None:
    piece = of_file(Level.X4, _in_compressed_nonsense, tmp_path)
    (left,) = [each for each in check(piece, ALL) if isinstance(each, Unjudged)]
    assert (left.page, left.severity) == (2, Severity.MUST_FIX)
    assert "left open" in left.reason


@pytest.mark.parametrize(("settings", "severity"), [(ALL, Severity.MUST_FIX), (X1A_ONLY, Severity.ADVICE)])
def test_an_inventory_that_could_not_be_taken_leaves_the_level_open(
    settings: PdfxClaimSettings, severity: Severity
) -> None:
    pdf = replace(A_PDF, pdfx=X4, inventory=Unmeasured("inventory", "data could not be decoded"))
    (left,) = [each for each in check(artwork(GOOD.page(), pdf=pdf), settings) if isinstance(each, Unjudged)]
    assert left.severity is severity
    assert left.reason == "whether the file keeps PDF/X-4 is not known: data could not be decoded"


# Limits


def test_raster_files_are_left_to_the_rule_about_file_types() -> None:
    assert codes(check(placed(raster((1819, 2551)), parse_size("A5"), 3), ALL)) == []


def test_a_file_that_does_not_open_is_not_told_to_lack_a_claim() -> None:
    assert [item.severity for item in unjudged(check(unreadable(), ALL))] == [Severity.MUST_FIX]
    assert len(unjudged(check(without_pages(claimed(None)), ALL))) == 1


def test_only_levels_that_exist_can_be_accepted() -> None:
    with pytest.raises(ValidationError, match="PDF/X-1a"):
        PdfxClaimSettings(accepted=("PDF/X-1a",))
