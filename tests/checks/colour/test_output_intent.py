# Output intent: absent, doubled, incomplete, or for another printing condition.
from dataclasses import replace

import pytest

from hotfolder.checks.colour.output_intent import OutputIntentSettings, check
from hotfolder.model.artwork import Artwork
from hotfolder.model.colour import Colour, ColourKind, ColourSpace
from hotfolder.model.document import OutputIntent, PdfxClaim
from hotfolder.model.findings import Quantity, Severity
from hotfolder.units import parse_size
from tests.artwork.colours import cmyk
from tests.artwork.files import A_PDF, COATED, X1A_2003, X4, artwork, unreadable
from tests.artwork.flyer import flyer
from tests.artwork.pictures import placed, raster
from tests.checks.said import codes, figures, findings, the_only, unjudged, without_pages

PLAIN = OutputIntentSettings()
COATED_ONLY = OutputIntentSettings(conditions=("FOGRA39", "FOGRA51"))


def intended(*intents: OutputIntent, claim: PdfxClaim = X4) -> Artwork:
    return artwork(flyer().page(), pdf=replace(A_PDF, pdfx=claim, output_intents=intents))


def test_a_whole_output_intent_passes() -> None:
    assert codes(check(intended(COATED), PLAIN)) == []
    assert codes(check(intended(COATED), COATED_ONLY)) == []


def test_none_must_be_fixed() -> None:
    finding = the_only(check(intended(), PLAIN))
    assert (finding.code, finding.severity) == ("absent", Severity.MUST_FIX)


def test_one_for_archives_is_none_for_the_press() -> None:
    archive = replace(COATED, subtype="GTS_PDFA1")
    assert codes(check(intended(archive), PLAIN)) == ["absent"]
    assert codes(check(intended(archive, COATED), PLAIN)) == []


def test_two_are_advice() -> None:
    finding = the_only(check(intended(COATED, COATED), PLAIN))
    assert (finding.code, finding.severity) == ("several", Severity.ADVICE)
    assert finding.measured == Quantity.of(2, unit="output intents")


def test_another_condition_is_advice() -> None:
    finding = the_only(check(intended(replace(COATED, identifier="FOGRA52")), COATED_ONLY))
    assert (finding.code, finding.severity, *figures(finding)) == (
        "other-condition",
        Severity.ADVICE,
        "FOGRA52",
        "FOGRA39 or FOGRA51",
    )


@pytest.mark.parametrize("written", ["fogra 51", "FOGRA51 "])
def test_conditions_are_compared_without_case_and_spaces(written: str) -> None:
    assert codes(check(intended(replace(COATED, identifier=written)), COATED_ONLY)) == []


@pytest.mark.parametrize("written", ["FOGRA39L", "ISO Coated v2 (ECI)", "Coated FOGRA39 (ISO 12647-2:2004)"])
def test_a_condition_by_another_of_its_names_is_the_one_expected(written: str) -> None:
    assert codes(check(intended(replace(COATED, identifier=written)), COATED_ONLY)) == []


def press_profile(name: str, kind: ColourKind = ColourKind.CMYK) -> Colour:
    return Colour(ColourSpace("ICCBased", kind, 4, profile=name), (1.0, 0.0, 0.0, 0.0))


def test_colours_made_for_another_press_are_advice_with_their_place() -> None:
    page = flyer().with_area(10, 10, 30, 30, colour=press_profile("An uncoated press"))
    facts = replace(A_PDF, pdfx=X4, output_intents=(COATED,))
    finding = the_only(check(artwork(page.page(), pdf=facts), PLAIN))
    assert (finding.code, finding.severity, finding.page, len(finding.boxes)) == (
        "other-profile",
        Severity.ADVICE,
        1,
        1,
    )
    assert figures(finding) == ("An uncoated press", "A coated press")


@pytest.mark.parametrize(
    "colour",
    [
        press_profile("a  COATED press"),
        press_profile("A screen", ColourKind.RGB),
        press_profile("Dot gain 20 %", ColourKind.GREY),
        cmyk(100, 0, 0, 0),
    ],
)
def test_profiles_that_are_the_same_or_no_presss_are_not_flagged(colour: Colour) -> None:
    page = flyer().with_area(10, 10, 30, 30, colour=colour).page()
    facts = replace(A_PDF, pdfx=X4, output_intents=(COATED,))
    assert codes(check(artwork(page, pdf=facts), PLAIN)) == []


def test_a_profile_of_the_same_printing_condition_is_made_for_no_other_press() -> None:
    meant = replace(COATED, identifier="FOGRA39", profile_name="ISO Coated v2 (ECI)")
    facts = replace(A_PDF, pdfx=X4, output_intents=(meant,))
    for name, told in (("Coated FOGRA39 (ISO 12647-2:2004)", []), ("PSO Coated v3", ["other-profile"])):
        page = flyer().with_area(10, 10, 30, 30, colour=press_profile(name)).page()
        assert codes(check(artwork(page, pdf=facts), PLAIN)) == told


@pytest.mark.parametrize("condition", [None, "House paper, coated"])
def test_an_unnamed_condition_must_be_fixed(condition: str | None) -> None:
    finding = the_only(check(intended(replace(COATED, identifier=None, condition=condition)), PLAIN))
    assert finding.code == "no-condition"
    assert ("names no printing condition" in finding.message) is (condition is None)


def test_an_intent_without_name_and_profile_is_not_said_to_have_a_name() -> None:
    bare = replace(WITHOUT, identifier=None, condition=None)
    no_name, no_profile = findings(check(intended(bare), PLAIN))
    assert "names no printing condition" in no_name.message
    assert no_profile.message.startswith("The output intent has no colour profile")


@pytest.mark.parametrize("space", ["RGB", "GRAY", "RGB "])
def test_a_profile_of_another_kind_must_be_fixed(space: str) -> None:
    finding = the_only(check(intended(replace(COATED, profile_space=space)), PLAIN))
    assert (finding.code, finding.severity, *figures(finding)) == (
        "wrong-space",
        Severity.MUST_FIX,
        space.strip(),
        "CMYK",
    )
    assert (
        codes(
            check(intended(replace(COATED, profile_space=space)), OutputIntentSettings(space=space.strip()))
        )
        == []
    )


WITHOUT = replace(COATED, profile_name=None, profile_space=None, profile_class=None)


def test_x4_must_bring_its_profile() -> None:
    finding = the_only(check(intended(WITHOUT), PLAIN))
    assert (finding.code, finding.severity) == ("no-profile", Severity.MUST_FIX)


def test_a_registered_condition_needs_no_profile_before_x4() -> None:
    # ISO 15930-4: the profile may be left out where RegistryName is the ICC's registry.
    assert codes(check(intended(WITHOUT, claim=X1A_2003), PLAIN)) == []
    assert codes(check(intended(replace(WITHOUT, registry=None), claim=X1A_2003), PLAIN)) == ["no-profile"]


def test_a_level_may_keep_its_profile_outside() -> None:
    assert codes(check(intended(WITHOUT, claim=replace(X4, level="PDF/X-4p")), PLAIN)) == []


def test_raster_files_are_left_alone() -> None:
    assert codes(check(placed(raster((1819, 2551)), parse_size("A5"), 3), PLAIN)) == []


def test_a_file_that_does_not_open_is_not_judged() -> None:
    assert len(unjudged(check(unreadable(), PLAIN))) == 1
    assert len(unjudged(check(without_pages(intended()), PLAIN))) == 1


# A name and a profile that do not belong together; names of profiles as their publishers give them.


@pytest.mark.parametrize(
    ("identifier", "profile"),
    [
        ("FOGRA39", "ISOnewspaper26v4"),
        ("FOGRA39L", "PSO Coated v3"),
        ("FOGRA51", "Coated FOGRA39 (ISO 12647-2:2004)"),
        ("CGATS TR 006", "SWOP2006_Coated3v2"),
        ("CGATS21-2-CRPC6", "CGATS21_CRPC1.icc"),
        ("IFRA26", "ISO Coated v2 (ECI)"),
        ("JC200103", "ISO Coated v2 (ECI)"),
    ],
)
def test_a_profile_of_another_condition_is_a_contradiction(identifier: str, profile: str) -> None:
    intent = replace(COATED, identifier=identifier, profile_name=profile)
    finding = the_only(check(intended(intent), PLAIN))
    assert (finding.code, finding.severity) == ("contradiction", Severity.MUST_FIX)
    assert figures(finding) == (profile, f"a profile for {identifier}")


@pytest.mark.parametrize(
    ("identifier", "profile"),
    [
        ("FOGRA39", "ISO Coated v2 300% (ECI)"),
        ("FOGRA39L", "Coated FOGRA39 (ISO 12647-2:2004)"),
        ("FOGRA47", "PSO Uncoated ISO12647 (ECI)"),
        ("FOGRA52", "PSO Uncoated v3 (FOGRA52)"),
        ("FOGRA53", "eciCMYK"),
        ("FOGRA59", "eciCMYK v2"),
        ("IFRA26", "WAN-IFRAnewspaper26v5"),
        ("CGATS TR003", "SWOP2006_Coated3v2.icc"),
        ("CGATS/GRACoL TR006 2007", "GRACoL2006_Coated1v2"),
        ("JC200103", "Japan Color 2001 Coated"),
        ("ISO Coated v2 (ECI)", "FOGRA39L"),
        ("Custom", "ISO Coated v2 (ECI)"),
        ("FOGRA39", "Press 4, March 2026"),
        ("FOGRA39", None),
        ("House standard 390", "FOGRA51 and FOGRA52, mean"),
        ("FOGRA52", "FOGRA51 and FOGRA52, mean"),
    ],
)
def test_a_profile_that_tells_the_same_condition_or_none_is_no_contradiction(
    identifier: str, profile: str | None
) -> None:
    assert codes(check(intended(replace(COATED, identifier=identifier, profile_name=profile)), PLAIN)) == []
