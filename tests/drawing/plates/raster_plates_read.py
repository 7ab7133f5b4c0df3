"""What plates of raster files hold."""

from pathlib import Path

from hotfolder.model.facts import Unmeasured
from hotfolder.model.press import Press
from tests.drawing.images.placed_pictures import (
    drawn,
)

OLIVE = (120, 110, 40)


def unmeasured(path: Path, *, press: Press | None = None) -> str:
    """Why a picture has no plates."""
    found = drawn(path, press=press)
    assert isinstance(found, Unmeasured), found
    return found.reason
