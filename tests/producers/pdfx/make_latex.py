"""PDF/X by the pdfx package of LaTeX (Debian: texlive-latex-extra), with pdfTeX, LuaTeX and XeTeX.

Debian's further packages: texlive-latex-recommended, texlive-luatex, texlive-xetex, lmodern. The
package writes the label, the output intent and the XMP; boxes other than its own are page attributes.
"""

from collections.abc import Callable
from dataclasses import dataclass
from pathlib import Path
from typing import Final

from tests.producers.making import run

_DATA: Final = r"""\Title{%(title)s}
\Subject{A leaflet of nobody's}
\Language{en-GB}
%(profile)s
"""
_OWN_PRESS: Final = (
    r"\setCMYKcolorprofile{press.icc}{A press made up for tests}{TestPress}{http://www.example.org}"
)

_SCREEN: Final = r"\pdfliteral{q .8 .1 .1 rg 0 -40 60 30 re f Q} \includegraphics[width=30mm]{rgb.jpg}"
_NO_REGISTRY: Final = r"\setCMYKcolorprofile{press.icc}{A press made up for tests}{TestPress}{}"
_WORDS: Final = r"""\section*{Kite day}
Bring \textbf{string}, a tail of paper and \textit{patience}; the wind comes at four.
Ruled in full black: \rule{30mm}{2mm}"""
_COLOURED: Final = (
    _WORDS
    + r"""\par{\color[cmyk]{1,.5,0,0}\rule{20mm}{10mm}}
{\color[cmyk]{0,.8,1,0} and words in orange} {\color[gray]{.4} and grey ones}"""
)
_PICTURES: Final = (
    _WORDS
    + r"""\par\includegraphics[width=30mm]{cmyk.jpg}
\includegraphics[width=30mm]{grey.jpg} \includegraphics[width=20mm]{line-art.png}"""
)
# An ink of its own, printed over what lies beneath and knocked out, in pdfTeX's own words.
_SPOT_PREAMBLE: Final = r"""{\catcode`\#=12 \immediate\pdfobj{[/Separation /Kite#20Red /DeviceCMYK
<</FunctionType 2 /Domain [0 1] /C0 [0 0 0 0] /C1 [0 .9 .8 0] /N 1>>]}}
\edef\resources{/ColorSpace <</KiteRed \the\pdflastobj\space 0 R>>
/ExtGState <</Over <</Type /ExtGState /OP true /op true /OPM 1>> %(more)s>>}
\pdfpageresources\expandafter{\resources}
\pdfpageattr{/TrimBox [25 20 272 400] /BleedBox [16.5 11.5 280.5 408.5]}
"""
_SPOT: Final = (
    _WORDS + r"\par\pdfliteral{q 0 0 0 .3 k 0 -30 60 25 re f /Over gs /KiteRed cs .8 scn 20 -40 60 25 re f Q}"
)
_VEILED: Final = _SPOT + r"\pdfliteral{q /Veil gs .9 0 0 0 k 40 -60 60 60 re f Q}"
_VEIL: Final = _SPOT_PREAMBLE % {"more": "/Veil <</ca .5 /BM /Multiply>>"}
_PLAIN_SPOT: Final = _SPOT_PREAMBLE % {"more": ""}


@dataclass(frozen=True, slots=True)
class _Leaflet:
    level: str
    engine: str = "pdflatex"
    body: str = _WORDS
    preamble: str = r"\usepackage{xcolor}"
    paper: str = "a5paper"
    profile: str = _OWN_PRESS

    def make(self, folder: Path) -> Path:
        title = f"Kites by {self.engine}"
        words = {
            "level": self.level, "body": self.body, "preamble": self.preamble, "paper": self.paper,
            "profile": self.profile, "title": title,
        }  # fmt: skip
        (folder / "kites.tex").write_text(
            (folder / "kites.tex.txt").read_text(encoding="utf-8") % words, encoding="utf-8"
        )
        (folder / "kites.xmpdata").write_text(_DATA % words, encoding="utf-8")
        for _ in range(2):
            run(folder, self.engine, "-interaction=nonstopmode", "kites.tex")
        return folder / "kites.pdf"


_GRAPHICS: Final = r"\usepackage{xcolor,graphicx}"
_LEAFLETS: Final = {
    "x1a2001-words": _Leaflet("x-1a1"),
    "x1a2001-colours": _Leaflet("x-1a1", body=_COLOURED),
    "x1a2003-pictures": _Leaflet("x-1a3", body=_PICTURES, preamble=_GRAPHICS),
    "x1a2003-spot": _Leaflet("x-1a3", body=_SPOT, preamble=_PLAIN_SPOT, paper="a6paper"),
    "x1a2003-common-press": _Leaflet("x-1a3", body=_COLOURED, paper="a4paper", profile=""),
    "x1a2003-screen-colours": _Leaflet("x-1a3", body=_SCREEN, preamble=_GRAPHICS),
    "x1a2003-veil": _Leaflet("x-1a3", body=_VEILED, preamble=_VEIL, paper="a6paper"),
    "x3-2002-colours": _Leaflet("x-302", body=_COLOURED, paper="a6paper", profile=_NO_REGISTRY),
    "x3-2003-pictures": _Leaflet("x-303", body=_PICTURES, preamble=_GRAPHICS),
    "x4-colours": _Leaflet("x-4", body=_COLOURED),
    "x4-veil": _Leaflet("x-4", body=_VEILED, preamble=_VEIL, paper="a6paper"),
    "x4p-words": _Leaflet("x-4p"),
    "lualatex-x1a2003": _Leaflet("x-1a3", "lualatex", _COLOURED),
    "lualatex-x3-2002": _Leaflet("x-302", "lualatex", _COLOURED),
    "lualatex-x4": _Leaflet("x-4", "lualatex", _PICTURES, _GRAPHICS),
    "xelatex-x1a2003": _Leaflet("x-1a3,noerr", "xelatex", _COLOURED),
    "xelatex-x4": _Leaflet("x-4,noerr", "xelatex", _PICTURES, _GRAPHICS),
}
MAKERS: Final[dict[str, Callable[[Path], Path]]] = {
    f"latex-{name}": leaflet.make for name, leaflet in _LEAFLETS.items()
}
