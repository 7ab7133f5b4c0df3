"""The operators that rewriting looks at, in the order in which ISO 32000-2 treats them.

Others are copied as they stand, if a run has not taken them already, or left out. Together they are all that
the language has.
"""

from collections.abc import Mapping
from typing import Final

from hotfolder.drawing.rewriting import paths
from hotfolder.drawing.rewriting.operators import colour, general, text, xobject
from hotfolder.drawing.rewriting.resources import type3_fonts
from hotfolder.drawing.rewriting.rewriter import Handler
from hotfolder.pdf.language.operators import DEVICE_COLOURS, NO_PAINT, PATH_PAINTING

COPIED: Final = (b"d", b"h", b"n", b"W", b"W*", b"T*")
COPIED_NUMBERS: Final = (
    b"J", b"j", b"M", b"i",
    b"m", b"l", b"c", b"v", b"y",
    b"Tc", b"Tw", b"Tz", b"TL", b"Ts", b"Td", b"TD",
)  # fmt: skip

# They mark places, or sections that readers may not know, and paint nothing; an image's parts come with BI.
LEFT_OUT: Final = (b"MP", b"DP", b"BX", b"EX", b"ID", b"EI")

OPERATORS: Final[Mapping[bytes, Handler]] = {
    **dict.fromkeys(COPIED, general.copied),
    **dict.fromkeys(COPIED_NUMBERS, general.copied_numbers),
    **dict.fromkeys(LEFT_OUT, general.left_out),
    # Clause 8.4.4: the graphics state
    b"q": general.save,
    b"Q": general.restore,
    b"cm": general.concatenate,
    b"w": general.line_width,
    b"ri": general.rendering_intent,
    b"gs": general.apply_gstate,
    # Clause 8.5: paths
    b"re": paths.rectangle,
    **{spelling.encode(): paths.paint for spelling, does in PATH_PAINTING.items() if does != NO_PAINT},
    # Clause 8.6.8: colour
    **{spelling.encode(): colour.set_device_colour for spelling in DEVICE_COLOURS},
    **dict.fromkeys((b"cs", b"CS"), colour.set_space),
    **dict.fromkeys((b"sc", b"scn", b"SC", b"SCN"), colour.set_colour),
    # Clauses 8.7.4.2, 8.8 and 8.9.7: what has a name or stands apart
    b"sh": xobject.shade,
    b"Do": xobject.draw,
    b"BI": xobject.inline,
    # Clauses 9.3 and 9.4: text
    b"BT": text.begin,
    b"ET": text.end,
    b"Tm": text.set_matrix,
    b"Tf": text.select_font,
    b"Tr": text.set_mode,
    **dict.fromkeys((b"Tj", b"TJ", b"'", b'"'), text.show),
    # Clause 9.6.4: glyphs of Type 3 fonts
    b"d0": type3_fonts.coloured_glyph,
    b"d1": type3_fonts.uncoloured_glyph,
    # Clause 14.6: marked content
    b"BMC": general.begin_marked,
    b"BDC": general.begin_marked_with_properties,
    b"EMC": general.end_marked,
}
