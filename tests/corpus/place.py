"""Where the corpus lies, and what of it is there."""

import hashlib
import json
import os
from pathlib import Path
from typing import Final

from tests.corpus.manifest import CorpusFile, read_manifest

_REPOSITORY: Final = Path(__file__).parents[2]
_LEFT_OUT: Final = "left-out.json"


def corpus_folder() -> Path:
    """The folder of the corpus: HOTFOLDER_CORPUS where that is set, else one that git ignores."""
    chosen = os.environ.get("HOTFOLDER_CORPUS")
    return Path(chosen).absolute() if chosen else _REPOSITORY / ".cache" / "corpus"


def corpus_files(*, slow: bool = False, labelled: bool = False) -> tuple[CorpusFile, ...]:
    """The files that the corpus can have here: those of all packages but the ones left out in fetching.

    slow: also those that only the slow tests take; labelled: also those taken for their claim of PDF/X.
    """
    left_out = read_left_out()
    return tuple(
        file
        for package in read_manifest(slow=slow, labelled=labelled)
        for file in package.files
        if package.name not in left_out
    )


def problems_with(file: CorpusFile) -> str | None:
    """Why a file of the corpus cannot be used; None where it is there and is the one meant."""
    path = corpus_folder() / file.name
    if not path.is_file():
        return f"corpus not fetched: {file.name}"
    with path.open("rb") as stream:
        found = hashlib.file_digest(stream, "sha256").hexdigest()
    return None if found == file.sha256 else f"corpus not fetched: {file.name} is another file"


def read_left_out() -> dict[str, str]:
    """Packages that this system's Debian does not offer in the version meant, and what was said of each."""
    try:
        content = json.loads((corpus_folder() / _LEFT_OUT).read_text(encoding="utf-8"))
    except FileNotFoundError:
        return {}
    return {str(name): str(reason) for name, reason in content.items()}


def write_left_out(reasons: dict[str, str]) -> None:
    """Notes the packages that are left out here."""
    path = corpus_folder() / _LEFT_OUT
    path.write_text(json.dumps(reasons, indent=1) + "\n", encoding="utf-8")
