"""What an image's dictionary says (ISO 32000-2, 8.9.5, table 87), narrowed for decoding."""

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Final

import pikepdf

from hotfolder.colour.conversions import Intent
from hotfolder.errors import NotDrawnError
from hotfolder.pdf.language.short_names import full_filter, full_key
from hotfolder.pdf.objects.reading import entry, item, items, name, number, whole

_MOST_FILTERS: Final = 16
_MOST_SIDE: Final = 1 << 20  # pixels
_MOST_COMPONENTS: Final = 64

_INTENTS: Final = {
    "Perceptual": Intent.PERCEPTUAL, "RelativeColorimetric": Intent.RELATIVE,
    "Saturation": Intent.SATURATION, "AbsoluteColorimetric": Intent.ABSOLUTE,
}  # fmt: skip

# Codecs of 1 bit; the renderer decodes them well, and Pillow reads neither as it stands in a PDF.
BILEVEL_CODECS: Final = frozenset({"CCITTFaxDecode", "JBIG2Decode"})


@dataclass(frozen=True, slots=True)
class ImageEntries:
    """An image as its dictionary describes it.

    bits: of a component; 0 where only the data say so (JPX). filters: full names in the order of decoding;
    parameters: the last filter's. decode: None where the space's own ranges hold. key: ranges of raw
    components that stay unpainted. matte: the colour that the picture was blended with beforehand.
    """

    stream: pikepdf.Stream
    width: int
    height: int
    bits: int
    filters: tuple[str, ...]
    parameters: object
    space: object
    decode: tuple[float, ...] | None
    stencil: bool
    soft_mask: pikepdf.Stream | None
    mask: pikepdf.Stream | None
    key: tuple[float, ...] | None
    matte: tuple[float, ...] | None
    alpha_in_data: int
    intent: Intent | None

    @property
    def codec(self) -> str:
        """The filter that makes the pixels; empty where they are not packed."""
        return self.filters[-1] if self.filters else ""

    def intent_in(self, state: Intent) -> Intent:
        """The rendering intent that counts: its own, else that of the graphics state."""
        return state if self.intent is None else self.intent


def read_entries(stream: pikepdf.Stream) -> ImageEntries:
    """What an image XObject says; NotDrawnError where it has no size that makes sense."""
    width, height = whole(entry(stream, "/Width")) or 0, whole(entry(stream, "/Height")) or 0
    if not (0 < width <= _MOST_SIDE and 0 < height <= _MOST_SIDE):
        raise NotDrawnError("a picture has no size")
    filters = _filter_names(entry(stream, "/Filter"))
    stencil = entry(stream, "/ImageMask") is True
    soft, mask = entry(stream, "/SMask"), entry(stream, "/Mask")
    soft = soft if isinstance(soft, pikepdf.Stream) and not stencil else None
    in_data = whole(entry(stream, "/SMaskInData")) or 0
    # A soft mask goes before other masks (8.9.5.1).
    masked = soft is None and in_data not in {1, 2} and not stencil
    return ImageEntries(
        stream=stream,
        width=width,
        height=height,
        bits=_bits(stream, filters, stencil=stencil),
        filters=filters,
        parameters=_last(entry(stream, "/DecodeParms")),
        space=entry(stream, "/ColorSpace"),
        decode=_list(entry(stream, "/Decode")),
        stencil=stencil,
        soft_mask=soft,
        mask=mask if isinstance(mask, pikepdf.Stream) and masked else None,
        key=_list(mask) if isinstance(mask, pikepdf.Array) and masked else None,
        matte=_list(entry(soft, "/Matte")) if soft is not None else None,
        alpha_in_data=in_data if soft is None and in_data in {1, 2} else 0,
        intent=intent_named(name(entry(stream, "/Intent"))),
    )


def intent_named(intent: str | None) -> Intent | None:
    """The rendering intent of a name, without its slash (8.6.5.8); None for any other."""
    return None if intent is None else _INTENTS.get(intent)


def inline_stream(pdf: pikepdf.Pdf, entries: Mapping[str, object], data: bytes) -> pikepdf.Stream:
    """An inline image (8.9.7) as an image XObject; keys come with their slash, short or long."""
    full = {"/" + full_key(key.removeprefix("/")): value for key, value in entries.items()}
    full.pop("/Length", None)
    made = pdf.make_stream(data)
    for key, value in full.items():
        made[key] = value
    made["/Type"], made["/Subtype"] = pikepdf.Name.XObject, pikepdf.Name.Image
    filters = [pikepdf.Name(f"/{each}") for each in _filter_names(full.get("/Filter"))]
    if filters:
        made["/Filter"] = filters[0] if len(filters) == 1 else pikepdf.Array(filters)
    return made


def parameters_of_filters(entries: ImageEntries) -> list[object]:
    """The parameters of each of its filters; None where one has none."""
    given = entry(entries.stream, "/DecodeParms")
    every = [item(given, place) for place in range(len(entries.filters))]
    return every if isinstance(given, pikepdf.Array) else [*every[:-1], given]


def _filter_names(value: object) -> tuple[str, ...]:
    single = name(value)
    names = [single] if single is not None else [name(each) for each in items(value, _MOST_FILTERS)]
    return tuple(full_filter(each) for each in names if each is not None)


def _bits(stream: object, filters: tuple[str, ...], *, stencil: bool) -> int:
    codec = filters[-1] if filters else ""
    if stencil or codec in BILEVEL_CODECS:
        return 1
    if codec == "DCTDecode":
        return 8
    bits = whole(entry(stream, "/BitsPerComponent"))
    if codec == "JPXDecode":
        return bits or 0
    if bits not in {1, 2, 4, 8, 16}:
        raise NotDrawnError("a picture does not say how many bits its colours have")
    return bits


def _last(value: object) -> object:
    return item(value, len(value) - 1) if isinstance(value, pikepdf.Array) and len(value) else value


def _list(value: object) -> tuple[float, ...] | None:
    numbers = [number(each) for each in items(value, 2 * _MOST_COMPONENTS)]
    kept = tuple(each for each in numbers if each is not None)
    return kept if kept and len(kept) == len(numbers) else None
