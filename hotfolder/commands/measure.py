"""`hotfolder measure`: the facts of a file, without any judgement."""

import tempfile
from pathlib import Path

from rich.console import Console

from hotfolder.children.examiner import measure_file_in_child
from hotfolder.children.result_files import as_text
from hotfolder.children.supervisor import Supervisor
from hotfolder.commands.waiting import waiting
from hotfolder.config.studio import ChildLimits
from hotfolder.presses.loading import load_press
from hotfolder.report import facts_lines
from hotfolder.wording.folding import say
from hotfolder.wording.shown import shown_name


def measure_file(file: Path, press: str | None = None, *, as_json: bool) -> int:
    """Print the facts of `file`: the exit code, 0. HotfolderError where they could not be had.

    press: the printing condition to draw its plates for, as `load_press` takes it; ConfigError where there
    is none such.
    """
    condition = load_press(press) if press is not None else None
    wait = waiting(f"Measuring {shown_name(file.name)}")
    with tempfile.TemporaryDirectory(prefix="hotfolder-") as folder, wait:
        facts = measure_file_in_child(file, Path(folder), Supervisor(ChildLimits()), condition)
    if as_json:
        Console(highlight=False).out(as_text(facts), end="")
    else:
        say(facts_lines(facts))
    return 0
