"""Builds the shipped profiles from published measurements, with Argyll's colprof.

Run by a developer, never by hotfolder itself: `python -m hotfolder.presses.building [NAME ...]` on a machine
with Debian's `argyll` and `icc-profiles-free`. It stands beside the table that it reads and the
profiles that it writes. A profile takes about a minute.
"""

import shutil
import subprocess
import sys
import tempfile
import tomllib
from collections.abc import Sequence
from pathlib import Path
from typing import Any, Final

HERE: Final = Path(__file__).parent
DATA: Final = Path("/usr/share/color/icc")  # of icc-profiles-free

# How black takes part. Left alone, colprof makes half of a middle grey of black, so that converted
# pictures would seem to need less ink than they get on common presses. Here black begins in the light
# tones, is a fifth to a quarter of a middle grey, and reaches 93 % where the picture is darkest.
BLACK_CURVE: Final = ("0", "0.25", "1.0", "0.93", "0.45")
MOST_BLACK_PERCENT: Final = 94

COLPROF: Final = (
    "colprof",
    "-qm", "-bm",  # medium tables: 9 steps an ink, 17 steps an axis of CIELAB
    "-nc",  # the measurements themselves stay out of the profile
    "-kp", *BLACK_CURVE, "-L", str(MOST_BLACK_PERCENT),
    "-S", str(DATA / "sRGB.icc"),  # the gamut that the perceptual and saturation tables make room for
    "-cmt", "-dpp",  # from a screen in an office to a print under ordinary light
)  # fmt: skip


def build(entry: dict[str, Any], folder: Path) -> Path:
    """The profile of a `[[press]]` table, built in `folder`."""
    name = entry["name"]
    shutil.copyfile(DATA / entry["data"], folder / f"{name}.ti3")
    words = (
        "-D", f"hotfolder: {name}, after {entry['condition']}",
        "-C", f"Made from the characterisation data {entry['measured']}",
        "-A", "hotfolder", "-M", name,
        "-l", str(entry["total_ink_percent"]),
    )  # fmt: skip
    subprocess.run([*COLPROF, *words, name], cwd=folder, check=True)  # noqa: S603 - a developer's own tool
    return next(folder.glob(f"{name}.ic[cm]"))


def main(names: Sequence[str]) -> None:
    """Build the presses called `names`, or all, into this folder."""
    table = tomllib.loads((HERE / "presses.toml").read_text(encoding="utf-8"))
    for entry in table["press"]:
        if not names or entry["name"] in names:
            with tempfile.TemporaryDirectory() as folder:
                shutil.copyfile(build(entry, Path(folder)), HERE / f"{entry['name']}.icc")


if __name__ == "__main__":
    main(sys.argv[1:])
