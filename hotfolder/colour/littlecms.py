"""littleCMS, the colour engine that Pillow brings along, called on arrays of bytes and of exact numbers.

Pillow's own interface to it takes 8 bits a channel and gives 8 bits back, CIELAB in steps of one unit: too
coarse to say by how much a colour moves, or what ink a solid colour gets. So the same library is called
here through its C interface.
"""

import weakref
from dataclasses import dataclass
from enum import IntEnum
from typing import Any, Final, TypeAlias

import numpy as np
from numpy.typing import NDArray

from hotfolder.colour.littlecms_library import library
from hotfolder.errors import UnusableProfileError

Numbers: TypeAlias = NDArray[np.generic]

_BLACK_POINT_COMPENSATION: Final = 0x2000  # cmsFLAGS_BLACKPOINTCOMPENSATION
_EVERY_STEP: Final = 0x0100  # cmsFLAGS_NOOPTIMIZE: the steps of the profiles, not a table made of them


class Intent(IntEnum):
    """A rendering intent, numbered as in an ICC profile (ISO 15076-1, 7.2.15)."""

    PERCEPTUAL = 0
    RELATIVE = 1
    SATURATION = 2
    ABSOLUTE = 3


@dataclass(frozen=True, slots=True)
class Encoding:
    """How colours stand in an array. space: littleCMS's number for the kind of colour (`PT_...`)."""

    space: int
    channels: int
    dtype: type[np.generic]

    @property
    def format(self) -> int:
        """The encoding as littleCMS writes it in one number; a size of 0 stands for 8 bytes."""
        size = np.dtype(self.dtype).itemsize
        real = int(np.issubdtype(self.dtype, np.floating))
        return real << 22 | self.space << 16 | self.channels << 3 | size & 7


_SPACES: Final = {"GRAY": (3, 1), "RGB": (4, 3), "CMYK": (6, 4), "Lab": (10, 3)}


def encoding(space: str, dtype: type[np.generic]) -> Encoding:
    """How colours of `space` (as a profile's header names it) stand in arrays of `dtype`.

    UnusableProfileError for a space that is none of grey, RGB, CMYK and CIELAB. Bytes run from 0 to 255,
    uint16 to 65535; floats are 0 to 1 for grey and RGB, percent for CMYK, and CIELAB's own figures.
    """
    if space not in _SPACES:
        raise UnusableProfileError(f"its colours are '{space}', not grey, RGB, CMYK or CIELAB")
    number, channels = _SPACES[space]
    return Encoding(number, channels, dtype)


class OpenProfile:
    """An open colour profile."""

    def __init__(self, handle: int | None) -> None:
        if not handle:
            raise UnusableProfileError("it is not a colour profile, or a damaged one")
        self.handle = handle
        self._close = weakref.finalize(self, library().cmsCloseProfile, handle)

    @classmethod
    def of_bytes(cls, data: bytes) -> "OpenProfile":
        """The profile that `data` hold; UnusableProfileError where they hold none."""
        return cls(library().cmsOpenProfileFromMem(data, len(data)))

    @classmethod
    def srgb(cls) -> "OpenProfile":
        """SRGB (IEC 61966-2-1)."""
        return cls(library().cmsCreate_sRGBProfile())

    @classmethod
    def lab(cls) -> "OpenProfile":
        """CIELAB under D50."""
        return cls(library().cmsCreateLab4Profile(None))

    @property
    def space(self) -> str:
        """The colours that it takes, as its header names them: `GRAY`, `RGB`, `CMYK`, `Lab`."""
        return _signature(library().cmsGetColorSpace(self.handle))

    @property
    def device_class(self) -> str:
        """What it is a profile of, as its header says: `prtr` is an output profile."""
        return _signature(library().cmsGetDeviceClass(self.handle))

    def leads_to_device(self, intent: Intent) -> bool:
        """Whether colours can be converted to it, and not only from it."""
        return bool(library().cmsIsIntentSupported(self.handle, intent, 1))  # LCMS_USED_AS_OUTPUT


def _signature(number: int) -> str:
    return number.to_bytes(4, "big").decode("latin-1").strip()


class Transform:
    """A conversion from one profile's colours to another's.

    With black point compensation (ISO 18619) black becomes black: on for every intent but the absolute
    one, for which it is not defined, unless `black_point` says no.
    """

    def __init__(
        self,
        source: tuple[OpenProfile, type[np.generic]],
        target: tuple[OpenProfile, type[np.generic]],
        intent: Intent = Intent.RELATIVE,
        *,
        black_point: bool = True,
    ) -> None:
        self._from = encoding(source[0].space, source[1])
        self._to = encoding(target[0].space, target[1])
        flags = _EVERY_STEP
        if black_point and intent is not Intent.ABSOLUTE:
            flags |= _BLACK_POINT_COMPENSATION
        self._handle: int | None = library().cmsCreateTransform(
            source[0].handle, self._from.format, target[0].handle, self._to.format, intent, flags
        )
        if not self._handle:
            raise UnusableProfileError("it does not lead to the colours that are wanted")
        self._close = weakref.finalize(self, library().cmsDeleteTransform, self._handle)

    def __call__(self, colours: NDArray[Any]) -> NDArray[Any]:
        """`colours` (their channels are the last axis) converted.

        UnusableProfileError where they have another number of channels than the source's profile.
        """
        if colours.shape[-1:] != (self._from.channels,):
            raise UnusableProfileError(
                f"it has {self._from.channels} channels, the colours {colours.shape[-1:]}"
            )
        given = np.ascontiguousarray(colours, self._from.dtype)
        converted = np.empty((*colours.shape[:-1], self._to.channels), self._to.dtype)
        library().cmsDoTransform(
            self._handle, given.ctypes.data, converted.ctypes.data, converted.size // self._to.channels
        )
        return converted
