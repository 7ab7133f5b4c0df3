"""`rules`: what rule sets and rules there are, what a rule set asks for, why a rule exists."""

from collections.abc import Iterator
from pathlib import Path
from typing import Any, get_type_hints

from hotfolder.checks import CHECKS, NOT_MEASURED
from hotfolder.checks.docs import sections, settings_explained
from hotfolder.checks.pdf.pdfx.docs import requirements_explained
from hotfolder.errors import UsageError
from hotfolder.model.press import Press
from hotfolder.model.ruleset import AppliedRule, Rule, RuleSettings, unit_of
from hotfolder.rulebook import load_named_rule_set, load_rule_set, own_rule_sets, shipped_rule_sets
from hotfolder.units import Length
from hotfolder.wording.figures import bytes_words
from hotfolder.wording.nearest import choose

# Stands for every requirement of PDF/X, which are many more than a rule's text has room for.
ALL_OF_PDFX = "pdfx"

LAST_WORD = (
    "Rule sets are starting points: the printer's own specification has the last word. Safety signs, "
    "legal texts, medicine and food packaging are for licensed practice and local rules, not for this "
    "tool alone."
)


def list_rules(studio: Path | None = None) -> str:
    """The rule sets and the rules, a line each; with `studio` its own sets first."""
    lines = []
    if studio is not None:
        lines += [f"Rule sets of the studio {studio}:"]
        own = own_rule_sets(studio)
        lines += [f"  {name:<26}{load_named_rule_set(name, studio).title}" for name in own] or ["  none"]
        lines.append("")
    lines.append("Rule sets that come with hotfolder:")
    lines += [f"  {name:<26}{load_rule_set(name).title}" for name in shipped_rule_sets()]
    lines += ["", "Rules:"]
    lines += [f"  {rule.id:<26}{_first_sentence(rule)}" for rule in CHECKS]
    lines += ["", "Not measured by this version:"]
    lines += [f"  {what:<26}{why}" for what, why in NOT_MEASURED]
    return "\n".join([*lines, "", LAST_WORD])


def show_rule_set(name: str, studio: Path | None = None) -> str:
    """What the rule set `name` asks for, rule by rule. ConfigError where it cannot be read.

    studio: whose own rule sets `name` may mean as well.
    """
    rule_set = load_named_rule_set(name, studio)
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
        lines += ["", "Questions for the printer:", *(f"  {question}" for question in rule_set.questions)]
    return "\n".join([*lines, "", LAST_WORD])


def explain_rule(rule_id: str, studio: Path | None = None) -> str:
    """Why the rule exists, what it does not flag, its codes and settings. UsageError if there is none.

    studio: whose own rule sets are listed as well, with the settings that each has for it; None for none.
    """
    if rule_id == ALL_OF_PDFX:
        return "\n".join(requirements_explained())
    rule = next((rule for rule in CHECKS if rule.id == rule_id), None)
    if rule is None:
        known = [ALL_OF_PDFX, *(known.id for known in CHECKS)]
        raise UsageError(f"there is no rule '{rule_id}'. {choose(rule_id, known)}")
    (_, what), *reasons = sections(rule)
    lines = [f"{rule.title} ({rule.id}, since version {rule.since})", _capital(what)]
    for heading, text in reasons:
        lines += ["", f"{heading}: {text}"]
    lines += ["", "What it may find, and how much each weighs unless a rule set says otherwise:"]
    lines += [f"  {code:<22}{severity.words}" for code, severity in rule.settings.codes.items()]
    lines += ["", "Settings in a rule set:", *_fields(rule)]
    if studio is not None:
        lines += ["", f"In the rule sets of the studio {studio}:", *_in_studio(rule, studio)]
    return "\n".join(lines)


def _in_studio(rule: Rule[Any], studio: Path) -> Iterator[str]:
    """How the studio's own rule sets use the rule."""
    for name in own_rule_sets(studio):
        applied = {each.rule.id: each for each in load_named_rule_set(name, studio).rules}.get(rule.id)
        if applied is None:
            yield f"  {name}: does not use it"
        else:
            yield f"  {name} ({applied.settings.gravest.words})"
            yield from (f"  {line}" for line in _settings(applied))


def _press(press: Press | None) -> str:
    if press is None:
        return "none named: screen colours are not converted to inks, and their plates are not judged"
    missing = (
        ""
        if press.profile is not None
        else "; its profile does not come with hotfolder, so nothing is converted for it"
    )
    return f"{press.name}, {press.title}{missing}"


def _first_sentence(rule: Rule[Any]) -> str:
    return _capital(sections(rule)[0][1])


def _capital(sentence: str) -> str:
    return sentence[:1].upper() + sentence[1:]


def _settings(applied: AppliedRule[RuleSettings]) -> Iterator[str]:
    if applied.settings.ask:
        yield f"  open: {applied.rule.question}"
        return
    hints = get_type_hints(type(applied.settings), include_extras=True)
    for name in type(applied.settings).model_fields:
        value = getattr(applied.settings, name)
        if name in {"apply", "ask"} or value in (None, (), {}):
            continue
        unit = unit_of(hints[name])
        shown = bytes_words(value) if unit == "bytes" else f"{_words(value)} {unit}".rstrip()
        yield f"  {name.replace('_', ' ')}: {shown}"


def _words(value: object) -> str:
    if isinstance(value, tuple | list | frozenset):
        return ", ".join(_words(item) for item in value)
    if isinstance(value, dict):
        return ", ".join(f"{key} {_words(item)}" for key, item in value.items())
    if isinstance(value, bool):
        return "yes" if value else "no"
    if isinstance(value, Length):
        return value.finely()  # 0.25 pt would round to 0.2
    return f"{value:g}" if isinstance(value, float) else str(value)


def _fields(rule: Rule[Any]) -> Iterator[str]:
    yield from (f"  {name:<20}  {text}" if name else f"  {text}" for name, text in settings_explained(rule))
    yield f"  {'ask = true':<20}  ask the printer first; until then the rule is not judged"
    yield f"  {'severity.CODE':<20}  must-fix, advice or off"
