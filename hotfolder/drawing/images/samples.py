"""The samples of a picture as bytes over its components' ranges, made smaller (ISO 32000-2, 8.9.5).

What a Decode array says is undone here, and colours that a key leaves unpainted become alpha.
"""

from dataclasses import dataclass
from typing import Final

import numpy as np

from hotfolder.drawing.grid.reducing import WHOLE, Smaller, reduced
from hotfolder.drawing.images.bilevel import decode_bilevel
from hotfolder.drawing.images.codecs import data_before, decode_jpeg, decode_jpx
from hotfolder.drawing.images.entries import BILEVEL_CODECS, ImageEntries
from hotfolder.drawing.images.rows import strips
from hotfolder.drawing.spaces.space import Ranges
from hotfolder.errors import NotDrawnError
from hotfolder.model.plates import Bytes
from hotfolder.pdf.images.jpx import component_depths

# A strip holds so many samples at the least, so that working on it is worth a call.
_STRIP_SAMPLES: Final = 1 << 20

_PREMULTIPLIED: Final = 2  # of SMaskInData (8.9.5.1, table 87)


@dataclass(frozen=True, slots=True)
class Samples:
    """Pixels of shape (rows, columns, components), 0 to 255 over each component's range.

    extent: how many columns and rows of them the picture is; the last ones may count in part only. alpha:
    shape (rows, columns), 255 painted, 0 not; None where all is painted.
    """

    pixels: Bytes
    extent: tuple[float, float]
    alpha: Bytes | None = None


def read_samples(entries: ImageEntries, components: int, smaller: Smaller) -> Samples:
    """A picture's samples, 0 for the least and 255 for the greatest that they can be; Decode left aside.

    Those of 16 bits are rounded. NotDrawnError where the data cannot be decoded.
    """
    if entries.codec in BILEVEL_CODECS:
        return Samples(decode_bilevel(entries, smaller), smaller.extent(entries.width, entries.height))
    if entries.codec in {"DCTDecode", "JPXDecode"}:
        return _decoded(entries, components, smaller)
    return _unpacked(entries, components, smaller)


def _decoded(entries: ImageEntries, components: int, smaller: Smaller) -> Samples:
    keyed = entries.key is not None
    most = 1 if keyed else min(smaller.across, smaller.down)
    if entries.codec == "DCTDecode":
        decoded = decode_jpeg(entries, most)
    else:
        decoded = decode_jpx(entries, most, components or None)
    rest = Smaller(max(1, smaller.across // decoded.smaller), max(1, smaller.down // decoded.smaller))
    scale = decoded.smaller
    extent = Smaller(rest.across * scale, rest.down * scale).extent(decoded.width, decoded.height)
    if keyed:
        painted_pixels, painted = _without_key(decoded.samples, entries, 8, rest)
        return Samples(painted_pixels, extent, painted)
    kept = decoded.alpha if entries.alpha_in_data else None
    alpha = reduced(kept[..., None], rest)[..., 0] if kept is not None else None
    pixels = reduced(decoded.samples, rest)
    if entries.alpha_in_data == _PREMULTIPLIED and alpha is not None:
        pixels = _divided(pixels, alpha)
    return Samples(pixels, extent, alpha)


def _divided(pixels: Bytes, alpha: Bytes) -> Bytes:
    """Colours that had been multiplied by their alpha (11.6.5.3, SMaskInData 2)."""
    share = np.maximum(alpha, 1)[..., None].astype(np.uint32)
    divided: Bytes = np.minimum((pixels * np.uint32(255) + share // 2) // share, 255).astype(np.uint8)
    return divided


def _unpacked(entries: ImageEntries, components: int, smaller: Smaller) -> Samples:
    rows = max(1, _STRIP_SAMPLES // (entries.width * components * smaller.down)) * smaller.down
    size = -(-entries.height // smaller.down), -(-entries.width // smaller.across)
    pixels = np.zeros((*size, components), np.uint8)
    alpha = np.zeros(size, np.uint8) if entries.key is not None else None
    done = 0
    for packed in strips(entries, components, rows):
        raw = _unpack(packed, entries.width * components, entries.bits)
        raw = raw.reshape(len(packed), entries.width, components)
        if alpha is None:
            part = reduced(_as_bytes(raw, entries.bits), smaller)
        else:
            part, painted = _without_key(raw, entries, entries.bits, smaller)
            alpha[done : done + len(part)] = painted
        pixels[done : done + len(part)] = part
        done += len(part)
    if not done:
        raise NotDrawnError("a picture has no data")
    if alpha is None and done < len(pixels):
        # Rows that are missing at the end are not painted.
        alpha = np.full(size, 255, np.uint8)
        alpha[done:] = 0
    return Samples(pixels, smaller.extent(entries.width, entries.height), alpha)


def _unpack(packed: Bytes, count: int, bits: int) -> Bytes:
    """`count` raw samples of each row; those of 16 bits as uint16."""
    if bits == 8:
        return packed
    if bits == 16:
        return packed.view(">u2")
    if bits == 1:
        return np.unpackbits(packed, axis=1, count=count)
    shifts = np.arange(8 - bits, -1, -bits, dtype=np.uint8)
    apart: Bytes = packed[:, :, None] >> shifts & np.uint8((1 << bits) - 1)
    return apart.reshape(len(packed), -1)[:, :count]


def _as_bytes(raw: Bytes, bits: int) -> Bytes:
    """Raw samples spread over 0 to 255."""
    if bits == 8:
        return raw
    if bits == 16:
        return ((raw.astype(np.uint32) + 128) // 257).astype(np.uint8)
    return raw * np.uint8(255 // ((1 << bits) - 1))


def _without_key(raw: Bytes, entries: ImageEntries, bits: int, smaller: Smaller) -> tuple[Bytes, Bytes]:
    """Samples and alpha, where colours within the key's ranges are not painted (8.9.6.4).

    Means are taken of the painted pixels only: the key's colour does not bleed into its surroundings.
    """
    components = raw.shape[2]
    key = entries.key or ()
    if len(key) < 2 * components:
        raise NotDrawnError("a picture's colour key does not fit its colours")
    hidden = np.ones(raw.shape[:2], bool)
    for place in range(components):
        low, high = key[2 * place], key[2 * place + 1]
        hidden &= (raw[..., place] >= low) & (raw[..., place] <= high)
    samples = _as_bytes(raw, bits).copy()
    if smaller == WHOLE:
        return samples, np.where(hidden, np.uint8(0), np.uint8(255))
    samples[hidden] = 0
    alpha = reduced(np.where(hidden, np.uint8(0), np.uint8(255))[..., None], smaller)
    means = reduced(samples, smaller).astype(np.uint32)
    return np.minimum(means * 255 // np.maximum(alpha, 1), 255).astype(np.uint8), alpha[..., 0]


def decode_tables(decode: tuple[float, ...] | None, ranges: Ranges) -> list[Bytes] | None:
    """For each component what its samples become by a Decode array; None where they stay as they are."""
    if decode is None or len(decode) < 2 * len(ranges):
        return None
    tables = []
    for place, (low, high) in enumerate(ranges):
        first, last = decode[2 * place], decode[2 * place + 1]
        values = first + np.arange(256) / 255 * (last - first)
        extent = high - low or 1.0
        tables.append(np.rint(np.clip((values - low) / extent, 0, 1) * 255).astype(np.uint8))
    same = np.arange(256, dtype=np.uint8)
    return None if all((table == same).all() for table in tables) else tables


def place_table(entries: ImageEntries, top: int) -> Bytes:
    """Which entry of a palette each sample (spread over 0 to 255) stands for, by its Decode array."""
    bits = entries.bits
    if entries.codec == "JPXDecode":  # those of the data count, not the dictionary's (8.9.5.1, table 87)
        bits = max(component_depths(data_before(entries)), default=8)
    greatest = (1 << min(bits, 8)) - 1
    raw = np.rint(np.arange(256) / 255 * greatest)
    if entries.decode is not None and len(entries.decode) >= 2:
        first, last = entries.decode[:2]
        raw = np.rint(first + raw / greatest * (last - first))
    return np.clip(raw, 0, top).astype(np.uint8)


def by_tables(pixels: Bytes, tables: list[Bytes] | None) -> Bytes:
    """Each component through its table."""
    if tables is None:
        return pixels
    return np.stack([table[pixels[..., place]] for place, table in enumerate(tables)], axis=2)
