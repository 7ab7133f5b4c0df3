"""Examines a file as a child does, with a child's limits: `python -m tests.hostile.examine FILE FOLDER`.

A process of its own, which prints what it took and all that it started: seconds of the processor, bytes of
memory.
"""

import re
import resource
import sys
from pathlib import Path

from hotfolder.children.orders import ExamineOrder
from hotfolder.children.supervisor import _limit
from hotfolder.config.studio import ChildLimits
from hotfolder.model.jobs import FileToExamine
from hotfolder.rulebook import load_named_rule_set
from hotfolder.workshop.workshop import examine


def taken() -> tuple[float, int]:
    """Seconds of the processor, and the most memory at any time."""
    own, others = (resource.getrusage(who) for who in (resource.RUSAGE_SELF, resource.RUSAGE_CHILDREN))
    # Not `ru_maxrss` of this process: what it was before it became this program counts there as well.
    highest = re.search(r"^VmHWM:\s*(\d+) kB", Path("/proc/self/status").read_text(), re.MULTILINE)
    assert highest is not None
    seconds = own.ru_utime + own.ru_stime + others.ru_utime + others.ru_stime
    return seconds, max(int(highest[1]), others.ru_maxrss) * 1024


if __name__ == "__main__":
    file, folder = map(Path, sys.argv[1:])
    _limit(ChildLimits())
    examine(
        ExamineOrder(
            FileToExamine(file, file.name, folder),
            load_named_rule_set("flyer-offset-coated", None),
            with_page=True,
        )
    )
    sys.stdout.write(" ".join(map(str, taken())))
