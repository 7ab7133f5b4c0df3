# The studio in `examples/` can be used as it stands.

from pathlib import Path

import pytest

from hotfolder.config.studio import load_studio
from hotfolder.rulebook import load_rule_set
from hotfolder.rulebook.binding import load_rules_of
from hotfolder.units import mm_to_pt

EXAMPLE = Path(__file__).parents[2] / "examples" / "studio"
OWN_SETS = sorted((EXAMPLE / "rules").glob("*.toml"))


def test_its_studio_file_and_every_rule_set_in_it_are_right() -> None:
    rules = load_rules_of(load_studio(EXAMPLE))
    named = {(printer, product): rule_set.name for (printer, product), rule_set in rules.items()}
    assert named == {
        ("ferncliff", None): "ferncliff",
        ("ferncliff", "maps"): "ferncliff-maps",
        ("ferncliff", "cards"): "business-card",
        ("tollgate", None): "large-format-outdoor",
        ("orchard-street", None): "orchard-street-handbills",
    }


@pytest.mark.parametrize("path", OWN_SETS, ids=lambda path: path.stem)
def test_each_own_set_says_where_it_is_from_and_when_it_was_checked(path: Path) -> None:
    rule_set = load_rule_set(path.stem, EXAMPLE)
    assert "invented" in rule_set.source
    assert rule_set.checked is not None


def test_a_product_inherits_what_its_printer_says() -> None:
    maps = load_rule_set("ferncliff-maps", EXAMPLE)
    wanted = {rule.rule.id: rule.settings for rule in maps.rules}
    assert wanted["bleed"].wanted.points == pytest.approx(mm_to_pt(2))  # type: ignore[attr-defined] # of that rule
    assert wanted["output-intent"].ask
