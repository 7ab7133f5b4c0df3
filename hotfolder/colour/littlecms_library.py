"""The shared library of littleCMS, which Pillow brings along, with the functions that are called in it.

Only the standard library is used here, so that the parent process can make sure of it at its start without
taking in Pillow or numpy.
"""

import ctypes
from collections.abc import Mapping
from functools import cache
from importlib.machinery import PathFinder
from importlib.util import find_spec
from typing import Any, Final, NamedTuple

from hotfolder.errors import MissingColourEngineError


class _CFunction(NamedTuple):
    """The C types of a function of the library; gives: None where it gives nothing back."""

    gives: Any
    takes: tuple[Any, ...]


_HANDLE, _NUMBER, _TRUTH = ctypes.c_void_p, ctypes.c_uint32, ctypes.c_int

# As in lcms2.h; all of them are in the library since its version 2.0.
_FUNCTIONS: Final[Mapping[str, _CFunction]] = {
    "cmsOpenProfileFromMem": _CFunction(_HANDLE, (ctypes.c_char_p, _NUMBER)),
    "cmsCreateLab4Profile": _CFunction(_HANDLE, (_HANDLE,)),
    "cmsCreate_sRGBProfile": _CFunction(_HANDLE, ()),
    "cmsGetColorSpace": _CFunction(_NUMBER, (_HANDLE,)),
    "cmsGetDeviceClass": _CFunction(_NUMBER, (_HANDLE,)),
    "cmsIsIntentSupported": _CFunction(_TRUTH, (_HANDLE, _NUMBER, _NUMBER)),
    "cmsCloseProfile": _CFunction(_TRUTH, (_HANDLE,)),
    "cmsCreateTransform": _CFunction(_HANDLE, (_HANDLE, _NUMBER, _HANDLE, _NUMBER, _NUMBER, _NUMBER)),
    "cmsDeleteTransform": _CFunction(None, (_HANDLE,)),
    "cmsDoTransform": _CFunction(None, (_HANDLE, _HANDLE, _HANDLE, _NUMBER)),
}


@cache
def library() -> ctypes.CDLL:
    """The library, loaded, with the types of its functions.

    MissingColourEngineError where Pillow is not installed, was built without littleCMS, or has one that
    lacks a function that is called.
    """
    file = _file()
    if file is None:
        raise MissingColourEngineError("the installed Pillow has no littleCMS, or there is no Pillow")
    try:
        loaded = ctypes.CDLL(file)
    except OSError as error:
        raise MissingColourEngineError(f"littleCMS cannot be loaded ({error})") from error
    missing = [name for name in _FUNCTIONS if not hasattr(loaded, name)]
    if missing:
        raise MissingColourEngineError(f"the littleCMS of the installed Pillow lacks {', '.join(missing)}")
    for name, function in _FUNCTIONS.items():
        symbol = getattr(loaded, name)
        symbol.restype, symbol.argtypes = function.gives, function.takes
    return loaded


def _file() -> str | None:
    """Pillow's extension module that is linked with littleCMS; None where there is none.

    A symbol that the module lacks is looked up in the libraries that it is linked with.
    """
    package = find_spec("PIL")
    if package is None:
        return None
    module = PathFinder.find_spec("PIL._imagingcms", package.submodule_search_locations)
    return None if module is None else module.origin
