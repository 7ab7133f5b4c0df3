"""The list of rules for the documentation, made from the register: `python -m hotfolder.checks.docs`."""

import inspect
import re
import sys
from collections.abc import Iterator
from typing import Any, Final

from hotfolder.checks import CHECKS, NOT_MEASURED
from hotfolder.model.ruleset import Rule

_HEADING: Final = re.compile(r"(?P<name>Why|On paper|Not flagged|Source): ")

_OPENING: Final = """\
# Rules

Made from the checks themselves by `python -m hotfolder.checks.docs`; a test holds this page against them.

A rule set (a file in `rules/`, or one of your own) names the rules that a printer's files are judged by,
and their figures. Each thing that a rule finds has a code. *Must fix* holds a file back, *advice* does not;
a rule set may change either with `severity.CODE = "must-fix"`, `"advice"` or `"off"`. `ask = true` leaves a
rule open until the printer has been asked, `apply = false` takes out one that the extended set has.
Rule sets are starting points: the printer's own specification has the last word.
"""


def rules_page() -> str:
    """All rules as one page of Markdown, in the order of their ids."""
    parts = [_OPENING, "\n".join(_contents())]
    parts += ["\n".join(_rule(rule)) for rule in CHECKS]
    parts += ["## Not measured\n", "\n".join(f"- **{what}**: {why}" for what, why in NOT_MEASURED)]
    return "\n".join(parts).rstrip() + "\n"


def _contents() -> Iterator[str]:
    yield "| rule | what it asks |"
    yield "| --- | --- |"
    for rule in CHECKS:
        yield f"| [{rule.id}](#{rule.id}) | {sections(rule)[0][1]} |"
    yield ""


def _rule(rule: Rule[Any]) -> Iterator[str]:
    (_, what), *reasons = sections(rule)
    yield f"## {rule.id}\n"
    yield f"{rule.title}: {what}\n"
    for name, text in reasons:
        yield f"**{name}**: {text}\n"
    yield "| code | severity |"
    yield "| --- | --- |"
    for code, severity in rule.settings.codes.items():
        yield f"| `{code}` | {severity.words} |"
    yield f"\nSettings: {_settings_text(rule)}\n"


def sections(rule: Rule[Any]) -> list[tuple[str, str]]:
    """What the module's docstring says, section by section; the first one has no name."""
    text = inspect.cleandoc(sys.modules[rule.check.__module__].__doc__ or "")
    first, _, rest = text.partition("\n\n")
    opening = [("", " ".join(first.partition(": ")[2].split()))]
    pieces = _HEADING.split(rest)[1:]
    return opening + [
        (name, " ".join(words.split())) for name, words in zip(pieces[::2], pieces[1::2], strict=True)
    ]


def settings_explained(rule: Rule[Any]) -> list[tuple[str, str]]:
    """The rule's own settings, each with what it is; words about no single one come first, without a name."""
    names = "|".join(name for name in rule.settings.model_fields if name not in {"apply", "ask", "severity"})
    some = rf"(?:{names})(?:(?:, | and )(?:{names}))*"  # two of a kind may be told together
    pieces = re.split(rf"(?:^|(?<=[.;] ))({some}): ", _settings_text(rule)) if names else []
    first = [("", pieces[0].strip())] if pieces and pieces[0].strip() else []
    return first + [(name, text.strip()) for name, text in zip(pieces[1::2], pieces[2::2], strict=True)]


def _settings_text(rule: Rule[Any]) -> str:
    return " ".join(inspect.cleandoc(rule.settings.__doc__ or "").split())


if __name__ == "__main__":
    sys.stdout.write(rules_page())
