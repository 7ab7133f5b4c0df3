"""How well a JPEG keeps detail, told by its quantisation tables (ITU-T T.81, B.2.4.1 and annex K).

Programs name their qualities each in its own way; what was thrown away stands in the tables. The scale from
1 to 100 is that of the common JPEG library, which multiplies the example tables of annex K.
"""

from typing import Final

from hotfolder.raster.jpeg_segments import segments

# Table K.1, luminance. Only its sum counts here, so that the order does not matter.
_LUMINANCE: Final = (
    16, 11, 10, 16, 24, 40, 51, 61, 12, 12, 14, 19, 26, 58, 60, 55,
    14, 13, 16, 24, 40, 57, 69, 56, 14, 17, 22, 29, 51, 87, 80, 62,
    18, 22, 37, 56, 68, 109, 103, 77, 24, 35, 55, 64, 81, 104, 113, 92,
    49, 64, 78, 87, 103, 121, 120, 101, 72, 92, 95, 98, 112, 100, 103, 99,
)  # fmt: skip
_VALUES: Final = 64

_TABLES: Final = 0xDB  # DQT


def jpeg_quality(data: bytes | memoryview) -> int | None:
    """About the quality, from 1 to 100, of the JPEG data; None where their head tells none."""
    bodies = (body for marker, body in segments(data) if marker == _TABLES)
    return next((quality for body in bodies if (quality := quality_of_tables(body)) is not None), None)


def quality_of_tables(segment: bytes) -> int | None:
    """About the quality that the luminance table in the body of a table segment makes.

    That is the table numbered 0; None where the segment does not hold it whole.
    """
    place = 0
    while place < len(segment):
        wide, number = segment[place] >> 4, segment[place] & 0x0F
        size = 2 if wide else 1
        body = segment[place + 1 : place + 1 + _VALUES * size]
        if len(body) < _VALUES * size:
            return None
        if number == 0:
            return _nearest(sum(int.from_bytes(body[at : at + size]) for at in range(0, len(body), size)))
        place += 1 + _VALUES * size
    return None


def _nearest(total: int) -> int:
    """The quality whose luminance table comes nearest to this sum."""
    return min(range(1, 101), key=lambda quality: abs(_SUMS[quality - 1] - total))


def _sum_at(quality: int) -> int:
    """The sum of the luminance table at a quality, as the common library scales it."""
    scale = 5000 // quality if quality < 50 else 200 - 2 * quality
    return sum(min(max((value * scale + 50) // 100, 1), 255) for value in _LUMINANCE)


_SUMS: Final = tuple(_sum_at(quality) for quality in range(1, 101))
