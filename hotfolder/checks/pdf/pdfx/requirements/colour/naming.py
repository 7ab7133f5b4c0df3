"""Colour spaces as people know them."""

from collections.abc import Sequence
from typing import Final

from hotfolder.model.inventory.colour import SpaceTree
from hotfolder.wording.lists import listed, shortened
from hotfolder.wording.shown import shown_name

_CALLED: Final = {
    "DeviceGray": "grey",
    "DeviceRGB": "RGB",
    "DeviceCMYK": "CMYK",
    "CalGray": "calibrated grey (CalGray)",
    "CalRGB": "calibrated RGB (CalRGB)",
    "Lab": "Lab",
    "Indexed": "a table of colours (Indexed)",
    "Pattern": "a pattern",
}
_PROFILED: Final = {"GRAY": "grey", "RGB": "RGB", "CMYK": "CMYK", "Lab": "Lab"}


def space_name(tree: SpaceTree) -> str:
    """A space in words: `RGB`, `CMYK with a colour profile (object 12)`, `the inks Gold and Black`."""
    numbered = f" (object {tree.object.split()[0]})" if tree.object else ""
    match tree.family:
        case "ICCBased":
            space = tree.profile.space if tree.profile is not None else ""
            return f"{_PROFILED.get(space, 'a colour')} with a colour profile{numbered}"
        case "Separation" | "DeviceN":
            return f"{inks_name(tree.inks)}{numbered}"
        case "":
            return f"'{shown_name(tree.name)}'" if tree.name else f"something else{numbered}"
        case family:
            return _CALLED.get(family, family)


def inks_name(inks: Sequence[str]) -> str:
    """Inks in words: `the ink 'Gold'`."""
    named = [f"'{shown_name(each)}'" for each in inks]
    if not named:
        return "an ink without a name"
    return f"the ink {listed(named)}" if len(named) == 1 else f"the inks {shortened(named, 4)}"
