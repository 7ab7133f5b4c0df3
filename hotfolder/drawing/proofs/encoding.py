"""Pictures as bytes that a web page can hold."""

import zlib
from io import BytesIO
from typing import Final

from PIL import Image

# Eye-proof at the first; the report shows places, and nobody judges a photo's grain by it. The others
# are for pictures that would be too heavy otherwise (noise, fine screens).
_JPEG_QUALITIES: Final = (80, 60, 40, 25)

# A lossless picture is worth making where a sample of its rows says that it may come out smaller.
_SAMPLED_ROWS: Final = 8
_FILTERS_SAVE: Final = 1.4  # PNG's filters and a slower search do this much better, and rarely more


def encoded(image: Image.Image, most_bytes: int | None = None) -> tuple[str, bytes]:
    """Media type and bytes of an RGB, grey or palette `image`: PNG or JPEG, whichever is smaller.

    Where neither is below `most_bytes`, quality gives way, then size: what asks for it shows the
    picture at a size of its own.
    """
    jpeg = _jpeg(image, _JPEG_QUALITIES[0])
    if _lossless_estimate(image) <= len(jpeg) * _FILTERS_SAVE:
        png = _png(image)
        if len(png) <= len(jpeg) and (most_bytes is None or len(png) <= most_bytes):
            return "image/png", png
    if most_bytes is None or len(jpeg) <= most_bytes:
        return "image/jpeg", jpeg
    for quality in _JPEG_QUALITIES[1:]:
        jpeg = _jpeg(image, quality)
        if len(jpeg) <= most_bytes:
            return "image/jpeg", jpeg
    if min(image.size) < 2:
        return "image/jpeg", jpeg
    return encoded(image.convert("RGB").reduce(2), most_bytes)


def _lossless_estimate(image: Image.Image) -> int:
    """About how many bytes the picture takes as PNG, by its every eighth row; 0 for a small one."""
    rows = range(0, image.height, _SAMPLED_ROWS)
    if image.height < 4 * _SAMPLED_ROWS:
        return 0
    sample = b"".join(image.crop((0, row, image.width, row + 1)).tobytes() for row in rows)
    return len(zlib.compress(sample, 1)) * image.height // len(rows)


def _png(image: Image.Image) -> bytes:
    data = BytesIO()
    # Pictures are in sRGB, which is what a picture without a profile is on a screen; one that was made on
    # the way would bear the time, and no two reports were alike.
    image.save(data, "PNG", compress_level=6, icc_profile=None)
    return data.getvalue()


def _jpeg(image: Image.Image, quality: int) -> bytes:
    data = BytesIO()
    shown = image.convert("RGB") if image.mode == "P" else image
    shown.save(data, "JPEG", quality=quality, optimize=True, progressive=True)
    return data.getvalue()
