"""What every use of Pillow's decoders needs: the errors that they raise, and their own size limit lifted."""

import struct
import zlib
from collections.abc import Iterator
from contextlib import contextmanager
from typing import Final

from PIL import Image

# Everything that Pillow lets through for files that are not as they should be, memory apart.
# UnidentifiedImageError is an OSError; the rest are slips on values that a file may hold.
PILLOW_ERRORS: Final = (
    OSError,
    SyntaxError,
    ValueError,
    TypeError,
    AttributeError,
    AssertionError,
    LookupError,
    ArithmeticError,
    EOFError,
    RuntimeError,
    struct.error,
    zlib.error,
    Image.DecompressionBombError,
)


@contextmanager
def without_pixel_limit() -> Iterator[None]:
    """Lifts Pillow's limit of 89 megapixels, which honest posters pass; our own limit is asked before."""
    before = Image.MAX_IMAGE_PIXELS
    Image.MAX_IMAGE_PIXELS = None
    try:
        yield
    finally:
        Image.MAX_IMAGE_PIXELS = before
