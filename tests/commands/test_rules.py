"""What `rules show` and `rules explain` say."""

import re
from typing import Any

import pytest

from hotfolder.checks import CHECKS
from hotfolder.commands.rules import explain_rule, show_rule_set
from hotfolder.model.ruleset import Rule


@pytest.mark.parametrize(
    ("rule_set", "told"),
    [
        ("flyer-offset-coated", "Press: coated, Coated paper"),
        ("newspaper-ad", "its profile does not come with hotfolder"),
        ("office-pdf", "Press: none named"),
    ],
)
def test_the_press_that_plates_are_drawn_for_is_told(rule_set: str, told: str) -> None:
    assert told in show_rule_set(rule_set)


@pytest.mark.parametrize("rule", CHECKS, ids=lambda rule: rule.id)
def test_each_setting_of_a_rule_is_explained(rule: Rule[Any]) -> None:
    explained = explain_rule(rule.id)
    own = [name for name in rule.settings.model_fields if name not in {"apply", "ask", "severity"}]
    assert [name for name in own if not re.search(rf"\b{name}\b", explained)] == []


@pytest.mark.parametrize(
    ("rule_set", "told"),
    [
        ("flyer-offset-coated", "\n  one ink: 0.25 pt\n"),
        ("flyer-offset-coated", "\n  largest: 500 MB\n"),
        ("flyer-offset-coated", "page-count (must fix)\n  pages: 1, 2\n\n"),
        ("magazine-ad", "8.375 x 10.875 in"),
    ],
)
def test_figures_are_shown_as_the_rule_set_has_them(rule_set: str, told: str) -> None:
    assert told in show_rule_set(rule_set)
