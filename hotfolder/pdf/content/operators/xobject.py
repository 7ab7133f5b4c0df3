"""Operators that draw XObjects and inline images (ISO 32000-2, 8.8 to 8.10)."""

import pikepdf

from hotfolder.model.colour import Colour
from hotfolder.model.facts import ProblemKind
from hotfolder.model.geometry import Box
from hotfolder.model.marks import Mark, MarkKind, Masking
from hotfolder.pdf.colour.colour_spaces import is_white
from hotfolder.pdf.content.content import Content, Operands
from hotfolder.pdf.content.graphics_state import Paint
from hotfolder.pdf.content.kept_forms import Form
from hotfolder.pdf.content.ledger import Drawable, NamedImage, OtherXObject
from hotfolder.pdf.content.operators.forms import draw_form, form_of
from hotfolder.pdf.content.operators.patterns import paint_cells
from hotfolder.pdf.content.uses import UseKind
from hotfolder.pdf.images.image_data import trouble_with
from hotfolder.pdf.images.images import StoredImage, read_image
from hotfolder.pdf.language.short_names import full_key
from hotfolder.pdf.objects.reading import entry, identity, name


def draw(content: Content, operands: Operands) -> None:
    """`Do`: an image, or a form with all that it draws."""
    key = name(operands[-1])
    drawable = _drawable(content, key) if key is not None else None
    if drawable is None:
        content.uses(UseKind.MISSING, f"XObject {key or ''}")
        content.note(ProblemKind.DAMAGED, "something is drawn that the file does not hold")
        return
    if drawable.layer is not None:
        content.marked.append(content.layer_of(drawable.layer))
    if isinstance(drawable, Form):
        draw_form(content, drawable, drawable.matrix)
    elif isinstance(drawable, NamedImage):
        _mark(content, drawable.image)
    else:
        content.note(drawable.kind, drawable.what)
    if drawable.layer is not None:
        content.marked.pop()


def _drawable(content: Content, key: str) -> Drawable | None:
    """The XObject of a name in the resources, read once; None where the file does not hold it."""
    known = content.named.drawables
    if key not in known:
        xobject = content.scope.resources.find("XObject", key)
        if not isinstance(xobject, pikepdf.Stream):
            return None
        match name(entry(xobject, "/Subtype")):
            case "Image":
                content.uses(UseKind.IMAGE, xobject)
                image = read_image(lambda entry_key: entry(xobject, entry_key), xobject, content.colour_space)
                _note_trouble(content, xobject, image)
                known[key] = NamedImage(image, entry(xobject, "/OC"))
            case "Form":
                content.uses(UseKind.FORM, xobject)
                known[key] = form_of(content.ledger, xobject)
            case "PS":
                # Only ever meant for one kind of device (8.8.2), and no longer part of the standard.
                content.uses(UseKind.OTHER_XOBJECT, xobject)
                known[key] = OtherXObject(
                    ProblemKind.NOTE, "instructions for a PostScript device are left out"
                )
            case _:
                content.uses(UseKind.OTHER_XOBJECT, xobject)
                known[key] = OtherXObject(
                    ProblemKind.DAMAGED, "something is drawn of a kind that is not known"
                )
    return known[key]


def _note_trouble(content: Content, stream: pikepdf.Stream, image: StoredImage | None) -> None:
    """Notes what is wrong with the data of an image; each image is examined once in a document."""
    if image is None:
        return
    known, key = content.readers.picture_troubles, identity(stream) or ""
    if key not in known:
        known[key] = trouble_with(stream, image.facts)
    trouble = known[key]
    if trouble is not None:
        content.note(trouble.kind, trouble.what)


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
    visible, unseen = state.visible_part(box)
    mark = Mark(
        kind=MarkKind.IMAGE,
        box=box,
        visible=None if image.clear else visible,
        unseen=unseen,
        source=content.source,
        fill=state.fill.colour if facts.colour is None else Colour(facts.colour),
        state=state.laid_over,
        printed=content.printed,
        white=white and content.opaque and not state.own.overprint_fill,
        image=facts,
        layers=content.layers,
        solid=_solid(content, image, box),
    )
    content.ledger.add(mark, state.ctm)
    if stencil:
        paint_cells(content, state.fill, state.laid_over.fill_opacity, mark)


def _solid(content: Content, image: StoredImage, box: Box) -> Box | None:
    """What an image covers opaquely: all of its box, if it is upright, has data and no mask of any kind."""
    colour = image.facts.colour
    whole = image.facts.masking is Masking.NONE and not image.empty
    if colour is None or not whole or not content.state.ctm.keeps_upright:
        return None
    return content.solid(box, Paint(Colour(colour)))


# qpdf gives an inline image (8.9.7) as three operators: BI, ID with its entries, EI with its data.


def begin_inline(content: Content, _operands: Operands) -> None:
    """`BI`: begins an inline image."""
    content.inline_entries = None


def inline_data(content: Content, operands: Operands) -> None:
    """`ID`: its operands are the entries of the image's dictionary."""
    content.inline_entries = operands


def end_inline(content: Content, _operands: Operands) -> None:
    """`EI`: paints the inline image."""
    given = content.inline_entries or []
    content.inline_entries = None
    pairs = zip(given[::2], given[1::2], strict=False)
    entries = {f"/{full_key(name(key) or '')}": value for key, value in pairs}
    content.uses(UseKind.INLINE_IMAGE, pikepdf.Dictionary(entries))
    _mark(content, read_image(entries.get, None, content.colour_space))
