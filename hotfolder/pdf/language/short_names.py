"""The short names of inline images (ISO 32000-2, 8.9.7, tables 91 and 92), and what they stand for.

Those of keys belong to inline images alone; those of filters and colour spaces are taken anywhere, as readers
in use everywhere do. A name that is no short one stands for itself.
"""

from collections.abc import Mapping
from typing import Final

_KEYS: Final[Mapping[str, str]] = {
    "BPC": "BitsPerComponent", "CS": "ColorSpace", "D": "Decode", "DP": "DecodeParms", "F": "Filter",
    "H": "Height", "IM": "ImageMask", "I": "Interpolate", "L": "Length", "W": "Width",
}  # fmt: skip

_FILTERS: Final[Mapping[str, str]] = {
    "AHx": "ASCIIHexDecode", "A85": "ASCII85Decode", "LZW": "LZWDecode", "Fl": "FlateDecode",
    "RL": "RunLengthDecode", "CCF": "CCITTFaxDecode", "DCT": "DCTDecode",
}  # fmt: skip

# CalCMYK is no short name: it was never defined, and means DeviceCMYK (PDF 1.7 reference, appendix H).
_COLOUR_SPACES: Final[Mapping[str, str]] = {
    "G": "DeviceGray", "RGB": "DeviceRGB", "CMYK": "DeviceCMYK", "I": "Indexed", "CalCMYK": "DeviceCMYK",
}  # fmt: skip


def full_key(key: str) -> str:
    """The key of an image's dictionary that a key of an inline image stands for; both without slash."""
    return _KEYS.get(key, key)


def full_filter(name: str) -> str:
    """The filter that a name stands for, without slash."""
    return _FILTERS.get(name, name)


def full_colour_space(name: str) -> str:
    """The family of colour spaces, or the resource, that a name stands for, without slash."""
    return _COLOUR_SPACES.get(name, name)
