"""Operators that draw what has a name or stands apart (8.7.4.2, 8.8, 8.9): forms, images, inline images."""

import math

import pikepdf

from hotfolder.drawing.rewriting.resources.forms import FormObject, draw_form, form_of
from hotfolder.drawing.rewriting.resources.images import draw_image
from hotfolder.drawing.rewriting.resources.shadings import shaded
from hotfolder.drawing.rewriting.rewriter import Rewriter
from hotfolder.drawing.rewriting.scan import last_name
from hotfolder.drawing.rewriting.script import drawn
from hotfolder.errors import NotDrawnError
from hotfolder.pdf.objects.reading import entry, fingerprint, name, whole


def draw(rewriter: Rewriter, operands: bytes, _operator: bytes) -> None:
    """`Do`."""
    if rewriter.off:
        return
    drawables = rewriter.named.drawables
    if operands not in drawables:
        drawables[operands] = _drawable(rewriter, operands)
    drawable = drawables[operands]
    if isinstance(drawable, FormObject):
        rewriter.text_as_paths(on=False)
        draw_form(rewriter, drawable)
        rewriter.text_as_paths(on=True)
    elif isinstance(drawable, pikepdf.Stream):
        draw_image(rewriter, drawable)


def _drawable(rewriter: Rewriter, operands: bytes) -> FormObject | pikepdf.Stream | None:
    """The XObject of a name; None where there is none, or its optional content is not printed (8.11)."""
    key = last_name(operands)
    xobject = rewriter.scope.resources.find("XObject", key) if key is not None else None
    if not isinstance(xobject, pikepdf.Stream):
        return None
    layer = entry(xobject, "/OC")
    if layer is not None and not rewriter.context.layers.printed(layer):
        return None
    match name(entry(xobject, "/Subtype")):
        case "Form":
            return form_of(rewriter, xobject)
        case "Image":
            return xobject
        case _:
            return None  # instructions for PostScript devices are no longer part of the standard (8.8.2)


def shade(rewriter: Rewriter, operands: bytes, _operator: bytes) -> None:
    """`sh`."""
    key = last_name(operands)
    if rewriter.off or key is None:
        return
    dictionary = rewriter.scope.resources.find("Shading", key)
    if dictionary is None:
        return
    what = shaded(rewriter, dictionary)
    known_as = (fingerprint(dictionary), rewriter.state.intent, rewriter.change)
    resource_name = rewriter.context.names.name("Shading", known_as, lambda: what)
    touched = rewriter.state.touched_in(what.space)
    rewriter.note_touched(touched)
    painted = b" q 1 0 0 1 %.6f %.6f cm %b sh Q" % (
        *what.shift(rewriter.context, rewriter.state.ctm),
        resource_name,
    )
    rewriter.emit(drawn(painted, touched, rewriter.multiplied()))


def inline(rewriter: Rewriter, _operands: bytes, _operator: bytes) -> None:
    """`BI`, up to its `EI`."""
    instruction = rewriter.scan.instruction()
    if instruction is None or instruction[1] != b"ID":
        return
    entries = _entries(instruction[0])
    data = rewriter.scan.inline_image(_length(rewriter, entries))
    if not rewriter.off:
        draw_image(rewriter, rewriter.context.images.inline(entries, data))


def _entries(written: bytes) -> dict[str, object]:
    try:
        read = pikepdf.Object.parse(b"<<%b>>" % written)
    except pikepdf.PikepdfError as error:
        raise NotDrawnError("an inline image cannot be read") from error
    return {key: entry(read, key) for key in read.keys()}  # noqa: SIM118 - pikepdf's, not Python's


def _length(rewriter: Rewriter, entries: dict[str, object]) -> int | None:
    """How many bytes the data of an image without filters are; None where that is not known."""

    def given(*keys: str) -> object:
        return next((entries[key] for key in keys if key in entries), None)

    width, height = whole(given("/W", "/Width")), whole(given("/H", "/Height"))
    if given("/F", "/Filter") is not None or width is None or height is None or min(width, height) < 0:
        return None
    bits, components = whole(given("/BPC", "/BitsPerComponent")) or 1, 1
    if given("/IM", "/ImageMask") is not True:
        space = given("/CS", "/ColorSpace")
        if space is None:
            return None
        components = rewriter.context.spaces.read(space, rewriter.scope.resources).components
    return height * math.ceil(width * bits * components / 8)
