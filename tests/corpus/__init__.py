"""Real files that nobody here wrote, out of packages of other projects: what they are and where they lie.

`python -m tests.corpus` fetches them. Nothing of them is kept in the repository: `manifest.toml` names
the packages, their versions and the files with their SHA-256, so that the corpus is the same everywhere;
`manifest-slow.toml` names those that only the slow tests take, `manifest-labelled.toml` those taken for
their claim of PDF/X.
"""

from tests.corpus.manifest import CorpusFile, Package, read_manifest
from tests.corpus.place import corpus_files, corpus_folder, problems_with

__all__ = ["CorpusFile", "Package", "corpus_files", "corpus_folder", "problems_with", "read_manifest"]
