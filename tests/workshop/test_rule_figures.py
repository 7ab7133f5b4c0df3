# What a rule set and a judgement mean for the report's pictures.

from dataclasses import replace

from hotfolder.checks import CHECKS
from hotfolder.checks.ink.total_ink import TotalInkSettings
from hotfolder.model.findings import Judgement
from hotfolder.model.ruleset import AppliedRule, RuleSet, RuleSettings
from hotfolder.presses.loading import load_press
from hotfolder.workshop.rule_figures import proof_rules
from tests.drawing.plates_by_hand import CUT, flyer_plates, ink_of, page_of
from tests.report.samples import BLEED_FINDING, MARGIN_FINDING, flyer, judgement, rule_set

NOTHING = Judgement((), (), ())


def with_total_ink(settings: TotalInkSettings) -> RuleSet:
    (rule,) = (check for check in CHECKS if check.id == "total-ink")
    applied: AppliedRule[RuleSettings] = AppliedRule(rule, settings)
    return replace(rule_set(), rules=(*rule_set().rules, applied))


def test_the_limit_is_that_of_the_rule() -> None:
    rules = proof_rules(flyer(), with_total_ink(TotalInkSettings(limit=280.0)), NOTHING)
    assert rules.limit_percent == 280
    assert rules.bleed_pt == rule_set().product.bleed_pt


def test_a_figure_that_is_left_open_is_no_limit() -> None:
    assert proof_rules(flyer(), with_total_ink(TotalInkSettings(ask=True)), NOTHING).limit_percent is None
    assert proof_rules(flyer(), rule_set(), NOTHING).limit_percent is None


def test_technical_inks_are_left_out_by_the_names_of_the_rule_set() -> None:
    plates = flyer_plates(px_per_mm=3)
    inked = replace(flyer(), pages=(page_of(1, ink_of(plates)),))
    rules = proof_rules(inked, with_total_ink(TotalInkSettings(limit=280.0, technical=("cut",))), NOTHING)
    assert rules.left_out == {CUT}


def test_pages_with_findings_come_first_and_those_on_bleed_are_named() -> None:
    later = replace(BLEED_FINDING, page=7)
    told = Judgement((*judgement().findings, later, replace(MARGIN_FINDING, page=9)), (), ())
    rules = proof_rules(flyer(), rule_set(), told)
    assert rules.finding_pages == (1, 7, 9)
    assert rules.bleed_pages == {1, 7}


def test_press_and_paper_are_those_of_the_rule_set() -> None:
    press = load_press("coated")
    rules = proof_rules(flyer(), replace(rule_set(), press=press, paper_white=True), NOTHING)
    assert (rules.press, rules.paper_white) == (press, True)
