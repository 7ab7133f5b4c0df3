"""What `rules show` says above the rules."""

import pytest

from hotfolder.commands.rules import show_rule_set


@pytest.mark.parametrize(
    ("rule_set", "told"),
    [
        ("flyer-offset-coated", "Press: coated, Coated paper"),
        ("newspaper-ad", "its profile is not at hand"),
        ("office-pdf", "Press: none named"),
    ],
)
def test_the_press_that_plates_are_drawn_for_is_told(rule_set: str, told: str) -> None:
    assert told in show_rule_set(rule_set)
