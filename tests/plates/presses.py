"""The profiles that both sides draw with: one press, and one screen."""

import tempfile
from functools import cache
from pathlib import Path

from PIL import ImageCms

from hotfolder.model.press import Press
from hotfolder.presses.loading import load_press


@cache
def press() -> Press:
    """The press of the comparison: coated paper, as it is shipped."""
    return load_press("coated", None)


@cache
def screen_profile() -> Path:
    """The profile of sRGB as littleCMS makes it, as a file."""
    path = Path(tempfile.mkdtemp(prefix="plates-")) / "screen.icc"
    made = bytearray(ImageCms.ImageCmsProfile(ImageCms.createProfile("sRGB")).tobytes())
    made[24:36] = bytes(12)  # when it was made: the same bytes are to be the same profile
    path.write_bytes(made)
    return path
