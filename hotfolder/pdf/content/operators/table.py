"""The table of all operators, in the order in which ISO 32000-2 treats them.

Every operator of its Annex A is here, with its handler or with the reason why it has none; how many operands
it needs is a fact of the language.
"""

from collections.abc import Mapping
from typing import Final

from hotfolder.pdf.content.content import Handler, Operator
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
from hotfolder.pdf.language.operators import DEVICE_COLOURS, OPERANDS, PATH_PAINTING

# A text is the reason why an operator has no handler.
_HANDLED: Final[Mapping[str, Handler | str]] = {
    # Compatibility sections (7.8.2, table 33)
    "BX": compatibility.begin,
    "EX": compatibility.end,
    # General graphics state (8.4.4, table 56)
    "w": state.line_width,
    "J": state.line_cap,
    "j": state.line_join,
    "M": state.miter_limit,
    "d": "dashes shorten what is painted and never lengthen it",
    "ri": state.rendering_intent,
    "i": "how finely a device follows curves",
    "gs": state.apply_ext_gstate,
    # Special graphics state (8.4.4, table 56)
    "q": state.save,
    "Q": state.restore,
    "cm": state.concatenate,
    # Path construction (8.5.2, table 58)
    "m": path.move,
    "l": path.line,
    "c": path.curve,
    "v": path.curve_from_here,
    "y": path.curve_to_there,
    "h": path.close,
    "re": path.rectangle,
    # Path painting (8.5.3, table 59)
    **{spelling: path.painter(painting) for spelling, painting in PATH_PAINTING.items()},
    # Clipping paths (8.5.4, table 60)
    "W": path.clip,
    "W*": path.clip,
    # Colour (8.6.8, table 73)
    "CS": colour.set_stroke_space,
    "cs": colour.set_fill_space,
    "SC": colour.set_stroke_colour,
    "SCN": colour.set_stroke_colour,
    "sc": colour.set_fill_colour,
    "scn": colour.set_fill_colour,
    **{
        spelling: colour.device_colour(family, stroke=stroke)
        for spelling, (family, stroke) in DEVICE_COLOURS.items()
    },
    # Shadings (8.7.4.2, table 76)
    "sh": colour.paint_shading,
    # XObjects (8.8, table 86)
    "Do": xobject.draw,
    # Inline images (8.9.7, table 90)
    "BI": xobject.begin_inline,
    "ID": xobject.inline_data,
    "EI": xobject.end_inline,
    # Text state (9.3.1, table 103)
    "Tc": text.character_spacing,
    "Tw": text.word_spacing,
    "Tz": text.scale,
    "TL": text.leading,
    "Tf": text.select_font,
    "Tr": text.mode,
    "Ts": text.rise,
    # Text objects (9.4.1, table 105)
    "BT": text.begin,
    "ET": text.end,
    # Text positioning (9.4.2, table 106)
    "Td": text.move_line,
    "TD": text.move_line_set_leading,
    "Tm": text.set_matrix,
    "T*": text.next_line,
    # Text showing (9.4.3, table 107)
    "Tj": text.show,
    "TJ": text.show_spaced,
    "'": text.show_next_line,
    '"': text.show_next_line_spaced,
    # Type 3 fonts (9.6.4, table 111)
    "d0": type3.coloured_glyph,
    "d1": type3.uncoloured_glyph,
    # Marked content (14.6, table 352)
    "MP": "marks a place and paints nothing",
    "DP": "marks a place and paints nothing",
    "BMC": marked_content.begin,
    "BDC": marked_content.begin_with_properties,
    "EMC": marked_content.end,
}


def _operator(spelling: str, operands: int) -> Operator:
    handled = _HANDLED[spelling]
    if isinstance(handled, str):
        return Operator(None, operands, ignored=handled)
    return Operator(handled, operands)


OPERATORS: Final[Mapping[str, Operator]] = {
    spelling: _operator(spelling, operands) for spelling, operands in OPERANDS.items()
}
