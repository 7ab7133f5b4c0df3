# Fonts embedded: those that print and are not in the file.
from dataclasses import replace

from hotfolder.checks.type.fonts_embedded import FontsEmbeddedSettings, check
from hotfolder.model.document import Font
from hotfolder.model.findings import Severity
from hotfolder.units import parse_size
from tests.artwork.files import EMBEDDED, artwork, unreadable
from tests.artwork.flyer import flyer
from tests.artwork.pictures import placed, raster
from tests.checks.said import codes, findings, the_only, unjudged

PLAIN = FontsEmbeddedSettings()
PAGE = flyer().with_text((20, 20)).page()
MISSING = Font("Serif-Roman", "Type1", None, subset=False, object="8 0")


def test_embedded_fonts_pass() -> None:
    assert codes(check(artwork(PAGE, fonts=(EMBEDDED,)), PLAIN)) == []
    assert codes(check(artwork(PAGE, fonts=()), PLAIN)) == []


def test_a_missing_font_must_be_fixed() -> None:
    finding = the_only(check(artwork(PAGE, fonts=(EMBEDDED, MISSING)), PLAIN))
    assert (finding.code, finding.severity, finding.page) == ("not-embedded", Severity.MUST_FIX, None)
    assert finding.measured == "not embedded: Serif-Roman"


def test_all_missing_fonts_are_one_finding_and_each_name_is_told_once() -> None:
    again = replace(MISSING, object="9 0")
    other = Font("ABCDEF+Sans", "TrueType", None, subset=True, object="10 0")
    finding = the_only(check(artwork(PAGE, fonts=(MISSING, again, other)), PLAIN))
    assert finding.measured == "not embedded: Serif-Roman and Sans"


def test_a_font_that_does_not_print_is_not_flagged() -> None:
    assert codes(check(artwork(PAGE, fonts=(replace(MISSING, printed=False),)), PLAIN)) == []


def test_a_type_3_font_is_always_there() -> None:
    drawn = Font("Drawn", "Type3", "CharProcs", subset=False, object="11 0")
    assert codes(check(artwork(PAGE, fonts=(drawn,)), PLAIN)) == []


def test_raster_files_need_no_fonts() -> None:
    assert codes(check(placed(raster((1819, 2551)), parse_size("A5"), 3), PLAIN)) == []


def test_unread_content_may_use_other_fonts() -> None:
    said = list(check(artwork(PAGE, flyer().unreadable().page(), fonts=(MISSING,)), PLAIN))
    assert [item.code for item in findings(said[:1])] == ["not-embedded"]
    assert [(item.severity, item.page) for item in unjudged(said[1:])] == [(Severity.MUST_FIX, 2)]
    assert len(unjudged(check(unreadable(), PLAIN))) == 1


def test_names_from_the_file_are_shown_on_one_line() -> None:
    odd = replace(MISSING, name="Se\nrif")
    assert "\n" not in the_only(check(artwork(PAGE, fonts=(odd,)), PLAIN)).message
