"""Which plates a painted object touches (ISO 32000-2, 8.6.7 and 11.7.4.3).

Without overprint everything touches every plate: where it lays no ink it takes away what lay there. With it,
a colour of named inks touches those only, one of process inks leaves spots alone, and in overprint mode 1
an ink of DeviceCMYK that gets nothing is left alone too.
"""

from collections.abc import Iterable
from dataclasses import dataclass
from typing import Final

from hotfolder.drawing.spaces.space import PaintSpace
from hotfolder.drawing.spaces.view import ALL_INKS
from hotfolder.model.colour import PROCESS_INKS

_PROCESS: Final = frozenset(PROCESS_INKS)


@dataclass(frozen=True, slots=True)
class Touched:
    """Some of the plates. only: those; None for all. but: those of them that are left alone all the same."""

    only: frozenset[str] | None = None
    but: frozenset[str] = frozenset()

    def __contains__(self, ink: object) -> bool:
        return (self.only is None or ink in self.only) and ink not in self.but

    def without(self, inks: frozenset[str]) -> "Touched":
        """These plates without `inks`."""
        return Touched(self.only, self.but | inks) if inks else self

    def all_of(self, plates: Iterable[str]) -> bool:
        """Whether each of `plates` is touched."""
        return all(plate in self for plate in plates)

    def any_of(self, plates: Iterable[str]) -> bool:
        """Whether one of `plates` at least is touched."""
        return any(plate in self for plate in plates)


EVERY_PLATE: Final = Touched()
NO_PLATE: Final = Touched(frozenset())
PROCESS_PLATES: Final = Touched(_PROCESS)


@dataclass(frozen=True, slots=True)
class Overprint:
    """What the graphics state says of overprint. mode: of `OPM`, 0 or 1."""

    fill: bool = False
    stroke: bool = False
    mode: int = 0

    @property
    def on(self) -> bool:
        """Whether anything may be left out of a plate."""
        return self.fill or self.stroke


NO_OVERPRINT: Final = Overprint()


def touched_by_colour(space: PaintSpace, components: tuple[float, ...], mode: int) -> Touched:
    """The plates that a solid colour touches while it overprints."""
    if space.family == "DeviceCMYK" and mode == 1:
        laid = zip(PROCESS_INKS, components, strict=False)
        return Touched(frozenset(ink for ink, share in laid if share > 0))
    return touched_by_space(space)


def touched_by_space(space: PaintSpace) -> Touched:
    """The plates that pictures and shadings in a colour space touch while they overprint.

    Overprint mode 1 does not count for them (8.6.7).
    """
    inks = space.touches
    if ALL_INKS in inks:
        return EVERY_PLATE
    if named_inks(space):
        return Touched(inks)
    return PROCESS_PLATES


def paints_nothing(space: PaintSpace) -> bool:
    """Whether painting in a space has no effect at all: its only name is None (8.6.6.4, 8.6.6.5)."""
    return not space.touches and named_inks(space)


def named_inks(space: PaintSpace) -> bool:
    """Whether a space names the inks that it touches, and leaves all others alone."""
    base = getattr(space, "base", None)
    if space.family == "Indexed" and isinstance(base, PaintSpace):
        return named_inks(base)
    return space.family in {"Separation", "DeviceN"}
