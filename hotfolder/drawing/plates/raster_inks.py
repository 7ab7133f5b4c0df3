"""Strips of a picture as the inks that they lay on paper, and as they are meant to look."""

from collections.abc import Callable, Iterator
from typing import Final, TypeAlias

import numpy as np
from numpy.typing import NDArray

from hotfolder.colour.colour_tables import Exact, tabled
from hotfolder.colour.conversions import Conversions
from hotfolder.errors import NotDrawnError, UnusableProfileError
from hotfolder.model.colour import PROCESS_INKS
from hotfolder.model.plates import Bytes
from hotfolder.raster.strips.strips import RasterSource, ToConvert

Convert: TypeAlias = Callable[[Bytes], Bytes]

# From so many pixels on a table is worth making.
_MANY_PIXELS: Final = 500_000

_SHADE: Final = 3  # channels of the picture as meant


class RasterInks:
    """Converts the strips of a picture to inks.

    names: the inks, in the order of the channels; a file may name one twice.
    shown: whether the picture as meant follows them, as three channels of darkness (255 less the sRGB
        value), so that bare paper is 0 in it as well.
    NotDrawnError where colours must be converted and there is no press to convert them for.
    """

    def __init__(self, source: RasterSource, conversions: Conversions | None) -> None:
        self._source = source
        self.shown = source.colour is not None
        converted = PROCESS_INKS if self.shown else ()
        self.names = converted + source.inks
        self._to_press: Convert | None = None
        self._to_screen: Convert | None = None
        if source.colour is not None:
            if conversions is None:
                raise NotDrawnError(
                    "its colours are not inks, and there is no press profile to convert them with"
                )
            try:
                self._to_press, self._to_screen = _conversions(source, source.colour, conversions)
            except UnusableProfileError as trouble:
                raise NotDrawnError("the colour profile that it brings cannot be used") from trouble

    @property
    def channels(self) -> int:
        """The channels of a converted strip."""
        return len(self.names) + (_SHADE if self.shown else 0)

    def strips(self) -> Iterator[Bytes]:
        """Strips of `channels`: the inks, then the darkness of the picture as meant."""
        for strip in self._source.strips:
            yield self._converted(strip)

    def _converted(self, strip: Bytes) -> Bytes:
        source = self._source
        inks: Bytes = strip[..., 3:] if self.shown else strip
        inks = inks[..., : len(source.inks)]
        parts = []
        if self._to_press is not None and self._to_screen is not None:
            process = self._to_press(strip[..., :3])
            parts += [process, inks, 255 - self._to_screen(strip[..., :3])]
        else:
            parts.append(inks)
        converted: Bytes = np.concatenate(parts, axis=2) if len(parts) > 1 else parts[0]
        if not source.alpha:
            return converted
        # Where a picture lets through, there is bare paper.
        opacity = strip[..., -1:].astype(np.uint16)
        return ((converted * opacity + 127) // 255).astype(np.uint8)


def _conversions(
    source: RasterSource, colour: ToConvert, conversions: Conversions
) -> tuple[Convert, Convert]:
    exact_press, exact_screen = _exact(source, colour, conversions)
    make = tabled if source.width_px * source.height_px > _MANY_PIXELS else _one_by_one
    if colour is ToConvert.RGB and source.profile is None:
        return make(exact_press), np.asarray
    return make(exact_press), make(exact_screen)


def _exact(source: RasterSource, colour: ToConvert, conversions: Conversions) -> tuple[Exact, Exact]:
    if colour is ToConvert.LAB:
        return (
            lambda values: conversions.lab_to_press_exactly(_lab(values)),
            lambda values: conversions.lab_to_screen(_lab(values)),
        )
    profile = source.profile
    return (
        lambda values: conversions.to_press(values, profile),
        lambda values: conversions.to_screen(values, profile),
    )


def _lab(values: NDArray[np.float64]) -> NDArray[np.float64]:
    lab: NDArray[np.float64] = values * [100.0, 255.0, 255.0] - [0.0, 128.0, 128.0]
    return lab


def _one_by_one(exact: Exact) -> Convert:
    return lambda colours: np.rint(exact(colours / 255) * 255).astype(np.uint8)
