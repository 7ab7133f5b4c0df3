"""The drawings that a page's plates take: which plates go together in one, and what each of them shows.

An object that overprints is left out of the drawing where none of the plates is one that it touches. So no
drawing may show plates of which some are touched by it and some are not; the planning sees to that.
"""

from collections.abc import Collection, Iterable, Mapping, Sequence
from dataclasses import dataclass, replace
from typing import Final

from hotfolder.drawing.rewriting.overprint import Touched
from hotfolder.drawing.spaces.view import CHANNELS, Showing, View
from hotfolder.model.colour import PROCESS_INKS

_COLOURED: Final = PROCESS_INKS[:CHANNELS]
_BLACK: Final = PROCESS_INKS[CHANNELS]

# Blend modes by what they do to single plates (11.3.5, 11.7.4.2): those that mix the channels of a colour,
# and those of the others that turn white on white into something else, which spots do not take.
MIXING: Final = frozenset({"Hue", "Saturation", "Color", "Luminosity"})
_NOT_FOR_SPOTS: Final = MIXING | {"Difference", "Exclusion"}

# Under these black keeps what lay there; under Luminosity it becomes the source's (11.3.5.3).
KEEPS_BLACK: Final = frozenset({"Hue", "Saturation", "Color"})


@dataclass(frozen=True, slots=True)
class Pass:
    """One drawing. through_colours: all colours become screen colours first, and those then inks.

    finer: how many times finer than the page is drawn as a whole; more than 1 for places that are drawn
    closely.
    """

    view: View
    through_colours: bool = False
    finer: int = 1

    @property
    def of_whole_page(self) -> "Pass":
        """The same drawing of the page as a whole."""
        return replace(self, finer=1)

    @property
    def plates(self) -> tuple[str, ...]:
        """The plates in its channels; none where it shows colours."""
        return self.view.plates

    @property
    def tells_inks(self) -> bool:
        """Whether its plates are seen in it, or made of it."""
        return bool(self.plates) or self.view.showing is Showing.BLENDED

    def draws(self, touched: Touched) -> bool:
        """Whether something that touches these plates is drawn here."""
        if not self.plates:
            return touched.only is None or bool(touched.only)
        return touched.any_of(self.plates)

    def multiplies(self, touched: Touched) -> bool:
        """Whether something that overprints is multiplied with what lies beneath: inks shown as colours."""
        return self.view.showing in {Showing.SCREEN, Showing.BLENDED} and not touched.all_of(PROCESS_INKS)

    def blend_mode(self, asked: str) -> str:
        """The mode that stands for `asked` in this drawing (11.7.4.2)."""
        if asked not in _NOT_FOR_SPOTS or not self.plates:
            return asked
        if asked in MIXING:
            return asked if self.plates == _COLOURED else "Normal"
        return asked if all(plate in PROCESS_INKS for plate in self.plates) else "Normal"


@dataclass(frozen=True, slots=True)
class Plan:
    """The drawings of plates. mixed_apart: a blend mode mixes plates that had to be drawn apart."""

    passes: tuple[Pass, ...]
    mixed_apart: bool


def plan(
    inks: Iterable[str],
    overprinted: Mapping[Touched, Collection[str]],
    blend_modes: Iterable[str],
    *,
    through_colours: bool = False,
) -> Plan:
    """The fewest drawings for `inks`.

    overprinted: the plates that overprinting objects touch, each with the inks that may lie beneath them.
    Where nothing lies beneath, it is the same whether a plate is left alone or laid bare.
    """
    modes = set(blend_modes)
    mixing = bool(modes & MIXING)
    # To mix its channels a drawing needs all three, whether they carry ink or not.
    wanted = set(inks) | (set(_COLOURED) if mixing and set(inks) & set(_COLOURED) else set())
    ordered = [ink for ink in PROCESS_INKS if ink in wanted]
    ordered += sorted(ink for ink in wanted if ink not in PROCESS_INKS)
    groups: dict[tuple[object, ...], list[str]] = {}
    for ink in ordered:
        like: list[object] = [ink in beneath and ink not in each for each, beneath in overprinted.items()]
        if modes & _NOT_FOR_SPOTS:
            like.append(ink in PROCESS_INKS)
        if mixing:
            like.append(ink in _COLOURED)
        groups.setdefault(tuple(like), []).append(ink)
    # Cyan, magenta and yellow first where they go together; what is left over of a group goes in threes.
    passes = [
        Pass(View.of_inks(group[start : start + CHANNELS]), through_colours)
        for group in groups.values()
        for start in range(0, len(group), CHANNELS)
    ]
    apart = mixing and bool(wanted & set(_COLOURED)) and _COLOURED not in [each.plates for each in passes]
    return Plan(tuple(passes), apart)


def in_order(names: Sequence[str]) -> tuple[str, ...]:
    """Ink names with the process inks first, in their order."""
    known = [ink for ink in PROCESS_INKS if ink in names]
    return (*known, *(name for name in names if name not in PROCESS_INKS))
