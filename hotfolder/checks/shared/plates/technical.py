"""Technical inks: no colours of the artwork; they say where to cut, crease, varnish or lay white.

They are known by the names that a rule set gives, or by their layers: ISO 19593-1 marks a layer with the
step of processing that it is for. A process ink is never technical.
"""

from collections.abc import Callable, Iterable
from typing import Final

from hotfolder.model.artwork import Artwork
from hotfolder.model.colour import PROCESS_INKS, ColourSpace, inks_of
from hotfolder.model.facts import Unmeasured
from hotfolder.model.marks import Mark

_PROCESS: Final = frozenset(PROCESS_INKS)


def comparable_ink(name: str) -> str:
    """An ink's name as people compare it: without regard to case and doubled spaces."""
    return " ".join(name.split()).casefold()


def among(name: str, names: Iterable[str]) -> bool:
    """Whether `name` is one of `names`, as people compare them."""
    return comparable_ink(name) in {comparable_ink(each) for each in names}


def technical_inks(artwork: Artwork, names: Iterable[str]) -> frozenset[str]:
    """The technical inks of a file, as it writes them: those called `names`, and those of processing steps.

    An ink that is used on other layers too is no technical one by its layer alone.
    """
    called = {comparable_ink(name) for name in names}
    layers = () if artwork.pdf is None else artwork.pdf.layers
    steps = {layer.name for layer in layers if layer.step}
    if not (called or steps):
        return frozenset()
    candidates: set[str] = set()
    elsewhere: set[str] = set()
    for page in artwork.known_pages:
        for plate in () if isinstance(page.ink, Unmeasured) else page.ink.plates:
            if comparable_ink(plate.ink) in called:
                candidates.add(plate.ink)
        for mark in page.known_marks:
            for ink in spot_inks(mark):
                if comparable_ink(ink) in called or not steps.isdisjoint(mark.layers):
                    candidates.add(ink)
                else:
                    elsewhere.add(ink)
    technical = (ink for ink in candidates if comparable_ink(ink) in called or ink not in elsewhere)
    return frozenset(technical) - _PROCESS


def counts_as_ink(artwork: Artwork, names: Iterable[str]) -> Callable[[str], bool]:
    """What tells, before the plates are drawn, whether the ink of a plate is ink to look at.

    A plate that only the pixels of a raster file name is technical by its name.
    """
    known = technical_inks(artwork, names)
    called = {comparable_ink(name) for name in names}
    return lambda ink: ink in _PROCESS or not (ink in known or comparable_ink(ink) in called)


def spot_inks(mark: Mark) -> frozenset[str]:
    """The inks beside the process inks that a mark's colours name, whatever their tint."""
    return frozenset(ink for colour in mark.colours() for ink in _named(colour.space)) - _PROCESS


def _named(space: ColourSpace) -> tuple[str, ...]:
    # Most marks are painted in spaces that name no ink: they are told apart without a loop.
    if space.family in {"DeviceCMYK", "DeviceGray", "DeviceRGB", "ICCBased", "CalGray", "CalRGB", "Lab"}:
        return ()
    return inks_of(space)
