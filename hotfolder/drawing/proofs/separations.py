"""Each ink of a page as a small picture of its own, in its own colour."""

from typing import Final

import numpy as np

from hotfolder.colour.soft_proof import InkColours
from hotfolder.drawing.proofs.sheet import SheetPlates, as_picture, fitting
from hotfolder.model.pictures import PlatePicture
from hotfolder.model.plates import Bytes

_LONGEST_PX: Final = 260
_MOST_BYTES: Final = 80_000  # of all together

# Solid ink that differs less from the paper in every channel (of 255) would leave an empty picture:
# white, varnish (own choice; a solid yellow differs by more than 200 in blue).
_LEAST_SEEN: Final = 40


def plate_pictures(sheet: SheetPlates, colours: InkColours) -> tuple[PlatePicture, ...]:
    """A picture for each ink that carries anything, technical ones too, in the plates' order."""
    cut = sheet.sheet
    inks = sheet.inks(cut, fitting(cut.size, _LONGEST_PX), technical=True)
    carrying = {name: plate for name, plate in inks.items() if sheet.plates.inks[name].any()}
    most_bytes = _MOST_BYTES // max(1, len(carrying))
    return tuple(_picture(sheet, name, plate, colours, most_bytes) for name, plate in carrying.items())


def _picture(
    sheet: SheetPlates, ink: str, plate: Bytes, colours: InkColours, most_bytes: int
) -> PlatePicture:
    tints = colours.tints(ink)
    own = int(np.abs(tints[0].astype(int) - tints[255]).max()) >= _LEAST_SEEN
    if not own:
        tints = np.repeat(np.arange(255, -1, -1, dtype=np.uint8)[:, None], 3, axis=1)
    image = sheet.upright(plate)
    image.putpalette(tints.tobytes())
    in_grey = "" if own else ", shown in grey"
    alt = f"The plate of {ink} on page {sheet.page.number}{in_grey}"
    return PlatePicture(ink, as_picture(image, alt, most_bytes), own)
