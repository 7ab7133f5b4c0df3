"""Operators of colour (ISO 32000-2, 8.6.8) and of shadings (8.7.4.2)."""

from collections.abc import Callable
from dataclasses import replace

import pikepdf

from hotfolder.model.colour import Colour, ColourSpace
from hotfolder.model.facts import ProblemKind
from hotfolder.model.marks import Mark, MarkKind
from hotfolder.pdf.colour.colour_spaces import DEVICES, PATTERN, initial_colour
from hotfolder.pdf.content.content import Content, Handler, Operands
from hotfolder.pdf.content.graphics_state import Paint, seen_through
from hotfolder.pdf.content.shadings import LaidShading, Shading, read_shading
from hotfolder.pdf.content.uses import UseKind
from hotfolder.pdf.objects.limits import COLOUR_COMPONENTS
from hotfolder.pdf.objects.matrix import IDENTITY, Matrix
from hotfolder.pdf.objects.reading import entry, fingerprint, name, numbers, whole

SetPaint = Callable[[Content, Paint], None]  # sets the paint to fill with, or to stroke with


def _fill(content: Content, paint: Paint) -> None:
    content.state = content.state.with_fill(paint)


def _stroke(content: Content, paint: Paint) -> None:
    content.state = content.state.with_stroke(paint)


def set_stroke_space(content: Content, operands: Operands) -> None:
    """`CS`: chooses the space; its initial colour holds until another is set."""
    _set_space(content, operands, _stroke)


def set_fill_space(content: Content, operands: Operands) -> None:
    """`cs`: as `CS`, for filling."""
    _set_space(content, operands, _fill)


def set_stroke_colour(content: Content, operands: Operands) -> None:
    """`SC`, `SCN`: the components of a colour, or a pattern by name."""
    _set_colour(content, operands, content.state.stroke.colour.space, _stroke)


def set_fill_colour(content: Content, operands: Operands) -> None:
    """`sc`, `scn`: as `SC`, for filling."""
    _set_colour(content, operands, content.state.fill.colour.space, _fill)


def device_colour(family: str, *, stroke: bool) -> Handler:
    """The handler of an operator that chooses a colour of a device space, for lines or for filling."""
    device, set_paint = DEVICES[family], _stroke if stroke else _fill
    return lambda content, operands: _set_device_colour(content, operands, device, set_paint)


def _set_device_colour(
    content: Content, operands: Operands, device: ColourSpace, set_paint: SetPaint
) -> None:
    if content.uncoloured:
        return
    components = content.numbers(operands, device.components)
    if components is None:
        return
    content.uses(UseKind.DEVICE_COLOUR, device.family)
    if content.scope.resources.default_space(device.family) is not None:
        space = content.colour_space(pikepdf.Name(f"/{device.family}"))
        # A default of another number of components is not allowed (8.6.5.6) and not used.
        device = space if space.components == device.components else device
    set_paint(content, Paint(Colour(device, components)))


def _set_space(content: Content, operands: Operands, set_paint: SetPaint) -> None:
    if content.uncoloured:
        return
    space = content.colour_space(operands[-1])
    if space.family == "unknown":
        content.note(ProblemKind.DAMAGED, "a colour space is used that the file does not define")
    set_paint(content, Paint(initial_colour(space)))


def _set_colour(content: Content, operands: Operands, space: ColourSpace, set_paint: SetPaint) -> None:
    if content.uncoloured or not operands:
        return
    pattern = name(operands[-1])
    if pattern is not None:
        set_paint(content, _pattern(content, pattern, operands[:-1], space))
        return
    count = space.components or min(len(operands), COLOUR_COMPONENTS)
    if len(operands) < count:
        content.note(ProblemKind.DAMAGED, "a colour has fewer components than its colour space")
        return
    components = content.numbers(operands, count)
    if components is not None:
        set_paint(content, Paint(Colour(space, components)))


def _pattern(content: Content, key: str, operands: Operands, space: ColourSpace) -> Paint:
    pattern = content.scope.resources.find("Pattern", key)
    content.uses_resource(UseKind.PATTERN, "Pattern", key, pattern)
    match whole(entry(pattern, "/PatternType")):
        case 1:
            return _tiling(content, pattern, operands, space)
        case 2:
            return _shading_pattern(content, pattern)
        case _:
            content.note(ProblemKind.DAMAGED, "a pattern is used that the file does not hold")
            return Paint(Colour(PATTERN))


def _shading_pattern(content: Content, pattern: object) -> Paint:
    """The paint of a shading pattern (8.7.4.3)."""
    dictionary = entry(pattern, "/Shading")
    content.uses(UseKind.SHADING, dictionary)
    space = content.colour_space(entry(dictionary, "/ColorSpace"))
    shading = _shading(content, dictionary, space)
    if entry(pattern, "/ExtGState") is not None:
        content.uses(UseKind.STATE, entry(pattern, "/ExtGState"))
        shading = replace(shading, dense=False, background=False)  # it may be transparent by that
    given = numbers(entry(pattern, "/Matrix"), 6)
    matrix = (Matrix(*given) if given is not None else IDENTITY).then(content.scope.base)
    return Paint(Colour(space), shading=LaidShading(shading, matrix))


def _shading(content: Content, dictionary: object, space: ColourSpace) -> Shading:
    """The shape that a shading paints; read once for each object, or for each direct dictionary."""
    known, key = content.named.shadings, fingerprint(dictionary)
    if key not in known:
        known[key] = read_shading(dictionary, space.components)
    return known[key]


def _tiling(content: Content, pattern: object, operands: Operands, space: ColourSpace) -> Paint:
    if whole(entry(pattern, "/PaintType")) != 2:
        return Paint(Colour(PATTERN), pattern)
    # An uncoloured pattern is laid down in the colour given here, of the space beneath (8.7.3.3).
    base = space.base if space.family == "Pattern" else None
    components = content.numbers(operands, len(operands)) if operands else None
    if base is None or components is None or len(components) != base.components:
        content.note(ProblemKind.DAMAGED, "a pattern without colours of its own is given none")
        return Paint(Colour(PATTERN), pattern)
    return Paint(Colour(space, components), pattern, Colour(base, components))


def paint_shading(content: Content, operands: Operands) -> None:
    """`sh`: fills all that the clip leaves with a shading (8.7.4.2), as far as that reaches."""
    key = name(operands[-1])
    dictionary = content.scope.resources.find("Shading", key) if key is not None else None
    content.uses_resource(UseKind.SHADING, "Shading", key or "", dictionary)
    if entry(dictionary, "/ShadingType") is None:
        content.note(ProblemKind.DAMAGED, "a shading is drawn that the file does not hold")
        return
    state = content.state
    if state.clip is None:
        return
    space = content.colour_space(entry(dictionary, "/ColorSpace"))
    shading = _shading(content, dictionary, space)
    box = seen_through(state.clip, shading.bounds(state.ctm, state.clip))
    if box is None or not content.box_is_sound(box):
        return
    paint = Paint(Colour(space))
    visible, unseen = state.visible_part(box)
    content.ledger.add(
        Mark(
            kind=MarkKind.SHADING,
            box=box,
            visible=visible,
            unseen=unseen,
            source=content.source,
            fill=paint.colour,
            state=state.laid_over,
            printed=content.printed,
            layers=content.layers,
            solid=content.solid(box, paint) if shading.fills(state.ctm) else None,
        )
    )
