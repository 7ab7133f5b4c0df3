"""Operators that draw XObjects and inline images (ISO 32000-2, 8.8 to 8.10)."""

from dataclasses import replace
from typing import Final

import pikepdf

from hotfolder.artwork import Colour, Mark, MarkKind, MarkState, ProblemKind
from hotfolder.pdf.colour_spaces import is_white
from hotfolder.pdf.content import Content, Operands, Scope
from hotfolder.pdf.graphics_state import GraphicsState, within_group
from hotfolder.pdf.images import StoredImage, read_image
from hotfolder.pdf.matrix import IDENTITY, Matrix
from hotfolder.pdf.patterns import paint_cells
from hotfolder.pdf.reading import entry, identity, name, numbers

# Keys of inline images (8.9.7, table 91).
_KEYS: Final = {
    "BPC": "BitsPerComponent", "CS": "ColorSpace", "D": "Decode", "DP": "DecodeParms", "F": "Filter",
    "H": "Height", "IM": "ImageMask", "I": "Interpolate", "L": "Length", "W": "Width",
}  # fmt: skip


def draw(content: Content, operands: Operands) -> None:
    """`Do`: an image, or a form with all that it draws."""
    key = name(operands[-1])
    found = content.scope.resources.find("XObject", key) if key is not None else None
    if not isinstance(found, pikepdf.Stream):
        content.note(ProblemKind.DAMAGED, "something is drawn that the file does not hold")
        return
    content.marked.append(content.layer_of(entry(found, "/OC")))
    match name(entry(found, "/Subtype")):
        case "Image":
            _draw_image(content, found)
        case "Form":
            matrix = numbers(entry(found, "/Matrix"), 6)
            draw_form(content, found, Matrix(*matrix) if matrix is not None else IDENTITY)
        case "PS":
            # Only ever meant for one kind of device (8.8.2), and no longer part of the standard.
            content.note(ProblemKind.NOTE, "instructions for a PostScript device are left out")
        case _:
            content.note(ProblemKind.DAMAGED, "something is drawn of a kind that is not known")
    content.marked.pop()


def draw_form(content: Content, form: pikepdf.Stream, matrix: Matrix) -> None:
    """Draws a form, its space transformed by `matrix`, clipped to its box (8.10.1)."""
    chain = content.inner_chain(form)
    if chain is None:
        return
    ctm = matrix.then(content.state.ctm)
    state, group = _group(content, form)
    state = replace(state, ctm=ctm)
    scope = Scope(
        object=identity(form),
        resources=content.scope.resources.within(entry(form, "/Resources")),
        base=ctm,
        group=group,
        layers=content.layers,
        hidden=not content.printed,
        chain=chain,
    )
    inner = content.inner(scope, state)
    inner.uncoloured = content.uncoloured
    bounds = numbers(entry(form, "/BBox"), 4)
    if bounds is not None:
        inner.clip_to(ctm.bounds(*bounds))
    inner.read_stream(form)


def _group(content: Content, form: pikepdf.Stream) -> tuple[GraphicsState, MarkState]:
    """The state that a form begins with, and the group that it is part of (11.6.6).

    A transparency group begins plain, and is laid down as a whole with what holds around it.
    """
    state = content.state
    if name(entry(entry(form, "/Group"), "/S")) != "Transparency":
        return state, content.scope.group
    laid = state.laid_over
    group = MarkState(
        fill_opacity=laid.fill_opacity,
        stroke_opacity=laid.fill_opacity,
        blend_mode=laid.blend_mode,
        soft_mask=laid.soft_mask,
        group=True,
    )
    own = replace(state.own, fill_opacity=1.0, stroke_opacity=1.0, blend_mode="Normal", soft_mask=False)
    return replace(state, own=own, laid_over=within_group(own, group)), group


def _draw_image(content: Content, stream: pikepdf.Stream) -> None:
    key = identity(stream) or ""
    if key not in content.images:
        content.images[key] = read_image(
            lambda entry_key: entry(stream, entry_key), stream, content.colour_space
        )
    _mark(content, content.images[key])


def _mark(content: Content, image: StoredImage | None) -> None:
    if image is None:
        content.note(ProblemKind.DAMAGED, "an image has no pixels and was left out")
        return
    state = content.state
    box = state.ctm.bounds(0.0, 0.0, 1.0, 1.0)
    if not content.box_is_sound(box):
        return
    facts = image.placed(state.ctm)
    stencil = facts.colour is None
    white = is_white(state.fill.colour) if stencil else image.white
    mark = Mark(
        kind=MarkKind.IMAGE,
        box=box,
        visible=content.visible(box),
        source=content.source,
        fill=state.fill.colour if facts.colour is None else Colour(facts.colour),
        state=state.laid_over,
        printed=content.printed,
        white=white and content.opaque and not state.own.overprint_fill,
        image=facts,
        layers=content.layers,
    )
    content.ledger.add(mark)
    if stencil:
        paint_cells(content, state.fill, state.laid_over.fill_opacity, mark)


# Inline images (8.9.7) come as four: BI, the entries with ID, the data with EI.


def begin_inline(content: Content, _operands: Operands) -> None:
    """`BI`."""
    content.inline_entries = None


def inline_data(content: Content, operands: Operands) -> None:
    """`ID`: its operands are the entries of the image's dictionary."""
    content.inline_entries = operands


def end_inline(content: Content, _operands: Operands) -> None:
    """`EI`: the image is painted."""
    given = content.inline_entries or []
    content.inline_entries = None
    entries = {_full_key(name(key)): value for key, value in zip(given[::2], given[1::2], strict=False)}
    _mark(content, read_image(entries.get, None, content.colour_space))


def _full_key(key: str | None) -> str:
    return f"/{_KEYS.get(key or '', key or '')}"
