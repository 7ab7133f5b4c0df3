"""Shadings (ISO 32000-2, 8.7.4) in the colours of a pass, painted by `sh` or as patterns."""

from typing import Final

import pikepdf

from hotfolder.colour.conversions import Intent
from hotfolder.drawing.rewriting.context import RewriteContext
from hotfolder.drawing.rewriting.names import Making, PassResource
from hotfolder.drawing.rewriting.rewriter import Rewriter
from hotfolder.drawing.shadings.shadings import approximations, viewed_shading
from hotfolder.drawing.spaces.space import PaintSpace
from hotfolder.errors import NotDrawnError
from hotfolder.pdf.objects.matrix import Matrix
from hotfolder.pdf.objects.reading import entry, whole

# For planes, lines and circles the renderer takes the colour of a pixel's corner, not that of its middle.
_BY_CORNERS: Final = frozenset({1, 2, 3})


class Shaded(PassResource):
    """A shading in a colour space."""

    def __init__(self, shading: pikepdf.Object, space: PaintSpace, intent: Intent) -> None:
        self._shading = shading
        self._intent = intent
        self.space = space

    def made(self, making: Making) -> pikepdf.Object:
        """The shading in a pass."""
        return viewed_shading(self._shading, self.space, making.into.view, self._intent)

    def shift(self, context: RewriteContext, space: Matrix) -> tuple[float, float]:
        """How far to move it, in a space laid on the page by `space`, for the middles of pixels to count."""
        back = space.inverted()
        if whole(entry(self._shading, "/ShadingType")) not in _BY_CORNERS or back is None:
            return 0.0, 0.0
        half = context.frame.pixel_pt / 2
        return back.direction(-half, half)


def shaded(rewriter: Rewriter, shading: object) -> Shaded:
    """Reads a shading dictionary, and notes the inks that it may lay in the page's summary."""
    if not isinstance(shading, pikepdf.Dictionary | pikepdf.Stream):
        raise NotDrawnError("a shading is used that the file does not hold")
    space = rewriter.changed(
        rewriter.context.spaces.read(entry(shading, "/ColorSpace"), rewriter.scope.resources)
    )
    rewriter.context.use_space(space)
    for reason in approximations(shading):
        rewriter.context.summary.warn(reason)
    return Shaded(shading, space, rewriter.state.intent)
