"""The readers that all pages of a document share, with what they have read already."""

from dataclasses import dataclass, field

from hotfolder.icc import Profile
from hotfolder.pdf.fonts import FontMetrics, FontReader
from hotfolder.pdf.optional_content import Layers


@dataclass(frozen=True, slots=True)
class Readers:
    """What `interpret_page` needs beside the page; make one for each document.

    profiles: ICC profiles read already, by object number; filled while pages are read. picture_troubles:
    what is wrong with the data of pictures that were looked at, likewise.
    """

    fonts: FontReader
    layers: Layers
    profiles: dict[str, Profile | None] = field(default_factory=dict)
    picture_troubles: dict[str, str | None] = field(default_factory=dict)

    def font(self, font: object) -> FontMetrics:
        """A font's metrics."""
        return self.fonts.read(font)
