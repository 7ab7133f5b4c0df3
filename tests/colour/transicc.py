"""littleCMS's own converter, `transicc` (Debian's liblcms2-utils), as a function on arrays."""

import shutil
import subprocess
from pathlib import Path
from typing import Final

import numpy as np
import pytest
from numpy.typing import NDArray

from hotfolder.colour.conversions import Intent

ICC_FREE: Final = Path("/usr/share/color/icc")  # Debian's icc-profiles-free

needs_transicc = pytest.mark.skipif(shutil.which("transicc") is None, reason="not installed: transicc")


def needs_file(path: Path, package: str) -> pytest.MarkDecorator:
    return pytest.mark.skipif(not path.is_file(), reason=f"not installed: {path.name} of {package}")


def transicc(
    colours: NDArray[np.float64], source: str, target: str, intent: Intent, *, black_point: bool
) -> NDArray[np.float64]:
    """`colours` (n, channels) from profile to profile: RGB and grey 0 to 255, inks in percent, CIELAB."""
    lines = "".join(" ".join(f"{value:.6f}" for value in row) + "\n" for row in colours)
    command = ["transicc", "-n", f"-t{int(intent)}", f"-i{source}", f"-o{target}"]
    done = subprocess.run(
        command + ["-b"] * black_point, input=lines, capture_output=True, text=True, timeout=60, check=True
    )
    answers = [[float(word) for word in line.split()] for line in done.stdout.splitlines() if line.strip()]
    assert len(answers) == len(colours), done.stderr
    return np.array(answers)
