"""All look-alikes: what resembles a fault, is none, and must stay silent."""

from typing import Final

from tests.seeded.kinds import LookAlike, look_alikes_of
from tests.seeded.look_alikes import (
    claims,
    document,
    edges,
    fine_paint,
    fine_things,
    ink,
    intents,
    letters,
    margins,
    page,
    paint,
    pictures,
    unseen,
)

_TOPICS: Final = (
    page,
    pictures,
    paint,
    fine_things,
    document,
    ink,
    edges,
    unseen,
    margins,
    fine_paint,
    claims,
    letters,
    intents,
)

LOOK_ALIKES: Final[tuple[LookAlike, ...]] = tuple(each for topic in _TOPICS for each in look_alikes_of(topic))
