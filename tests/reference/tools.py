"""Runs the reference tools, other people's programs that read the same files."""

import shutil
import subprocess
from typing import Final

TIMEOUT_S: Final = 60


class ToolMissingError(Exception):
    """A reference tool is not installed."""


def output_of(tool: str, *arguments: str) -> str:
    """What `tool` prints; what it says about damage goes unheard, as the files have some.

    Raises ToolMissingError where it is not installed, CalledProcessError where it prints nothing
    and fails: it could not read the file.
    """
    program = shutil.which(tool)
    if program is None:
        raise ToolMissingError(tool)
    done = subprocess.run(
        [program, *arguments], capture_output=True, check=False, timeout=TIMEOUT_S, stdin=subprocess.DEVNULL
    )
    if done.returncode and not done.stdout:
        done.check_returncode()
    return done.stdout.decode("utf-8", "replace")
