# Each fault is found on sound pages: by its rule, at its place, with its figure, and nothing else. On three
# of the ten here, on all of them among the slow tests.
import pytest

from hotfolder.checks import CHECKS
from hotfolder.checks.pdf.pdfx.register import REQUIREMENTS
from hotfolder.checks.pdf.pdfx_claim import ID as PDFX
from tests.seeded.bases import BASES, some_bases
from tests.seeded.faults import FAULTS
from tests.seeded.judging import outcome_of_fault, rule_set
from tests.seeded.kinds import Fault

LEAST_KINDS = 45

# Codes that no fault of a PDF file of this product can bring about, and why.
NOT_PLANTED = {
    "layers.picture-layers": "of picture files",
    "layers.no-flat-picture": "of picture files",
    "trim-size.placed": "of picture files",
    "page-count.too-few": "of brochures: this product names its counts",
    "page-count.too-many": "of brochures: this product names its counts",
    "page-count.multiple": "of brochures: this product names its counts",
    "readable.limits": "of files too large to be planted here",
    "inks-used.too-many-spots": "of orders that count their spot inks: this one names them",
}


@pytest.mark.parametrize(
    ("place", "fault"), [pytest.param(place, each, id=str(each)) for place, each in enumerate(FAULTS)]
)
def test_the_fault_is_found(place: int, fault: Fault) -> None:
    outcomes = {base.name: outcome_of_fault(fault, base) for base in some_bases(place)}
    assert {name: outcome.wrong for name, outcome in outcomes.items() if outcome.wrong} == {}


@pytest.mark.slow
@pytest.mark.parametrize("fault", FAULTS, ids=str)
def test_the_fault_is_found_on_every_page(fault: Fault) -> None:
    outcomes = {base.name: outcome_of_fault(fault, base) for base in BASES}
    assert {name: outcome.wrong for name, outcome in outcomes.items() if outcome.wrong} == {}
    # What it is said to bring with it does come, on some page at least.
    assert fault.also <= {code for outcome in outcomes.values() for code in outcome.told}


def test_there_are_enough_kinds_each_of_its_own_name() -> None:
    assert len({fault.name for fault in FAULTS}) == len(FAULTS) >= LEAST_KINDS


def test_each_code_of_each_rule_for_pdf_files_is_planted() -> None:
    planted = {f"{fault.rule}.{fault.code}" for fault in FAULTS}
    applied = _asked()
    there_are = {f"{rule.id}.{code}" for rule in CHECKS if rule.id in applied for code in rule.settings.codes}
    # The rule about PDF/X has files of its own for them, level by level.
    of_levels = {f"{PDFX}.{requirement.id}" for requirement in REQUIREMENTS}
    assert there_are - planted - of_levels == set(NOT_PLANTED)


def test_each_rule_but_that_of_picture_files_is_asked() -> None:
    assert {rule.id for rule in CHECKS} - _asked() == {"picture-file"}


def _asked() -> set[str]:
    """The rules that one of the rule sets asks."""
    return {each.rule.id for name in {fault.rules for fault in FAULTS} for each in rule_set(name).rules}
