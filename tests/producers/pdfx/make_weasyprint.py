"""PDF/X out of HTML by WeasyPrint (PyPI: weasyprint 70; its `weasyprint` on the path).

Its levels are PDF/X-1a:2003, X-3:2003 and X-4; the bleed of the style sheet gives the boxes.
"""

from collections.abc import Callable
from pathlib import Path
from typing import Final

from tests.producers.making import run

_HEAD: Final = """<!DOCTYPE html><html lang="en"><head><meta charset="utf-8"><title>{title}</title>
<style>
@color-profile device-cmyk {{ src: url(press.icc); components: c, m, y, k }}
@page {{ size: {size}; margin: 8mm; bleed: 3mm; {page} }}
body {{ font: 10pt "DejaVu Serif"; color: device-cmyk(0 0 0 1) }}
h1 {{ font: bold 14pt "Liberation Sans"; color: device-cmyk(1 0.6 0 0.1) }}
.band {{ height: 12mm; background: device-cmyk(0 0.2 0.9 0) }}
{style}
</style></head><body>{body}</body></html>"""
_WORDS: Final = (
    "<h1>Lantern walk</h1><p>Bring a candle, a scarf and somebody to sing with.</p><div class='band'></div>"
)

_PROFILED: Final = "@color-profile --screen { src: url(screen.icc); components: r, g, b }"


def _page(title: str, size: str, body: str, style: str = "", page: str = "") -> str:
    return _HEAD.format(title=title, size=size, body=body, style=style, page=page)


_PAGES: Final[dict[str, tuple[str, str]]] = {
    "x1a-words": ("pdf/x-1a", _page("Words in four inks", "A6", _WORDS)),
    "x1a-picture": (
        "pdf/x-1a",
        _page("Pictures", "A5", _WORDS + "<img src='cmyk.jpg'> <img src='grey.jpg'>"),
    ),
    "x1a-marks": ("pdf/x-1a", _page("Marks", "85mm 55mm", _WORDS, page="marks: crop cross")),
    "x1a-veil": (
        "pdf/x-1a",
        _page("Seen through", "A6", _WORDS + "<p class=veil>veiled</p>", ".veil { opacity: .4 }"),
    ),
    "x1a-screen-picture": ("pdf/x-1a", _page("A screen's picture", "A6", _WORDS + "<img src='rgb.jpg'>")),
    "x3-words": ("pdf/x-3", _page("Words", "A5", _WORDS * 2)),
    "x3-picture": ("pdf/x-3", _page("Pictures", "A5 landscape", _WORDS + "<img src='cmyk.jpg'>")),
    "x3-rgb": ("pdf/x-3", _page("Screen colours", "A6", _WORDS, "p { color: rgb(200 30 30) }")),
    "x4-words": ("pdf/x-4", _page("Words", "A4", _WORDS)),
    "x4-see-through": (
        "pdf/x-4",
        _page("Seen through", "A5", _WORDS + "<p class=veil>veiled</p>", ".veil { opacity: .4 }"),
    ),
    "x4-pages": (
        "pdf/x-4",
        _page("Pages", "A6", "<div style='break-after: page'>One</div>Two<img src='cmyk.jpg'>"),
    ),
    "x4-rgb-picture": ("pdf/x-4", _page("A screen's picture", "A6", _WORDS + "<img src='rgb.png'>")),
    "x4-profiled-colours": (
        "pdf/x-4",
        _page("Colours with profiles", "A6", _WORDS, _PROFILED + " p { color: color(--screen .8 .1 .1) }"),
    ),
    "x4-link": ("pdf/x-4", _page("A link", "A6", _WORDS + "<a href='https://example.org/'>more</a>")),
}


def _made(name: str) -> Callable[[Path], Path]:
    variant, html = _PAGES[name]

    def make(folder: Path) -> Path:
        (folder / "page.html").write_text(html, encoding="utf-8")
        run(
            folder,
            "weasyprint",
            "--pdf-variant",
            variant,
            "--output-intent",
            "device-cmyk",
            "page.html",
            "made.pdf",
        )
        return folder / "made.pdf"

    return make


MAKERS: Final = {f"weasyprint-{name}": _made(name) for name in _PAGES}
