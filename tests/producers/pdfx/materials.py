"""What the makers of PDF/X files place: pictures of every kind of ink, and small profiles of presses.

All of it is drawn or computed here. The profiles are whole ICC profiles of version 2.1 (ICC.1:1998-09)
with every tag that an output profile must have (6.3.3), but with coarse tables: they say what a press
does about as well as a child's drawing does, and need 5 kB where one that is measured needs 200.
"""

import struct
from collections.abc import Callable, Iterable
from itertools import product
from pathlib import Path
from typing import Final

from PIL import Image, ImageDraw

# CIELAB of paper and of one ink each at full tone, about what offset on coated paper reaches
# (from memory); overprints are computed as if each ink took its share of what lies beneath.
_PAPER: Final = (95.0, 0.0, -2.0)
_INKS: Final = {
    "c": (55.0, -37.0, -50.0),
    "m": (48.0, 74.0, -3.0),
    "y": (89.0, -5.0, 93.0),
    "k": (16.0, 0.0, 0.0),
}
_D50: Final = (0.9642, 1.0, 0.8249)
_STEPS_OF_INK: Final = 3
_STEPS_OF_LAB: Final = 5


def make_materials(folder: Path) -> None:
    """Writes every picture and every profile into `folder`."""
    (folder / "press.icc").write_bytes(press_profile())
    (folder / "grey-press.icc").write_bytes(grey_profile())
    (folder / "screen.icc").write_bytes(screen_profile())
    slope = [[(x, y) for x in range(60)] for y in range(40)]
    cells = [cell for row in slope for cell in row]
    cmyk = Image.new("CMYK", (60, 40))
    cmyk.putdata([(x * 4, y * 6, 30, (x + y) % 40) for x, y in cells])
    cmyk.save(folder / "cmyk.jpg", quality=85, dpi=(150, 150))
    cmyk.save(folder / "cmyk.tif", dpi=(150, 150), compression="tiff_deflate")
    grey = Image.new("L", (60, 40))
    grey.putdata([(x * 4 + y) % 256 for x, y in cells])
    grey.save(folder / "grey.jpg", quality=85, dpi=(150, 150))
    grey.save(folder / "grey.png", dpi=(150, 150))
    rgb = Image.new("RGB", (60, 40))
    rgb.putdata([(x * 4, 120, y * 6) for x, y in cells])
    rgb.save(folder / "rgb.jpg", quality=85, dpi=(150, 150))
    rgb.save(folder / "rgb-tagged.png", dpi=(150, 150), icc_profile=screen_profile())
    rgb.save(folder / "rgb.png", dpi=(150, 150))
    line_art = Image.new("1", (240, 160), 1)
    ImageDraw.Draw(line_art).ellipse((30, 20, 210, 140), fill=0)
    line_art.save(folder / "line-art.png", dpi=(600, 600))
    line_art.save(folder / "line-art.tif", dpi=(600, 600), compression="group4")
    fading = rgb.convert("RGBA")
    fading.putalpha(grey)
    fading.save(folder / "fading.png", dpi=(150, 150))


def press_profile() -> bytes:
    """A profile for four inks."""
    to_lab = _table(4, 3, _STEPS_OF_INK, lambda at: _encoded_lab(_overprint(at)))
    to_ink = _table(3, 4, _STEPS_OF_LAB, lambda at: [round(tone * 65535) for tone in _inks_for(*at)])
    gamut = _table(3, 1, 2, lambda _: [0])
    tables = (
        {f"A2B{way}": to_lab for way in range(3)}
        | {f"B2A{way}": to_ink for way in range(3)}
        | {"gamt": gamut}
    )
    return _profile(b"prtr", b"CMYK", b"Lab ", "A press made up for tests", tables)


def grey_profile() -> bytes:
    """A profile for black alone."""
    return _profile(b"prtr", b"GRAY", b"XYZ ", "One black made up for tests", {"kTRC": _gamma(1.8)})


def screen_profile() -> bytes:
    """A profile for a screen, with the primaries that IEC 61966-2-1 gives (as adapted to D50)."""
    primaries = {
        "rXYZ": (0.4361, 0.2225, 0.0139),
        "gXYZ": (0.3851, 0.7169, 0.0971),
        "bXYZ": (0.1431, 0.0606, 0.7141),
    }
    curves = {f"{colour}TRC": _gamma(2.2) for colour in "rgb"}
    tags = {name: _xyz(*at) for name, at in primaries.items()} | curves
    return _profile(b"mntr", b"RGB ", b"XYZ ", "A screen made up for tests", tags)


def _overprint(tones: Iterable[float]) -> tuple[float, float, float]:
    colour = list(_PAPER)
    for tone, ink in zip(tones, _INKS.values(), strict=True):
        share = (_PAPER[0] - ink[0]) / _PAPER[0]
        colour = [
            colour[0] * (1 - tone * share),
            colour[1] * (1 - tone * share) + tone * ink[1],
            colour[2] * (1 - tone * share) + tone * ink[2],
        ]
    return (colour[0], colour[1], colour[2])


def _encoded_lab(lab: tuple[float, float, float]) -> list[int]:
    """CIELAB in the 16 bits of ICC.1:1998-09, table 6.10: FF00h is L* of 100, 8000h is a* of 0."""
    lightness, a, b = lab
    ranges = ((lightness, 0.0), (a * 100 / 255, 128 * 100 / 255), (b * 100 / 255, 128 * 100 / 255))
    return [max(0, min(65535, round((value + zero) / 100 * 65280))) for value, zero in ranges]


def _inks_for(lightness: float, a: float, b: float) -> list[float]:
    """Tones for a place in CIELAB, each coordinate from 0 to 1: black takes what all three share."""
    shade = 1 - lightness
    a, b = a - 0.5, b - 0.5
    tones = [min(1.0, max(0.0, shade + share)) for share in (-a - b, a, b)]
    black = min(tones) * shade
    return [*(tone - black for tone in tones), black]


def _table(inputs: int, outputs: int, steps: int, entry: Callable[[tuple[float, ...]], list[int]]) -> bytes:
    """A lut16Type whose curves change nothing (ICC.1:1998-09, 6.5.7)."""
    head = b"mft2" + bytes(4) + bytes((inputs, outputs, steps, 0))
    unity = struct.pack(">9i", 65536, 0, 0, 0, 65536, 0, 0, 0, 65536)
    straight = struct.pack(">2H", 0, 65535)
    places = product(*[[step / (steps - 1) for step in range(steps)]] * inputs)
    grid = b"".join(struct.pack(f">{outputs}H", *entry(place)) for place in places)
    return head + unity + struct.pack(">2H", 2, 2) + straight * inputs + grid + straight * outputs


def _gamma(value: float) -> bytes:
    return b"curv" + bytes(4) + struct.pack(">IH", 1, round(value * 256))


def _xyz(*at: float) -> bytes:
    return b"XYZ " + bytes(4) + struct.pack(">3i", *(round(value * 65536) for value in at))


def _description(name: str) -> bytes:
    text = name.encode("ascii") + b"\0"
    return b"desc" + bytes(4) + struct.pack(">I", len(text)) + text + bytes(8 + 3 + 67)


def _profile(kind: bytes, space: bytes, between: bytes, name: str, tags: dict[str, bytes]) -> bytes:
    """An ICC profile; tags that are alike share their bytes. Its date is fixed, so that it never changes."""
    tags = {
        "desc": _description(name),
        "cprt": b"text" + bytes(4) + b"Made by the tests; free for any use\0",
        "wtpt": _xyz(*_D50),
        **tags,
    }
    start = 128 + 4 + 12 * len(tags)
    bodies: dict[bytes, int] = {}
    data = b""
    for body in tags.values():
        if body not in bodies:
            bodies[body] = start + len(data)
            data += body + bytes(-len(body) % 4)
    table = struct.pack(">I", len(tags)) + b"".join(
        struct.pack(">4sII", key.encode(), bodies[body], len(body)) for key, body in tags.items()
    )
    head = bytearray(128)
    struct.pack_into(">I4sI4s4s4s", head, 0, start + len(data), bytes(4), 0x02100000, kind, space, between)
    struct.pack_into(">6H", head, 24, 2026, 1, 1, 0, 0, 0)
    head[36:40] = b"acsp"
    struct.pack_into(">3i", head, 68, *(round(value * 65536) for value in _D50))
    return bytes(head) + table + data
