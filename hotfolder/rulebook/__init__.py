"""Rule sets: from TOML files to `RuleSet`, with every mistake told by file, line and key."""

from hotfolder.rulebook.loading import load_named_rule_set, load_rule_set
from hotfolder.rulebook.places import own_rule_sets, rules_folder, shipped_rule_sets

__all__ = ["load_named_rule_set", "load_rule_set", "own_rule_sets", "rules_folder", "shipped_rule_sets"]
