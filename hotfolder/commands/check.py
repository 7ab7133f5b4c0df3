"""`hotfolder check`: measures and judges files, moves nothing."""

import json
import tempfile
from collections.abc import Sequence
from pathlib import Path

from rich.console import Console
from rich.text import Text

from hotfolder.children.examiner import Examined, examine_file
from hotfolder.children.result_files import as_text
from hotfolder.children.supervisor import Supervisor
from hotfolder.commands.report_files import lay_reports
from hotfolder.commands.waiting import waiting
from hotfolder.config.studio import ChildLimits
from hotfolder.model.findings import Verdict
from hotfolder.report import print_report
from hotfolder.rulebook import load_named_rule_set
from hotfolder.store.lay import lay_folder
from hotfolder.wording.shown import shown_name


def check_files(
    files: Sequence[Path],
    rules: str,
    *,
    studio: Path | None = None,
    reports: Path | None = None,
    as_json: bool,
) -> int:
    """Check `files` against the rule set `rules` and print what was found: the exit code.

    0: all are ready. 1: something needs fixing; a file that cannot be read does. studio: whose own rule
    sets `rules` may name. reports: the folder for reports with pictures, made where it is missing; None for
    none. as_json: one file gives one object over many lines; several give one object a line each, as soon
    as it is there.
    """
    rule_set = load_named_rule_set(rules, studio)
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
    return 0 if all(verdict == Verdict.READY for verdict in verdicts) else 1


def _leave(examined: Examined, name: str, folder: Path, console: Console) -> None:
    """Lay the reports into `folder` and say where they lie."""
    for path in lay_reports(folder, name, examined.folder):
        line = Text("    report: ")
        line.append(shown_name(str(path)), style=f"link {path.absolute().as_uri()}")
        console.print(line, soft_wrap=True)
