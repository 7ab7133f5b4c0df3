"""Groups that are not isolated and blend with what lies beneath, laid down with opacity or a mask.

The renderer draws what needs opacity as if nothing lay beneath it. On an opaque ground a group laid down with
a constant opacity and a mask of k together gives (1 - k) of the ground and k of what the group would give
without either (ISO 32000-2, 11.4.8, its formula for removing the backdrop put into that of 11.3.6). So the
group is drawn plainly, and then the page as it was before is laid back over it with 1 - k. For that picture
the page is drawn up to the group first.
"""

from dataclasses import dataclass, field
from typing import Final

import numpy as np
import pikepdf
from pikepdf import Array, Dictionary, Name

from hotfolder.drawing.images.plain import plain_image
from hotfolder.drawing.rewriting.gstates import GState
from hotfolder.drawing.rewriting.names import Making, PassResource
from hotfolder.drawing.rewriting.passes import Pass
from hotfolder.drawing.rewriting.script import Until, Varying
from hotfolder.errors import NotDrawnError
from hotfolder.model.plates import Bytes, PlateFrame
from hotfolder.pdf.colour.functions import read_function
from hotfolder.pdf.objects.matrix import Matrix
from hotfolder.pdf.objects.reading import name

_PLACES: Final = 256

# Each is a drawing of the page more, in all passes.
_MOST: Final = 12
_MOST_PIXELS: Final = 30_000_000


@dataclass(slots=True)
class LaidBack:
    """The places in a page's content where the page as it was before is laid over it again.

    frame: of the drawing. count: how many places there are. until: the number of the place up to which the
    page is being drawn; None for all of it. before: the pixels of the page up to a place, in a pass.
    """

    frame: PlateFrame
    count: int = 0
    until: int | None = None
    before: dict[tuple[int, Pass], Bytes] = field(default_factory=dict)

    @property
    def has_room(self) -> bool:
        """Whether one more place is within the limits on drawings and memory."""
        pixels = self.frame.width_px * self.frame.height_px
        return self.count < _MOST and (self.count + 1) * pixels <= _MOST_PIXELS

    def stop(self, *numbers: int) -> Varying:
        """A part of a script that ends it where the page is drawn up to one of these places."""
        return Until(lambda: self.until in numbers)

    @property
    def matrix(self) -> Matrix:
        """From the unit square to where the pictures lie on the page."""
        box = self.frame.box
        return Matrix(box.width, 0.0, 0.0, box.height, box.x0, box.y0)


class Before(PassResource):
    """The picture of a page up to a place. number: which place."""

    def __init__(self, laid_back: LaidBack, number: int) -> None:
        self._laid_back = laid_back
        self._number = number

    def made(self, making: Making) -> pikepdf.Object:
        """The picture in a pass; a white speck as long as there is none, which nothing draws then."""
        pixels = self._laid_back.before.get((self._number, making.into.of_whole_page))
        speck = np.full((1, 1, 1), 255, np.uint8)
        made = plain_image(making.pdf, speck if pixels is None else pixels)
        making.streams.append(made)
        return made


@dataclass(frozen=True, slots=True)
class MaskSet:
    """A soft mask that is in force. transfer: its own function; ctm: user space when it was set."""

    resource: PassResource
    transfer: object
    ctm: Matrix


class TurnedMask(PassResource):
    """What a mask and an opacity leave of what lies beneath: 1 - opacity * mask."""

    def __init__(self, mask: MaskSet, opacity: float) -> None:
        self._mask = mask.resource
        shares = np.linspace(0, 1, _PLACES)[:, None]
        if mask.transfer is not None and name(mask.transfer) is None:
            shares = read_function(mask.transfer)(shares)
        if shares.shape[1] != 1:
            raise NotDrawnError("a soft mask's function gives more than one value")
        left = 1 - opacity * np.clip(shares[:, 0], 0, 1)
        self._table = np.rint(left * 65535).astype(">u2").tobytes()

    def made(self, making: Making) -> pikepdf.Object:
        """The mask's dictionary with another function."""
        mask = self._mask.made(making)
        made = Dictionary({key: mask[key] for key in mask.keys()})  # noqa: SIM118 - pikepdf's, not Python's
        made.TR = making.stream(
            self._table,
            {
                "/FunctionType": 0, "/Domain": Array([0, 1]), "/Range": Array([0, 1]),
                "/Size": Array([_PLACES]), "/BitsPerSample": 16,
            },
        )  # fmt: skip
        return making.pdf.make_indirect(made)


def plain_state() -> GState:
    """The graphics state in which a group covers what lies beneath."""
    return GState({"/ca": 1.0, "/CA": 1.0, "/SMask": Name("/None")}, "Normal")
