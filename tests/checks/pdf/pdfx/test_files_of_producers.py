# Files that other programs wrote as PDF/X are judged as their table says, which was made by hand.
from collections.abc import Mapping
from pathlib import Path
from typing import Final

import pytest

from hotfolder.checks.pdf.pdfx.judging import judge_level
from hotfolder.checks.pdf.pdfx.register import REQUIREMENTS
from hotfolder.checks.pdf.pdfx.requirement import Subject
from hotfolder.checks.shared.pdfx_levels import Level
from hotfolder.model.inventory.inventory import Inventory
from tests.checks.pdf.pdfx.judged import judged, measured
from tests.producers.pdfx.archive import described, unpacked

# Levels that take whatever an earlier one takes on paper.
LATER: Final = {
    Level.X1A_2001: (Level.X1A_2003, Level.X3_2002, Level.X3_2003, Level.X4),
    Level.X1A_2003: (Level.X3_2003, Level.X4),
    Level.X3_2002: (Level.X3_2003, Level.X4),
    Level.X3_2003: (Level.X4,),
}
# What a file says of itself, and that PDF/X-4 wants its profile in the file always.
OF_ITSELF: Final = frozenset(
    {
        "wrong-identifier", "left-over-label", "no-metadata", "xmp-dates", "xmp-identifiers",
        "output-profile-missing",
    }
)  # fmt: skip

# What later levels take in part, and have another requirement for the rest.
CALLED_LATER: Final = {"rgb-colour": "device-colour", "file-reference": "embedded-file"}


@pytest.fixture(scope="module")
def files(tmp_path_factory: pytest.TempPathFactory) -> Mapping[str, bytes]:
    return {path.stem: path.read_bytes() for path in unpacked(tmp_path_factory.mktemp("pdfx"))}


@pytest.mark.parametrize("name", described())
def test_the_file_is_judged_as_read_by_hand(name: str, files: Mapping[str, bytes], tmp_path: Path) -> None:
    file = described()[name]
    level = Level(file.level)
    conformance = judged(files[name], level, tmp_path)
    broken = [each.requirement for each in conformance.broken]
    assert {each.id for each in broken if level not in each.unconfirmed} == set(file.breaks)
    assert {each.id for each in broken if level in each.unconfirmed} == set(file.advised)
    assert {each.requirement.id for each in conformance.left_open} == set(file.open)


@pytest.mark.parametrize("name", [name for name, file in described().items() if Level(file.level) in LATER])
def test_what_keeps_a_level_keeps_later_ones_but_for_what_it_says_of_itself(
    name: str, files: Mapping[str, bytes], tmp_path: Path
) -> None:
    file = described()[name]
    artwork = measured(files[name], tmp_path)
    assert artwork.pdf is not None
    assert isinstance(artwork.pdf.inventory, Inventory)
    subject = Subject(artwork, artwork.pdf.inventory)
    for level in LATER[Level(file.level)]:
        broken = {each.requirement.id for each in judge_level(subject, level).broken}
        assert "wrong-identifier" in broken
        named = {*file.breaks, *file.advised}
        assert broken - OF_ITSELF <= named | {CALLED_LATER[each] for each in named & CALLED_LATER.keys()}


def test_the_table_names_requirements_that_there_are() -> None:
    ids = {requirement.id for requirement in REQUIREMENTS}
    for name, file in described().items():
        assert {*file.breaks, *file.advised, *file.open} <= ids, name
