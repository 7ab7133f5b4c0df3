"""Facts of images (ISO 32000-2, 8.9): pixels, colours, masks, and resolution where they are placed."""

import math
from collections.abc import Callable
from dataclasses import dataclass, replace
from typing import Final

import pikepdf

from hotfolder.model.colour import Colour, ColourKind, ColourSpace
from hotfolder.model.marks import ImageFacts, Masking
from hotfolder.pdf.colour.colour_spaces import UNKNOWN, is_white
from hotfolder.pdf.colour.written_spaces import IndexedSpace, written_space
from hotfolder.pdf.images.coded_images import read_coded
from hotfolder.pdf.images.flat_images import flat_pixel
from hotfolder.pdf.images.jpx import JpxFacts
from hotfolder.pdf.language.short_names import full_filter
from hotfolder.pdf.objects.matrix import Matrix
from hotfolder.pdf.objects.reading import entry, identity, item, items, name, number, numbers, whole
from hotfolder.units import POINTS_PER_INCH

# Filters whose data say themselves how many bits a component has (8.9.5.1, table 87).
_BITS_OF_FILTER: Final[dict[tuple[str, ...], int]] = {
    ("CCITTFaxDecode",): 1,
    ("JBIG2Decode",): 1,
    ("DCTDecode",): 8,
}

_MOST_FILTERS: Final = 16
_NOT_PLACED: Final = math.inf  # the resolution of an image without extent, which no rule objects to


@dataclass(frozen=True, slots=True)
class StoredImage:
    """An image as the file holds it, before it is placed.

    white: all its pixels are known to be white. empty: it has no data at all, and paints nothing. clear: it
    is known to paint nothing, because its mask hides all of it, or because it is a stencil without painted
    bits.
    """

    facts: ImageFacts
    white: bool = False
    empty: bool = False
    clear: bool = False

    def placed(self, ctm: Matrix) -> ImageFacts:
        """The facts with the resolution of the image where `ctm` places its unit square (8.9.3).

        The resolution is that along the image's own axes: pixels by the lengths of the square's sides after
        transformation, also where it is rotated or skewed.
        """
        return replace(
            self.facts,
            x_ppi=_ppi(self.facts.width_px, ctm.x_length),
            y_ppi=_ppi(self.facts.height_px, ctm.y_length),
        )


def _ppi(pixels: int, length_pt: float) -> float:
    return pixels * POINTS_PER_INCH / length_pt if length_pt else math.inf


def read_image(
    get: Callable[[str], object], stream: object, colour_space: Callable[[object], ColourSpace]
) -> StoredImage | None:
    """The image whose dictionary entries `get` gives by their key; None where it has no pixels.

    stream: that of an image XObject; None for an inline image. colour_space: reads a colour space with the
    resources of the content stream. Where JPEG or JPEG 2000 data declare a size in pixels, it goes before the
    dictionary's.
    """
    filters = _filter_names(get("/Filter"))
    coded = read_coded(stream)
    jpx = coded.jpx
    width = coded.width_px or whole(get("/Width")) or 0
    height = coded.height_px or whole(get("/Height")) or 0
    if width <= 0 or height <= 0:
        return None
    stencil = get("/ImageMask") is True
    bits = 1 if stencil else whole(get("/BitsPerComponent")) or jpx.bits or _BITS_OF_FILTER.get(filters[-1:])
    colour = None if stencil else _colour(get("/ColorSpace"), jpx, colour_space)
    masking, mask = (Masking.STENCIL, None) if stencil else _masking(get)
    mask_coded = read_coded(mask)
    pixel = flat_pixel(stream, width, height, bits or 0, 1 if colour is None else colour.components)
    facts = ImageFacts(
        object=identity(stream),
        width_px=width,
        height_px=height,
        bits=bits,
        colour=colour,
        filters=filters,
        x_ppi=_NOT_PLACED,
        y_ppi=_NOT_PLACED,
        masking=masking,
        mask_width_px=mask_coded.width_px or whole(entry(mask, "/Width")),
        mask_height_px=mask_coded.height_px or whole(entry(mask, "/Height")),
        flat=pixel is not None or width == height == 1,
        jpeg_quality=coded.jpeg_quality,
    )
    plain = pixel is not None and get("/Decode") is None
    return StoredImage(
        facts,
        white=plain and _is_white(pixel, bits, colour, get("/ColorSpace")),
        empty=stream is not None and not whole(entry(stream, "/Length")),
        clear=_stencil_hides_all(pixel, get("/Decode")) if stencil else _mask_hides_all(masking, mask),
    )


def _mask_hides_all(masking: Masking, mask: object) -> bool:
    """Whether a mask is known to hide all of its picture (8.9.6.3, 11.6.5.3)."""
    width, height = whole(entry(mask, "/Width")) or 0, whole(entry(mask, "/Height")) or 0
    bits = 1 if entry(mask, "/ImageMask") is True else whole(entry(mask, "/BitsPerComponent")) or 0
    pixel = flat_pixel(mask, width, height, bits, 1) if width > 0 and height > 0 else None
    decode = entry(mask, "/Decode")
    if masking is Masking.EXPLICIT:
        return _stencil_hides_all(pixel, decode)
    if masking is not Masking.SOFT or not pixel:
        return False
    least, most = numbers(decode, 2) or (0.0, 1.0)  # what its values stand for (8.9.5.2)
    return least + (most - least) * pixel[0] / ((1 << bits) - 1) <= 0


def _stencil_hides_all(pixel: tuple[int, ...] | None, decode: object) -> bool:
    """Whether a stencil paints nothing whose pixels all have the value `pixel` (8.9.6.2); None: not known.

    A stencil paints where it is 0, unless its Decode array inverts it.
    """
    inverted = (number(item(decode, 0)) or 0.0) > 0.5
    return pixel is not None and bool(pixel[0]) is not inverted


def _filter_names(value: object) -> tuple[str, ...]:
    single = name(value)
    names = [single] if single is not None else [name(each) for each in items(value, _MOST_FILTERS)]
    return tuple(full_filter(each) for each in names if each is not None)


def _colour(value: object, jpx: JpxFacts, colour_space: Callable[[object], ColourSpace]) -> ColourSpace:
    """The colour space of the dictionary, else that of JPEG 2000 data (8.9.5.1), else an unknown one."""
    if value is not None:
        return colour_space(value)
    if jpx.colour is not None and jpx.colour is not UNKNOWN:
        return jpx.colour
    return ColourSpace("unknown", ColourKind.UNKNOWN, jpx.channels or 0)


def _masking(get: Callable[[str], object]) -> tuple[Masking, object]:
    """How the image is masked, and by which stream, if any; SMask goes before Mask (8.9.5.1, table 87)."""
    soft, mask = get("/SMask"), get("/Mask")
    if isinstance(soft, pikepdf.Stream):
        return Masking.SOFT, soft
    if whole(get("/SMaskInData")) in {1, 2}:
        return Masking.SOFT, None
    if isinstance(mask, pikepdf.Stream):
        return Masking.EXPLICIT, mask
    return (Masking.COLOUR_KEY if isinstance(mask, pikepdf.Array) else Masking.NONE), None


def _is_white(
    pixel: tuple[int, ...] | None, bits: int | None, colour: ColourSpace | None, space: object
) -> bool:
    """Whether `pixel`, of `bits` a component, is white; `space` is the image's ColorSpace entry."""
    if pixel is None or bits is None or colour is None:
        return False
    greatest = 2**bits - 1
    if colour.family == "Indexed" and colour.base is not None:
        # The entry that the pixel names (8.6.6.3): a byte for each component of the space beneath.
        pixel, greatest = _indexed_colour(space, pixel[0], colour.base), 255
        colour = colour.base
    if colour.kind is ColourKind.LAB or len(pixel) != colour.components:
        return False  # Lab has ranges of its own
    return is_white(Colour(colour, tuple(value / greatest for value in pixel)))


def _indexed_colour(space: object, number: int, base: ColourSpace) -> tuple[int, ...]:
    """The bytes of entry `number` in the lookup table of an Indexed space; empty where it has none."""
    written = written_space(space)
    table = written.table_bytes() if isinstance(written, IndexedSpace) else b""
    return tuple(table[number * base.components : (number + 1) * base.components])
