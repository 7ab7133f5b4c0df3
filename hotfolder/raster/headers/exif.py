"""What an Exif block says about a picture's size and orientation (CIPA DC-008, 4.6).

An Exif block is a small TIFF file; JPEG keeps it in APP1, PNG in `eXIf`.
"""

from dataclasses import dataclass

from hotfolder.errors import CutShortError
from hotfolder.model.raster import ResolutionOrigin
from hotfolder.raster.headers.picture import Resolution
from hotfolder.raster.headers.source import ByteSource
from hotfolder.raster.headers.tiff import Directory, first_directory

ORIENTATION, X_RESOLUTION, Y_RESOLUTION, RESOLUTION_UNIT = 274, 282, 283, 296
_EXIF_DIRECTORY, _COLOUR_SPACE = 34665, 40961


@dataclass(frozen=True, slots=True)
class ExifFacts:
    """resolution: None where none is declared. srgb: it says that its colours are sRGB."""

    resolution: Resolution | None = None
    orientation: int = 1
    srgb: bool = False


def read_exif(block: bytes) -> ExifFacts | None:
    """What the Exif block says, from its TIFF header on; None where it cannot be read."""
    source = ByteSource.of(block)
    try:
        directory = first_directory(source)
    except CutShortError:
        return None
    return ExifFacts(
        resolution=declared_resolution(directory, ResolutionOrigin.EXIF),
        orientation=orientation(directory),
        srgb=_says_srgb(directory),
    )


def orientation(directory: Directory) -> int:
    """The orientation, 1 to 8; 1 where none or another value is given."""
    value = directory.number(ORIENTATION, 1)
    return value if 1 <= value <= 8 else 1


def declared_resolution(directory: Directory, origin: ResolutionOrigin) -> Resolution | None:
    """The resolution in tags 282, 283 and 296 (TIFF 6.0, section 8); None without a unit of length."""
    x, y = directory.real(X_RESOLUTION), directory.real(Y_RESOLUTION)
    if x is None or y is None:
        return None
    match directory.number(RESOLUTION_UNIT, 2):
        case 2:
            return Resolution.declared(x, y, origin)
        case 3:
            return Resolution.declared(x * 2.54, y * 2.54, origin)
        case _:
            return None


def _says_srgb(directory: Directory) -> bool:
    try:
        place = directory.number(_EXIF_DIRECTORY, 0)
        return bool(place) and directory.another(place).number(_COLOUR_SPACE, 0) == 1
    except CutShortError:
        return False
