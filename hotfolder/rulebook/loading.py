"""From the layers of a rule set to the model that the checks are judged by."""

from collections.abc import Iterator, Mapping
from dataclasses import replace
from datetime import date
from pathlib import Path
from typing import Annotated, Any, Final

from pydantic import BaseModel, ConfigDict, Field, ValidationError

from hotfolder.checks import CHECKS
from hotfolder.checks.size.bleed import BleedSettings
from hotfolder.checks.size.trim_sizes import trim_settings
from hotfolder.config.studio import load_studio
from hotfolder.config.tomlfile import KeyPath
from hotfolder.config.troubles import troubles_of
from hotfolder.errors import ConfigError, ConfigTrouble, NoSuchRuleSetError
from hotfolder.model.press import Press
from hotfolder.model.ruleset import AppliedRule, Product, Rule, RuleSet, RuleSettings
from hotfolder.presses.loading import load_press
from hotfolder.rulebook.layers import RuleSetLayers, Table, read_layers
from hotfolder.rulebook.places import find_rule_set
from hotfolder.wording.nearest import choose

AnyRule = Rule[Any]  # rules of all kinds of settings side by side
Applied = AppliedRule[RuleSettings]


def load_rule_set(name_or_path: str, beside: Path | None = None) -> RuleSet:
    """The rule set that `name_or_path` means for the studio folder `beside`, or for no studio.

    Raises ConfigError: with every mistake of its files at once, or with the nearest name where
    there is no such rule set.
    """
    try:
        path = find_rule_set(name_or_path, beside)
    except NoSuchRuleSetError as error:
        trouble = ConfigTrouble(Path(name_or_path), None, "", error.problem, error.remedy)
        raise ConfigError((trouble,)) from None
    return read_rule_set(path, beside)


def load_named_rule_set(name_or_path: str, studio: Path | None) -> RuleSet:
    """The rule set that somebody names at a terminal; `studio`: the folder whose own sets count too.

    A path that exists from the working folder is meant so, as everywhere in a shell. ConfigError as above,
    and where `studio` is no studio or its file is wrong.
    """
    if studio is None:
        return load_rule_set(name_or_path)
    root = load_studio(studio).root
    if name_or_path.endswith(".toml") and Path(name_or_path).exists():
        name_or_path = str(Path(name_or_path).absolute())
    return load_rule_set(name_or_path, root)


def read_rule_set(path: Path, beside: Path | None = None) -> RuleSet:
    """The rule set in the file at `path`; raises ConfigError as `load_rule_set` does."""
    layers = read_layers(path, beside)
    troubles: list[ConfigTrouble] = []
    header = _header(layers, troubles)
    press = _press(layers, troubles) if header is not None else None
    rules = tuple(_rules(layers, troubles))
    if header is None or troubles:
        raise ConfigError(tuple(sorted(troubles, key=lambda trouble: (str(trouble.file), trouble.line or 0))))
    return RuleSet(
        name=path.stem,
        title=header.title,
        path=path,
        source=_source(layers),
        checked=header.checked,
        product=_product(rules),
        rules=rules,
        questions=tuple(applied.rule.question for applied in rules if applied.settings.ask),
        press=press,
        paper_white=header.paper_white,
    )


class _RuleSetHeader(BaseModel):
    """What a rule set says of itself, above its rules."""

    model_config = ConfigDict(frozen=True, strict=True)

    title: Annotated[str, Field(min_length=1, examples=['"Flyers, sheetfed offset"'])]
    source: Annotated[str, Field(min_length=1, examples=['"the printer\'s data sheet of 2026-11-25"'])]
    checked: date | None = None
    extends: str | None = None
    press: str | None = None
    paper_white: bool = False


_HEADER: Final = tuple(_RuleSetHeader.model_fields)


def _header(layers: RuleSetLayers, troubles: list[ConfigTrouble]) -> _RuleSetHeader | None:
    table = {key: layers.merged[key] for key in _HEADER if key in layers.merged}
    # The day of the set itself: its base was compared with some other page.
    table["checked"] = layers.files[0].data.get("checked")
    try:
        return _RuleSetHeader.model_validate(table)
    except ValidationError as error:
        troubles.extend(troubles_of(error, _RuleSetHeader, table, layers.trouble))
        return None


def _press(layers: RuleSetLayers, troubles: list[ConfigTrouble]) -> Press | None:
    """The printing condition of the set or of one that it extends; a path counts from the file it is in."""
    for file in layers.files:
        if "press" not in file.data:
            continue
        try:
            return load_press(file.data["press"], file.path.parent)
        except ConfigError as error:
            troubles.extend(layers.trouble(("press",), each.problem, each.remedy) for each in error.troubles)
            return None
    return None


def _source(layers: RuleSetLayers) -> str:
    """Where the figures come from: the set's own source, then that of what it extends."""
    own, *bases = layers.files
    sources = [str(own.data["source"])] if "source" in own.data else []
    sources += [f"{file.path.stem}: {file.data['source']}" for file in bases if "source" in file.data]
    return "; where it says nothing, ".join(sources)


def _rules(layers: RuleSetLayers, troubles: list[ConfigTrouble]) -> Iterator[Applied]:
    """The rules that apply, in the register's order."""
    tables = {key: table for key, table in layers.merged.items() if key not in _HEADER}
    known = {rule.id: rule for rule in CHECKS}
    for key, table in tables.items():
        if key not in known:
            names = known if isinstance(table, Mapping) else (*known, *_HEADER)
            troubles.append(layers.trouble((key,), f"no rule is called '{key}'", choose(key, names)))
    for rule in CHECKS:
        table = tables.get(rule.id)
        if table is None:
            continue
        mistakes = list(_troubles_before(rule, table, layers))
        troubles.extend(mistakes)
        if not mistakes and table.get("apply") is not False:
            settings = _settings(rule, table, layers, troubles)
            if settings is not None:
                yield AppliedRule(rule, settings)


def _troubles_before(rule: AnyRule, table: object, layers: RuleSetLayers) -> Iterator[ConfigTrouble]:
    """What the settings' own model cannot tell, or not by its line."""
    if not isinstance(table, Mapping):
        remedy = f"Write a table: [{rule.id}], and below it the rule's settings."
        yield layers.trouble((rule.id,), "a rule is not a single value", remedy)
        return
    for path in _floats(table, (rule.id,)):
        yield layers.trouble(
            path, "the figure lacks its unit", 'Write it as text, such as "300 ppi" or "3 mm".'
        )
    severity = table.get("severity")
    if isinstance(severity, Mapping):
        for code in severity:
            if code not in rule.settings.codes:
                problem = f"the rule finds nothing called '{code}'"
                yield layers.trouble((rule.id, "severity", code), problem, choose(code, rule.settings.codes))


def _floats(value: object, path: KeyPath) -> Iterator[KeyPath]:
    """Where numbers with a decimal point stand: all of them are figures, and a figure has its unit."""
    if isinstance(value, float):
        yield path
    elif isinstance(value, Mapping):
        for key, inner in value.items():
            yield from _floats(inner, (*path, key))
    elif isinstance(value, list):
        for index, inner in enumerate(value):
            yield from _floats(inner, (*path, index))


def _settings(
    rule: AnyRule, table: Table, layers: RuleSetLayers, troubles: list[ConfigTrouble]
) -> RuleSettings | None:
    try:
        settings: RuleSettings = rule.settings.model_validate(table)
    except ValidationError as error:

        def place(path: KeyPath, problem: str, remedy: str) -> ConfigTrouble:
            return layers.trouble((rule.id, *path), problem, remedy)

        troubles.extend(troubles_of(error, rule.settings, table, place))
        return None
    return settings


def _product(rules: tuple[Applied, ...]) -> Product:
    """What placing has to know; a figure that is left open with `ask` is not known."""
    product = Product(any_size=not any(applied.rule.id == trim_settings.ID for applied in rules))
    for applied in rules:
        match applied.settings:
            case trim_settings.TrimSizeSettings(ask=False) as trim:
                product = replace(product, sizes=trim.sizes)
            case BleedSettings(ask=False) as bleed:
                product = replace(product, bleed_pt=bleed.wanted.points)
            case _:
                pass
    return product
