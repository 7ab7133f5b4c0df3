"""What tiffsep lays on each cell of a page, kept between runs for as long as nothing of it changes."""

import hashlib
import tempfile
from dataclasses import dataclass
from pathlib import Path
from typing import Final, TypeAlias

import numpy as np
from numpy.typing import NDArray

from hotfolder.model.plates import PlateFrame
from tests.corpus import corpus_folder
from tests.plates.copies import names_intents, write_close_copy
from tests.plates.presses import press, screen_profile
from tests.plates.tiffsep import (
    CLOSE_PX_PER_MM,
    FINER,
    PX_PER_MM,
    NoPlatesError,
    Plates,
    draw_plates,
    version,
)

__all__ = [
    "Cells",
    "NoPlatesError",
    "Reference",
    "close_frame",
    "most_close",
    "most_ink_of",
    "reference_cells",
]

Cells: TypeAlias = dict[str, NDArray[np.float32]]  # by ink, percent, shape (rows, columns)


@dataclass(frozen=True, slots=True)
class Reference:
    """Tiffsep's answer. cells: the means of our cells.

    most: its most ink on a square millimetre in percent, on the very squares that our frame's pixels allow.
    place: the row and column of our pixel at that square's top left corner; None where it was not kept.
    finest: the same wherever a square is laid, to a twelfth of a millimetre.
    """

    cells: Cells
    most: float
    finest: float
    place: tuple[int, int] | None = None


CLOSE_MM: Final = 3  # each way, around a square millimetre
_MOST_PIXELS: Final = 630_000_000  # of A2, as fine as it is drawn
# Beside the inks in what is kept; no ink is called so.
_MOST: Final = "/most"
_FINEST: Final = "/finest"
_PLACE: Final = "/place"
_NOT_INKS: Final = frozenset({_MOST, _FINEST, _PLACE})
_MADE_BY: Final = "5"  # to be changed with anything here or in `tiffsep` that changes what comes out


def reference_cells(
    copy: Path,
    frame: PlateFrame,
    *,
    tagged_as_delivered: bool,
    on_screen: bool = False,
    centred: bool = False,
) -> Reference:
    """What tiffsep's plates of a copy's one page say, whose sheet is our frame.

    centred: as in `draw_plates`.
    """
    rows, columns = frame.height_px // frame.px_per_mm, frame.width_px // frame.px_per_mm
    finer = _finer(rows * columns)
    key = hashlib.sha256()
    for part in (copy, press().profile or copy, screen_profile()):
        key.update(part.read_bytes())
    key.update(
        f"{rows} {columns} {frame.px_per_mm} {finer} {tagged_as_delivered} {version()} {_MADE_BY}".encode()
    )
    if on_screen:
        key.update(b"on screen")
    if centred:
        key.update(b"centred")
    if intents := names_intents(copy):
        key.update(b"intents")
    kept = corpus_folder().parent / "plates" / f"{key.hexdigest()}.npz"
    if kept.exists():
        with np.load(kept) as stored:
            inks = {ink: stored[ink] for ink in stored.files if ink not in _NOT_INKS}
            row, column = stored[_PLACE] if _PLACE in stored.files else (-1, -1)
            place = None if row < 0 else (int(row), int(column))
            return Reference(inks, float(stored[_MOST]), float(stored[_FINEST]), place)
    [plates] = draw_plates(
        copy, tagged_as_delivered=tagged_as_delivered, on_screen=on_screen, intents=intents, finer=finer,
        centred=centred,
    )  # fmt: skip
    total = np.asarray(sum(plate.astype(np.int64) for plate in plates.values()))
    (most, place), (finest, _) = (most_ink_at(total, steps) for steps in (frame.px_per_mm, PX_PER_MM))
    reference = Reference(_means(plates, rows, columns), most, finest, place)
    kept.parent.mkdir(parents=True, exist_ok=True)
    with tempfile.NamedTemporaryFile(dir=kept.parent, delete=False, suffix=".part") as file:
        figures = {_MOST: np.float64(most), _FINEST: np.float64(finest), _PLACE: np.array(place)}
        np.savez_compressed(file, **reference.cells, **figures)  # type: ignore[arg-type]  # the names are the inks'
    Path(file.name).replace(kept)
    return reference


def most_ink_of(total: NDArray[np.int64], steps_per_mm: int, px_per_mm: int = PX_PER_MM) -> float:
    """The highest mean of a square millimetre of `total`, 255 one full ink, in percent.

    total: of `px_per_mm` pixels a millimetre. steps_per_mm: how finely the square slides, from the top left.
    """
    return most_ink_at(total, steps_per_mm, px_per_mm)[0]


def most_ink_at(
    total: NDArray[np.int64], steps_per_mm: int, px_per_mm: int = PX_PER_MM
) -> tuple[float, tuple[int, int]]:
    """The same with its place: the row and column of its top left corner, in steps."""
    sums = np.pad(total.cumsum(axis=0).cumsum(axis=1), ((1, 0), (1, 0)))
    side, step = px_per_mm, px_per_mm // steps_per_mm
    squares = sums[side:, side:] - sums[:-side, side:] - sums[side:, :-side] + sums[:-side, :-side]
    squares = squares[::step, ::step]
    if not squares.size:
        return 0.0, (0, 0)
    row, column = np.unravel_index(int(squares.argmax()), squares.shape)
    return float(squares[row, column]) / side**2 / 2.55, (int(row), int(column))


def close_frame(frame: PlateFrame, place: tuple[int, int], px_per_mm: int) -> PlateFrame:
    """Three millimetres each way around the square whose top left corner is that of a pixel of `frame`.

    place: the pixel's row and column. px_per_mm: of the frame that is given.
    """
    row, column = (each - frame.px_per_mm for each in place)
    left, top = frame.left + column * frame.pixel_pt, frame.top - row * frame.pixel_pt
    return PlateFrame(left, top, px_per_mm, CLOSE_MM * px_per_mm, CLOSE_MM * px_per_mm)


def most_close(
    copy: Path, frame: PlateFrame, place: tuple[int, int], *, tagged_as_delivered: bool, on_screen: bool
) -> float:
    """The most ink on our frame's squares around one place of a copy's page, drawn at 9754 ppi."""
    with tempfile.TemporaryDirectory(prefix="close-") as folder:
        close = Path(folder) / "close.pdf"
        write_close_copy(copy, close, close_frame(frame, place, frame.px_per_mm).box)
        key = hashlib.sha256(close.read_bytes())
        key.update(f"{frame.px_per_mm} {tagged_as_delivered} {on_screen} {version()} {_MADE_BY}".encode())
        if intents := names_intents(copy):
            key.update(b"intents")
        kept = corpus_folder().parent / "plates" / f"{key.hexdigest()}.txt"
        if kept.exists():
            return float(kept.read_text("ascii"))
        [plates] = draw_plates(
            close, tagged_as_delivered=tagged_as_delivered, on_screen=on_screen, intents=intents,
            centred=True, close=CLOSE_MM,
        )  # fmt: skip
    total = np.asarray(sum(plate.astype(np.int64) for plate in plates.values()))
    most = most_ink_of(total, frame.px_per_mm, CLOSE_PX_PER_MM)
    kept.parent.mkdir(parents=True, exist_ok=True)
    kept.write_text(str(most), "ascii")
    return most


def _finer(mm2: int) -> int:
    """How much finer than its picture tiffsep draws: as much as time allows for the size of the sheet."""
    pixels = mm2 * PX_PER_MM**2
    return next((finer for finer in (FINER, 2) if pixels * finer**2 <= _MOST_PIXELS), 1)


def _means(plates: Plates, rows: int, columns: int) -> Cells:
    """The mean of each cell; where rounding left out a row or column of pixels, it is bare."""
    means = {}
    for ink, picture in plates.items():
        whole = np.zeros((rows * PX_PER_MM, columns * PX_PER_MM), np.uint8)
        part = picture[: whole.shape[0], : whole.shape[1]]
        whole[: part.shape[0], : part.shape[1]] = part
        if whole.any():
            cells = whole.reshape(rows, PX_PER_MM, columns, PX_PER_MM)
            means[ink] = cells.mean(axis=(1, 3), dtype=np.float32) * np.float32(100 / 255)
    return means
