"""Two faults at once: both are told, and neither hides the other."""

from typing import Final

from tests.checks.pdf.pdfx.mutations import (
    colours,
    deep,
    fonts,
    graphics,
    information,
    inks,
    intent,
    pages,
    pictures,
)
from tests.checks.pdf.pdfx.mutations.mutation import Mutation, then

_SINGLE: Final = {
    f"{topic.__name__.rpartition('.')[2]}: {each.name}": each
    for topic in (colours, deep, fonts, graphics, information, inks, intent, pages, pictures)
    for each in topic.MUTATIONS
}


def _both(first: str, second: str) -> Mutation:
    """Two changes that touch different things, at the levels that both are tried at."""
    one, other = _SINGLE[first], _SINGLE[second]
    expects = {
        level: one.expects[level] | other.expects[level] for level in one.expects if level in other.expects
    }
    return Mutation(f"{first}, and {second}", expects, then(one.edit, other.edit))


MUTATIONS: Final = (
    _both("colours: fill in RGB", "pages: no trim box"),
    _both("colours: fill in RGB", "colours: painted: Lab"),
    _both("colours: stroke in RGB", "intent: no condition in words"),
    _both("colours: painted: an ink described in RGB", "pictures: a picture of 16 bits"),
    _both("colours: painted: an ink without tints", "fonts: a plain font loses its program"),
    _both("colours: painted: white that is missing", "pages: a link on the page"),
    _both("deep: RGB in a form within a form", "deep: a shading in an ink described in RGB"),
    _both("deep: RGB in a drawn letter", "graphics: painted with: opacity of fills"),
    _both("deep: RGB in the cell of a pattern", "fonts: a composite font loses its program"),
    _both("deep: a picture in RGB", "pictures: a picture with a soft mask"),
    _both("deep: RGB in the group of a soft mask", "pages: layers"),
    _both("deep: an unknown instruction in a form", "pages: a script on opening"),
    _both("fonts: a program that is rubbish", "fonts: a composite font loses its program"),
    _both("fonts: a plain font loses its program", "fonts: no map from characters to glyphs"),
    _both("fonts: a letter that the font does not have", "information: no title"),
    _both("graphics: painted with: opacity of strokes", "graphics: a drawing as a group"),
    _both("graphics: painted with: blend mode Multiply", "pictures: a picture with a soft mask"),
    _both("graphics: painted with: a transfer function", "graphics: a halftone of thresholds for one ink"),
    _both("graphics: a drawing as a group in RGB", "colours: fill in RGB"),
    _both("graphics: the page as a group in RGB", "pages: a trim box and an art box"),
    _both("information: no title", "information: no date of making"),
    _both("information: nothing said of traps", "pages: a crop box within the trim"),
    _both("information: no conformance named", "intent: a screen's profile by its class"),
    _both("information: no level in the metadata", "information: no title in the metadata"),
    _both("information: no xmp:CreateDate", "information: no xmpMM:DocumentID"),
    _both("information: another level in the information", "colours: fill in RGB"),
    _both("inks: the same ink twice", "inks: an ink of a mix described in RGB"),
    _both("intent: no name of the condition", "intent: no condition in words"),
    _both("intent: a screen's profile by its class", "colours: fill in RGB"),
    _both("intent: no profile of a registered condition", "information: no title"),
    _both("intent: a reference without URLs", "colours: stroke in RGB"),
    _both("pages: a bleed box beyond the page", "pages: a note on the page"),
    _both("pages: units of 1/36 inch", "pages: shown within the trim"),
    _both("pages: a link on the page, with a target on the web", "fonts: a standard font by name"),
    _both("pictures: a picture in LZW", "pictures: a picture in base 85"),
    _both("pictures: code beside a form", "pictures: a drawing that stands for a page of another file"),
    _both(
        "pictures: a picture with another one for print", "pictures: a picture that stands in for a finer one"
    ),
)
