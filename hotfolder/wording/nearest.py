"""The name that somebody probably meant, for messages about an unknown one."""

import difflib
from collections.abc import Iterable


def nearest(word: str, names: Iterable[str]) -> str | None:
    """The one of `names` that looks most like `word`; None where none is near.

    Case does not count, and neither does which of `-`, `_` and space joins the words.

    >>> nearest("Trim_Sise", ["bleed", "trim-size"])
    'trim-size'
    """
    spelled = {_plain(name): name for name in names}
    matches = difflib.get_close_matches(_plain(word), spelled, n=1, cutoff=0.6)
    return spelled[matches[0]] if matches else None


def choose(word: str, names: Iterable[str]) -> str:
    """A sentence that says what would do in the place of the unknown `word`."""
    known = sorted(names)
    if not known:
        return "Nothing belongs here."
    meant = nearest(word, known)
    guess = f"Did you mean '{meant}'? " if meant is not None else ""
    there = f"There is only {known[0]}" if len(known) == 1 else f"There are {', '.join(known)}"
    return f"{guess}{there}."


def _plain(word: str) -> str:
    return word.casefold().replace("_", "-").replace(" ", "-")
