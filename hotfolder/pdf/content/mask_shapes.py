"""Where soft masks (ISO 32000-2, 11.5, 11.6.5) let paint through, by the boxes of the marks in their groups.

Paint outside of all that is light in a mask is not seen. Boxes tell no more than that: an image or a shading
in a mask counts as light all over.
"""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from typing import Final

from hotfolder.model.colour import Colour, ColourKind
from hotfolder.model.geometry import Box
from hotfolder.model.marks import Mark, MarkKind
from hotfolder.pdf.objects.limits import COLOUR_COMPONENTS
from hotfolder.pdf.objects.matrix import Matrix
from hotfolder.pdf.objects.reading import entry, items, name, number, numbers

# A mask of more marks is taken to let everything through.
_MOST_STEPS: Final = 200
# A component up to here counts as 0: writers round.
_DARK: Final = 0.001

EVERYWHERE: Final = Box(-1e7, -1e7, 1e7, 1e7)


@dataclass(frozen=True, slots=True)
class MaskShape:
    """Where a mask lets paint through.

    steps: in painting order, the boxes in which the mask may become light (True), or becomes dark all over.
    """

    steps: tuple[tuple[Box, bool], ...]

    def seen(self, box: Box) -> Box | None:
        """The part of a box that may be seen through the mask; None for nothing."""
        left: list[Box] = []
        for place, light in self.steps:
            if not light:
                left = [each for each in left if not place.holds(each)]
            elif (shared := place.cut_by(box)) is not None and _is_area(shared, box):
                left.append(shared)
        return Box.around([corner for each in left for corner in each.corners]) if left else None

    def moved(self, matrix: Matrix) -> "MaskShape":
        """The same mask transformed by `matrix`; dark boxes that do not stay upright are dropped."""
        upright = matrix.keeps_upright
        return MaskShape(
            tuple(
                (matrix.bounds(place.x0, place.y0, place.x1, place.y1), light)
                for place, light in self.steps
                if light or upright
            )
        )


@dataclass(frozen=True, slots=True)
class MaskMarks:
    """The marks of a mask's group. ctm: from the group's space to the page."""

    marks: tuple[Mark, ...]
    ctm: Matrix

    @classmethod
    def of(cls, marks: Sequence[Mark], ctm: Matrix) -> "MaskMarks | None":
        """The marks, where they are not too many to be kept."""
        return cls(tuple(marks), ctm) if len(marks) <= _MOST_STEPS else None


def mask_shape(mask: object, known: MaskMarks, now: Matrix) -> MaskShape | None:
    """Where `mask`, whose group painted `known`, lets paint through; None where that cannot be told.

    now: from the group's space to the page, as the mask is placed now.
    """
    group = entry(mask, "/G")
    transfer = entry(mask, "/TR")
    back = known.ctm.inverted()
    if (transfer is not None and name(transfer) != "Identity") or back is None:
        return None
    marks, ctm = known.marks, known.ctm
    alpha = name(entry(mask, "/S")) == "Alpha"
    steps: list[tuple[Box, bool]] = []
    if not alpha and not _is_dark_ground(mask, group):
        steps.append((EVERYWHERE, True))
    bounds = numbers(entry(group, "/BBox"), 4)
    clip = ctm.bounds(*bounds) if bounds is not None else EVERYWHERE
    steps.extend(_steps(marks, clip, alpha=alpha))
    shape = MaskShape(tuple(steps))
    return shape if now == ctm else shape.moved(back.then(now))


def _steps(marks: Iterable[Mark], clip: Box, *, alpha: bool) -> Iterable[tuple[Box, bool]]:
    for mark in marks:
        if not mark.printed or mark.visible is None:
            continue
        box = mark.visible
        if mark.text is not None:
            # Letters reach beyond the boxes that their fonts declare.
            box = box.grown(mark.text.size_pt)
        place = box.cut_by(clip)
        if place is None:
            continue
        if alpha or not _is_dark(mark):
            yield place, True
        elif mark.solid is not None and (hidden := mark.solid.cut_by(clip)) is not None:
            yield hidden, False


def _is_dark(mark: Mark) -> bool:
    """Whether a mark is known to be black all over, and so to let nothing through."""
    plain = mark.kind in {MarkKind.PATH, MarkKind.TEXT} and mark.state.blend_mode == "Normal"
    return plain and all(_is_black(colour) for colour in mark.colours())


def _is_black(colour: Colour) -> bool:
    return colour.space.family in {"DeviceGray", "DeviceRGB", "DeviceCMYK"} and _is_none_light(
        colour.space.kind, colour.components
    )


def _is_none_light(kind: ColourKind, components: Sequence[float]) -> bool:
    """Whether a colour has no luminosity; that of CMYK with full black has none (ISO 32000-2, 10.4.2.5)."""
    match kind:
        case ColourKind.GREY | ColourKind.RGB:
            return bool(components) and max(components) <= _DARK
        case ColourKind.CMYK:
            return len(components) == 4 and components[3] >= 1 - _DARK
        case _:
            return False


def _is_dark_ground(mask: object, group: object) -> bool:
    """Whether the backdrop of a luminosity mask is black: by its colour BC, or for lack of it (11.6.5.2)."""
    backdrop = [number(each) for each in items(entry(mask, "/BC"), COLOUR_COMPONENTS)]
    components = [each for each in backdrop if each is not None]
    if not components:
        return True
    space = name(entry(entry(group, "/Group"), "/CS"))
    kinds = {"DeviceGray": ColourKind.GREY, "DeviceRGB": ColourKind.RGB, "DeviceCMYK": ColourKind.CMYK}
    kind = kinds.get(space or "")
    return kind is not None and _is_none_light(kind, components)


def _is_area(shared: Box, box: Box) -> bool:
    """Whether more than an edge of a box is shared; of a box without extent, which a line has, any part."""
    return (shared.width > 0 or box.width <= 0) and (shared.height > 0 or box.height <= 0)
