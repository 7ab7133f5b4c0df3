"""Pictures as bytes that a web page can hold."""

from io import BytesIO

from PIL import Image

# Eye-proof at this size; the report shows places, and nobody judges a photo's grain by it.
_JPEG_QUALITY = 80


def encoded(image: Image.Image) -> tuple[str, bytes]:
    """Media type and bytes of an RGB or grey `image`: PNG or JPEG, whichever is smaller."""
    png, jpeg = BytesIO(), BytesIO()
    image.save(png, "PNG", optimize=True)
    image.save(jpeg, "JPEG", quality=_JPEG_QUALITY, optimize=True, progressive=True)
    if len(png.getvalue()) <= len(jpeg.getvalue()):
        return "image/png", png.getvalue()
    return "image/jpeg", jpeg.getvalue()
