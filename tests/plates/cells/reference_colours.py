"""What colours that are not the press's own come to on the press, by littleCMS's own program `transicc`."""

import subprocess
from functools import cache
from pathlib import Path

from tests.plates.cells.sheet import cmyk
from tests.plates.presses import press, screen_profile


def from_screen(red: float, green: float, blue: float) -> dict[str, float]:
    """Inks for a colour of sRGB, 0 to 1."""
    return from_profile(screen_profile(), red, green, blue)


def from_profile(profile: Path, *components: float) -> dict[str, float]:
    """Inks for a colour of a profile, 0 to 1: media-relative, with black point compensation."""
    return _transformed(str(profile), " ".join(f"{255 * value:.4f}" for value in components))


def from_lab(lightness: float, a: float, b: float) -> dict[str, float]:
    """Inks for a colour of CIELAB relative to D50."""
    return _transformed("*Lab", f"{lightness} {a} {b}")


def from_xyz(x: float, y: float, z: float) -> dict[str, float]:
    """Inks for a colour of CIEXYZ relative to D50."""
    white = (0.9642, 1.0, 0.8249)
    fx, fy, fz = (_lab_curve(value / full) for value, full in zip((x, y, z), white, strict=True))
    return from_lab(116 * fy - 16, 500 * (fx - fy), 200 * (fy - fz))


def _lab_curve(t: float) -> float:
    """CIE 15, the curve of CIELAB."""
    return t ** (1 / 3) if t > (6 / 29) ** 3 else t / (3 * (6 / 29) ** 2) + 4 / 29


@cache
def _transformed(profile: str, components: str) -> dict[str, float]:
    done = subprocess.run(
        ["transicc", "-n", "-t1", "-b", "-i", profile, "-o", str(press().profile)],
        input=f"{components}\n", capture_output=True, text=True, check=True, timeout=60,
    )  # fmt: skip
    cyan, magenta, yellow, black = (float(value) / 100 for value in done.stdout.split())
    return cmyk(cyan, magenta, yellow, black)
