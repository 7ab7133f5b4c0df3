"""Faults of output intents whose name and profile do not belong together, as careless exports leave them."""

import pikepdf
from pikepdf import Name

from tests.seeded.kinds import Told, fault
from tests.seeded.planting import Sheet
from tests.seeded.profiles import meant_for

# Of the conditions named here the printer of these tests prints by FOGRA51, FOGRA39, CGATS21-2-CRPC6 and
# CGATS TR 006.
_ANOTHER = "output-intent.other-condition"
_OF_ANOTHER = "pdfx-claim.output-profile-of-another-condition"


def _planted(sheet: Sheet, condition: str, profile: str) -> Told:
    meant_for(sheet, condition, profile)
    return Told(profile, page=None)


@fault("output-intent", "contradiction", _OF_ANOTHER)
def a_condition_for_coated_paper_with_a_profile_for_newsprint(sheet: Sheet) -> Told:
    return _planted(sheet, "FOGRA39", "ISOnewspaper26v4")


@fault("output-intent", "contradiction", _OF_ANOTHER)
def a_condition_for_coated_paper_with_a_profile_for_uncoated(sheet: Sheet) -> Told:
    return _planted(sheet, "FOGRA39", "PSO Uncoated ISO12647 (ECI)")


@fault("output-intent", "contradiction", _OF_ANOTHER)
def a_condition_of_2013_with_the_profile_of_2004(sheet: Sheet) -> Told:
    return _planted(sheet, "FOGRA51", "ISO Coated v2 (ECI)")


@fault("output-intent", "contradiction", _OF_ANOTHER)
def a_condition_with_a_profile_that_names_another(sheet: Sheet) -> Told:
    return _planted(sheet, "FOGRA39", "Coated FOGRA27 (ISO 12647-2:2004)")


@fault("output-intent", "contradiction", _OF_ANOTHER)
def a_european_condition_with_an_american_profile(sheet: Sheet) -> Told:
    return _planted(sheet, "FOGRA39", "SWOP2006_Coated3v2.icc")


@fault("output-intent", "contradiction", _OF_ANOTHER)
def an_american_condition_with_a_european_profile(sheet: Sheet) -> Told:
    return _planted(sheet, "CGATS TR 006", "PSO Coated v3")


@fault("output-intent", "contradiction", _OF_ANOTHER)
def an_american_condition_with_that_of_another_paper(sheet: Sheet) -> Told:
    return _planted(sheet, "CGATS21-2-CRPC6", "CGATS21_CRPC5.icc")


@fault("output-intent", "contradiction", _ANOTHER, _OF_ANOTHER)
def a_condition_for_uncoated_paper_with_a_profile_for_coated(sheet: Sheet) -> Told:
    return _planted(sheet, "FOGRA52", "PSO Coated v3")


@fault("output-intent", "contradiction", _ANOTHER, _OF_ANOTHER, "pdfx-claim.registered-name")
def a_condition_called_by_its_profile_with_another_profile(sheet: Sheet) -> Told:
    return _planted(sheet, "PSO Uncoated v3 (FOGRA52)", "PSOcoated_v3")


@fault("output-intent", "no-profile", "readable.damaged", "pdfx-claim.output-profile-unreadable")
def a_profile_that_is_no_profile(sheet: Sheet) -> Told:
    """One cause, one finding: nothing else in the file is damaged."""
    intent = sheet.pdf.Root.OutputIntents[0]
    intent.DestOutputProfile = pikepdf.Stream(sheet.pdf, b"to be put in later", N=4)
    del intent[Name.RegistryName]
    return Told("no profile", page=None)
