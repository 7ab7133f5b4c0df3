"""Finds out whether all pixels of an image have one colour, for images that are small when compressed.

Programs place single pixels, stretched, as rectangles and shadows. Such an image has no detail that
a low resolution could lose.
"""

from hotfolder.pdf.objects.limits import FLAT_IMAGE_DECODED_BYTES, FLAT_IMAGE_RAW_BYTES
from hotfolder.pdf.objects.reading import entry, whole
from hotfolder.pdf.objects.streams import PACKING_FILTERS, bounded_bytes, filters


def flat_pixel(stream: object, width: int, height: int, bits: int, components: int) -> tuple[int, ...] | None:
    """The value that all pixels of a small stream have, by components; None where they differ or are unknown.

    width, height: in pixels. bits: of a component.
    """
    names = set(filters(stream))
    # Data without filters are as long as what they decode to.
    most = FLAT_IMAGE_RAW_BYTES if names else FLAT_IMAGE_DECODED_BYTES
    if not names <= PACKING_FILTERS or (whole(entry(stream, "/Length")) or 0) > most:
        return None
    if width * height * components > FLAT_IMAGE_DECODED_BYTES:
        return None
    data = bounded_bytes(stream, FLAT_IMAGE_DECODED_BYTES)
    return one_value(data, width, height, bits, components) if data is not None else None


def one_value(data: bytes, width: int, height: int, bits: int, components: int) -> tuple[int, ...] | None:
    """The components of the value that all pixels have; None where they differ, or bits are not 1 or 8."""
    if bits == 8 and components:
        pixel = data[:components]
        wanted = width * height * components
        return tuple(pixel) if data[:wanted] == pixel * (width * height) else None
    if bits == 1 and components == 1:
        wanted = (width + 7) // 8 * height
        for value, byte in ((0, b"\x00"), (1, b"\xff")):
            # The bits that pad each row to whole bytes may differ; then the image does not count as flat.
            if data[:wanted] == byte * wanted:
                return (value,)
    return None
