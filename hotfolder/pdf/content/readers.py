"""The readers of fonts, layers and colour spaces that all pages of a document share, with their caches."""

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

    full_tint: evaluates tint transforms. profiles: a cache of ICC profiles by object number.
    picture_troubles: a cache of what is wrong with the data of images, by object number.
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
