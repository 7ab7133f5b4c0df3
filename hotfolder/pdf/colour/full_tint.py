"""The alternate colour of a spot ink at full tint, by its tint transform (ISO 32000-2, 8.6.6.4)."""

from typing import Final

import numpy as np
import pikepdf

from hotfolder.errors import NotDrawnError
from hotfolder.pdf.colour.functions import read_function

_DIGITS: Final = 4  # the ones beyond differ by rounding in the evaluation


def full_tint(transform: object) -> tuple[float, ...]:
    """The components that a tint transform gives for a tint of 1; empty where it cannot be evaluated."""
    if not isinstance(transform, pikepdf.Dictionary | pikepdf.Stream):
        return ()
    try:
        components = read_function(transform)(np.ones((1, 1)))
    except NotDrawnError:
        return ()
    return (
        tuple(round(float(each), _DIGITS) for each in components[0]) if np.isfinite(components).all() else ()
    )
