"""Runs the reference tools, other people's programs that read the same files."""

import shutil
import subprocess
from dataclasses import dataclass
from typing import Final

# The first four are poppler-utils', exiftool libimage-exiftool-perl's, identify imagemagick's, tiffinfo
# libtiff-tools'.
TOOLS: Final = (
    "pdfimages", "pdffonts", "pdfinfo", "pdftotext", "qpdf", "exiftool", "identify", "tiffinfo",
)  # fmt: skip
_TIMEOUT_S: Final = 60


@dataclass(frozen=True, slots=True)
class Output:
    """What a tool printed, and what it said about trouble."""

    text: str
    complaints: str
    failed: bool


def missing_tools() -> tuple[str, ...]:
    """The reference tools that are not installed."""
    return tuple(tool for tool in TOOLS if shutil.which(tool) is None)


def run_tool(tool: str, *arguments: str) -> Output:
    """Runs an installed tool; a file that it cannot read is a fact and no error of ours."""
    done = subprocess.run(
        [tool, *arguments], capture_output=True, check=False, timeout=_TIMEOUT_S, stdin=subprocess.DEVNULL
    )
    text, complaints = _decoded(done.stdout), _decoded(done.stderr)
    return Output(text, complaints, failed=done.returncode != 0)


def _decoded(printed: bytes) -> str:
    """What a tool printed; names come as the bytes that the file has, which may be Latin-1."""
    try:
        return printed.decode("utf-8")
    except UnicodeDecodeError:
        return "".join(_line(line) for line in printed.splitlines(keepends=True))


def _line(printed: bytes) -> str:
    try:
        return printed.decode("utf-8")
    except UnicodeDecodeError:
        return printed.decode("latin-1")
