# Nothing is said of a look-alike on any sound page, and other programs see it as it is meant.
import shutil
from pathlib import Path

import pytest

from hotfolder.checks import CHECKS
from tests.reference.tools import run_tool
from tests.seeded.bases import BASES, Base, some_bases
from tests.seeded.judging import outcome_of_look_alike, with_look_alike
from tests.seeded.kinds import LookAlike
from tests.seeded.look_alikes import LOOK_ALIKES

LEAST_KINDS = 25
_UNSEEN_WORDS = (
    "clipped away",
    "mode 3",
    "named and not used",
    "not painted",
    "nothing shows",
    "hidden layer",
)
UNSEEN = [each for each in LOOK_ALIKES if any(words in each.name for words in _UNSEEN_WORDS)]
BASE = BASES[0]


@pytest.mark.parametrize(
    ("place", "look_alike"),
    [pytest.param(place, each, id=str(each)) for place, each in enumerate(LOOK_ALIKES)],
)
def test_nothing_is_said_of_it(place: int, look_alike: LookAlike) -> None:
    assert _what_is_said(look_alike, some_bases(place)) == {}


@pytest.mark.slow
@pytest.mark.parametrize("look_alike", LOOK_ALIKES, ids=str)
def test_nothing_is_said_of_it_on_any_page(look_alike: LookAlike) -> None:
    assert _what_is_said(look_alike, BASES) == {}


def _what_is_said(look_alike: LookAlike, bases: tuple[Base, ...]) -> dict[str, tuple[str, ...]]:
    wrong = {base.name: outcome_of_look_alike(look_alike, base).wrong for base in bases}
    return {name: words for name, words in wrong.items() if words}


def test_there_are_enough_kinds_each_of_its_own_name() -> None:
    assert len({each.name for each in LOOK_ALIKES}) == len(LOOK_ALIKES) >= LEAST_KINDS


def test_each_is_of_a_rule_that_there_is() -> None:
    assert {each.rule for each in LOOK_ALIKES} <= {rule.id for rule in CHECKS}


@pytest.mark.skipif(shutil.which("pdftoppm") is None, reason="pdftoppm is not installed")
@pytest.mark.parametrize("look_alike", UNSEEN, ids=str)
def test_poppler_does_not_show_it_either(look_alike: LookAlike, tmp_path: Path) -> None:
    planted = tmp_path / "planted.pdf"
    planted.write_bytes(with_look_alike(look_alike, BASE))
    assert _drawn(planted, tmp_path) == _drawn(BASE.path, tmp_path)


def _drawn(path: Path, folder: Path) -> bytes:
    done = run_tool("pdftoppm", "-r", "50", "-singlefile", str(path), str(folder / path.stem))
    assert not done.failed
    return (folder / f"{path.stem}.ppm").read_bytes()
