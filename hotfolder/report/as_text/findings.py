"""Reports on the terminal: a finding is one line that can be searched, the remedy stands below it.

Works on the report's JSON, since that is what a child process hands back.
"""

from collections.abc import Iterator
from typing import Any, Final

from rich.console import Console
from rich.padding import Padding
from rich.text import Text

from hotfolder.model.findings import Quantity, Severity, Verdict
from hotfolder.report.as_json.strict import JsonObject
from hotfolder.wording.figures import comparison
from hotfolder.wording.importance import importance
from hotfolder.wording.lists import counted
from hotfolder.wording.shown import shown_name

_INDENT: Final = 4
_RULES_NAMED: Final = 8
_STYLES: Final = {Severity.MUST_FIX: "bold red", Severity.ADVICE: "blue"}


def print_report(report: JsonObject, console: Console) -> None:
    """Print the report: findings, what could not be judged, one summary line at the end.

    Colour comes on top of words; off a terminal lines are not broken.
    """
    whole = not console.is_terminal
    for severity, line, details in _entries(report):
        heading = Text(f"{line} ")
        heading.append(f"[{severity.words}]", style=_STYLES.get(severity, ""))
        console.print(heading, soft_wrap=whole, highlight=False)
        for detail in details:
            if whole:
                console.print(Text(" " * _INDENT + detail), soft_wrap=True, highlight=False)
            else:
                console.print(Padding(Text(detail, style="dim"), (0, 0, 0, _INDENT)), highlight=False)
    verdict_style = "bold" if report["verdict"] == Verdict.READY.value else "bold red"
    console.print(Text(_summary(report), style=verdict_style), soft_wrap=whole, highlight=False)


def first_line(report: JsonObject) -> str | None:
    """What matters most, in one line without the file's name; None where nothing is told.

    It may be about a later page than the first that is told: bleed of page 2 before papers of page 1. A rule
    that must be kept and could not be judged comes before advice.
    """
    entries = [(_importance(item), False, _finding_words(item)) for item in report["findings"]]
    entries += [(_importance(item), True, _unjudged_words(item)) for item in report["unjudged"]]
    entries.sort(key=lambda entry: (entry[0][0], entry[1], entry[0][1]))  # equals stay in their order
    return entries[0][2] if entries else None


def _entries(report: JsonObject) -> Iterator[tuple[Severity, str, list[str]]]:
    """Severity, heading line and lines below it, for each finding and each cause of rules left unjudged."""
    name = shown_name(report["file"]["name"])
    for item in report["findings"]:
        details = [item["message"], item["remedy"]] if _compared(item) else [item["remedy"]]
        if item["follows"]:
            details.append(
                f"From the same cause: {'; '.join(_finding_words(each) for each in item['follows'])}."
            )
        yield (
            Severity(item["severity"]),
            f"{name} {_finding_words(item)}",
            [shown_name(text) for text in details],
        )
    for cause in report["unjudged_causes"]:
        rules = cause["rules"]
        details = [f"Not judged: {_shortened(rules)}."] if len(rules) > 1 else []
        yield Severity(cause["severity"]), f"{name} {_open_cause_words(cause)}", details


def _importance(item: JsonObject) -> tuple[int, float]:
    return importance(item["rule"], Severity(item["severity"]), item.get("code", ""))


def _finding_words(item: JsonObject) -> str:
    return shown_name(f"{_page(item)}{item['rule']}: {_compared(item) or item['message']}")


def _unjudged_words(item: JsonObject) -> str:
    return shown_name(f"{_page(item)}{item['rule']}: not judged, {item['reason']}")


def _open_cause_words(cause: JsonObject) -> str:
    rules = cause["rules"]
    subject = rules[0] if len(rules) == 1 else f"{len(rules)} rules"
    return shown_name(f"{_page(cause)}{subject}: not judged, {cause['reason']}")


def _shortened(rules: list[str]) -> str:
    """The first of the rules, and how many more there are; the report for programs has them all."""
    left = len(rules) - _RULES_NAMED
    more = f" and {left} more" if left > 0 else ""
    return f"{', '.join(rules[:_RULES_NAMED])}{more}"


def _page(item: JsonObject) -> str:
    return "" if item["page"] is None else f"p.{item['page']} "


def _compared(item: JsonObject) -> str:
    return comparison(_quantity(item["measured"]), _quantity(item["required"]))


def _quantity(value: Any) -> Quantity | str | None:  # noqa: ANN401 - out of JSON, narrowed here
    if isinstance(value, dict):
        figures = value["value"] if isinstance(value["value"], list) else [value["value"]]
        return Quantity(
            tuple(float("inf") if figure is None else figure for figure in figures), value["unit"]
        )
    return value if isinstance(value, str) else None


def _summary(report: JsonObject) -> str:
    findings = report["findings"]
    must = sum(item["severity"] == Severity.MUST_FIX.value for item in findings)
    counts = [f"{must} must fix", f"{len(findings) - must} advice"]
    if report["unjudged"]:
        counts.append(f"{len(report['unjudged'])} not judged")
    counts.append(f"{counted(len(report['passed']), 'rule')} kept")
    name, rules = shown_name(report["file"]["name"]), report["rule_set"]["name"]
    return f"{name}: {Verdict(report['verdict']).words} ({', '.join(counts)}), by {rules}"
