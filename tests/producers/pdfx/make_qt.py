"""PDF/X-4 by Qt's own writer of PDF (PyPI: PySide6-Essentials 6.12).

The environment variable QT_PYTHON names a Python that has it.
"""

import os
from collections.abc import Callable
from dataclasses import dataclass
from pathlib import Path
from typing import Final

from tests.producers.making import run


@dataclass(frozen=True, slots=True)
class _Flag:
    """A flag. model: the page's colours, as Qt calls them; what: words that flag_by_qt.py.txt knows."""

    model: str
    what: tuple[str, ...]

    def make(self, folder: Path) -> Path:
        (folder / "flag_by_qt.py.txt").rename(folder / "flag.py")
        words = ("flag.py", self.model, *self.what)
        run(folder, "env", "QT_QPA_PLATFORM=offscreen", os.environ["QT_PYTHON"], *words)
        return folder / "made.pdf"


_FLAGS: Final = {
    "x4-words": _Flag("CMYK", ("intent",)),
    "x4-veil": _Flag("CMYK", ("intent", "veil", "two")),
    "x4-gradient": _Flag("CMYK", ("intent", "gradient", "picture")),
    "x4-converted": _Flag("CMYK", ("intent", "screen")),
    "x4-screen-condition": _Flag("RGB", ("screen",)),
    "x4-mixed": _Flag("Auto", ("intent", "screen")),
}
MAKERS: Final[dict[str, Callable[[Path], Path]]] = {f"qt-{name}": flag.make for name, flag in _FLAGS.items()}
