"""`hotfolder check`: measures and judges files, moves nothing."""

import json
import tempfile
from collections.abc import Sequence
from dataclasses import replace
from pathlib import Path

from rich.console import Console
from rich.text import Text

from hotfolder.checks.pdf.pdfx.docs import counts_words
from hotfolder.checks.pdf.pdfx.level_rule import applied
from hotfolder.checks.pdf.pdfx_claim import ID as PDFX_CLAIM
from hotfolder.checks.shared.pdfx_levels import Level, level_called
from hotfolder.children.examiner import Examined, examine_file
from hotfolder.children.result_files import as_text
from hotfolder.children.supervisor import Supervisor
from hotfolder.commands.report_files import lay_reports
from hotfolder.commands.waiting import waiting
from hotfolder.config.studio import ChildLimits
from hotfolder.errors import UsageError
from hotfolder.model.findings import Verdict
from hotfolder.model.ruleset import Product, RuleSet
from hotfolder.report import print_report
from hotfolder.rulebook import load_named_rule_set
from hotfolder.store.lay import lay_folder
from hotfolder.wording.shown import shown_name


def check_files(
    files: Sequence[Path],
    rules: str | None,
    pdfx: str | None,
    *,
    studio: Path | None = None,
    reports: Path | None = None,
    as_json: bool,
) -> int:
    """Check `files` and print what was found: the exit code.

    0: all are ready. 1: something needs fixing; a file that cannot be read does. rules: the rule set to
    judge by; None for none. pdfx: the level of PDF/X to judge by, in place of what the rule set says of it;
    None for none. UsageError where both are None, or there is no such level. studio: whose own rule
    sets `rules` may name. reports: the folder for reports with pictures, made where it is missing; None for
    none. as_json: one file gives one object over many lines; several give one object a line each, as soon
    as it is there.
    """
    level = _level(pdfx) if pdfx is not None else None
    rule_set = _rule_set(rules, level, studio)
    if reports is not None:
        lay_folder(reports)
    supervisor = Supervisor(ChildLimits())
    console = Console(highlight=False)
    verdicts = []
    with tempfile.TemporaryDirectory(prefix="hotfolder-") as folder:
        for number, file in enumerate(files, 1):
            own = Path(folder) / str(number)
            own.mkdir()
            of = f", {number} of {len(files)}" if len(files) > 1 else ""
            with waiting(f"Measuring {shown_name(file.name)}{of}"):
                examined = examine_file(file, rule_set, own, supervisor, with_page=reports is not None)
            verdicts.append(examined.report["verdict"])
            if as_json:
                one_line = json.dumps(examined.report, ensure_ascii=False, allow_nan=False) + "\n"
                console.out(one_line if len(files) > 1 else as_text(examined.report), end="")
            else:
                print_report(examined.report, console)
            if reports is not None:
                _leave(
                    examined,
                    file.name,
                    reports,
                    Console(stderr=True, highlight=False) if as_json else console,
                )
    if level is not None and not as_json:
        told = f"{counts_words(level)}; 'hotfolder rules explain pdfx' lists them."
        console.print(told, soft_wrap=True)
    return 0 if all(verdict == Verdict.READY for verdict in verdicts) else 1


def _level(words: str) -> Level:
    try:
        return level_called(words)
    except ValueError as unknown:
        raise UsageError(str(unknown)) from None


def _rule_set(rules: str | None, level: Level | None, studio: Path | None) -> RuleSet:
    if level is None:
        if rules is None:
            raise UsageError("say what to judge by: --rules NAME, or --pdfx LEVEL, or both")
        return load_named_rule_set(rules, studio)
    by_level = applied(level)
    if rules is None:
        return RuleSet(
            name=str(level),
            title=f"{level} and nothing else",
            path=Path(),
            source=level.standard,
            checked=None,
            product=Product(any_size=True),
            rules=(by_level,),
        )
    rule_set = load_named_rule_set(rules, studio)
    others = tuple(each for each in rule_set.rules if each.rule.id != PDFX_CLAIM)
    return replace(rule_set, rules=(*others, by_level))


def _leave(examined: Examined, name: str, folder: Path, console: Console) -> None:
    """Lay the reports into `folder` and say where they lie."""
    for path in lay_reports(folder, name, examined.folder):
        line = Text("    report: ")
        line.append(shown_name(str(path)), style=f"link {path.absolute().as_uri()}")
        console.print(line, soft_wrap=True)
