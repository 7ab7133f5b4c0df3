"""Fonts as they stand in rewritten content; Type 3 glyphs are content like any other (ISO 32000-2, 9.6.4)."""

import re
from typing import Final

import pikepdf
from pikepdf import Dictionary

from hotfolder.drawing.rewriting.context import Type3Font
from hotfolder.drawing.rewriting.gstates import GState, LineOpacity
from hotfolder.drawing.rewriting.names import Entries, Making, PassResource
from hotfolder.drawing.rewriting.rewriter import Rewriter, StreamScope
from hotfolder.drawing.rewriting.script import Script
from hotfolder.drawing.rewriting.state import Lettering
from hotfolder.pdf.objects.matrix import Matrix
from hotfolder.pdf.objects.reading import entry, fingerprint, item, keys, name

ANOTHER_FONT: Final = "A font is not in the file; its letters are drawn in another one."
_PROGRAMS: Final = ("/FontFile", "/FontFile2", "/FontFile3")
_MOST_GLYPHS: Final = 65_536
# The renderer keeps a small picture of each such letter, and lays it down at the nearest pixel.
_ON_WHOLE_PIXELS: Final = (
    "Letters of a Type 3 font are drawn up to half a pixel off:"
    " the ink of single square millimetres is near only."
)
_KEPT: Final = (
    "/Type", "/Subtype", "/FontBBox", "/FontMatrix", "/Encoding", "/FirstChar", "/LastChar", "/Widths",
    "/ToUnicode",
)  # fmt: skip

# What makes a glyph more than a shape in the colour of the text, drawn with nothing that has a name.
_MORE: Final = re.compile(rb"(?:\A|[\s\])>])(?:d0|Do|gs|sh|cs|CS|scn|SCN|Tf)(?=[\s/\[(<%]|\Z)")

# How large glyphs are drawn is known only where text is set, long after; large enough for all.
_GLYPH: Final = Matrix(100.0, 0.0, 0.0, 100.0, 0.0, 0.0)


class GlyphFont(PassResource):
    """A Type 3 font whose glyphs are rewritten."""

    def __init__(self, font: object, glyphs: dict[str, Script]) -> None:
        self._font = font
        self._glyphs = glyphs

    def made(self, making: Making) -> pikepdf.Object:
        """The font in a pass."""
        entries = {key: entry(self._font, key) for key in _KEPT}
        made = making.pdf.make_indirect(
            Dictionary({key: value for key, value in entries.items() if value is not None})
        )
        drawn = {key: making.stream(script.written(making.into)) for key, script in self._glyphs.items()}
        made.CharProcs = Dictionary(drawn)
        made.Resources = making.resources
        return made


def lettering(rewriter: Rewriter, font: object, size: bytes) -> Lettering:
    """The font as it is chosen here. Glyphs that bring colours depend on the state around them."""
    context = rewriter.context
    key = fingerprint(font)
    if name(entry(font, "/Subtype")) != "Type3":
        if not context.names.knows("Font", key) and not _embedded(font):
            context.summary.warn(ANOTHER_FONT)
        return Lettering(key, context.names.name("Font", key, lambda: font), size)
    if key not in context.fonts:
        context.fonts[key] = Type3Font(font, drawn=_more_than_shapes(rewriter, font))
    if not context.fonts[key].drawn:
        context.summary.warn(_ON_WHOLE_PIXELS)
        return Lettering(key, context.names.name("Font", key, lambda: font), size)
    state = rewriter.state
    around = (
        key, state.overprint, state.fill, state.blend_mode, state.fill_opacity, state.stroke_opacity,
        rewriter.scope.isolated, rewriter.change,
    )  # fmt: skip
    rewriter.record.tinted = True
    resource_name = context.names.name("Font", around, lambda: _rewritten(rewriter, font))
    return Lettering(key, resource_name, size, coloured=True)


def _embedded(font: object) -> bool:
    """Whether the file brings the font's program (9.9)."""
    descendant = item(entry(font, "/DescendantFonts"), 0)
    descriptor = entry(font if descendant is None else descendant, "/FontDescriptor")
    return any(entry(descriptor, key) is not None for key in _PROGRAMS)


def _more_than_shapes(rewriter: Rewriter, font: object) -> bool:
    procedures = entry(font, "/CharProcs")
    for key in keys(procedures, _MOST_GLYPHS):
        procedure = entry(procedures, key)
        if isinstance(procedure, pikepdf.Stream) and _MORE.search(rewriter.context.content(procedure)):
            return True
    return False


def _rewritten(rewriter: Rewriter, font: object) -> GlyphFont:
    procedures = entry(font, "/CharProcs")
    glyphs = {}
    for key in keys(procedures, _MOST_GLYPHS):
        procedure = entry(procedures, key)
        number = fingerprint(procedure)
        if not isinstance(procedure, pikepdf.Stream) or rewriter.draws_itself(number):
            continue
        resources = rewriter.scope.resources.within(entry(font, "/Resources"), fingerprint(font))
        state = rewriter.state.saved()
        state.ctm, state.stroke, state.stroke_space = _GLYPH, state.fill, state.fill_space
        state.lettering, state.text_mode, state.written_opacity = None, 0, LineOpacity()
        chain = rewriter.inner_chain(number)
        scope = StreamScope(
            resources,
            _GLYPH,
            chain,
            rewriter.scope.isolated,
            placed=False,
            on_screen=rewriter.scope.on_screen,
        )
        inner = rewriter.inner(scope, state)
        inner.measure_lines()
        glyphs[key] = inner.rewrite(rewriter.context.content(procedure))
        rewriter.record.cost += inner.record.cost
        rewriter.record.overprinted |= inner.record.overprinted
    return GlyphFont(font, glyphs)


def coloured_glyph(rewriter: Rewriter, operands: bytes, _operator: bytes) -> None:
    """`d0`: the glyph brings its colours; those around it hold until it does, and so does the opacity.

    The renderer begins such a glyph with black, and opaque.
    """
    rewriter.emit(b"%b d0" % operands)
    rewriter.choose_again()
    state = rewriter.state
    if state.fill_opacity < 1 or state.stroke_opacity < 1:
        opacities: Entries = {"/ca": state.fill_opacity, "/CA": state.stroke_opacity}
        resource_name = rewriter.context.names.name(
            "ExtGState", ("opacities", *opacities.values()), lambda: GState(opacities)
        )
        rewriter.emit(b" %b gs" % resource_name)
        state.written_opacity = LineOpacity(state.stroke_opacity)


def uncoloured_glyph(rewriter: Rewriter, operands: bytes, _operator: bytes) -> None:
    """`d1`: the glyph is a shape in the colour that text has; it sets none."""
    rewriter.emit(b"%b d1" % operands)
    rewriter.uncoloured = True
