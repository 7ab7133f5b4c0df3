"""The readers that all pages of a document share, with what they have read already."""

from dataclasses import dataclass, field

from hotfolder.icc import Profile
from hotfolder.pdf.blanks import blank_codes
from hotfolder.pdf.fonts import FontMetrics, FontReader
from hotfolder.pdf.optional_content import Layers
from hotfolder.pdf.reading import fingerprint


@dataclass(frozen=True, slots=True)
class Readers:
    """What `interpret_page` needs beside the page; make one for each document.

    profiles: ICC profiles read already, by object number. blanks: codes that show nothing, by
    `reading.fingerprint` of the font. Both are filled while pages are read.
    """

    fonts: FontReader
    layers: Layers
    profiles: dict[str, Profile | None] = field(default_factory=dict)
    blanks: dict[str, frozenset[int]] = field(default_factory=dict)

    def font(self, font: object) -> tuple[FontMetrics, frozenset[int]]:
        """A font's metrics, and its codes that show nothing."""
        key = fingerprint(font)
        if key not in self.blanks:
            self.blanks[key] = blank_codes(font)
        return self.fonts.read(font), self.blanks[key]
