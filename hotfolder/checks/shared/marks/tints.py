"""What a colour puts on each plate: the tints of its inks, as far as the file itself decides that."""

from collections.abc import Mapping
from types import MappingProxyType
from typing import Final

from hotfolder.model.colour import PROCESS_INKS, Colour, ColourKind, ColourSpace, inks_of

BLACK: Final = "Black"

# A tint that is hardly seen when its plate shifts: conversion by profiles leaves such traces (own choice).
TRACE: Final = 0.05
# What prints as the full ink; exporters write 0.99 and the like.
FULL: Final = 0.97
_BLACK_FROM: Final = 0.85  # what is meant as black; paler black is a grey

_NO_INK: Final[Mapping[str, float]] = MappingProxyType({})


def tints(colour: Colour) -> Mapping[str, float] | None:
    """The tint of each ink, from 0 to 1; None where a press profile or the picture decides.

    That is so for RGB and Lab, for indexed colours and patterns, and for pictures, which have no one colour.
    Registration colour and paint on no plate name no ink.
    """
    space, components = _laid(colour)
    if space.kind is ColourKind.NONE:
        return _NO_INK
    if not components or len(components) != space.components or space.family in {"Indexed", "Pattern"}:
        return None
    if space.inks:
        named = zip(space.inks, components, strict=False)
        return {name: tint for name, tint in named if name not in {"All", "None"}}
    match space.kind:
        case ColourKind.GREY:
            return {BLACK: 1 - min(max(components[0], 0), 1)}
        case ColourKind.CMYK:
            return dict(zip(PROCESS_INKS, components, strict=True))
        case _:
            return None


def _laid(colour: Colour) -> tuple[ColourSpace, tuple[float, ...]]:
    """The colour that a pattern without colours of its own is laid down in, or the colour itself."""
    space = colour.space
    if space.family == "Pattern" and space.base is not None and colour.components:
        return space.base, colour.components
    return space, colour.components


def inks_laid(colour: Colour) -> frozenset[str] | None:
    """The inks that show in a colour; None where nobody knows before the press converts it."""
    by_ink = tints(colour)
    return None if by_ink is None else frozenset(name for name, tint in by_ink.items() if tint >= TRACE)


def inks_at_most(colour: Colour) -> frozenset[str]:
    """The inks that a colour may put on paper: RGB and Lab become process inks."""
    known = inks_laid(colour)
    if known is not None:
        return known
    space = colour.space.base if colour.space.family == "Indexed" else colour.space
    if space is not None and space.kind in {ColourKind.RGB, ColourKind.LAB}:
        return frozenset() if _lightest(colour) else frozenset(PROCESS_INKS)
    return frozenset(inks_of(colour.space))


def several_inks(colour: Colour) -> bool:
    """Whether more than one ink is needed. Screen colours need several, but for greys and black."""
    known = inks_laid(colour)
    if known is not None:
        return len(known) > 1
    return colour.space.kind is ColourKind.RGB and len(set(colour.components)) > 1


def is_paper(colour: Colour) -> bool:
    """Whether a colour puts no ink on paper: paper white, or no plate at all."""
    by_ink = tints(colour)
    return _lightest(colour) if by_ink is None else bool(not any(tint > 0 for tint in by_ink.values()))


def _lightest(colour: Colour) -> bool:
    """Whether an RGB or Lab colour is its space's white."""
    space, components = _laid(colour)
    if not components or space.family == "Indexed":
        return False
    if space.kind is ColourKind.RGB:
        return all(each >= 1 for each in components)
    return space.kind is ColourKind.LAB and components[0] >= 100 and not any(components[1:])


def is_black(colour: Colour) -> bool:
    """Whether a colour is black ink, alone or with others beneath it."""
    by_ink = tints(colour)
    return by_ink is not None and by_ink.get(BLACK, 0) >= _BLACK_FROM


def is_black_alone(colour: Colour) -> bool:
    """Whether a colour is black ink and nothing else that shows."""
    return is_black(colour) and inks_laid(colour) == frozenset({BLACK})


def is_screen_black(colour: Colour) -> bool:
    """Whether a colour is the black of an RGB space."""
    space, components = _laid(colour)
    known = space.kind is ColourKind.RGB and space.family != "Indexed" and len(components) == 3
    return known and max(components) <= 1 - FULL


def is_all_plates(colour: Colour) -> bool:
    """Whether a colour prints on every plate by definition (Separation /All).

    A picture or a gradient, which has no one colour, does so where its space does.
    """
    if colour.space.kind is not ColourKind.REGISTRATION:
        return False
    one_tint = bool(colour.components) and colour.space.family != "Indexed"
    return not one_tint or any(each > 0 for each in _laid(colour)[1])


def is_four_full(colour: Colour) -> bool:
    """Whether the four process inks are all laid down full."""
    if sum(tint >= FULL for tint in colour.components) < len(PROCESS_INKS):
        return False
    by_ink = tints(colour)
    return by_ink is not None and all(by_ink.get(name, 0) >= FULL for name in PROCESS_INKS)
