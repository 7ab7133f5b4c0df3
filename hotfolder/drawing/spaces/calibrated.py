"""CalGray, CalRGB and Lab (ISO 32000-2, 8.6.5.2 to 8.6.5.4) for a colour engine that knows ICC profiles.

CalGray and CalRGB are what a profile of a matrix and tone curves says: so one is written for each, and
everything after goes the way of other profiles (ISO 15076-1: 7.2 header, 9.2 tags, 10.6 and 10.18 curves).
"""

import struct
from typing import Final

import numpy as np

from hotfolder.colour.press_colours import D50, Floats, lab_to_xyz, xyz_to_lab
from hotfolder.pdf.objects.reading import entry, number, numbers

# The Bradford matrix, by which colours are taken from one white to another (ISO 15076-1, annex E).
_BRADFORD: Final = np.array([[0.8951, 0.2664, -0.1614], [-0.7502, 1.7135, 0.0367], [0.0389, -0.0685, 1.0296]])
_LARGEST: Final = 32767.0  # that a profile's numbers can be


def white_point(parameters: object) -> Floats:
    """The white that colours are under; D50 where the file gives none that makes sense."""
    white = numbers(entry(parameters, "/WhitePoint"), 3)
    return np.array(white) if white is not None and min(white) > 0 else D50


def to_d50(white: Floats) -> Floats:
    """The matrix that takes XYZ under `white` to XYZ under D50."""
    wanted, given = _BRADFORD @ D50, _BRADFORD @ white
    matrix: Floats = np.linalg.inv(_BRADFORD) @ np.diag(wanted / given) @ _BRADFORD
    return matrix


def lab_under_d50(values: Floats, white: Floats) -> Floats:
    """CIELAB under `white` as CIELAB under D50."""
    if np.allclose(white, D50, atol=2e-3):  # programs round it to three or four places
        return values
    return xyz_to_lab((lab_to_xyz(values) * white) @ to_d50(white).T)


def cal_grey_profile(parameters: object) -> bytes:
    """A grey profile with the tone curve of a CalGray space."""
    gamma = number(entry(parameters, "/Gamma"))
    return _profile(b"GRAY", {b"kTRC": _curve(1.0 if gamma is None else gamma)})


def cal_rgb_profile(parameters: object) -> bytes:
    """An RGB profile with the matrix and curves of a CalRGB space."""
    gammas = numbers(entry(parameters, "/Gamma"), 3) or (1.0, 1.0, 1.0)
    given = numbers(entry(parameters, "/Matrix"), 9) or (1.0, 0.0, 0.0, 0.0, 1.0, 0.0, 0.0, 0.0, 1.0)
    # The file gives what red, green and blue each are in XYZ; these are the columns.
    columns = to_d50(white_point(parameters)) @ np.array(given).reshape(3, 3).T
    tags = {}
    for place, letter in enumerate((b"r", b"g", b"b")):
        tags[letter + b"XYZ"] = _xyz(columns[:, place])
        tags[letter + b"TRC"] = _curve(gammas[place])
    return _profile(b"RGB ", tags)


def _fixed(value: float) -> int:
    return round(min(max(value, -_LARGEST), _LARGEST) * 65536)


def _xyz(values: Floats) -> bytes:
    return b"XYZ " + bytes(4) + struct.pack(">3i", *(_fixed(float(each)) for each in values))


def _curve(gamma: float) -> bytes:
    """A parametric curve of function type 0: y = x to the power of gamma."""
    return b"para" + bytes(4) + struct.pack(">HHi", 0, 0, _fixed(gamma))


def _text(words: str) -> bytes:
    coded = words.encode("utf-16-be")
    return b"mluc" + bytes(4) + struct.pack(">II2s2sII", 1, 12, b"en", b"US", len(coded), 28) + coded


def _profile(space: bytes, tags: dict[bytes, bytes]) -> bytes:
    """A display profile of version 4.2 with these tags beside those that every profile has."""
    every = {b"desc": _text("calibrated colour"), b"cprt": _text("none"), b"wtpt": _xyz(D50), **tags}
    table, body = struct.pack(">I", len(every)), b""
    start = 128 + 4 + 12 * len(every)
    for key, data in every.items():
        table += struct.pack(">4sII", key, start + len(body), len(data))
        body += data + bytes(-len(data) % 4)
    size = start + len(body)
    header = struct.pack(">I4sI4s4s4s", size, b"none", 0x04200000, b"mntr", space, b"XYZ ")
    header += struct.pack(">6H4s4sI", 2000, 1, 1, 0, 0, 0, b"acsp", b"none", 0) + bytes(8)
    header += bytes(8) + struct.pack(">I", 1) + struct.pack(">3i", *(_fixed(float(each)) for each in D50))
    return header.ljust(128, b"\0") + table + body
