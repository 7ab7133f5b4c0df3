"""Rule sets: from TOML files to `RuleSet`, with every mistake told by file, line and key."""

from hotfolder.rulebook.loading import load_rule_set
from hotfolder.rulebook.places import rules_folder, shipped_rule_sets

__all__ = ["load_rule_set", "rules_folder", "shipped_rule_sets"]
