"""All kinds of fault, by what they are faults of."""

from typing import Final

from tests.seeded.faults import (
    black_and_white,
    claims,
    colour,
    document,
    edges,
    file,
    fine_paint,
    ink,
    intents,
    letters,
    lines_and_type,
    margins,
    page,
    pictures,
    size,
    transparency,
    unseen,
)
from tests.seeded.kinds import Fault, faults_of

_TOPICS: Final = (
    page,
    size,
    pictures,
    colour,
    black_and_white,
    transparency,
    lines_and_type,
    document,
    file,
    ink,
    edges,
    unseen,
    margins,
    fine_paint,
    claims,
    letters,
    intents,
)

FAULTS: Final[tuple[Fault, ...]] = tuple(each for topic in _TOPICS for each in faults_of(topic))
