"""PDF/X by ConTeXt (Debian: context), whose backend knows every level from PDF/X-1a:2001 on."""

from collections.abc import Callable
from dataclasses import dataclass
from pathlib import Path
from typing import Final

from tests.producers.making import run

_WORDS: Final = r"""\subject{Boat race}
Paper boats only. {\bf Wind} from the west, {\it rain} unlikely. \blackrule[width=30mm,height=2mm]
"""
_COLOURS: Final = r"\definecolor[deep][c=1,m=.5,y=0,k=.1]\definecolor[pale][s=.8]"
_COLOURED: Final = (
    _WORDS + r"\color[deep]{Deep words}, \blackrule[width=40mm,height=9mm,color=deep] and \color[pale]{pale}."
)
_PICTURES: Final = _WORDS + r"\externalfigure[cmyk.jpg][width=40mm] \externalfigure[grey.jpg][width=30mm]"
_SPOT: Final = r"""\definecolor[mast][c=0,m=.4,y=1,k=.1]
\definespotcolor[mastfull][mast][p=1]\definespotcolor[masthalf][mast][p=.5]"""
_SPOTTED: Final = (
    _WORDS + r"\color[mastfull]{In an ink of its own} \blackrule[width=40mm,height=9mm,color=masthalf]"
)
_VEIL: Final = r"\definecolor[veil][c=.8,m=0,y=.1,k=0,t=.5,a=1]"
_VEILED: Final = (
    _WORDS
    + r"\blackrule[width=40mm,height=9mm,color=veil]\hskip-20mm\blackrule[width=40mm,height=5mm,color=veil]"
)
_LAYER: Final = r"\defineviewerlayer[notes][state=start,title=Notes]"
_LAYERED: Final = _WORDS + r"\startviewerlayer[notes]A layer of notes.\stopviewerlayer"
_PAGES: Final = _WORDS + r"\page A second page. \page A third." + _WORDS


@dataclass(frozen=True, slots=True)
class _Leaflet:
    level: str
    body: str = _WORDS
    preamble: str = ""
    paper: str = "A5"
    layout: str = "width=middle,height=middle"
    backend: str = ""
    intent: str = "A press made up for tests"

    def make(self, folder: Path) -> Path:
        words = {
            "level": self.level, "body": self.body, "preamble": self.preamble, "paper": self.paper,
            "layout": self.layout, "backend": self.backend,
            "intent": self.intent,
        }  # fmt: skip
        (folder / "boats.tex").write_text(
            (folder / "boats.tex.txt").read_text(encoding="utf-8") % words, encoding="utf-8"
        )
        run(folder, "context", "--noconsole", "boats.tex")
        return folder / "boats.pdf"


_BLEED: Final = "width=middle,height=middle,location=middle,bleedoffset=3mm,trimoffset=5mm"
# A condition of the registry of the ICC; ConTeXt brings no profile in PDF/X-1a.
_COMMON: Final = "A common condition"
_LEAFLETS: Final = {
    "x1a2001-words": _Leaflet("PDF/X-1a:2001"),
    "x1a2001-colours": _Leaflet("PDF/X-1a:2001", _COLOURED, _COLOURS),
    "x1a2003-pictures": _Leaflet("PDF/X-1a:2003", _PICTURES, intent=_COMMON),
    "x1a2003-colours": _Leaflet("PDF/X-1a:2003", _COLOURED, _COLOURS, "A6", _BLEED, intent=_COMMON),
    "x1a2003-spot": _Leaflet("PDF/X-1a:2003", _SPOTTED, _SPOT, "A6"),
    "x3-2002-colours": _Leaflet("PDF/X-3:2002", _COLOURED, _COLOURS, "A6"),
    "x3-2003-spot": _Leaflet("PDF/X-3:2003", _SPOTTED, _SPOT),
    "x3-2003-pages": _Leaflet("PDF/X-3:2003", _PAGES, _COLOURS, "A6,landscape"),
    "x4-marks": _Leaflet("PDF/X-4", _COLOURED, _COLOURS, "A6][A5", _BLEED + ",marking=on"),
    "x4-veil": _Leaflet("PDF/X-4", _VEILED, _VEIL),
    "x4-layer": _Leaflet("PDF/X-4", _LAYERED, _LAYER),
    "x4-links": _Leaflet(
        "PDF/X-4",
        _WORDS + r"\goto{to the boats}[url(http://www.example.org)]",
        r"\setupinteraction[state=start]",
    ),
    "x4-hidden-layer": _Leaflet("PDF/X-4", _LAYERED, _LAYER.replace("state=start", "state=stop")),
    "x4-pictures": _Leaflet("PDF/X-4", _PICTURES, "", "A4"),
    "x4-screen-colours": _Leaflet(
        "PDF/X-4",
        _WORDS + r"\color[red]{red of a screen}",
        "",
        "A5",
        backend="profile={A screen made up for tests},",
    ),
    "x4p-words": _Leaflet("PDF/X-4p", _COLOURED, _COLOURS),
}
MAKERS: Final[dict[str, Callable[[Path], Path]]] = {
    f"context-{name}": leaflet.make for name, leaflet in _LEAFLETS.items()
}
