"""PDF/X-3:2003 by Apache FOP (Debian: fop 2.8), out of XSL formatting objects."""

from collections.abc import Callable
from dataclasses import dataclass
from pathlib import Path
from typing import Final

from tests.producers.making import run

_BAND: Final = (
    '<fo:block background-color="cmyk(0.9,0.3,0,0.1)" space-before="4mm" line-height="12mm">&#160;</fo:block>'
)
_PICTURE: Final = '<fo:block><fo:external-graphic src="url(\'{name}\')" content-width="40mm"/></fo:block>'
_DRAWING: Final = """<fo:block><fo:instream-foreign-object>
<svg:svg width="150" height="60" viewBox="0 0 150 60">
<svg:circle cx="30" cy="30" r="25" fill="#204080"/>
<svg:path d="M70 50 C90 0 110 60 140 10" stroke="#c03010" fill="none" stroke-width="4"/>
</svg:svg></fo:instream-foreign-object></fo:block>"""
_SPOT: Final = (
    "<fo:block color=\"rgb-icc(0.8, 0.6, 0.2, #Separation, 'Foyer Gold', 1.0, 0.0, 0.0)\">gilt</fo:block>"
)


@dataclass(frozen=True, slots=True)
class _Playbill:
    body: str
    size_mm: tuple[int, int] = (105, 148)
    bleed_mm: int = 0

    def make(self, folder: Path) -> Path:
        width, height = self.size_mm
        words = (
            (folder / "bill.fo.txt")
            .read_text(encoding="utf-8")
            .format(width=width, height=height, bleed=self.bleed_mm, body=self.body)
        )
        (folder / "bill.fo").write_text(words, encoding="utf-8")
        run(folder, "fop", "-c", "fop.xconf", "bill.fo", "made.pdf")
        return folder / "made.pdf"


_BREAK: Final = '<fo:block break-before="page">Second act</fo:block>'
_PLAYBILLS: Final = {
    "words": _Playbill(_BAND),
    "bleed": _Playbill(_BAND + _BREAK, (85, 55), 3),
    "pictures": _Playbill(_PICTURE.format(name="cmyk.jpg") + _PICTURE.format(name="grey.jpg"), (148, 210), 5),
    "tagged-picture": _Playbill(_PICTURE.format(name="rgb-tagged.png")),
    "untagged-picture": _Playbill(_PICTURE.format(name="rgb.jpg")),
    "drawing": _Playbill(_DRAWING, (148, 105)),
    "spot": _Playbill(_SPOT + _BAND),
}
MAKERS: Final[dict[str, Callable[[Path], Path]]] = {
    f"fop-{name}": bill.make for name, bill in _PLAYBILLS.items()
}
