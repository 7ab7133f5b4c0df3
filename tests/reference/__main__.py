"""Prints the table of agreement: `python -m tests.reference [FILE ...]`."""

import sys
from pathlib import Path

from tests.corpus import corpus_files, corpus_folder, problems_with
from tests.producers import produced_files
from tests.reference.comparing import compare
from tests.reference.facts import Comparison, table
from tests.reference.tools import missing_tools


def main(arguments: list[str]) -> int:
    """Compares the files named, else corpus and producers' files; 1 where a difference is unexplained."""
    if missing := missing_tools():
        sys.stderr.write(f"not installed: {', '.join(missing)}\n")
        return 2
    paths = [Path(each) for each in arguments] or _all_files()
    comparisons = [compare(path) for path in paths]
    print_table(comparisons)
    return 1 if any(comparison.unexplained for comparison in comparisons) else 0


def _all_files() -> list[Path]:
    here = [file for file in corpus_files() if problems_with(file) is None]
    if not here:
        sys.stderr.write("corpus not fetched; `python -m tests.corpus` fetches it\n")
    return [*produced_files(), *(corpus_folder() / file.name for file in here)]


def print_table(comparisons: list[Comparison]) -> None:
    """Writes the table, then each difference: the known ones by name, the others as they are."""
    write = sys.stdout.write
    write(f"{'fact':<66}{'compared':>9}{'agree':>8}{'named':>7}{'other':>7}\n")
    rows = table(comparisons)
    for row in rows:
        write(f"{row.kind:<66}{row.compared:>9}{row.agree:>8}{row.named:>7}{row.unexplained:>7}\n")
    sums = [
        sum(figures)
        for figures in zip(*((r.compared, r.agree, r.named, r.unexplained) for r in rows), strict=True)
    ]
    write(f"{f'{len(comparisons)} files':<66}{sums[0]:>9}{sums[1]:>8}{sums[2]:>7}{sums[3]:>7}\n")
    for comparison in comparisons:
        for fact in comparison.facts:
            if not fact.agree:
                write(f"\n{comparison.path.parent.name}/{comparison.path.name}: {fact}\n")
                write(f"  {fact.difference or 'UNEXPLAINED'}\n")


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
