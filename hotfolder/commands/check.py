"""`check`: measures and judges files, moves nothing."""

import tempfile
from collections.abc import Sequence
from pathlib import Path

from rich.console import Console

from hotfolder.commands.children import examine_file
from hotfolder.findings import Verdict
from hotfolder.outcome import as_text
from hotfolder.report import print_report
from hotfolder.rulebook import load_rule_set
from hotfolder.studio import Limits
from hotfolder.supervise import Supervisor


def check_files(files: Sequence[Path], rules: str, *, as_json: bool) -> int:
    """Check `files` against the rule set `rules` and print what was found: the exit code.

    0: all are ready. 1: something needs fixing; a file that cannot be read does.
    """
    rule_set = load_rule_set(rules)
    supervisor = Supervisor(Limits())
    console = Console(highlight=False)
    reports = []
    with tempfile.TemporaryDirectory(prefix="hotfolder-") as folder:
        for number, file in enumerate(files):
            own = Path(folder) / str(number)
            own.mkdir()
            reports.append(examine_file(file, rule_set, own, supervisor))
            if not as_json:
                print_report(reports[-1], console)
    if as_json:
        console.out(as_text(reports[0] if len(reports) == 1 else reports), end="")
    return 0 if all(report["verdict"] == Verdict.READY for report in reports) else 1
