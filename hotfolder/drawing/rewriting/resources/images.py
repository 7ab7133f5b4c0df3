"""Image XObjects and inline images in rewritten content: made for each pass in the size that they need."""

from typing import Final

import pikepdf

from hotfolder.colour.conversions import Intent
from hotfolder.drawing.grid.grid_laying import onto_whole_pixels
from hotfolder.drawing.images.entries import read_entries
from hotfolder.drawing.images.images import PlacedImage
from hotfolder.drawing.images.masks import stencil_alpha
from hotfolder.drawing.rewriting import paths
from hotfolder.drawing.rewriting.context import RewriteContext
from hotfolder.drawing.rewriting.names import Making, PassResource
from hotfolder.drawing.rewriting.overprint import Touched
from hotfolder.drawing.rewriting.paints import Solid
from hotfolder.drawing.rewriting.passes import Pass
from hotfolder.drawing.rewriting.resources.forms import group_around
from hotfolder.drawing.rewriting.rewriter import Rewriter
from hotfolder.drawing.rewriting.script import Drawn, Part, Varying, drawn
from hotfolder.drawing.spaces.changed import SpaceChange
from hotfolder.drawing.spaces.view import View
from hotfolder.pdf.objects.matrix import IDENTITY, Matrix
from hotfolder.pdf.objects.reading import entry, fingerprint, whole
from hotfolder.pdf.objects.resources import Resources

# The same picture is made for its very place so many times on a page; an ornament has a hundred places.
_PLACES: Final = 8

_SMALL_PX: Final = 64  # of the drawing
_MANY_PX: Final = 1_500_000  # an A5 sheet of 6 a millimetre


class LooseImage(PassResource):
    """An image that is drawn in more places than one; it is made as large as its largest place needs."""

    def __init__(
        self,
        context: RewriteContext,
        image: pikepdf.Stream,
        resources: Resources,
        intent: Intent,
        change: SpaceChange | None,
    ) -> None:
        self._context = context
        self._image = image
        self._resources = resources
        self._intent = intent
        self._change = change
        self._across_px = self._down_px = 0.0

    def need(self, across_px: float, down_px: float) -> None:
        """Notes a place where it takes so many pixels of the drawing."""
        self._across_px, self._down_px = max(self._across_px, across_px), max(self._down_px, down_px)

    def made(self, making: Making) -> pikepdf.Object:
        """The image in a pass; a stencil as it is."""
        image = self._context.images.drawn(
            self._image,
            self._resources,
            self._across_px,
            self._down_px,
            making.into.view,
            self._intent,
            self._change,
        )
        return self._image if image is None else image


class LaidImage(PassResource, Varying):
    """An image made for its very place, on the drawing's own pixels, at whatever angle it lies.

    in_group: it stands in a group of its own, which overprints in its place.
    """

    def __init__(self, rewriter: Rewriter, image: pikepdf.Stream, *, in_group: bool) -> None:
        state = rewriter.state
        self._context = rewriter.context
        self._resources = rewriter.scope.resources
        self._intent = state.intent
        self._change = _change(rewriter, image)
        self._image = image
        self._in_group = in_group
        self._ctm, self._back = state.ctm, state.ctm.inverted() or IDENTITY
        self._fill = state.fill if isinstance(state.fill, Solid) else None
        self._touched = _touched(rewriter, image)
        self._multiplied = rewriter.multiplied()
        self._placed: tuple[View, int, PlacedImage | None] | None = None
        self._resource_name = rewriter.context.names.add("XObject", self)

    def _in_pass(self, into: Pass) -> PlacedImage | None:
        view, forgotten = into.view, self._context.images.forgotten
        if self._placed is None or self._placed[:2] != (view, forgotten):
            fill = None if self._fill is None else self._fill.shown(into)
            placed = self._context.images.resampled(
                self._image,
                self._resources,
                self._ctm,
                self._context.frame,
                view,
                self._intent,
                fill,
                self._change,
            )
            self._placed = view, forgotten, placed
        return self._placed[2]

    def made(self, making: Making) -> pikepdf.Object:
        """The image in a pass; that of the file, which is not drawn then, where nothing falls on the page."""
        placed = self._in_pass(making.into)
        return self._image if placed is None else placed.image

    def written(self, into: Pass) -> bytes:
        """The image at its place."""
        placed = self._in_pass(into)
        if placed is None:
            return b""
        matrix = placed.matrix.then(self._back)
        what = b" q %.6f %.6f %.6f %.6f %.6f %.6f cm %b Do Q" % (*matrix, self._resource_name)
        return what if self._in_group else Drawn(what, self._touched, self._multiplied).written(into)


def draw_image(rewriter: Rewriter, image: pikepdf.Stream) -> None:
    """Draws an image XObject, or an inline image made into one."""
    context, state, resources = rewriter.context, rewriter.state, rewriter.scope.resources
    space = context.images.space_of(image, resources)
    if space is None and _is_one_sample(image):
        _draw_rule(rewriter, image)
        return
    if space is None:
        rewriter.note_painted(stroke=False)
    else:
        context.use_space(rewriter.changed(space))
    if entry(image, "/SMask") is not None:
        rewriter.shines_through()
    is_laid = _is_laid(rewriter, image, stencil=space is None)
    in_group = _needs_group(rewriter, image, stencil=space is None, is_laid=is_laid)
    if is_laid:
        rewriter.record.placed = True
        rewriter.record.tinted = rewriter.record.tinted or space is None
        laid = LaidImage(rewriter, image, in_group=in_group)
        rewriter.emit(_drawn_in_group(rewriter, image, laid) if in_group else laid)
        return
    ctm = state.ctm
    change = _change(rewriter, image)
    key = ("image", fingerprint(image), state.intent, resources if space is not None else None, change)
    resource_name = context.names.name(
        "XObject", key, lambda: LooseImage(context, image, resources, state.intent, change)
    )
    loose = context.names.known("XObject", key)
    if isinstance(loose, LooseImage):
        loose.need(ctm.x_length * context.pixels_per_pt, ctm.y_length * context.pixels_per_pt)
    what = b" %b Do" % resource_name
    snapping = _snapping(rewriter) if space is not None else None
    if snapping is not None:
        rewriter.record.placed = True
        what = b" q %.9f %.9f %.9f %.9f %.9f %.9f cm%b Q" % (*snapping, what)
    if in_group:
        rewriter.emit(_drawn_in_group(rewriter, image, what))
    else:
        rewriter.emit(drawn(what, _touched(rewriter, image), rewriter.multiplied()))


def _needs_group(rewriter: Rewriter, image: pikepdf.Stream, *, stencil: bool, is_laid: bool) -> bool:
    """Whether an image has to be drawn in a group of its own, for the state to count for it, and once.

    A mask of the image's own counts in place of that of the state (11.6.5.2), and the renderer sees one in
    what stands for a picture at an angle, an explicit mask or a key as well. To a stencil that is left as it
    is, it applies opacity twice.
    """
    state = rewriter.state
    if stencil and not is_laid:
        return state.fill_opacity < 1
    entries = read_entries(image)
    has_soft_mask = entries.soft_mask is not None or bool(entries.alpha_in_data)
    is_cut_out = entries.mask is not None or entries.key is not None
    return state.masked and not has_soft_mask and (is_cut_out or not state.ctm.keeps_upright)


def _drawn_in_group(rewriter: Rewriter, image: pikepdf.Stream, what: Part) -> Part:
    """The part for an image that is drawn in a group."""
    names = rewriter.context.names
    resource_name = names.name("XObject", ("in group", what), lambda: group_around(what))
    return drawn(b" %b Do" % resource_name, _touched(rewriter, image), rewriter.multiplied())


def _is_one_sample(image: pikepdf.Stream) -> bool:
    return whole(entry(image, "/Width")) == whole(entry(image, "/Height")) == 1


def _draw_rule(rewriter: Rewriter, stencil: pikepdf.Stream) -> None:
    """Draws a stencil of one sample, as old typesetters' rules are: a rectangle filled with the colour.

    The renderer draws no picture thinner than one to two pixels.
    """
    if stencil_alpha(read_entries(stencil), 1, 1).pixels.all():
        paths.rectangle(rewriter, b" 0 0 1 1", b"re")
        paths.paint(rewriter, b"", b"f")


def _snapping(rewriter: Rewriter) -> Matrix | None:
    """Brings an upright picture to the nearest whole pixels: the renderer widens it by up to one a side.

    None where its place is not known, or where it is at an angle.
    """
    ctm = rewriter.state.ctm
    back = ctm.inverted()
    if not rewriter.scope.placed or not ctm.keeps_upright or back is None:
        return None
    moved = onto_whole_pixels(ctm.bounds(0, 0, 1, 1), rewriter.context.frame)
    return None if moved is None else ctm.then(moved).then(back)


def _is_laid(rewriter: Rewriter, image: pikepdf.Stream, *, stencil: bool) -> bool:
    """Whether an image is made for its very place.

    The renderer darkens pictures at an angle, and where it enlarges one, some samples take a pixel more than
    others. Large ones it draws well where they lie on whole pixels, and several times as fast. Upright
    stencils it draws well too.
    """
    state = rewriter.state
    if not rewriter.scope.placed or state.ctm.inverted() is None:
        return False
    across, down = (
        each * rewriter.context.pixels_per_pt for each in (state.ctm.x_length, state.ctm.y_length)
    )
    if state.ctm.keeps_upright and min(across, down) > _SMALL_PX and not _is_coarse(image, across, down):
        return False
    if stencil:
        return not state.ctm.keeps_upright and isinstance(state.fill, Solid)
    seen = rewriter.context.seen
    key = fingerprint(image)
    seen[key] = seen.get(key, 0) + 1
    return seen[key] <= _PLACES


def _change(rewriter: Rewriter, image: pikepdf.Stream) -> SpaceChange | None:
    """How an image's colours change before they become inks; None for a stencil, whose paint is changed."""
    space = rewriter.context.images.space_of(image, rewriter.scope.resources)
    return None if space is None else rewriter.change_of(space)


def _is_coarse(image: pikepdf.Stream, across_px: float, down_px: float) -> bool:
    """Whether a picture has fewer samples than the drawing has pixels, unless these are very many."""
    width, height = (whole(entry(image, key)) or 0 for key in ("/Width", "/Height"))
    return (width < across_px or height < down_px) and across_px * down_px <= _MANY_PX


def _touched(rewriter: Rewriter, image: pikepdf.Stream) -> Touched:
    state = rewriter.state
    space = rewriter.context.images.space_of(image, rewriter.scope.resources)
    touched = state.touched(stroke=False) if space is None else state.touched_in(rewriter.changed(space))
    rewriter.note_touched(touched)
    return touched
