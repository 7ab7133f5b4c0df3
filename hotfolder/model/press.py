"""A printing condition: which inks on which paper, as an ICC profile tells it."""

from dataclasses import dataclass
from pathlib import Path


@dataclass(frozen=True, slots=True)
class Press:
    """A printing condition.

    name: the word by which a rule set names it, or its profile's file name.
    title: what it stands for. profile: an output profile for CMYK; None for a condition that is known by
    name and whose profile is not at hand: then nothing is converted for it, and nothing takes its place.
    total_ink_percent: the most ink that its own separations lay on one spot, where that is known.
    origin: where the profile comes from.
    """

    name: str
    title: str
    profile: Path | None
    total_ink_percent: float | None = None
    origin: str = ""
