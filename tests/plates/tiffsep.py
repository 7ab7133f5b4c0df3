"""Draws plates with Ghostscript's `tiffsep`: another program's answer to what lies on each plate."""

import re
import shutil
import subprocess
import tempfile
from functools import cache
from pathlib import Path
from typing import Final, TypeAlias

import numpy as np
from numpy.typing import NDArray
from PIL import Image

from tests.plates.presses import press, screen_profile

PX_PER_MM: Final = 12  # 304.8 ppi, so that cells of a millimetre are whole pixels
# How much finer it draws than the picture that it gives. It fills every pixel that a shape touches and sets
# type on whole pixels: at 300 ppi a page of small type comes out up to 30 % too heavy, and the most ink on
# a millimetre up to 10 points off; at 1200 ppi both are settled to about 1 %.
FINER: Final = 4
# So fine that what is left of all that does not matter: 9754 ppi.
CLOSE_PX_PER_MM: Final = 384
_TIMEOUT_S: Final = 240
# A grey that is the same number on both sides. It has no say in how much black DeviceGray lays, which is
# always 1 - grey here; but masks by luminosity would be bent by the curve of the default profile, and
# the standard takes DeviceGray as it is there (ISO 32000-2, 11.5.3).
_PLAIN_GREY: Final = Path("/usr/share/color/icc/ghostscript/ps_gray.icc")
# A grey with sRGB's tones: on pages that blend in screen colours it becomes one of equal parts (10.4.2.2).
_SCREEN_GREY: Final = Path("/usr/share/color/icc/ghostscript/default_gray.icc")

Plates: TypeAlias = dict[str, NDArray[np.uint8]]


class NoPlatesError(Exception):
    """Ghostscript gave none; the text says what it said."""


def is_installed() -> bool:
    """Whether Ghostscript is there."""
    return shutil.which("gs") is not None


def draw_plates(
    path: Path,
    pages: int = 1,
    *,
    tagged_as_delivered: bool = True,
    on_screen: bool = False,
    intents: bool = False,
    finer: int = FINER,
    centred: bool = False,
    close: int | None = None,
) -> list[Plates]:
    """The plates of each page of a file at 12 pixels a millimetre, by ink, 255 full.

    The same press, sRGB for screen colours without a profile, media-relative with black point compensation;
    overprint as on a press. tagged_as_delivered: grey and CMYK go to the plates as they are, whatever their
    profile; Ghostscript then takes sRGB in the place of all RGB profiles too. on_screen: the pages
    blend in screen colours. intents: those that the file asks for are followed, else all is taken for
    media-relative. finer: drawn so many times finer than that, and averaged. centred: paths fill
    the pixels whose middle they hold, not all that they touch. close: a page of so many millimetres each way,
    384 pixels a millimetre.
    """
    size = [f"-r{25.4 * PX_PER_MM * finer:.1f}", f"-dDownScaleFactor={finer}"]
    if close is not None:
        size = [f"-r{25.4 * CLOSE_PX_PER_MM:.1f}", f"-g{close * CLOSE_PX_PER_MM}x{close * CLOSE_PX_PER_MM}"]
    with tempfile.TemporaryDirectory(prefix="tiffsep-") as folder:
        command = [
            "gs", "-q", "-dBATCH", "-dNOPAUSE", "-dSAFER", "-sDEVICE=tiffsep",
            *size,
            "-sCompression=none", "-dUseCropBox", "-dOverprint=/simulate",
            *([] if intents else ["-dRenderIntent=1"]),
            "-dBlackPtComp=1", "-dMaxSpots=12", f"-sOutputICCProfile={press().profile}",
            f"-sDefaultCMYKProfile={press().profile}", f"-sDefaultRGBProfile={screen_profile()}",
            f"-sDefaultGrayProfile={_SCREEN_GREY if on_screen else _PLAIN_GREY}",
            *(["-dOverrideICC"] if tagged_as_delivered else []),
            f"-sOutputFile={folder}/page%d.tif",
            *(["-c", "0 0 .setfilladjust2", "-f"] if centred else []), str(path),
        ]  # fmt: skip
        try:
            done = subprocess.run(
                command, capture_output=True, check=False, timeout=_TIMEOUT_S, stdin=subprocess.DEVNULL
            )
        except subprocess.TimeoutExpired:
            raise NoPlatesError("Ghostscript took too long") from None
        if done.returncode:
            raise NoPlatesError((done.stdout + done.stderr).decode("latin-1")[-300:])
        return [_page(Path(folder), number) for number in range(1, pages + 1)]


def _page(folder: Path, number: int) -> Plates:
    plates = {}
    for path in sorted(folder.glob(f"page{number}(*).tif")):
        name = re.fullmatch(r"page\d+\((.*)\)\.tif", path.name)
        assert name is not None
        with Image.open(path) as image:
            ink = 255 - np.asarray(image.convert("L"))
        plates[name[1]] = ink
    if not plates:
        raise NoPlatesError("Ghostscript left no plates of the page")
    return plates


@cache
def version() -> str:
    """Ghostscript's version."""
    return subprocess.run(["gs", "--version"], capture_output=True, text=True, check=True).stdout.strip()
