"""Soft masks (ISO 32000-2, 11.6.5): drawn in greys by the standard's formula, the same in every pass.

A mask keeps its meaning, not its plates: what of its group's colours counts is how light they are.
"""

from dataclasses import replace

import pikepdf
from pikepdf import Array, Dictionary, Name

from hotfolder.drawing.rewriting.names import Entries, Making, PassResource
from hotfolder.drawing.rewriting.resources.forms import FormResource, form_entries
from hotfolder.drawing.rewriting.rewriter import Rewriter, StreamScope
from hotfolder.drawing.spaces.view import View
from hotfolder.errors import NotDrawnError
from hotfolder.pdf.objects.limits import COLOUR_COMPONENTS
from hotfolder.pdf.objects.matrix import IDENTITY, Matrix
from hotfolder.pdf.objects.reading import entry, fingerprint, items, name, number, numbers


class MaskResource(PassResource):
    """A soft mask dictionary (ISO 32000-2, 11.6.5.1); its group is rewritten in the context for masks."""

    def __init__(self, rewriter: Rewriter, form: FormResource, entries: Entries) -> None:
        self._context = rewriter.context.for_masks
        self._form = form
        self._entries = entries
        self._greys: Making | None = None
        self._made: pikepdf.Object | None = None

    def made(self, making: Making) -> pikepdf.Object:
        """The dictionary, the same in all passes that are drawn together."""
        greys = self._context.greys(making.into.finer)
        if self._made is None or self._greys is not greys:
            self._greys = greys
            group = self._form.made(greys)
            group.Resources = greys.resources
            self._made = making.pdf.make_indirect(Dictionary(self._entries))
            self._made.G = group
        return self._made


def soft_mask(rewriter: Rewriter, dictionary: object) -> PassResource:
    """The soft mask that a graphics state dictionary asks for, rewritten once for each place."""
    context = rewriter.context.for_masks
    # Pictures within it may have been made for their very place.
    anywhere, here = (
        (fingerprint(dictionary), rewriter.state.ctm[:4]),
        (fingerprint(dictionary), rewriter.state.ctm),
    )
    for key in (anywhere, here):
        if key in context.soft_masks:
            return context.soft_masks[key]
    made, placed = _rewritten(rewriter, dictionary)
    context.soft_masks[here if placed else anywhere] = made
    return made


def _rewritten(rewriter: Rewriter, dictionary: object) -> tuple[MaskResource, bool]:
    """The mask, and whether it can be used at this place on the page only."""
    group = entry(dictionary, "/G")
    key_of_group = fingerprint(group)
    if not isinstance(group, pikepdf.Stream) or rewriter.draws_itself(key_of_group):
        raise NotDrawnError("a soft mask is drawn by itself")
    own = numbers(entry(group, "/Matrix"), 6)
    matrix = Matrix(*own) if own is not None else IDENTITY
    ctm = matrix.then(rewriter.state.ctm)
    context = rewriter.context.for_masks
    resources = rewriter.scope.resources.within(entry(group, "/Resources"), key_of_group)
    chain = rewriter.inner_chain(key_of_group)
    inner = Rewriter(
        rewriter.operators, context, StreamScope(resources, ctm, chain), context.plain_state(ctm)
    )
    inner.measure_lines()
    inner.choose_again()
    script = inner.rewrite(context.content(group))
    rewriter.record.add(replace(inner.record, overprinted=set(), doubts=set(), blends=False))
    entries = form_entries(group, matrix)
    entries["/Group"] = Dictionary(S=Name.Transparency, CS=Name.DeviceRGB, I=True)
    alpha = name(entry(dictionary, "/S")) == "Alpha"
    mask: Entries = {"/Type": Name.Mask, "/S": Name.Alpha if alpha else Name.Luminosity}
    backdrop = None if alpha else _backdrop(rewriter, dictionary, group)
    if backdrop is not None:
        mask["/BC"] = Array([backdrop] * 3)
    transfer = entry(dictionary, "/TR")
    if transfer is not None and name(transfer) is None:
        mask["/TR"] = transfer
    return MaskResource(rewriter, FormResource(script, entries), mask), inner.record.placed


def _backdrop(rewriter: Rewriter, dictionary: object, group: object) -> float | None:
    """How light the colour is that the mask's group is laid on; None for black (11.6.5.2)."""
    numbers = [number(each) for each in items(entry(dictionary, "/BC"), COLOUR_COMPONENTS)]
    components = [each for each in numbers if each is not None]
    space = entry(entry(group, "/Group"), "/CS")
    if not components or space is None:
        return None
    return rewriter.context.spaces.read(space, rewriter.scope.resources).shown(components, View.luminosity())[
        0
    ]
