"""What tiffsep lays on each cell of a page, kept between runs for as long as nothing of it changes."""

import hashlib
import tempfile
from dataclasses import dataclass
from pathlib import Path
from typing import Final, TypeAlias

import numpy as np
from numpy.typing import NDArray

from hotfolder.plates import Frame
from tests.corpus import corpus_folder
from tests.plates.presses import press, screen_profile
from tests.plates.tiffsep import FINER, PX_PER_MM, NoPlatesError, Plates, draw_plates, version

__all__ = ["Cells", "NoPlatesError", "Reference", "most_ink_of", "reference_cells"]

Cells: TypeAlias = dict[str, NDArray[np.float32]]  # by ink, percent, shape (rows, columns)


@dataclass(frozen=True, slots=True)
class Reference:
    """Tiffsep's answer. cells: the means of our cells.

    most: its most ink on a square millimetre in percent, on the very squares that our frame's pixels allow.
    finest: the same wherever a square is laid, to a twelfth of a millimetre.
    """

    cells: Cells
    most: float
    finest: float


_MOST_PIXELS: Final = 630_000_000  # of A2, as fine as it is drawn
# Beside the inks in what is kept; no ink is called so.
_MOST: Final = "/most"
_FINEST: Final = "/finest"
_MADE_BY: Final = "5"  # to be changed with anything here or in `tiffsep` that changes what comes out


def reference_cells(
    copy: Path, frame: Frame, *, tagged_as_delivered: bool, on_screen: bool = False, again: bool = False
) -> Reference:
    """What tiffsep's plates of a copy's one page say, whose sheet is our frame.

    again: drawn twice as fine as usual.
    """
    rows, columns = frame.height_px // frame.px_per_mm, frame.width_px // frame.px_per_mm
    finer = _finer(rows * columns) * (2 if again else 1)
    key = hashlib.sha256()
    for part in (copy, press().profile or copy, screen_profile()):
        key.update(part.read_bytes())
    key.update(
        f"{rows} {columns} {frame.px_per_mm} {finer} {tagged_as_delivered} {version()} {_MADE_BY}".encode()
    )
    if on_screen:
        key.update(b"on screen")
    kept = corpus_folder().parent / "plates" / f"{key.hexdigest()}.npz"
    if kept.exists():
        with np.load(kept) as found:
            inks = {ink: found[ink] for ink in found.files if ink not in {_MOST, _FINEST}}
            return Reference(inks, float(found[_MOST]), float(found[_FINEST]))
    [plates] = draw_plates(copy, tagged_as_delivered=tagged_as_delivered, on_screen=on_screen, finer=finer)
    total = np.asarray(sum(plate.astype(np.int64) for plate in plates.values()))
    most, finest = most_ink_of(total, frame.px_per_mm), most_ink_of(total, PX_PER_MM)
    told = Reference(_means(plates, rows, columns), most, finest)
    kept.parent.mkdir(parents=True, exist_ok=True)
    with tempfile.NamedTemporaryFile(dir=kept.parent, delete=False, suffix=".part") as file:
        figures = {_MOST: np.float64(most), _FINEST: np.float64(finest)}
        np.savez_compressed(file, **told.cells, **figures)  # type: ignore[arg-type]  # the names are the inks'
    Path(file.name).replace(kept)
    return told


def most_ink_of(total: NDArray[np.int64], steps_per_mm: int) -> float:
    """The highest mean of a square millimetre of `total`, 255 one full ink, in percent.

    total: of 12 pixels a millimetre. steps_per_mm: how finely the square slides, from the top left corner.
    """
    sums = np.pad(total.cumsum(axis=0).cumsum(axis=1), ((1, 0), (1, 0)))
    side, step = PX_PER_MM, PX_PER_MM // steps_per_mm
    squares = sums[side:, side:] - sums[:-side, side:] - sums[side:, :-side] + sums[:-side, :-side]
    return float(squares[::step, ::step].max(initial=0)) / side**2 / 2.55


def _finer(mm2: int) -> int:
    """How much finer than its picture tiffsep draws: as much as time allows for the size of the sheet."""
    pixels = mm2 * PX_PER_MM**2
    return next((finer for finer in (FINER, 2) if pixels * finer**2 <= _MOST_PIXELS), 1)


def _means(plates: Plates, rows: int, columns: int) -> Cells:
    """The mean of each cell; where rounding left out a row or column of pixels, it is bare."""
    found = {}
    for ink, picture in plates.items():
        whole = np.zeros((rows * PX_PER_MM, columns * PX_PER_MM), np.uint8)
        part = picture[: whole.shape[0], : whole.shape[1]]
        whole[: part.shape[0], : part.shape[1]] = part
        if whole.any():
            cells = whole.reshape(rows, PX_PER_MM, columns, PX_PER_MM)
            found[ink] = cells.mean(axis=(1, 3), dtype=np.float32) * np.float32(100 / 255)
    return found
