# The name that was probably meant, and the names that there are.
import pytest

from hotfolder.wording.nearest import choose, nearest

NAMES = ["bleed", "trim-size", "text-margin"]


@pytest.mark.parametrize(
    ("word", "meant"),
    [
        ("bled", "bleed"),
        ("trim_size", "trim-size"),
        ("Trim Size", "trim-size"),
        ("text-margn", "text-margin"),
        ("xyz", None),
    ],
)
def test_nearest_name(word: str, meant: str | None) -> None:
    assert nearest(word, NAMES) == meant


def test_a_choice_names_the_nearest_and_all() -> None:
    assert choose("bled", NAMES) == "Did you mean 'bleed'? There are bleed, text-margin, trim-size."
    assert choose("xyz", ["one"]) == "There is only one."
    assert choose("xyz", []) == "Nothing belongs here."
