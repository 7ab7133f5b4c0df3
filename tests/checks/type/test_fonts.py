# Fonts: signs that are missing, widths, letters made of pixels or drawn by the file, faces that stand in.
from dataclasses import replace

import pytest

from hotfolder.checks.type.fonts import FontsSettings, check
from hotfolder.model.document import Font
from hotfolder.model.findings import Finding, Quantity, Severity, Unjudged
from tests.artwork.files import EMBEDDED, artwork, unreadable
from tests.artwork.flyer import flyer
from tests.checks.said import codes, finding, findings, unjudged

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
    found = finding(used(replace(EMBEDDED, missing_glyphs=2)))
    assert (found.code, found.severity, found.page, len(found.boxes)) == (
        "signs-missing",
        Severity.MUST_FIX,
        1,
        1,
    )
    assert found.measured == Quantity.of(2, unit="missing characters")
    assert "Plain-Book" in found.message
    assert "ABCDEF" not in found.message


def test_a_font_whose_data_are_damaged_must_be_fixed() -> None:
    found = finding(used(replace(EMBEDDED, damaged=True)))
    assert (found.code, found.severity, len(found.boxes)) == ("damaged", Severity.MUST_FIX, 1)
    assert found.measured == "Plain-Book"


@pytest.mark.parametrize(
    ("font", "code"),
    [
        (replace(EMBEDDED, widths_differ=True), "widths-differ"),
        (replace(DRAWN, bitmap=True), "pixels"),
        (DRAWN, "drawn"),
    ],
)
def test_what_may_look_wrong_is_advice(font: Font, code: str) -> None:
    found = finding(used(font))
    assert (found.code, found.severity, len(found.boxes)) == (code, Severity.ADVICE, 1)


def test_a_typewriter_face_beside_others_may_stand_in_for_a_lost_font() -> None:
    found = finding(used(EMBEDDED, COURIER))
    assert (found.code, found.severity, found.measured) == ("stand-in", Severity.ADVICE, "Courier-Bold")
    assert found.boxes[0].y0 > 100  # the second line of text
    assert codes(used(EMBEDDED, replace(COURIER, name="ABCDEF+CourierNew"))) == ["stand-in"]


def test_fonts_with_the_same_fault_are_one_finding() -> None:
    found = finding(used(DRAWN, replace(DRAWN, name="T4")))
    assert (found.measured, len(found.boxes)) == ("T3 and T4", 2)


# What is not flagged


def test_a_document_set_in_a_typewriter_face_alone_is_meant_so() -> None:
    assert codes(used(COURIER, replace(COURIER, name="Courier"))) == []


def test_fonts_of_text_that_does_not_print_do_not_count() -> None:
    hidden = replace(EMBEDDED, printed=False, missing_glyphs=2, widths_differ=True)
    assert codes(used(hidden, replace(COURIER, printed=False))) == []
    assert codes(used(COURIER, replace(EMBEDDED, printed=False))) == []


def test_a_font_whose_text_is_outside_the_page_has_no_place() -> None:
    found = finding(check(artwork(flyer().page(), fonts=(DRAWN,)), PLAIN))
    assert (found.page, found.boxes) == (None, ())
    assert found.message.startswith("Text in letters")


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
