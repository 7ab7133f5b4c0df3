"""The rule sets of a studio: one for each printer, and one for each product that has its own."""

from collections.abc import Mapping
from dataclasses import replace
from pathlib import Path

from hotfolder.checks.size.trim_sizes import trim_settings
from hotfolder.config.studio import Studio
from hotfolder.config.tomlfile import KeyPath
from hotfolder.errors import ConfigError, ConfigTrouble, NoSuchRuleSetError
from hotfolder.model.ruleset import RuleSet
from hotfolder.rulebook.loading import read_rule_set
from hotfolder.rulebook.places import find_rule_set

Place = tuple[str, str | None]
Binding = Mapping[Place, RuleSet]
"""The rule set of each printer (with None) and of each of its products, by their names."""


def load_rules_of(studio: Studio) -> Binding:
    """Every rule set that `studio` names.

    Raises ConfigError with all mistakes at once: an unknown rule set is told by its line in the
    studio file, a mistake in a rule set by its line there, once.
    """
    troubles: list[ConfigTrouble] = []
    loaded: dict[Path, RuleSet | None] = {}
    binding: dict[tuple[str, str | None], RuleSet] = {}
    for (printer, product), (key_path, name) in _wanted(studio).items():
        path = _path_of(name, key_path, studio, troubles)
        if path is None:
            continue
        if path not in loaded:
            loaded[path] = _read(path, studio, troubles)
        ruleset = loaded[path]
        if ruleset is not None:
            binding[printer, product] = ruleset
    if troubles:
        raise ConfigError(tuple(troubles))
    return {place: _knowing(place, ruleset, binding) for place, ruleset in binding.items()}


def _knowing(place: Place, ruleset: RuleSet, binding: Binding) -> RuleSet:
    """The rule set of one inbox, knowing the sizes that the others take: a file may lie in the wrong one."""
    elsewhere = tuple(
        trim_settings.TakenElsewhere(_inbox(other), taken.product.sizes)
        for other, taken in binding.items()
        if other != place and taken.product.sizes
    )
    rules = tuple(
        replace(applied, settings=applied.settings.knowing(elsewhere))
        if isinstance(applied.settings, trim_settings.TrimSizeSettings)
        else applied
        for applied in ruleset.rules
    )
    return replace(ruleset, rules=rules)


def _inbox(place: Place) -> str:
    printer, product = place
    return f"{printer}/inbox" if product is None else f"{printer}/inbox/{product}"


def _wanted(studio: Studio) -> dict[tuple[str, str | None], tuple[KeyPath, str]]:
    """For each printer and product the place in the studio file, and what it says there."""
    wanted: dict[tuple[str, str | None], tuple[KeyPath, str]] = {}
    for printer in studio.printers:
        table: KeyPath = ("printers", printer.name)
        wanted[printer.name, None] = ((*table, "rules"), printer.rules)
        for product in printer.products:
            place = (*table, "products", product.name, "rules")
            wanted[printer.name, product.name] = (place, product.rules)
    return wanted


def _path_of(name: str, key_path: KeyPath, studio: Studio, troubles: list[ConfigTrouble]) -> Path | None:
    """The file of the rule set `name`, which stands at `key_path`; None, with a trouble more, for none."""
    try:
        path = find_rule_set(name, studio.root)
    except NoSuchRuleSetError as error:
        troubles.append(studio.written.trouble(key_path, error.problem, error.remedy))
        return None
    if not path.exists():
        remedy = "Check the path; it counts from the studio's folder."
        troubles.append(studio.written.trouble(key_path, f"there is no rule set at {path}", remedy))
        return None
    return path


def _read(path: Path, studio: Studio, troubles: list[ConfigTrouble]) -> RuleSet | None:
    try:
        return read_rule_set(path, studio.root)
    except ConfigError as error:
        troubles.extend(error.troubles)
        return None
