"""ICC profiles made byte by byte: of any version, class and colour space, and otherwise as a screen has them.

Source: ICC.1:2001-04 (version 2): 6.1 for the header, 6.2 for the table of tags, 6.3.4 for those of a profile
of three primaries, 6.5 for their types.
"""

import struct
from typing import Final

# White and primaries of sRGB under D50 (IEC 61966-2-1, adapted).
_WHITE: Final = (0.9642, 1.0, 0.8249)
_PRIMARIES: Final = {
    b"rXYZ": (0.4361, 0.2225, 0.0139),
    b"gXYZ": (0.3851, 0.7169, 0.0971),
    b"bXYZ": (0.1431, 0.0606, 0.7141),
}
_GAMMA: Final = 2.2


def profile_by_hand(
    space: str = "RGB", device_class: str = "mntr", version: tuple[int, int] = (2, 4)
) -> bytes:
    """A profile; only its header says that it is of another space than RGB."""
    name = b"Lantern screen\0"
    tags = {
        b"desc": b"desc" + struct.pack(">4xI", len(name)) + name + bytes(4 + 4 + 2 + 1 + 67),
        b"cprt": b"text" + bytes(4) + b"No rights reserved\0",
        b"wtpt": _xyz(_WHITE),
        **{tag: _xyz(primary) for tag, primary in _PRIMARIES.items()},
        **{
            tag: b"curv" + struct.pack(">4xIH", 1, round(_GAMMA * 256)) for tag in (b"rTRC", b"gTRC", b"bTRC")
        },
    }
    table, data = b"", b""
    start = 128 + 4 + 12 * len(tags)
    for tag, element in tags.items():
        table += struct.pack(">4sII", tag, start + len(data), len(element))
        data += element + bytes(-len(element) % 4)
    major, minor = version
    head = struct.pack(
        ">I4xBB2x4s4s4s12x4s16x12s", start + len(data), major, minor << 4, device_class.encode(),
        space.ljust(4).encode(), b"XYZ ", b"acsp", bytes(12),
    )  # fmt: skip
    head += _numbers(_WHITE)  # of the connection space
    return head.ljust(128, b"\0") + struct.pack(">I", len(tags)) + table + data


def _xyz(values: tuple[float, ...]) -> bytes:
    return b"XYZ " + bytes(4) + _numbers(values)


def _numbers(values: tuple[float, ...]) -> bytes:
    return struct.pack(f">{len(values)}i", *(round(each * 65536) for each in values))
