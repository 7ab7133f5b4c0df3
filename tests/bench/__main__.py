"""Prints how long things take, in parts: `python -m tests.bench [--parts measure kinds whole verdict pdfx]`.

measure: measuring ten pieces against poppler. kinds: kinds of content against pikepdf. whole: a whole check,
plates and report included, against poppler and Ghostscript. verdict: a designer's wait in a real studio.
pdfx: judging a brochure against a level of PDF/X, beside its facts.
"""

import argparse
import shutil
import sys
import tempfile
from functools import partial
from pathlib import Path
from typing import Final

import pikepdf

from hotfolder.measure import measure
from tests.bench.contents import KINDS, page_of
from tests.bench.pdfx_judgement import print_judgement_costs
from tests.bench.pieces import write_pieces
from tests.bench.profiling import costs_of, told, whole_s
from tests.bench.timing import POPPLER, own_s, poppler_s, program_s
from tests.bench.verdict_time import print_verdict_time
from tests.bench.whole_check import TOOLS, print_whole_checks

_AIM: Final = 10  # times as long as pikepdf takes to parse
_COSTS: Final = 3
_PARTS: Final = ("measure", "kinds", "whole", "verdict", "pdfx")


def main(arguments: list[str]) -> int:
    """Measures and prints; 2 where a reference tool is missing."""
    parser = argparse.ArgumentParser(prog="python -m tests.bench", description="Times our work.")
    parser.add_argument("--operators", type=int, default=400_000, help="how many of each kind of content")
    parser.add_argument("--times", type=int, default=3, help="the best of so many is told")
    parser.add_argument("--share", type=float, default=1.0, help="how much of the large pieces is made")
    parser.add_argument("--parts", nargs="+", choices=_PARTS, default=_PARTS, help="what to time")
    options = parser.parse_args(arguments)
    wanted = {tool for tool, *_ in POPPLER} | (set(TOOLS) if "whole" in options.parts else set())
    if missing := sorted(tool for tool in wanted if shutil.which(tool) is None):
        sys.stderr.write(f"not installed: {', '.join(missing)}\n")
        return 2
    with tempfile.TemporaryDirectory() as folder:
        if "measure" in options.parts:
            pieces = write_pieces(Path(folder), options.share)
            _print_pieces(pieces, options.times)
            _print_costs(pieces)
        if "kinds" in options.parts:
            _print_kinds(options.operators, options.times)
        if "whole" in options.parts:
            print_whole_checks(Path(folder), options.share, options.times)
        if "verdict" in options.parts:
            print_verdict_time(options.share, options.times)
        if "pdfx" in options.parts:
            print_judgement_costs(Path(folder), options.share, options.times)
    return 0


def _print_pieces(pieces: dict[str, Path], times: int) -> None:
    start_s = program_s([sys.executable, "-c", "import hotfolder.measure"], times)
    _write(f"CPU seconds; Python and its imports take {start_s:.2f} once and are not counted\n\n")
    _write(f"{'piece':<36}{'bytes':>11}{'marks':>8}{'measure':>9}{'poppler':>9}{'ratio':>7}\n")
    sums = [0.0, 0.0]
    for what, path in pieces.items():
        ours_s = own_s(partial(measure, path), times)
        theirs_s = poppler_s(path, times)
        marks = sum(len(page.known_marks) for page in measure(path).known_pages)
        sums = [sums[0] + ours_s, sums[1] + theirs_s]
        _write(f"{what:<36}{path.stat().st_size:>11,}{marks:>8,}{ours_s:>9.2f}{theirs_s:>9.2f}")
        _write(f"{ours_s / theirs_s:>7.1f}\n")
    _write(f"{'all':<55}{sums[0]:>9.2f}{sums[1]:>9.2f}{sums[0] / sums[1]:>7.1f}\n\n")


def _print_kinds(operators: int, times: int) -> None:
    """Prints how each kind of content compares, and which take longer than is aimed at."""
    _write(f"{'content':<24}{'operators':>11}{'marks':>9}{'read':>8}{'parsed':>8}{'ratio':>7}\n")
    for kind in KINDS:
        drawn = page_of(kind, operators)
        parsed = len(pikepdf.parse_content_stream(drawn.page))
        parsing_s = own_s(partial(pikepdf.parse_content_stream, drawn.page), times)
        reading_s = own_s(drawn.read_as_is, times)
        marks = len(drawn.read_as_is().marks)
        ratio = reading_s / parsing_s
        _write(f"{kind:<24}{parsed:>11,}{marks:>9,}{reading_s:>8.2f}{parsing_s:>8.2f}{ratio:>7.1f}")
        _write(f"  more than {_AIM}\n" if ratio > _AIM else "\n")


def _print_costs(pieces: dict[str, Path]) -> None:
    """Prints the functions that took most time themselves over all pieces."""
    costs = costs_of(lambda: [measure(path) for path in pieces.values()])
    _write(
        f"\nmost costly over all pieces, of {whole_s(costs):.1f} s under the profiler\n{told(costs, _COSTS)}"
    )


def _write(text: str) -> None:
    sys.stdout.write(text)
    sys.stdout.flush()


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
