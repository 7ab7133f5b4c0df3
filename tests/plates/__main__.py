"""Prints how our plates agree with tiffsep's: `python -m tests.plates [--some N | --sample | FILE ...]`."""

import argparse
import sys
import tempfile
from pathlib import Path

import pikepdf

from tests.plates.comparing import PageCompared, compare_all
from tests.plates.differences import DIFFERENCES
from tests.plates.pages import Wanted, all_pages, sample_pages, some_pages
from tests.plates.summary import Summary
from tests.plates.tiffsep import is_installed


def main(arguments: list[str]) -> int:
    """Compares and prints; 1 where a page differs and nobody says why, 2 where Ghostscript is missing."""
    parser = argparse.ArgumentParser(prog="python -m tests.plates", description=__doc__)
    parser.add_argument("--some", type=int, help="so many pages only")
    parser.add_argument("--sample", action="store_true", help="the made pages, and two of each package")
    parser.add_argument("--processes", type=int, default=2, help="how many work at once")
    parser.add_argument(
        "files", nargs="*", type=Path, help="PDFs to compare; else the corpus and all that is made"
    )
    options = parser.parse_args(arguments)
    if not is_installed():
        sys.stderr.write("not installed: gs\n")
        return 2
    with tempfile.TemporaryDirectory() as scratch:
        if options.files:
            wanted = [_whole(path) for path in options.files]
        elif options.some:
            wanted = some_pages(options.some)
        else:
            wanted = (sample_pages if options.sample else all_pages)(Path(scratch))
        compared = []
        for page in compare_all(wanted, options.processes):
            _print_page(page)
            compared.append(page)
    summary = Summary(tuple(compared))
    sys.stdout.write(f"\n{summary}\n")
    return 1 if summary.unexplained else 0


def _whole(path: Path) -> Wanted:
    with pikepdf.open(path) as pdf:
        return Wanted(path.name, path, tuple(range(1, len(pdf.pages) + 1)))


def _print_page(page: PageCompared) -> None:
    write = sys.stdout.write
    reason = DIFFERENCES.get((page.name, page.page))
    if page.undrawn:
        write(f"{page.name} p.{page.page}: {page.undrawn}\n")
    elif not page.agrees:
        write(f"{page.name} p.{page.page}: most {page.ours:.1f}, theirs {page.theirs:.1f} %\n")
        if page.again is not None:
            write(f"    drawn closely: {page.ours_again or 0.0:.1f}, theirs {page.again:.1f} %\n")
        for plate in page.plates:
            if not plate.agrees:
                theirs = f"{plate.theirs:.2f}" if plate.again is None else f"{plate.again:.2f}"
                write(f"    {plate.ink}: mean {plate.ours:.2f}, theirs {theirs} %\n")
        if page.approximate:
            write(f"    said to be near only: {'; '.join(page.approximate)}\n")
    else:
        return
    write(f"    {reason or 'UNEXPLAINED'}\n")
    sys.stdout.flush()


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
