"""Shadings (ISO 32000-2, 8.7.4) as they draw in a view.

Colours are worked out finely along the shading's parameter, or at each corner of a mesh: a table of the
colour space would do it by halves.
"""

import math
from typing import Final

import numpy as np
import pikepdf
from pikepdf import Array, Dictionary, Name

from hotfolder.colour.conversions import Intent
from hotfolder.colour.press_colours import Floats
from hotfolder.drawing.shadings.meshes import with_colours
from hotfolder.drawing.spaces.by_table import table_function
from hotfolder.drawing.spaces.space import PaintSpace
from hotfolder.drawing.spaces.view import Showing, View
from hotfolder.errors import NotDrawnError
from hotfolder.pdf.colour.functions import Function, read_functions
from hotfolder.pdf.meshes.records import MESHES
from hotfolder.pdf.objects.reading import READING_ERRORS, entry, item, numbers, whole

_KEPT: Final = (
    "/ShadingType", "/BBox", "/AntiAlias", "/Coords", "/Domain", "/Extend", "/Matrix", "/BitsPerCoordinate",
    "/BitsPerComponent", "/BitsPerFlag", "/Decode", "/VerticesPerRow", "/Function", "/Background",
)  # fmt: skip

# The renderer asks for the colours of a gradient at 256 places, each 1/256 on from its start, and never at
# its end: a gradient to white would leave a veil beyond. It lays each over 1/255 of the gradient, and gets
# the colour of the middle of that; at both ends the exact one.
_PLACES: Final = 256
# A gradient without Extend ends with its first and last line or circle. The renderer cuts off the fraction of
# the place that it asks for, and so paints on to one place before the first and one behind the last.
_BEFORE_FIRST: Final = -1 / (_PLACES - 1)
_BEHIND_LAST: Final = _PLACES / (_PLACES - 1)
_MESH_PLACES: Final = 1025
_SQUARE: Final = 193  # places along each side of a shading over a plane

MESH_OF_FUNCTION: Final = (
    "A mesh whose colours follow a function is drawn with plain transitions between its corners."
)


def viewed_shading(
    shading: pikepdf.Object, space: PaintSpace, view: View, intent: Intent = Intent.RELATIVE
) -> pikepdf.Object:
    """The shading to draw instead of `shading`, whose colour space is `space`, in a view.

    NotDrawnError where it cannot be read.
    """
    try:
        return _Viewed(shading, space, view, intent).made()
    except READING_ERRORS:
        raise NotDrawnError("a gradient cannot be read") from None


def approximations(shading: pikepdf.Object) -> tuple[str, ...]:
    """What is drawn only nearly of a shading, a sentence each."""
    meshed = whole(entry(shading, "/ShadingType")) in MESHES
    return (MESH_OF_FUNCTION,) if meshed and entry(shading, "/Function") is not None else ()


class _Viewed:
    """One shading on its way into a view."""

    def __init__(self, shading: pikepdf.Object, space: PaintSpace, view: View, intent: Intent) -> None:
        self._shading = shading
        self._space, self._view, self._intent = space, view, intent
        self._pdf = space.pdf
        entries = {key: entry(shading, key) for key in _KEPT}
        self._kept = {key: value for key, value in entries.items() if value is not None}

    def made(self) -> pikepdf.Object:
        kind = whole(entry(self._shading, "/ShadingType"))
        if self._space.own and self._view.showing is Showing.PLATES and (kind == 1 or kind in MESHES):
            self._kept["/ColorSpace"] = self._space.view(self._view, self._intent)
            return self._of(None)
        self._kept["/ColorSpace"] = Name.DeviceRGB
        self._convert_background()
        if kind in MESHES and "/Function" not in self._kept:
            decode, data = with_colours(self._shading, kind, self._space.components, self._shown)
            self._kept["/Decode"], self._kept["/BitsPerComponent"] = Array(decode), 16
            return self._of(data)
        function = read_functions(self._kept.get("/Function"))
        if kind == 1:
            made = self._plane(function)
        elif kind in MESHES:
            made = self._mesh(function)
        else:
            made = self._line(function, *self._drawn_in())
        self._kept["/Function"] = made
        return self._of(None)

    def _of(self, data: bytes | None) -> pikepdf.Object:
        if not isinstance(self._shading, pikepdf.Stream):
            return self._pdf.make_indirect(Dictionary(self._kept))
        made = self._pdf.make_stream(data if data is not None else self._shading.read_bytes())
        for key, value in self._kept.items():
            made[key] = value
        return made

    def _shown(self, values: Floats) -> Floats:
        low, high = np.array(self._space.traits.ranges).T
        if values.shape[1] != self._space.components:
            raise NotDrawnError("a gradient gives another number of values than its colours have")
        return self._space.shown_values(np.clip(values, low, high), self._view, self._intent)

    def _convert_background(self) -> None:
        background = numbers(self._kept.get("/Background"), self._space.components)
        if background is not None:
            self._kept["/Background"] = Array(self._shown(np.array([background]))[0].tolist())

    def _line(self, function: Function, low: float, high: float) -> pikepdf.Object:
        """The colours at each place; the renderer paints from `low` to `high` of the axis that it gets."""
        start, end = numbers(entry(self._shading, "/Domain"), 2) or (0.0, 1.0)
        middles = (np.arange(_PLACES) + 0.5) / (_PLACES - 1)
        shares = np.clip((middles - low) / (high - low), 0, 1)
        shares[0], shares[-1] = 0, 1
        values = self._shown(function((start + (end - start) * shares)[:, None]))
        return table_function(
            self._pdf, np.concatenate([values, values[-1:]]), (_PLACES + 1,), ((start, end),)
        )

    def _drawn_in(self) -> tuple[float, float]:
        """Draws the ends of a gradient that is not extended in, by as much as the renderer paints beyond.

        From where to where it then paints, in shares of the new axis.
        """
        count = 4 if whole(entry(self._shading, "/ShadingType")) == 2 else 6
        given = numbers(self._kept.get("/Coords"), count)
        if given is None:
            return 0.0, 1.0
        ends = given[: count // 2], given[count // 2 :]
        extend = self._kept.get("/Extend")
        low = 0.0 if item(extend, 0) is True else _BEFORE_FIRST
        high = 1.0 if item(extend, 1) is True else _BEHIND_LAST
        if count == 6:
            # Of circles that lie in each other the outermost is drawn exactly.
            (x0, y0, radius0), (x1, y1, radius1) = ends
            if math.hypot(x1 - x0, y1 - y0) < abs(radius1 - radius0):
                low, high = (low, 1.0) if radius1 > radius0 else (0.0, high)
        self._kept["/Coords"] = Array(
            [
                one + (other - one) * (place - low) / (high - low)
                for place in (0.0, 1.0)
                for one, other in zip(*ends, strict=True)
            ]
        )
        return low, high

    def _mesh(self, function: Function) -> pikepdf.Object:
        decode = numbers(entry(self._shading, "/Decode"), 6)
        if decode is None:
            raise NotDrawnError("a mesh does not say what its colours are")
        start, end = decode[4], decode[5]
        values = self._shown(function(np.linspace(start, end, _MESH_PLACES)[:, None]))
        return table_function(self._pdf, values, (_MESH_PLACES,), ((start, end),))

    def _plane(self, function: Function) -> pikepdf.Object:
        x0, x1, y0, y1 = numbers(entry(self._shading, "/Domain"), 4) or (0.0, 1.0, 0.0, 1.0)
        down, across = np.meshgrid(np.linspace(y0, y1, _SQUARE), np.linspace(x0, x1, _SQUARE), indexing="ij")
        values = function(np.stack([across.ravel(), down.ravel()], axis=1))
        return table_function(self._pdf, self._shown(values), (_SQUARE, _SQUARE), ((x0, x1), (y0, y1)))
