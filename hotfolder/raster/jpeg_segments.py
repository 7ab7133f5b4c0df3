"""Walks the segments at the head of JPEG data (ITU-T T.81, annex B), and reads the frame header."""

from collections.abc import Iterator
from dataclasses import dataclass
from typing import Final

_START: Final = b"\xff\xd8"
START_OF_SCAN, END_OF_IMAGE = 0xDA, 0xD9
ALONE: Final = frozenset({0x01, *range(0xD0, 0xD9)})  # TEM, restart markers and SOI have no length
FRAMES: Final = frozenset(range(0xC0, 0xD0)) - {
    0xC4,
    0xC8,
    0xCC,
}  # SOF0 to SOF15; DHT, JPG and DAC share the range
_MOST_SEGMENTS: Final = 10_000


@dataclass(frozen=True, slots=True)
class JpegFrame:
    """A frame header (B.2.2). height_px: 0 where it stands behind the first scan. bits: of a component."""

    width_px: int
    height_px: int
    components: int
    bits: int


def segments(data: bytes | memoryview) -> Iterator[tuple[int, bytes]]:
    """The marker and the body of each segment before the first scan; nothing where `data` are no JPEG."""
    place = 2
    if bytes(data[:2]) != _START:
        return
    for _ in range(_MOST_SEGMENTS):
        head = bytes(data[place : place + 4])
        if len(head) < 4 or head[0] != 0xFF or head[1] in {START_OF_SCAN, END_OF_IMAGE}:
            return
        if head[1] == 0xFF or head[1] in ALONE:
            place += 1 if head[1] == 0xFF else 2
            continue
        length = int.from_bytes(head[2:])
        yield head[1], bytes(data[place + 4 : place + 2 + length])
        place += 2 + length


def frame_in(marker: int, body: bytes) -> JpegFrame | None:
    """The frame header that a segment is; None where it is something else, or cut short."""
    if marker not in FRAMES or len(body) < 6:
        return None
    return JpegFrame(
        width_px=int.from_bytes(body[3:5]),
        height_px=int.from_bytes(body[1:3]),
        components=body[5],
        bits=body[0],
    )
