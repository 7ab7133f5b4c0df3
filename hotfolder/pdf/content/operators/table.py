"""The table of all operators, in the order in which ISO 32000-2 treats them.

Every operator of its Annex A is here, with its handler or with the reason why it has none. The number
is how many operands it needs.
"""

from collections.abc import Mapping
from typing import Final

from hotfolder.pdf.content.content import Operator
from hotfolder.pdf.content.operators import (
    colour,
    compatibility,
    marked_content,
    path,
    state,
    text,
    type3,
    xobject,
)

OPERATORS: Final[Mapping[str, Operator]] = {
    # Compatibility sections (7.8.2, table 33)
    "BX": Operator(compatibility.begin),
    "EX": Operator(compatibility.end),
    # General graphics state (8.4.4, table 56)
    "w": Operator(state.line_width, 1),
    "J": Operator(state.line_cap, 1),
    "j": Operator(state.line_join, 1),
    "M": Operator(state.miter_limit, 1),
    "d": Operator(None, 2, ignored="dashes shorten what is painted and never lengthen it"),
    "ri": Operator(None, 1, ignored="how a device maps colours that it cannot show"),
    "i": Operator(None, 1, ignored="how finely a device follows curves"),
    "gs": Operator(state.apply_ext_gstate, 1),
    # Special graphics state (8.4.4, table 56)
    "q": Operator(state.save),
    "Q": Operator(state.restore),
    "cm": Operator(state.concatenate, 6),
    # Path construction (8.5.2, table 58)
    "m": Operator(path.move, 2),
    "l": Operator(path.line, 2),
    "c": Operator(path.curve, 6),
    "v": Operator(path.curve_from_here, 4),
    "y": Operator(path.curve_to_there, 4),
    "h": Operator(path.close),
    "re": Operator(path.rectangle, 4),
    # Path painting (8.5.3, table 59)
    "S": Operator(path.painter(stroke=True)),
    "s": Operator(path.painter(stroke=True, closing=True)),
    "f": Operator(path.painter(fill=True)),
    "F": Operator(path.painter(fill=True)),
    "f*": Operator(path.painter(even_odd=True, fill=True)),
    "B": Operator(path.painter(fill=True, stroke=True)),
    "B*": Operator(path.painter(even_odd=True, fill=True, stroke=True)),
    "b": Operator(path.painter(fill=True, stroke=True, closing=True)),
    "b*": Operator(path.painter(even_odd=True, fill=True, stroke=True, closing=True)),
    "n": Operator(path.painter()),
    # Clipping paths (8.5.4, table 60)
    "W": Operator(path.clip),
    "W*": Operator(path.clip),
    # Colour (8.6.8, table 73)
    "CS": Operator(colour.set_stroke_space, 1),
    "cs": Operator(colour.set_fill_space, 1),
    "SC": Operator(colour.set_stroke_colour, 1),
    "SCN": Operator(colour.set_stroke_colour, 1),
    "sc": Operator(colour.set_fill_colour, 1),
    "scn": Operator(colour.set_fill_colour, 1),
    "G": Operator(colour.set_stroke_grey, 1),
    "g": Operator(colour.set_fill_grey, 1),
    "RG": Operator(colour.set_stroke_rgb, 3),
    "rg": Operator(colour.set_fill_rgb, 3),
    "K": Operator(colour.set_stroke_cmyk, 4),
    "k": Operator(colour.set_fill_cmyk, 4),
    # Shadings (8.7.4.2, table 76)
    "sh": Operator(colour.paint_shading, 1),
    # XObjects (8.8, table 86)
    "Do": Operator(xobject.draw, 1),
    # Inline images (8.9.7, table 90)
    "BI": Operator(xobject.begin_inline),
    "ID": Operator(xobject.inline_data),
    "EI": Operator(xobject.end_inline, 1),
    # Text state (9.3.1, table 103)
    "Tc": Operator(text.character_spacing, 1),
    "Tw": Operator(text.word_spacing, 1),
    "Tz": Operator(text.scale, 1),
    "TL": Operator(text.leading, 1),
    "Tf": Operator(text.select_font, 2),
    "Tr": Operator(text.mode, 1),
    "Ts": Operator(text.rise, 1),
    # Text objects (9.4.1, table 105)
    "BT": Operator(text.begin),
    "ET": Operator(text.end),
    # Text positioning (9.4.2, table 106)
    "Td": Operator(text.move_line, 2),
    "TD": Operator(text.move_line_set_leading, 2),
    "Tm": Operator(text.set_matrix, 6),
    "T*": Operator(text.next_line),
    # Text showing (9.4.3, table 107)
    "Tj": Operator(text.show, 1),
    "TJ": Operator(text.show_spaced, 1),
    "'": Operator(text.show_next_line, 1),
    '"': Operator(text.show_next_line_spaced, 3),
    # Type 3 fonts (9.6.4, table 111)
    "d0": Operator(type3.coloured_glyph, 2),
    "d1": Operator(type3.uncoloured_glyph, 6),
    # Marked content (14.6, table 352)
    "MP": Operator(None, 1, ignored="marks a place and paints nothing"),
    "DP": Operator(None, 2, ignored="marks a place and paints nothing"),
    "BMC": Operator(marked_content.begin, 1),
    "BDC": Operator(marked_content.begin_with_properties, 2),
    "EMC": Operator(marked_content.end),
}
