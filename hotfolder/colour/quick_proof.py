"""Pictures of inks as they look on the screen, large ones by a table that littleCMS makes for itself.

For looking at only: within a few of 255 of the exact way, in a tenth of its time.
"""

from collections.abc import Callable
from typing import Final

import numpy as np
from PIL import Image, ImageCms

from hotfolder.colour.conversions import Conversions
from hotfolder.model.plates import Bytes

# From so many samples on the table pays: making it takes as long as converting a fifth of them exactly.
_MANY_SAMPLES: Final = 1_000_000


class ProofColours:
    """The inks of a press on the screen, for people to look at."""

    def __init__(self, conversions: Conversions) -> None:
        self._conversions = conversions
        self._quick: dict[bool, Callable[[Bytes], Bytes]] = {}

    def press_to_screen(self, inks: Bytes, *, paper: bool | None = None) -> Bytes:
        """SRGB of shape (..., 3) for process inks of shape (rows, columns, 4).

        paper: with the paper's tint or without; None is as the conversions say.
        """
        if inks.size < _MANY_SAMPLES:
            return self._conversions.press_to_screen(inks, paper=paper)
        with_paper = self._conversions.paper_white if paper is None else paper
        if with_paper not in self._quick:
            self._quick[with_paper] = _quick_way(self._conversions, paper=with_paper)
        return self._quick[with_paper](inks)


def _quick_way(conversions: Conversions, *, paper: bool) -> Callable[[Bytes], Bytes]:
    if paper:
        intent, flags = ImageCms.Intent.ABSOLUTE_COLORIMETRIC, ImageCms.Flags.NONE
    else:
        intent, flags = ImageCms.Intent.RELATIVE_COLORIMETRIC, ImageCms.Flags.BLACKPOINTCOMPENSATION
    way = ImageCms.buildTransform(
        str(conversions.press.profile), ImageCms.createProfile("sRGB"), "CMYK", "RGB", intent, flags
    )

    def convert(inks: Bytes) -> Bytes:
        height, width = inks.shape[:2]
        given = Image.frombuffer("CMYK", (width, height), np.ascontiguousarray(inks), "raw", "CMYK", 0, 1)
        shown = ImageCms.applyTransform(given, way)
        if shown is None:
            raise ValueError("no picture came back")
        return np.asarray(shown)

    return convert
