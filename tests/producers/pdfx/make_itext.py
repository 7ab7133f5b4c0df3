"""PDF/X by iText, the 2.1.7 and the 5.5.13 of Debian (libitext-java, libitext5-java, a JDK)."""

from collections.abc import Callable
from dataclasses import dataclass
from pathlib import Path
from typing import Final

from tests.producers.making import run

_INTENT: Final = (
    'writer.setOutputIntents("TestPress", "Offset made up for tests", null, "A press made up for tests", %s);'
)
_OLD: Final = {
    "ITEXT": "com.lowagie.text",
    "PICKED": _INTENT % "profile",
    "SPOT": 'new PdfSpotColor("Jar Gold", 0.6f, new CMYKColor(0f, .2f, .8f, .1f))',
}
_FIVE: Final = {
    "ITEXT": "com.itextpdf.text",
    "PICKED": _INTENT % "ICC_Profile.getInstance(profile)",
    "SPOT": 'new PdfSpotColor("Jar Gold", new CMYKColor(0f, .2f, .8f, .1f))',
}


@dataclass(frozen=True, slots=True)
class _Label:
    """A label. level: 1a or 3; what: the words that Labels.java knows; five: with iText 5."""

    level: str
    what: tuple[str, ...] = ()
    five: bool = False

    def make(self, folder: Path) -> Path:
        source = (folder / "Labels.java.txt").read_text(encoding="utf-8")
        for key, value in (_FIVE if self.five else _OLD).items():
            source = source.replace(key, value)
        (folder / "Labels.java").write_text(source, encoding="utf-8")
        jar = "/usr/share/java/itext5.jar" if self.five else "/usr/share/java/itext.jar"
        run(folder, "java", "-cp", jar, "Labels.java", self.level, *self.what)
        return folder / "made.pdf"


_LABELS: Final = {
    "x1a-words": _Label("1a"),
    "x1a-spot": _Label("1a", ("bleed", "spot")),
    "x1a-picture": _Label("1a", ("cmyk.jpg", "two pages")),
    "x1a-label-alone": _Label("1a", ("label alone",)),
    "x3-shading": _Label("3", ("shading", "bleed")),
    "x3-pattern": _Label("3", ("pattern", "note")),
    "x3-picture": _Label("3", ("grey.jpg",)),
    "x3-tagged-picture": _Label("3", ("rgb-tagged.png",)),
    "x3-screen-colours": _Label("3", ("calibrated",)),
    "five-x1a-picture": _Label("1a", ("cmyk.jpg", "bleed"), five=True),
    "five-x1a-line-art": _Label("1a", ("line-art.tif", "spot"), five=True),
    "five-x3-spot": _Label("3", ("spot", "pattern"), five=True),
    "five-x3-tagged-picture": _Label("3", ("rgb-tagged.png", "two pages"), five=True),
}
MAKERS: Final[dict[str, Callable[[Path], Path]]] = {
    f"itext-{name}": label.make for name, label in _LABELS.items()
}
