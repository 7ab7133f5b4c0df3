"""PDF/X by Scribus (Debian: scribus 1.5.8, xvfb), whose scripter lays out a card and exports it."""

import json
import shutil
from collections.abc import Callable
from dataclasses import asdict, dataclass
from pathlib import Path
from typing import Final

from tests.producers.making import run


@dataclass(frozen=True, slots=True)
class _Card:
    """A card. draw: what scribus_job.py.txt draws on it; compression: 1 as JPEG, 2 as Flate."""

    level: str
    draw: tuple[str, ...] = ()
    size_mm: tuple[int, int] = (85, 55)
    marks: bool = False
    compression: int = 2

    def make(self, folder: Path) -> Path:
        (folder / "job.json").write_text(json.dumps(asdict(self)), encoding="utf-8")
        shutil.copy(folder / "scribus_job.py.txt", folder / "job.py")
        profiles = folder / ".color" / "icc"
        profiles.mkdir(parents=True)
        for name in ("press.icc", "screen.icc"):
            shutil.copy(folder / name, profiles)
        run(folder, "xvfb-run", "-a", "scribus", "-g", "-ns", "-py", "job.py")
        return folder / "made.pdf"


_CARDS: Final = {
    "x1a-words": _Card("PDF/X-1a"),
    "x1a-pictures": _Card("PDF/X-1a", ("cmyk", "foil")),
    "x1a-line-art": _Card("PDF/X-1a", ("line art",), marks=True),
    "x1a-converted": _Card("PDF/X-1a", ("signal", "rgb"), compression=1),
    "x3-words": _Card("PDF/X-3", ("grey", "second page")),
    "x3-tagged-picture": _Card("PDF/X-3", ("rgb",), (105, 148)),
    "x3-spot": _Card("PDF/X-3", ("foil", "cmyk"), marks=True),
    "x4-veil": _Card("PDF/X-4", ("veil",)),
    "x4-layers": _Card("PDF/X-4", ("layer", "foil"), (105, 148)),
    "x4-fading-picture": _Card("PDF/X-4", ("fading", "signal")),
    "x4-pages": _Card("PDF/X-4", ("cmyk", "second page"), (148, 210), marks=True),
}
MAKERS: Final[dict[str, Callable[[Path], Path]]] = {
    f"scribus-{name}": card.make for name, card in _CARDS.items()
}
