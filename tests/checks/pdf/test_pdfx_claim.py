# PDF/X claim: absent, another level, badly written, contradicted.
from dataclasses import replace

import pytest
from pydantic import ValidationError

from hotfolder.checks.pdf.pdfx_claim import PdfxClaimSettings, check
from hotfolder.checks.shared.pdfx_levels import X1A, X3
from hotfolder.model.artwork import Artwork
from hotfolder.model.colour import Colour
from hotfolder.model.document import Encryption, Font, Layer, PdfFacts, PdfxClaim
from hotfolder.model.facts import Unmeasured
from hotfolder.model.findings import Severity
from hotfolder.model.marks import ImageFacts, MarkState, Masking
from hotfolder.model.pages import Construct
from hotfolder.units import parse_size
from tests.artwork.colours import DEVICE_RGB, ICC_CMYK, SCREEN_RED, spot
from tests.artwork.files import A_PDF, EMBEDDED, X1A_2001, X1A_2003, X3_2003, X4, artwork, unreadable
from tests.artwork.flyer import Flyer, flyer, image_facts
from tests.artwork.pictures import placed, raster
from tests.checks.said import codes, figures, the_only, unjudged, without_pages

ALL = PdfxClaimSettings(accepted=(*X1A, *X3, "PDF/X-4"))
X1A_ONLY = PdfxClaimSettings(accepted=X1A)
GOOD = flyer().with_background()


def claimed(claim: PdfxClaim | None, piece: Flyer = GOOD, pdf: PdfFacts = A_PDF) -> Artwork:
    return artwork(piece.page(), pdf=replace(pdf, pdfx=claim))


@pytest.mark.parametrize("claim", [X1A_2001, X1A_2003, X3_2003, X4])
def test_accepted_levels_pass(claim: PdfxClaim) -> None:
    assert codes(check(claimed(claim), ALL)) == []


def test_no_claim_must_be_fixed() -> None:
    finding = the_only(check(claimed(None), ALL))
    assert (finding.code, finding.severity, finding.measured) == ("absent", Severity.MUST_FIX, "no PDF/X")


def test_another_level_must_be_fixed() -> None:
    finding = the_only(check(claimed(X4), X1A_ONLY))
    assert (finding.code, *figures(finding)) == ("other", "PDF/X-4", "PDF/X-1a:2001 or PDF/X-1a:2003")


# How a level is written (ISO 15930-1:2001 has PDF/X-1:2001 with the conformance PDF/X-1a:2001 beside it)


@pytest.mark.parametrize("conformance", [None, "PDF/X-1a:2001"])
def test_the_common_slip_of_x1a_2001_is_a_wrong_identifier_and_not_an_absent_one(
    conformance: str | None,
) -> None:
    finding = the_only(check(claimed(PdfxClaim("PDF/X-1a:2001", conformance, "Info")), ALL))
    assert (finding.code, finding.severity, finding.measured) == (
        "wrong-identifier",
        Severity.MUST_FIX,
        "PDF/X-1a:2001",
    )


def test_x1_2001_without_its_conformance_is_a_wrong_identifier() -> None:
    assert codes(check(claimed(PdfxClaim("PDF/X-1:2001", None, "Info")), ALL)) == ["wrong-identifier"]


def test_x4_in_the_old_place_alone_is_a_wrong_identifier() -> None:
    assert codes(check(claimed(PdfxClaim("PDF/X-4", None, "Info")), ALL)) == ["wrong-identifier"]


def test_x1a_2003_may_give_its_conformance_too() -> None:
    assert codes(check(claimed(replace(X1A_2003, conformance="PDF/X-1a:2003")), ALL)) == []


def test_the_level_in_both_places_is_fine_where_it_is_the_same() -> None:
    assert codes(check(claimed(replace(X4, other="PDF/X-4")), ALL)) == []
    both = PdfxClaim("PDF/X-1:2001", "PDF/X-1a:2001", "XMP", other="PDF/X-1:2001")
    assert codes(check(claimed(both), ALL)) == []


def test_two_levels_contradict_each_other() -> None:
    finding = the_only(check(claimed(replace(X4, other="PDF/X-1a:2003")), ALL))
    assert (finding.code, finding.severity) == ("contradiction", Severity.MUST_FIX)
    assert finding.measured == "PDF/X-4 and PDF/X-1a:2003"


# What contradicts a claim


def soft_masked() -> ImageFacts:
    return replace(image_facts((600, 600), (10, 10, 50, 50)), masking=Masking.SOFT)


EARLY = [
    pytest.param(GOOD.with_area(1, 1, 9, 9, state=MarkState(fill_opacity=0.5)), id="opacity"),
    pytest.param(GOOD.with_area(1, 1, 9, 9, state=MarkState(blend_mode="Multiply")), id="blend mode"),
    pytest.param(GOOD.with_area(1, 1, 9, 9, state=MarkState(soft_mask=True)), id="soft mask"),
    pytest.param(GOOD.with_image((10, 10, 50, 50), (600, 600), soft_masked()), id="masked picture"),
]


@pytest.mark.parametrize("piece", EARLY)
@pytest.mark.parametrize("claim", [X1A_2003, X3_2003])
def test_transparency_contradicts_x1a_and_x3(piece: Flyer, claim: PdfxClaim) -> None:
    finding = the_only(check(claimed(claim, piece), ALL))
    assert (finding.code, finding.severity, finding.measured) == (
        "untrue",
        Severity.MUST_FIX,
        "transparency (page 1)",
    )


@pytest.mark.parametrize("piece", EARLY)
def test_x4_takes_transparency(piece: Flyer) -> None:
    assert codes(check(claimed(X4, piece), ALL)) == []


@pytest.mark.parametrize("colour", [SCREEN_RED, Colour(ICC_CMYK, (1.0, 0.0, 0.0, 0.0))])
def test_only_x1a_forbids_screen_and_profiled_colours(colour: Colour) -> None:
    piece = GOOD.with_area(1, 1, 9, 9, colour=colour)
    assert codes(check(claimed(X1A_2001, piece), ALL)) == ["untrue"]
    assert codes(check(claimed(X3_2003, piece), ALL)) == []
    assert codes(check(claimed(X4, piece), ALL)) == []


def test_a_spot_colour_mixed_from_rgb_contradicts_x1a() -> None:
    ink = spot("Leaf Green")
    over_rgb = replace(ink, space=replace(ink.space, base=DEVICE_RGB))
    assert codes(check(claimed(X1A_2003, GOOD.with_area(1, 1, 9, 9, colour=over_rgb)), ALL)) == ["untrue"]
    assert codes(check(claimed(X1A_2003, GOOD.with_area(1, 1, 9, 9, colour=ink)), ALL)) == []


A_LAYER = Layer("Draft", on_screen=True, on_paper=False)
ENCRYPTED = replace(A_PDF, encryption=Encryption(opened=True, method="RC4", printing_allowed=True))


@pytest.mark.parametrize(
    ("pdf", "in_x4"),
    [
        (ENCRYPTED, ["untrue"]),
        (replace(A_PDF, trapped=None), []),
        (replace(A_PDF, trapped="Unknown"), []),
        (replace(A_PDF, has_id=False), ["untrue"]),  # of X-4 from memory
        (replace(A_PDF, title=None), []),
        (replace(A_PDF, created=None), []),
        (replace(A_PDF, modified=None), []),
        (replace(A_PDF, layers=(A_LAYER,)), []),
        (replace(A_PDF, object_streams=True), []),
        (replace(A_PDF, scripts=1), []),
        (replace(A_PDF, attachments=2), []),
    ],
)
def test_what_a_document_may_not_have(pdf: PdfFacts, in_x4: list[str]) -> None:
    assert codes(check(claimed(X1A_2003, pdf=pdf), ALL)) == ["untrue"]
    assert codes(check(claimed(X3_2003, pdf=pdf), ALL)) == ["untrue"]
    assert codes(check(claimed(X4, pdf=pdf), ALL)) == in_x4


@pytest.mark.parametrize("claim", [X1A_2001, X3_2003, X4])
def test_missing_fonts_and_boxes_contradict_every_level(claim: PdfxClaim) -> None:
    pdf = replace(A_PDF, pdfx=claim)
    missing = Font("Serif", "Type1", None, subset=False, object="8 0")
    assert codes(check(artwork(GOOD.page(), pdf=pdf, fonts=(EMBEDDED, missing)), ALL)) == ["untrue"]
    assert codes(check(artwork(GOOD.page(), pdf=pdf, fonts=(replace(missing, printed=False),)), ALL)) == []
    without = GOOD.with_trim(Unmeasured("trim", "no size fits"))
    assert codes(check(claimed(claim, without), ALL)) == ["untrue"]
    doubled = GOOD.with_boxes(replace(GOOD.boxes, art=GOOD.trim_box))
    assert codes(check(claimed(claim, doubled), ALL)) == ["untrue"]


@pytest.mark.parametrize(
    ("claim", "filter_name", "expected"),
    [
        (X1A_2001, "LZWDecode", ["untrue"]),
        (X3_2003, "LZWDecode", ["untrue"]),
        (X1A_2003, "JBIG2Decode", ["untrue"]),
        (X3_2003, "JPXDecode", ["untrue"]),
        (X4, "JPXDecode", []),
        (X3_2003, "DCTDecode", []),
    ],
)
def test_compressions_that_came_later_or_never(
    claim: PdfxClaim, filter_name: str, expected: list[str]
) -> None:
    facts = replace(image_facts((600, 600), (10, 10, 50, 50)), filters=(filter_name,))
    assert codes(check(claimed(claim, GOOD.with_image((10, 10, 50, 50), (600, 600), facts)), ALL)) == expected


def test_contradictions_are_one_finding() -> None:
    piece = GOOD.with_area(1, 1, 9, 9, colour=SCREEN_RED, state=MarkState(fill_opacity=0.5))
    finding = the_only(check(claimed(X1A_2003, piece, replace(A_PDF, has_id=False)), ALL))
    assert finding.measured == (
        "it has no file identifier, transparency (page 1) and colours other than CMYK, grey and spot (page 1)"
    )


def test_hidden_marks_do_not_contradict() -> None:
    assert (
        codes(check(claimed(X1A_2003, GOOD.with_area(1, 1, 9, 9, colour=SCREEN_RED, printed=False)), ALL))
        == []
    )


# Limits


def test_raster_files_are_left_to_the_rule_about_file_types() -> None:
    assert codes(check(placed(raster((1819, 2551)), parse_size("A5"), 3), ALL)) == []


def test_a_file_that_does_not_open_is_not_told_to_lack_a_claim() -> None:
    assert [item.severity for item in unjudged(check(unreadable(), ALL))] == [Severity.MUST_FIX]
    assert len(unjudged(check(without_pages(claimed(None)), ALL))) == 1


def test_unread_content_may_contradict() -> None:
    assert [item.page for item in unjudged(check(claimed(X4, GOOD.unreadable()), ALL))] == [1]


def test_only_levels_that_exist_can_be_accepted() -> None:
    with pytest.raises(ValidationError, match="PDF/X-1a"):
        PdfxClaimSettings(accepted=("PDF/X-1a",))


# The level decides, and not what is left over beside it


def test_a_conformance_that_is_left_over_in_an_x3_file_says_nothing() -> None:
    claim = PdfxClaim("PDF/X-3:2002", "PDF/X-1a:2001", "Info")
    assert codes(check(claimed(claim), ALL)) == []
    finding = the_only(check(claimed(claim), X1A_ONLY))
    assert (finding.code, finding.measured) == ("other", "PDF/X-3:2002")
    in_rgb = GOOD.with_area(1, 1, 9, 9, colour=SCREEN_RED)
    assert codes(check(claimed(claim, in_rgb), ALL)) == []


def test_a_level_of_nonsense_beside_a_right_conformance_is_no_level() -> None:
    finding = the_only(check(claimed(PdfxClaim("Press quality", "PDF/X-1a:2001", "Info")), ALL))
    assert (finding.code, finding.measured) == ("wrong-identifier", "Press quality")
    assert "there is no such level" in finding.message


@pytest.mark.parametrize("conformance", ["PDF/X-1:2001", "PDF/X-3:2002", "yes"])
def test_x1_2001_with_another_conformance_is_a_wrong_identifier(conformance: str) -> None:
    assert codes(check(claimed(PdfxClaim("PDF/X-1:2001", conformance, "Info")), ALL)) == ["wrong-identifier"]


def test_a_level_of_nonsense_beside_another_level_is_a_contradiction() -> None:
    claim = PdfxClaim("Press quality", None, "XMP", other="PDF/X-1a:2003")
    assert codes(check(claimed(claim), ALL)) == ["contradiction"]


# What a page draws with


@pytest.mark.parametrize("claim", [X1A_2001, X3_2003, X4])
@pytest.mark.parametrize(
    "construct", [Construct.TRANSFER, Construct.OPI, Construct.POSTSCRIPT, Construct.REFERENCE]
)
def test_what_no_level_takes(claim: PdfxClaim, construct: Construct) -> None:
    page = replace(GOOD.page(), constructs=frozenset({construct}))
    finding = the_only(check(artwork(page, pdf=replace(A_PDF, pdfx=claim)), ALL))
    assert finding.code == "untrue"
    assert str(finding.measured).endswith("(page 1)")


def test_groups_contradict_the_early_levels_alone() -> None:
    page = replace(GOOD.page(), constructs=frozenset({Construct.GROUP}))
    told = {
        claim: codes(check(artwork(page, pdf=replace(A_PDF, pdfx=claim)), ALL)) for claim in (X1A_2003, X4)
    }
    assert told == {X1A_2003: ["untrue"], X4: []}


@pytest.mark.parametrize("claim", [X1A_2001, X1A_2003, X3_2003, X4])
def test_a_page_that_is_a_group_for_nothing_is_advice_for_the_early_levels(claim: PdfxClaim) -> None:
    # PDF 1.4 brought groups; X-1a and X-3 know no transparency, X-4 does.
    page = replace(GOOD.page(), constructs=frozenset({Construct.PAGE_GROUP}))
    said = list(check(artwork(page, pdf=replace(A_PDF, pdfx=claim)), ALL))
    if claim == X4:
        assert said == []
    else:
        finding = the_only(said)
        assert (finding.code, finding.severity) == ("page-group", Severity.ADVICE)
        assert "page 1" in finding.message


def test_a_group_that_is_needed_is_told_by_what_needs_it_alone() -> None:
    groups = frozenset({Construct.PAGE_GROUP, Construct.GROUP})
    page = replace(GOOD.page(), constructs=groups)
    assert codes(check(artwork(page, pdf=replace(A_PDF, pdfx=X1A_2003)), ALL)) == ["untrue"]
    clear = tuple(
        replace(mark, state=replace(mark.state, fill_opacity=0.5)) for mark in GOOD.page().known_marks
    )
    page = replace(GOOD.page(), constructs=frozenset({Construct.PAGE_GROUP}), marks=clear)
    assert codes(check(artwork(page, pdf=replace(A_PDF, pdfx=X1A_2003)), ALL)) == ["untrue"]


def test_what_another_rule_tells_in_full_is_said_to_be_told_there() -> None:
    missing = Font("Serif", "Type1", None, subset=False, object="8 0")
    pdf = replace(A_PDF, pdfx=X4)
    alone = the_only(check(artwork(GOOD.page(), pdf=pdf, fonts=(missing,)), ALL))
    assert alone.told_by == (frozenset({"fonts-embedded.not-embedded"}),)
    more = the_only(check(artwork(GOOD.page(), pdf=replace(pdf, has_id=False), fonts=(missing,)), ALL))
    assert more.told_by == ()
