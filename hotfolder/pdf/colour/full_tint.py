"""How the file says that a spot ink looks at full strength: its tint transform, evaluated (8.6.6.4)."""

from typing import Final

import numpy as np
import pikepdf

from hotfolder.errors import NotDrawnError
from hotfolder.pdf.colour.functions import read_function

_DIGITS: Final = 4  # what differs beyond them comes from working it out


def full_tint(transform: object) -> tuple[float, ...]:
    """What a tint transform gives for 1; nothing where it is no function that can be evaluated."""
    if not isinstance(transform, pikepdf.Dictionary | pikepdf.Stream):
        return ()
    try:
        components = read_function(transform)(np.ones((1, 1)))
    except NotDrawnError:
        return ()
    return (
        tuple(round(float(each), _DIGITS) for each in components[0]) if np.isfinite(components).all() else ()
    )
