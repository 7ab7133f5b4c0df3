"""The marks of a form that is drawn again: at another place, in another size and in other colours."""

import math
from dataclasses import replace

from hotfolder.model.colour import Colour
from hotfolder.model.geometry import Box
from hotfolder.model.marks import ImageFacts, Mark, TextFacts
from hotfolder.pdf.objects.matrix import IDENTITY, Matrix

Colours = dict[int, Colour]  # by the `id` of the colour that each replaces


def moved(mark: Mark, matrix: Matrix | None, stretch: Matrix, colours: Colours) -> Mark:
    """`mark` transformed by `stretch`, which only scales and moves, its colours replaced by `colours`.

    matrix: the one that the mark's measures depend on: for text from text space to the page, else from user
    space. It may be None where both axes are scaled alike.
    """
    box = _placed(mark.box, stretch)
    visible, solid, text, image, width = mark.visible, mark.solid, mark.text, mark.image, mark.line_width_pt
    fill, stroke = mark.fill, mark.stroke
    if visible is not None:
        visible = box if visible is mark.box else _placed(visible, stretch)
    if solid is not None:
        solid = box if solid is mark.box else _placed(solid, stretch)
    if text is not None:
        text = _moved_text(text, matrix, stretch)
    if image is not None:
        image = _moved_image(image, matrix, stretch)
    if width:
        width *= _growth(stretch) or _least_growth(matrix, stretch)
    sliver = mark.sliver_pt
    if sliver:
        # Where the axes are not stretched alike, by the middle: nearly right for what slants by half a turn.
        sliver *= _growth(stretch) or math.sqrt(abs(stretch.determinant))
    fill, stroke = colours.get(id(fill), fill), colours.get(id(stroke), stroke)
    return Mark(
        mark.kind, box, visible, mark.source, fill, stroke, mark.state, mark.printed, mark.white, width,
        image, text, mark.layers, solid, mark.covered, mark.repeated,
        pieces=tuple(_placed(piece, stretch) for piece in mark.pieces),
        unseen=mark.unseen, sliver_pt=sliver, even=mark.even, sides=mark.sides, knockout=mark.knockout,
        hollow=_placed(mark.hollow, stretch) if mark.hollow is not None else None,
    )  # fmt: skip


def _moved_text(text: TextFacts, matrix: Matrix | None, stretch: Matrix) -> TextFacts:
    ink, seen = text.ink, text.visible_ink
    growth = _growth(stretch)
    if not growth:
        before, after = _before_and_after(matrix, stretch)
        growth = after.y_length / before.y_length if before.y_length else 1.0
    return replace(
        text,
        size_pt=text.size_pt * growth,
        ink=_placed(ink, stretch) if ink is not None else None,
        visible_ink=_placed(seen, stretch) if seen is not None else None,
    )


def _moved_image(image: ImageFacts, matrix: Matrix | None, stretch: Matrix) -> ImageFacts:
    growth = _growth(stretch)
    if growth == 1.0:
        return image
    if growth:
        return replace(image, x_ppi=image.x_ppi / growth, y_ppi=image.y_ppi / growth)
    before, after = _before_and_after(matrix, stretch)
    return replace(
        image,
        x_ppi=image.x_ppi * before.x_length / after.x_length if after.x_length else image.x_ppi,
        y_ppi=image.y_ppi * before.y_length / after.y_length if after.y_length else image.y_ppi,
    )


def _growth(stretch: Matrix) -> float:
    """The factor by which all lengths grow; 0 where the two axes are scaled differently."""
    return stretch.a if stretch.a == stretch.d else 0.0


def _least_growth(matrix: Matrix | None, stretch: Matrix) -> float:
    """The factor by which the width of a line grows in the direction in which the pen is narrowest."""
    before, after = _before_and_after(matrix, stretch)
    return after.least_stretch / before.least_stretch if before.least_stretch else 1.0


def _before_and_after(matrix: Matrix | None, stretch: Matrix) -> tuple[Matrix, Matrix]:
    before = matrix if matrix is not None else IDENTITY
    return before, before.then(stretch)


def _placed(box: Box, stretch: Matrix) -> Box:
    a, _, _, d, e, f = stretch
    return Box(box.x0 * a + e, box.y0 * d + f, box.x1 * a + e, box.y1 * d + f)
