"""Output intents whose name and profile look unlike each other and belong together."""

from tests.seeded.kinds import look_alike
from tests.seeded.planting import Sheet
from tests.seeded.profiles import meant_for


@look_alike("output-intent")
def a_condition_with_the_profile_that_is_called_by_its_paper(sheet: Sheet) -> None:
    meant_for(sheet, "FOGRA39", "ISO Coated v2 (ECI)")


@look_alike("output-intent")
def a_condition_with_the_profile_of_less_ink_for_the_same(sheet: Sheet) -> None:
    meant_for(sheet, "FOGRA39", "ISO Coated v2 300% (ECI)")


@look_alike("output-intent")
def a_condition_with_a_profile_that_names_a_standard_as_well(sheet: Sheet) -> None:
    meant_for(sheet, "FOGRA39", "Coated FOGRA39 (ISO 12647-2:2004)")


@look_alike("output-intent")
def a_condition_with_a_profile_that_is_named_after_its_chart(sheet: Sheet) -> None:
    meant_for(sheet, "FOGRA39", "FOGRA39L_coated")


@look_alike("output-intent")
def a_condition_with_the_profile_of_a_house(sheet: Sheet) -> None:
    meant_for(sheet, "FOGRA51", "Press 4, coated, March 2026")


@look_alike("output-intent")
def a_condition_with_a_profile_without_a_name(sheet: Sheet) -> None:
    meant_for(sheet, "FOGRA51", "")


@look_alike("output-intent")
def a_condition_of_2013_with_its_profile(sheet: Sheet) -> None:
    meant_for(sheet, "FOGRA51", "PSOcoated_v3")


@look_alike("output-intent")
def an_american_condition_with_its_profile(sheet: Sheet) -> None:
    meant_for(sheet, "CGATS TR 006", "GRACoL2006_Coated1v2")


@look_alike("output-intent")
def an_american_condition_with_the_file_of_its_profile(sheet: Sheet) -> None:
    meant_for(sheet, "CGATS21-2-CRPC6", "CGATS21_CRPC6.icc")
