"""The readers that all pages of a document share, with what they have read already."""

from dataclasses import dataclass, field

from hotfolder.colour.icc import ProfileFacts
from hotfolder.model.colour import ColourSpace
from hotfolder.pdf.colour.colour_spaces import FullTint, not_evaluated, read_colour_space
from hotfolder.pdf.document.optional_content import Layers
from hotfolder.pdf.fonts.fonts import FontMetrics, FontReader
from hotfolder.pdf.images.image_data import PictureTrouble
from hotfolder.pdf.objects.resources import Resources


@dataclass(frozen=True, slots=True)
class Readers:
    """What `interpret_page` needs beside the page; make one for each document.

    profiles: ICC profiles read already, by object number; filled while pages are read. picture_troubles:
    what is wrong with the data of pictures that were looked at, likewise. full_tint: what evaluates tint
    transforms.
    """

    fonts: FontReader
    layers: Layers
    full_tint: FullTint = not_evaluated
    profiles: dict[str, ProfileFacts | None] = field(default_factory=dict)
    picture_troubles: dict[str, PictureTrouble | None] = field(default_factory=dict)

    def colour_space(self, value: object, resources: Resources) -> ColourSpace:
        """The colour space that a name or an array stands for."""
        return read_colour_space(value, resources, self.profiles, self.full_tint)

    def font(self, font: object) -> FontMetrics:
        """A font's metrics."""
        return self.fonts.read(font)
