"""Prints the table of agreement: `python -m tests.reference [--all | FILE ...]`."""

import sys
from concurrent.futures import ProcessPoolExecutor
from multiprocessing import get_context
from pathlib import Path

from tests.corpus import corpus_files, corpus_folder, problems_with
from tests.producers import produced_files
from tests.reference.comparing import compare
from tests.reference.facts import Comparison, table
from tests.reference.tools import missing_tools


def main(arguments: list[str]) -> int:
    """Compares the files named, else corpus and producers' files; 1 where a difference is unexplained.

    With `--all` also those files of the corpus that only the slow tests take.
    """
    if missing := missing_tools():
        sys.stderr.write(f"not installed: {', '.join(missing)}\n")
        return 2
    slow = arguments == ["--all"]
    paths = _all_files(slow=slow) if slow or not arguments else [Path(each) for each in arguments]
    with ProcessPoolExecutor(mp_context=get_context("spawn")) as pool:
        comparisons = list(pool.map(compare, paths))
    print_table(comparisons)
    return 1 if any(comparison.unexplained for comparison in comparisons) else 0


def _all_files(*, slow: bool) -> list[Path]:
    wanted = corpus_files(slow=slow)
    here = [file for file in wanted if problems_with(file) is None]
    if len(here) < len(wanted):
        command = "python -m tests.corpus --all" if slow else "python -m tests.corpus"
        sys.stderr.write(f"{len(wanted) - len(here)} files not fetched; `{command}` fetches them\n")
    return [*produced_files(), *(corpus_folder() / file.name for file in here)]


def print_table(comparisons: list[Comparison]) -> None:
    """Writes the table, then each difference: the known ones by name, the others as they are."""
    write = sys.stdout.write
    write(f"{'fact':<68}{'compared':>9}{'agree':>9}{'named':>7}{'other':>7}\n")
    rows = table(comparisons)
    for row in rows:
        write(f"{row.kind:<68}{row.compared:>9}{row.agree:>9}{row.named:>7}{row.unexplained:>7}\n")
    sums = [
        sum(figures)
        for figures in zip(*((r.compared, r.agree, r.named, r.unexplained) for r in rows), strict=True)
    ]
    write(f"{f'{len(comparisons)} files':<68}{sums[0]:>9}{sums[1]:>9}{sums[2]:>7}{sums[3]:>7}\n")
    _print_differences(comparisons)


def _print_differences(comparisons: list[Comparison]) -> None:
    """Writes how often each known reason stands in a file, then what nobody can explain."""
    write = sys.stdout.write
    for comparison in comparisons:
        for difference, count in comparison.named.items():
            write(f"\n{comparison.name}: {count} times: {difference}\n")
    for comparison in comparisons:
        for fact in comparison.unexplained:
            write(f"\n{comparison.name}: {fact}\n  UNEXPLAINED\n")


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
