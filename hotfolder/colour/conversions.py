"""Converts a file's colours to a press's inks, and inks to screen colours and CIELAB, by ICC profiles.

Pictures go in and out as bytes, 255 being full ink, light or grey value. Solid colours go as floats from
0 to 1 and come back as floats, exactly: nothing is rounded to 8 bits on the way. CIELAB is always told in
its own figures (L* 0 to 100), under D50.
"""

from typing import Any, Final, TypeAlias, TypeVar

import numpy as np
from numpy.typing import NDArray

from hotfolder.colour.littlecms import Intent, OpenProfile, Transform
from hotfolder.errors import UnusableProfileError
from hotfolder.model.press import Press

__all__ = ["Conversions", "Intent", "conversions_for"]

Values = TypeVar("Values", np.uint8, np.float64)
Bytes: TypeAlias = NDArray[np.uint8]
Exact: TypeAlias = NDArray[np.float64]
Lab: TypeAlias = NDArray[np.floating[Any]]


# CIELAB in 16 bits (ISO 15076-1:2010, 6.3.4.2): L* of 100 is 65535, and a* and b* are counted in 257ths.
_LAB_STEP: Final = np.array([100 / 65535, 1 / 257, 1 / 257], np.float32)
_LAB_START: Final = np.array([0, -128, -128], np.float32)


class Conversions:
    """The ways from a master's colours to a press, and from the press to the eye.

    press: one with a profile; ValueError without, UnusableProfileError where it is none for inks.
    paper_white: inks are told and shown with the paper's own tint (ICC-absolute colorimetric);
    without it against the paper as white (media-relative).
    Black point compensation (ISO 18619) is on except where a method says otherwise. Each profile and each
    way is opened once, when it is first asked for.
    """

    def __init__(self, press: Press, *, paper_white: bool = False) -> None:
        if press.profile is None:
            raise ValueError(f"{press.name} has no profile: nothing can be converted for it")
        self.press = press
        self.paper_white = paper_white
        self._press = OpenProfile.of_bytes(press.profile.read_bytes())
        if self._press.space != "CMYK":
            raise UnusableProfileError(f"its colours are {self._press.space}, not CMYK")
        self._screen, self._lab = OpenProfile.srgb(), OpenProfile.lab()
        self._sources: dict[bytes, OpenProfile] = {}
        self._ways: dict[tuple[object, ...], Transform] = {}

    def to_press(
        self, colours: NDArray[Values], source: bytes | None = None, intent: Intent = Intent.RELATIVE
    ) -> NDArray[Values]:
        """Inks of shape (..., 4) for `colours` of shape (..., channels).

        source: an ICC profile for them (grey, RGB, CMYK or CIELAB); None for sRGB, or for greys with
        sRGB's tones. UnusableProfileError where it cannot be read, or has another number of channels.
        """
        return self._convert(colours, source, self._press, intent)

    def to_screen(
        self, colours: NDArray[Values], source: bytes | None = None, intent: Intent = Intent.RELATIVE
    ) -> NDArray[Values]:
        """SRGB of shape (..., 3) for `colours` as in `to_press`."""
        if source is None:
            return _three_channels(colours).copy()
        return self._convert(colours, source, self._screen, intent)

    def press_to_screen(self, inks: NDArray[Values], *, paper: bool | None = None) -> NDArray[Values]:
        """The soft proof: sRGB for inks, with the paper's tint or without; None is as `paper_white` says."""
        with_paper = self.paper_white if paper is None else paper
        return self._through(inks, self._press, self._screen, _colorimetric(paper=with_paper))

    def press_to_lab(self, inks: NDArray[Values]) -> Lab:
        """CIELAB of inks as they lie on paper: float32 for bytes, float64 for floats.

        Without black point compensation: the black of the press is told as light as it is.
        """
        return self._to_lab(inks, self._press, _colorimetric(paper=self.paper_white))

    def screen_to_lab(self, colours: NDArray[Values]) -> Lab:
        """CIELAB of sRGB, white being 100, 0, 0: float32 for bytes, float64 for floats."""
        return self._to_lab(colours, self._screen, Intent.RELATIVE)

    def lab_to_press(self, lab: Lab, intent: Intent = Intent.RELATIVE) -> Bytes:
        """Inks as bytes, of shape (..., 4), for CIELAB of shape (..., 3)."""
        return np.rint(self.lab_to_press_exactly(lab, intent) * 255).astype(np.uint8)

    def lab_to_press_exactly(self, lab: Lab, intent: Intent = Intent.RELATIVE) -> Exact:
        """Inks from 0 to 1, of shape (..., 4), for CIELAB of shape (..., 3)."""
        return self._exactly(np.asarray(lab, np.float64), self._lab, self._press, intent)

    def lab_to_screen(self, lab: Lab) -> Exact:
        """SRGB from 0 to 1, of shape (..., 3), for CIELAB; what a screen cannot show is clipped."""
        return self._exactly(np.asarray(lab, np.float64), self._lab, self._screen, Intent.RELATIVE)

    def _convert(
        self, colours: NDArray[Values], source: bytes | None, target: OpenProfile, intent: Intent
    ) -> NDArray[Values]:
        if source is None:
            return self._through(_three_channels(colours), self._screen, target, intent)
        if source not in self._sources:
            self._sources[source] = OpenProfile.of_bytes(source)
        return self._through(colours, self._sources[source], target, intent)

    def _through(
        self, colours: NDArray[Values], source: OpenProfile, target: OpenProfile, intent: Intent
    ) -> NDArray[Values]:
        if colours.dtype == np.uint8:
            return self._way(source, np.uint8, target, np.uint8, intent)(colours)
        exact: NDArray[Any] = self._exactly(colours.astype(np.float64), source, target, intent)
        return exact

    def _exactly(self, colours: Exact, source: OpenProfile, target: OpenProfile, intent: Intent) -> Exact:
        """Floats to floats. Out of gamut, sRGB runs past 0 and 1 in floats: clipped, as bytes are."""
        way = self._way(source, np.float64, target, np.float64, intent)
        return np.clip(way(colours * _full(source)) / _full(target), 0, 1)

    def _to_lab(self, colours: NDArray[Values], source: OpenProfile, intent: Intent) -> Lab:
        if colours.dtype == np.uint8:
            # In 16 bits littleCMS remembers the pixel before: even areas, the most of a page, are quick.
            way = self._way(source, np.uint8, self._lab, np.uint16, intent, black_point=False)
            lab = way(colours).astype(np.float32)
            lab *= _LAB_STEP
            lab += _LAB_START
            return lab
        way = self._way(source, np.float64, self._lab, np.float64, intent, black_point=False)
        return way(colours * _full(source))

    def _way(
        self,
        source: OpenProfile,
        taken: type[np.generic],
        target: OpenProfile,
        given: type[np.generic],
        intent: Intent,
        *,
        black_point: bool = True,
    ) -> Transform:
        key = (source, taken, target, given, intent, black_point)
        if key not in self._ways:
            self._ways[key] = Transform((source, taken), (target, given), intent, black_point=black_point)
        return self._ways[key]


def conversions_for(press: Press | None) -> Conversions | None:
    """The conversions for a press; None without one, or where its profile is not at hand."""
    return None if press is None or press.profile is None else Conversions(press)


def _colorimetric(*, paper: bool) -> Intent:
    return Intent.ABSOLUTE if paper else Intent.RELATIVE


def _full(profile: OpenProfile) -> float:
    """What littleCMS calls full in floats: it counts inks in percent."""
    return 100.0 if profile.space == "CMYK" else 1.0


def _three_channels(colours: NDArray[Values]) -> NDArray[Values]:
    """Greys as RGB of equal parts."""
    return np.repeat(colours, 3, axis=-1) if colours.shape[-1] == 1 else colours
