# Real files of the corpus that claim PDF/X are judged as their table says, which was made by hand.
import tomllib
from pathlib import Path
from typing import Any, Final

import pytest

from hotfolder.checks.shared.pdfx_levels import Level
from tests.checks.pdf.pdfx.judged import judged
from tests.corpus import corpus_files, corpus_folder, problems_with

LABELLED: Final[dict[str, dict[str, Any]]] = tomllib.loads(
    Path(__file__).with_name("labelled_files.toml").read_text(encoding="utf-8")
)


@pytest.mark.slow  # they are fetched with the larger corpus alone
@pytest.mark.parametrize("name", LABELLED)
def test_the_file_is_judged_as_read_by_hand(name: str, tmp_path: Path) -> None:
    files = [file for file in corpus_files(slow=True, labelled=True) if file.name == name]
    if not files:
        pytest.skip(f"{name} is left out of the corpus here")
    if reason := problems_with(files[0]):
        pytest.skip(reason)
    table = LABELLED[name]
    level = Level(table["level"])
    conformance = judged((corpus_folder() / name).read_bytes(), level, tmp_path)
    broken = [each.requirement for each in conformance.broken]
    assert {each.id for each in broken if level not in each.unconfirmed} == set(table.get("breaks", {}))
    assert {each.id for each in broken if level in each.unconfirmed} == set(table.get("advised", {}))
    assert {each.requirement.id for each in conformance.left_open} == set(table.get("open", ()))
