"""PDF/X by Ghostscript's pdfwrite: that of Debian (ghostscript 10.00) and a newer one in npm.

The newer one (@okathira/ghostpdl-wasm 1.1.0, Ghostscript 10.06) writes PDF/X-1a and X-4 as well; the
environment variable NODE_PACKAGES names the folder that it was installed into.
"""

import os
from collections.abc import Callable
from dataclasses import dataclass
from pathlib import Path
from typing import Final

from tests.producers.making import run

_BLEED: Final = "-sBleed=0 0 260 170"


@dataclass(frozen=True, slots=True)
class _Ticket:
    """A ticket. draw: what draws it in tickets.ps; x: the part of PDF/X, where that can be told.

    where: who has the boxes, each PAGE or the node over them (PAGES), from which they are not inherited.
    """

    draw: str
    label: str = "PDF/X-3:2002"
    x: int | None = None
    more: tuple[str, ...] = ()
    where: str = "PAGE"

    def make(self, folder: Path) -> Path:
        steps = " ".join(f"/{step}" for step in self.draw.split())
        (folder / "draw.ps").write_text(f"/Draw [{steps}] def /Where /{self.where} def\n")
        words = [
            "-dBATCH", "-dNOPAUSE", "-dNOSAFER", "-sDEVICE=pdfwrite", "-sOutputFile=made.pdf",
            "-sProcessColorModel=DeviceCMYK", "-sColorConversionStrategy=CMYK",
            "-sOutputICCProfile=press.icc", f"-sLabel={self.label}",
            "-dPDFX" if self.x is None else f"-dPDFX={self.x}",
            *self.more, "draw.ps", "tickets.ps",
        ]  # fmt: skip
        if self.x is None:
            run(folder, "gs", *words)
        else:
            run(folder, "node", "gs.mjs", os.environ["NODE_PACKAGES"], *words)
        return folder / "made.pdf"


_GREY: Final = (
    "-sProcessColorModel=DeviceGray", "-sColorConversionStrategy=Gray", "-sOutputICCProfile=grey-press.icc",
    "-dChannels=1", "-sProfile=grey-press.icc",
)  # fmt: skip
_X1: Final = ("-sConformance=PDF/X-1a:2003",)
_TICKETS: Final = {
    "x3-words": _Ticket("words"),
    "x3-pictures": _Ticket("band words picture greypicture stencil", more=(_BLEED,)),
    "x3-spot": _Ticket("words spot", more=(_BLEED,)),
    "x3-shading": _Ticket("words shaded stencil"),
    "x3-converted": _Ticket("band words screen calibrated"),
    "x3-pages": _Ticket("band words two two", more=(_BLEED,)),
    "x3-boxes-of-tree": _Ticket("words band", where="PAGES", more=(_BLEED,)),
    "x3-note-outside": _Ticket("words note"),
    "x3-note-inside": _Ticket("words noteinside"),
    "x3-drawn-font": _Ticket("words drawn", more=(_BLEED,)),
    "x3-mesh": _Ticket("words mesh"),
    "x3-grey-condition": _Ticket("greys greypicture", more=_GREY),
    "newer-x4-many-inks": _Ticket("words manyinks drawn", "PDF/X-4", 4),
    "newer-x1a-words": _Ticket("band words", "PDF/X-1a:2003", 1, _X1),
    "newer-x1a-pictures": _Ticket("words picture greypicture stencil", "PDF/X-1a:2003", 1, _X1),
    "newer-x1a2001-spot": _Ticket("words spot", "PDF/X-1:2001", 1, ("-sConformance=PDF/X-1a:2001", _BLEED)),
    "newer-x3-shading": _Ticket("words shaded", x=3),
    "newer-x4-words": _Ticket("words", "PDF/X-4", 4),
    "newer-x4-veil": _Ticket("band words veil", "PDF/X-4", 4, ("-dALLOWPSTRANSPARENCY", _BLEED)),
    "newer-x4-pictures": _Ticket("words picture greypicture spot", "PDF/X-4", 4),
    "newer-x4-screen": _Ticket(
        "words screen", "PDF/X-4", 4, ("-sColorConversionStrategy=LeaveColorUnchanged",)
    ),
}
MAKERS: Final[dict[str, Callable[[Path], Path]]] = {
    f"ghostscript-{name}": ticket.make for name, ticket in _TICKETS.items()
}
