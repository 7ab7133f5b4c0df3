"""What overprinting does to a colour (ISO 32000-2, 8.6.7 and 11.7.4; the table of results is from memory).

Overprint leaves the inks beneath where a colour does not speak of them. Separation and DeviceN speak of
the inks that they name. All other spaces speak of every process ink and of no spot ink; but in overprint
mode 1 a component of 0 given directly in DeviceCMYK is silent too. A grey is not: it erases cyan, magenta
and yellow whatever the mode.
"""

from typing import Final

from hotfolder.checks.shared.marks.tints import tints
from hotfolder.model.colour import PROCESS_INKS, Colour
from hotfolder.model.marks import PLAIN_BLENDS, MarkState

_NAMED: Final = frozenset({"Separation", "DeviceN"})


def lies_plainly(state: MarkState) -> bool:
    """Whether a mark is laid down opaque and unblended, so that it knocks out unless it overprints."""
    return state.blend_mode in PLAIN_BLENDS and state.fill_opacity >= 1 and not state.soft_mask


def overprints(state: MarkState, *, stroke: bool) -> bool:
    """Whether overprint is on for filling, or for stroking."""
    return state.overprint_stroke if stroke else state.overprint_fill


def kept_process_inks(state: MarkState, colour: Colour, *, stroke: bool) -> frozenset[str]:
    """The process inks beneath that a colour leaves as they are; empty where it knocks them all out."""
    if not overprints(state, stroke=stroke):
        return frozenset()
    if colour.space.family in _NAMED:
        return frozenset(PROCESS_INKS) - frozenset(colour.space.inks)
    by_ink = tints(colour)
    if colour.space.family != "DeviceCMYK" or state.overprint_mode != 1 or by_ink is None:
        return frozenset()
    return frozenset(name for name in PROCESS_INKS if not by_ink.get(name))


def keeps_spot_inks(state: MarkState, colour: Colour, *, stroke: bool) -> bool:
    """Whether spot inks beneath that the colour does not name stay as they are."""
    return overprints(state, stroke=stroke) and bool(colour.components)
