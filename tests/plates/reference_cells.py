"""What tiffsep lays on each cell of a page, kept between runs for as long as nothing of it changes."""

import hashlib
import tempfile
from pathlib import Path
from typing import Final, TypeAlias

import numpy as np
from numpy.typing import NDArray

from hotfolder.artwork import CELL_PT, Box
from hotfolder.plates import Frame
from tests.corpus import corpus_folder
from tests.plates.presses import press, screen_profile
from tests.plates.tiffsep import FINER, PPI, NoPlatesError, Plates, draw_plates, version

__all__ = ["Cells", "NoPlatesError", "reference_cells"]

Cells: TypeAlias = dict[str, NDArray[np.float32]]  # by ink, percent, shape (rows, columns)

# A2 at 1152 ppi.
_MOST_PIXELS: Final = 570_000_000
_MADE_BY: Final = "2"  # to be changed with anything here or in `tiffsep` that changes what comes out


def reference_cells(
    copy: Path, frame: Frame, sheet: Box, user_unit: float, *, tagged_as_delivered: bool
) -> Cells:
    """Tiffsep's plates of a copy's one page, averaged over the cells that our frame lays on it."""
    key = hashlib.sha256()
    for part in (copy, press().profile or copy, screen_profile()):
        key.update(part.read_bytes())
    key.update(f"{frame} {sheet} {user_unit} {tagged_as_delivered} {version()} {_MADE_BY}".encode())
    kept = corpus_folder().parent / "plates" / f"{key.hexdigest()}.npz"
    if kept.exists():
        with np.load(kept) as found:
            return {ink: found[ink] for ink in found.files}
    [plates] = draw_plates(copy, tagged_as_delivered=tagged_as_delivered, finer=_finer(sheet, user_unit))
    cells = _averaged(plates, frame, sheet, user_unit)
    kept.parent.mkdir(parents=True, exist_ok=True)
    with tempfile.NamedTemporaryFile(dir=kept.parent, delete=False, suffix=".part") as file:
        np.savez_compressed(file, **cells)  # type: ignore[arg-type]  # the names are the inks'
    Path(file.name).replace(kept)
    return cells


def _finer(sheet: Box, user_unit: float) -> int:
    """How much finer than its picture tiffsep draws: as much as time allows for the size of the sheet."""
    pixels = sheet.width * sheet.height / user_unit**2 * (PPI / 72) ** 2
    return next((finer for finer in (FINER, 2) if pixels * finer**2 <= _MOST_PIXELS), 1)


def _averaged(plates: Plates, frame: Frame, sheet: Box, user_unit: float) -> Cells:
    """A cell's mean, each pixel counted by the share of it that lies in the cell."""
    pixel_pt = 72 / PPI * user_unit
    height, width = next(iter(plates.values())).shape
    side = CELL_PT / pixel_pt
    rows = _shares((sheet.y1 - frame.top) / pixel_pt, side, frame.height_px // frame.px_per_mm, height)
    columns = _shares((frame.left - sheet.x0) / pixel_pt, side, frame.width_px // frame.px_per_mm, width)
    return {
        ink: (rows @ picture.astype(np.float32) @ columns.T) * np.float32(100 / 255)
        for ink, picture in plates.items()
        if picture.any()
    }


def _shares(start: float, side: float, cells: int, pixels: int) -> NDArray[np.float32]:
    """How much of each of `cells`, `side` pixels long from `start` on, each of `pixels` has."""
    edges = start + side * np.arange(cells + 1)
    low, high = edges[:-1, None], edges[1:, None]
    places = np.arange(pixels)[None, :]
    shared = np.minimum(high, places + 1) - np.maximum(low, places)
    shares: NDArray[np.float32] = (np.clip(shared, 0, 1) / side).astype(np.float32)
    return shares
