# Fonts: signs that are missing, widths, letters made of pixels or drawn by the file, faces that stand in.
from dataclasses import replace

import pytest

from hotfolder.checks.type.fonts import FontsSettings, check
from hotfolder.model.document import Font
from hotfolder.model.findings import Finding, Quantity, Severity, Unjudged
from tests.artwork.files import EMBEDDED, artwork, unreadable
from tests.artwork.flyer import flyer
from tests.checks.said import codes, findings, the_only, unjudged

PLAIN = FontsSettings()
COURIER = Font("Courier-Bold", "Type1", None, subset=False, object="8 0")
DRAWN = Font("T3", "Type3", "CharProcs", subset=False, object="9 0")


def used(*fonts: Font) -> list[Finding | Unjudged]:
    """What is said of a page with a line of text in each of the fonts."""
    piece = flyer()
    for step, font in enumerate(fonts):
        piece = piece.with_text((20, 20 + 20 * step), font=font.name)
    return list(check(artwork(piece.page(), fonts=fonts), PLAIN))


def test_a_whole_font_passes() -> None:
    assert codes(used(EMBEDDED)) == []


def test_missing_signs_must_be_fixed_and_are_told_with_their_place() -> None:
    finding = the_only(used(replace(EMBEDDED, missing_glyphs=2)))
    assert (finding.code, finding.severity, finding.page, len(finding.boxes)) == (
        "signs-missing",
        Severity.MUST_FIX,
        1,
        1,
    )
    assert finding.measured == Quantity.of(2, unit="missing characters")
    assert "Plain-Book" in finding.message
    assert "ABCDEF" not in finding.message


def test_a_font_whose_data_are_damaged_must_be_fixed() -> None:
    finding = the_only(used(replace(EMBEDDED, damaged=True)))
    assert (finding.code, finding.severity, len(finding.boxes)) == ("damaged", Severity.MUST_FIX, 1)
    assert finding.measured == "Plain-Book"


@pytest.mark.parametrize(
    ("font", "code"),
    [
        (replace(EMBEDDED, widths_differ=True), "widths-differ"),
        (replace(DRAWN, bitmap=True), "pixels"),
        (DRAWN, "drawn"),
    ],
)
def test_what_may_look_wrong_is_advice(font: Font, code: str) -> None:
    finding = the_only(used(font))
    assert (finding.code, finding.severity, len(finding.boxes)) == (code, Severity.ADVICE, 1)


def test_a_typewriter_face_beside_others_may_stand_in_for_a_lost_font() -> None:
    finding = the_only(used(EMBEDDED, COURIER))
    assert (finding.code, finding.severity, finding.measured) == ("stand-in", Severity.ADVICE, "Courier-Bold")
    assert finding.boxes[0].y0 > 100  # the second line of text
    assert codes(used(EMBEDDED, replace(COURIER, name="ABCDEF+CourierNew"))) == ["stand-in"]


def test_fonts_with_the_same_fault_are_one_finding() -> None:
    finding = the_only(used(DRAWN, replace(DRAWN, name="T4")))
    assert (finding.measured, len(finding.boxes)) == ("T3 and T4", 2)


# What is not flagged


def test_a_document_set_in_a_typewriter_face_alone_is_meant_so() -> None:
    assert codes(used(COURIER, replace(COURIER, name="Courier"))) == []


def test_fonts_of_text_that_does_not_print_do_not_count() -> None:
    hidden = replace(EMBEDDED, printed=False, missing_glyphs=2, widths_differ=True)
    assert codes(used(hidden, replace(COURIER, printed=False))) == []
    assert codes(used(COURIER, replace(EMBEDDED, printed=False))) == []


def test_a_font_whose_text_is_outside_the_page_has_no_place() -> None:
    finding = the_only(check(artwork(flyer().page(), fonts=(DRAWN,)), PLAIN))
    assert (finding.page, finding.boxes) == (None, ())
    assert finding.message.startswith("Text in letters")


def test_a_program_that_cannot_be_read_is_told_and_does_not_block() -> None:
    said = unjudged(used(replace(EMBEDDED, unread="its outlines end too early")))
    assert [item.severity for item in said] == [Severity.ADVICE]
    assert "Plain-Book" in said[0].reason
    assert "its outlines end too early" in said[0].reason


def test_what_could_not_be_read_is_not_judged() -> None:
    assert [item.severity for item in unjudged(check(unreadable(), PLAIN))] == [Severity.MUST_FIX]
    said = list(
        check(artwork(flyer().with_text((20, 20)).page(), flyer().unreadable().page(), fonts=(DRAWN,)), PLAIN)
    )
    assert [item.code for item in findings(said[:1])] == ["drawn"]
    assert [item.page for item in unjudged(said[1:])] == [2]
