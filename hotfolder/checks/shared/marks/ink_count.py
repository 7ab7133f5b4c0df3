"""In how many inks a letter or a line is printed: by its colour, and by the plates where they know better.

Overprint and transparency may bring a shape to more plates than its colour has inks, to fewer, or to none.
"""

from hotfolder.checks.shared.marks.tints import inks_at_most, is_paper, several_inks
from hotfolder.model.colour import Colour, ColourKind
from hotfolder.model.marks import Mark


def leaves_no_trace(mark: Mark) -> bool:
    """Whether the plates show nothing of a mark: white that multiplies, or overprints."""
    return mark.inks == ()


def in_several_inks(mark: Mark, colour: Colour) -> bool:
    """Whether more than one plate carries the shape of a mark in `colour`."""
    if mark.inks is None or _is_screen_grey(colour):
        return several_inks(colour)
    return len(mark.inks) > 1


def inks_are_unknown(mark: Mark, colour: Colour) -> bool:
    """Whether a pattern or gradient may be of several inks, and the plates do not tell those of a mark."""
    return not colour.components and mark.inks is None and len(inks_at_most(colour)) != 1


def mixed_of_several(mark: Mark, colour: Colour) -> bool:
    """Whether it is overprint or transparency, and not the colour itself, that needs several inks.

    Patterns and gradients are no one colour, and their inks are their own.
    """
    return bool(colour.components) and in_several_inks(mark, colour) and not several_inks(colour)


def mixing_words(mixed: int, count: int) -> str:
    """A sentence, with a space before it, that says why `mixed` of `count` things are in several inks."""
    if not mixed:
        return ""
    which = "" if mixed == count else f" for {mixed} of them"
    return f" This comes from transparency or overprint{which}."


def _is_screen_grey(colour: Colour) -> bool:
    # The plates have it in four inks, as all greys of screen colours. Opaque it counts as one ink, since what
    # it becomes is decided at the press; half transparent it is no worse.
    # A gradient or pattern becomes what the plates show: no press makes black alone of all its greys.
    one_colour = bool(colour.components) and colour.space.kind is ColourKind.RGB
    return one_colour and not several_inks(colour) and not is_paper(colour)
