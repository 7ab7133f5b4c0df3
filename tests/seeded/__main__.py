"""Prints what is found of planted faults, and said of look-alikes: `python -m tests.seeded`.

Exits with 1 where a fault was missed or misjudged on any page, or a look-alike was taken for one.
"""

import sys
from collections.abc import Callable, Sequence
from typing import TypeVar

from tests.seeded.bases import BASES, Base
from tests.seeded.faults import FAULTS
from tests.seeded.judging import Outcome, outcome_of_fault, outcome_of_look_alike
from tests.seeded.kinds import Fault, LookAlike
from tests.seeded.look_alikes import LOOK_ALIKES

_NAME_WIDE = 68
_Planted = TypeVar("_Planted", Fault, LookAlike)


def main() -> int:
    """Both tables, and below each what went wrong."""
    write = sys.stdout.write
    write(f"{len(BASES)} sound pages: {', '.join(base.name for base in BASES)}\n\n")
    kept = _table("faults", FAULTS, outcome_of_fault, lambda fault: f"{fault.rule}.{fault.code}")
    write("\n")
    silent = _table("look-alikes", LOOK_ALIKES, outcome_of_look_alike, lambda each: each.rule)
    return 0 if kept and silent else 1


def _table(
    title: str,
    planted: Sequence[_Planted],
    judge: Callable[[_Planted, Base], Outcome],
    rule_of: Callable[[_Planted], str],
) -> bool:
    write = sys.stdout.write
    write(f"{title:<{_NAME_WIDE}}{'rule':<40}pages\n")
    right, wrong = 0, list[str]()
    for each in planted:
        outcomes = {base.name: judge(each, base) for base in BASES}
        good = sum(outcome.is_right for outcome in outcomes.values())
        right += good
        write(f"{each.name:<{_NAME_WIDE}}{rule_of(each):<40}{good:>2} of {len(BASES)}\n")
        wrong += [
            f"{each.name}, on {base}: {words}\n"
            for base, outcome in outcomes.items()
            for words in outcome.wrong
        ]
    pairs = len(planted) * len(BASES)
    write(f"{f'{len(planted)} kinds on {len(BASES)} pages':<{_NAME_WIDE}}{'as due':<40}{right} of {pairs}\n")
    for line in wrong:
        write(line)
    return not wrong


if __name__ == "__main__":
    sys.exit(main())
