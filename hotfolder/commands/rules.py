"""`rules`: what rule sets and rules there are, what a rule set asks for, why a rule exists."""

import inspect
import sys
from collections.abc import Iterator
from typing import get_type_hints

from hotfolder.checks import CHECKS, NOT_MEASURED
from hotfolder.errors import UsageError
from hotfolder.nearest import choose
from hotfolder.press import Press
from hotfolder.rulebook import load_rule_set, shipped_rule_sets
from hotfolder.ruleset import AppliedRule, Rule, RuleSettings, unit_of

LAST_WORD = (
    "Rule sets are starting points: the printer's own specification has the last word. Safety signs, "
    "legal texts, medicine and food packaging are for licensed practice and local rules, not for this "
    "tool alone."
)


def list_rules() -> str:
    """The shipped rule sets and the rules, a line each."""
    lines = ["Rule sets:"]
    lines += [f"  {name:<26}{load_rule_set(name).title}" for name in shipped_rule_sets()]
    lines += ["", "Rules:"]
    lines += [f"  {rule.id:<26}{_first_sentence(rule)}" for rule in CHECKS]
    lines += ["", "Not measured by this version:"]
    lines += [f"  {what:<26}{why}" for what, why in NOT_MEASURED]
    return "\n".join([*lines, "", LAST_WORD])


def show_rule_set(name: str) -> str:
    """What the rule set `name` asks for, rule by rule. ConfigError where it cannot be read."""
    rule_set = load_rule_set(name)
    checked = f"checked {rule_set.checked}" if rule_set.checked else "not checked against a printer's page"
    lines = [
        f"{rule_set.name}: {rule_set.title}",
        f"Source: {rule_set.source} ({checked})",
        f"File: {rule_set.path}",
        f"Press: {_press(rule_set.press)}",
    ]
    for applied in rule_set.rules:
        lines += ["", f"{applied.rule.id} ({applied.settings.gravest.words})", *_settings(applied)]
    if rule_set.questions:
        lines += ["", "To be asked of the printer:", *(f"  {question}" for question in rule_set.questions)]
    return "\n".join([*lines, "", LAST_WORD])


def explain_rule(rule_id: str) -> str:
    """Why the rule exists, what it does not flag, its codes and settings. UsageError if there is none."""
    rule = next((rule for rule in CHECKS if rule.id == rule_id), None)
    if rule is None:
        raise UsageError(f"there is no rule '{rule_id}'. {choose(rule_id, (known.id for known in CHECKS))}")
    lines = [
        f"{rule.id} (since {rule.since})",
        "",
        _docstring(rule),
        "",
        "Codes and what they weigh by default:",
    ]
    lines += [f"  {code:<22}{severity.words}" for code, severity in rule.settings.codes.items()]
    lines += ["", "Settings:", *_fields(rule.settings)]
    return "\n".join(lines)


def _press(press: Press | None) -> str:
    if press is None:
        return "none named: colours that are no inks are converted for none, and their plates are not judged"
    missing = (
        "" if press.profile is not None else "; its profile is not at hand, so nothing is converted for it"
    )
    return f"{press.name}, {press.title}{missing}"


def _docstring(rule: Rule[RuleSettings]) -> str:
    return inspect.cleandoc(sys.modules[rule.check.__module__].__doc__ or "")


def _first_sentence(rule: Rule[RuleSettings]) -> str:
    return _docstring(rule).splitlines()[0].partition(": ")[2]


def _settings(applied: AppliedRule[RuleSettings]) -> Iterator[str]:
    if applied.settings.ask:
        yield f"  open: {applied.rule.question}"
        return
    hints = get_type_hints(type(applied.settings), include_extras=True)
    for name in type(applied.settings).model_fields:
        value = getattr(applied.settings, name)
        if name in {"apply", "ask"} or value in (None, (), {}):
            continue
        yield f"  {name.replace('_', ' ')}: {_words(value)} {unit_of(hints[name])}".rstrip()


def _words(value: object) -> str:
    if isinstance(value, tuple | list | frozenset):
        return ", ".join(_words(item) for item in value)
    if isinstance(value, dict):
        return ", ".join(f"{key} {_words(item)}" for key, item in value.items())
    if isinstance(value, bool):
        return "yes" if value else "no"
    return f"{value:g}" if isinstance(value, float) else str(value)


def _fields(settings: type[RuleSettings]) -> Iterator[str]:
    yield from (f"  {line}".rstrip() for line in inspect.cleandoc(settings.__doc__ or "").splitlines())
    yield f"  {'ask = true':<22}the printer has to be asked; the rule is then not judged"
    yield f"  {'severity.CODE':<22}must-fix, advice or off"
