"""Forms (ISO 32000-2, 8.10) as they stand in rewritten content.

The same symbol is drawn a thousand times; it is rewritten once for each state that makes a difference to it.
"""

from collections.abc import Iterator
from dataclasses import dataclass, field, replace
from typing import Final

import pikepdf
from pikepdf import Array, Dictionary, Name

from hotfolder.drawing.rewriting.choosing import choose_changed
from hotfolder.drawing.rewriting.gstates import GState
from hotfolder.drawing.rewriting.laid_back import Before, TurnedMask, plain_state
from hotfolder.drawing.rewriting.names import Entries, Making, PassResource
from hotfolder.drawing.rewriting.overprint import EVERY_PLATE
from hotfolder.drawing.rewriting.paints import PatternPaint, RewrittenPaint
from hotfolder.drawing.rewriting.rewriter import Rewriter, StreamRecord, StreamScope
from hotfolder.drawing.rewriting.script import Part, Script, drawn
from hotfolder.drawing.rewriting.state import State
from hotfolder.model.doubts import IN_INKS, IN_SCREEN_COLOURS, KNOCKOUT, NOT_ISOLATED
from hotfolder.model.geometry import Box
from hotfolder.pdf.objects.matrix import IDENTITY, Matrix
from hotfolder.pdf.objects.reading import entry, fingerprint, name, numbers
from hotfolder.pdf.objects.resources import Resources

_INK_SPACES: Final = frozenset({"DeviceCMYK", "DeviceGray"})

# The pictures of a form are made for their very place so many times; what is drawn more often is a symbol.
_PLACES: Final = 4


_ENDLESS: Final = (-1e6, -1e6, 1e6, 1e6)  # of a form that does not say how large it is


class FormResource(PassResource):
    """A form. entries: its dictionary in rewritten content, resources apart."""

    def __init__(self, script: Script, entries: Entries) -> None:
        self._script = script
        self._entries = entries
        self._shared: pikepdf.Object | None = None

    def made(self, making: Making) -> pikepdf.Object:
        """The form in a pass; its names mean what they mean on the page that it is drawn on."""
        if self._shared is not None:
            return self._shared
        made = making.stream(self._script.written(making.into), self._entries)
        if not self._script.varying:
            self._shared = made
        return made


@dataclass(frozen=True, slots=True)
class TransparencyGroup:
    """What a form's group dictionary says (11.6.6); its colour space as it stands there."""

    transparency: bool = False
    isolated: bool = False
    knockout: bool = False
    space: object = None


@dataclass(frozen=True, slots=True)
class Rewritten:
    """A form as it was rewritten for one graphics state.

    conditions: what of the state makes a difference to it. ctm, fill, stroke: those of its first drawing.
    script: its content. resource_name: in rewritten content; None where its content is written in its place.
    record: what it draws.
    """

    conditions: tuple[object, ...]
    ctm: Matrix
    fill: RewrittenPaint
    stroke: RewrittenPaint
    script: Script
    resource_name: bytes | None
    record: StreamRecord


@dataclass(slots=True, eq=False)
class FormObject:
    """A form as the file has it. matrix: its own. key: its number. kept: as it was rewritten so far."""

    stream: pikepdf.Stream
    key: str
    matrix: Matrix
    group: TransparencyGroup
    resources: Resources
    kept: list[Rewritten] = field(default_factory=list)


def form_of(rewriter: Rewriter, stream: pikepdf.Stream) -> FormObject:
    """Reads a form XObject; the resources that it lacks are those of the content that draws it (7.8.3)."""
    own = numbers(entry(stream, "/Matrix"), 6)
    key = fingerprint(stream)
    return FormObject(
        stream,
        key,
        Matrix(*own) if own is not None else IDENTITY,
        read_group(stream),
        rewriter.scope.resources.within(entry(stream, "/Resources"), key),
    )


def draw_form(rewriter: Rewriter, form: FormObject) -> None:
    """Draws a form."""
    if rewriter.draws_itself(form.key):
        return
    ctm = form.matrix.then(rewriter.state.ctm)
    conditions = _conditions(rewriter, ctm)
    rewritten = next(
        (each for each in form.kept if each.conditions == conditions and _serves(each, ctm, rewriter.state)),
        None,
    )
    if rewritten is None:
        rewritten = _rewritten(rewriter, form, ctm, conditions)
        form.kept.append(rewritten)
    else:
        rewriter.context.budget.spend_steps(rewritten.record.cost)
        for touched in rewritten.record.overprinted:
            rewriter.note_touched(touched)
        for reason in rewritten.record.doubts:
            rewriter.doubt(reason, _place(form, ctm))
    rewriter.record.add(rewritten.record)
    if rewritten.resource_name is None:
        _write_in_place(rewriter, form, rewritten.script)
        return
    _draw_by_name(rewriter, form, ctm, rewritten, rewritten.resource_name)


def _write_in_place(rewriter: Rewriter, form: FormObject, script: Script) -> None:
    """Writes a form's content where it is drawn, which means the same as drawing it (8.10.1).

    The renderer applies an opacity, a mask and a blend mode to what a form draws and to the form as well.
    """
    x0, y0, x1, y1 = numbers(entry(form.stream, "/BBox"), 4) or _ENDLESS
    rewriter.emit(b" q %.8f %.8f %.8f %.8f %.6f %.6f cm" % form.matrix)
    rewriter.emit(b" %.6f %.6f %.6f %.6f re W n" % (x0, y0, x1 - x0, y1 - y0))
    for part in script.parts:
        rewriter.emit(part)
    rewriter.emit(b" n Q")  # a path that the form leaves unpainted ends with it


def _draw_by_name(
    rewriter: Rewriter, form: FormObject, ctm: Matrix, rewritten: Rewritten, resource_name: bytes
) -> None:
    group = form.group
    if (
        group.transparency
        and not group.isolated
        and rewritten.record.blends
        and not rewriter.state.laid_plainly
    ):
        if _may_be_laid_back(rewriter, group):
            _lay_back(rewriter, rewritten, resource_name)
            return
        rewriter.doubt(NOT_ISOLATED, _place(form, ctm))
    rewriter.emit(
        drawn(
            b" %b Do" % resource_name,
            EVERY_PLATE.without(rewriter.state.spared),
            rewriter.multiplied(),
        )
    )
    if rewritten.record.laid_back:
        rewriter.emit(rewriter.context.laid_back.stop(*rewritten.record.laid_back))


def _may_be_laid_back(rewriter: Rewriter, group: TransparencyGroup) -> bool:
    """Whether a group laid down with opacity or a mask can be drawn plainly, and the page laid back."""
    state = rewriter.state
    return (
        rewriter.scope.on_page
        and not group.isolated
        and not group.knockout
        and state.blend_mode == "Normal"
        and state.masked is (state.mask is not None)
        and (state.mask is None or state.mask.ctm.inverted() is not None)
        and state.ctm.inverted() is not None
        and rewriter.context.laid_back.has_room
    )


def _lay_back(rewriter: Rewriter, rewritten: Rewritten, resource_name: bytes) -> None:
    """Draws a group plainly, and lays the page back over it as much as its opacity and mask leave."""
    context, state, laid_back = rewriter.context, rewriter.state, rewriter.context.laid_back
    number = laid_back.count
    laid_back.count += 1
    rewriter.emit(laid_back.stop(number))
    plain = context.names.name("ExtGState", "plain", plain_state)
    rewriter.emit(b" q %b gs %b Do" % (plain, resource_name))
    if rewritten.record.laid_back:
        rewriter.emit(laid_back.stop(*rewritten.record.laid_back))
    rewriter.record.laid_back.add(number)
    if state.mask is None:
        left = context.names.add("ExtGState", GState({"/ca": 1 - state.fill_opacity}))
        space = state.ctm
    else:
        turned = TurnedMask(state.mask, state.fill_opacity)
        left = context.names.add("ExtGState", GState({"/ca": 1.0}, mask=turned))
        space = state.mask.ctm
    picture = context.names.add("XObject", Before(laid_back, number))
    there = space.then(state.ctm.inverted() or IDENTITY)
    matrix = laid_back.matrix.then(space.inverted() or IDENTITY)
    rewriter.emit(b" %.8f %.8f %.8f %.8f %.6f %.6f cm %b gs" % (*there, left))
    rewriter.emit(b" %.8f %.8f %.8f %.8f %.6f %.6f cm %b Do Q" % (*matrix, picture))


def _is_open(rewriter: Rewriter, group: TransparencyGroup) -> bool:
    """Whether what a group draws lies on the page itself, as it is drawn."""
    plain = rewriter.state.laid_plainly and not group.isolated and not group.knockout
    return plain or _may_be_laid_back(rewriter, group)


def _rewritten(
    rewriter: Rewriter, form: FormObject, ctm: Matrix, conditions: tuple[object, ...]
) -> Rewritten:
    context, group = rewriter.context, form.group
    state = rewriter.state.for_group(ctm) if group.transparency else replace(rewriter.state, ctm=ctm)
    isolated = rewriter.scope.isolated or (group.transparency and group.isolated)
    placed = rewriter.scope.placed and len(form.kept) < _PLACES
    own = group.transparency and group.isolated and not blends_in_inks(rewriter, group.space)
    on_screen = rewriter.scope.on_screen or (own and context.spaces.colours.at_hand)
    on_page = rewriter.scope.on_page and (not group.transparency or _is_open(rewriter, group))
    scope = StreamScope(
        form.resources, ctm, rewriter.inner_chain(form.key), isolated, placed,
        on_screen=on_screen, on_page=on_page,
    )  # fmt: skip
    inner = rewriter.inner(scope, state)
    inner.measure_lines()
    inner.uncoloured = rewriter.uncoloured
    choose_changed(inner)
    script = inner.rewrite(context.content(form.stream))
    entries = form_entries(form.stream, form.matrix)
    if group.transparency:
        entries["/Group"] = Dictionary(
            S=Name.Transparency, CS=Name.DeviceRGB, I=group.isolated, K=group.knockout
        )
        for reason in list(_doubts(rewriter, group, inner.record)):
            inner.record.doubts.add(reason)
            rewriter.doubt(reason, _place(form, ctm))
    named = group.transparency or rewriter.state.laid_plainly
    resource_name = context.names.add("XObject", FormResource(script, entries)) if named else None
    outer = rewriter.state
    return Rewritten(conditions, ctm, outer.fill, outer.stroke, script, resource_name, inner.record)


def read_group(stream: object) -> TransparencyGroup:
    """The group of a form or page."""
    group = entry(stream, "/Group")
    if name(entry(group, "/S")) != "Transparency":
        return TransparencyGroup()
    return TransparencyGroup(
        transparency=True,
        isolated=entry(group, "/I") is True,
        knockout=entry(group, "/K") is True,
        space=entry(group, "/CS"),
    )


def blends_in_inks(rewriter: Rewriter, space: object) -> bool:
    """Whether a group's colour space is made of inks; one without a space has that of the group around."""
    if space is None:
        return True
    blending = rewriter.context.spaces.read(space, rewriter.scope.resources)
    return blending.own and blending.family in {"DeviceCMYK", "DeviceGray", "ICCBased"}


def form_entries(stream: object, matrix: Matrix) -> Entries:
    """The dictionary of a form in rewritten content."""
    box = numbers(entry(stream, "/BBox"), 4) or _ENDLESS
    return {
        "/Type": Name.XObject,
        "/Subtype": Name.Form,
        "/BBox": Array(list(box)),
        "/Matrix": Array(list(matrix)),
    }


def group_around(part: Part) -> FormResource:
    """A group of nothing but `part`, which lies where it would lie without."""
    entries: Entries = {
        "/Type": Name.XObject,
        "/Subtype": Name.Form,
        "/BBox": Array(list(_ENDLESS)),
        "/Group": Dictionary(S=Name.Transparency, CS=Name.DeviceRGB, I=True),
    }
    return FormResource(Script.of([part]), entries)


def _doubts(rewriter: Rewriter, group: TransparencyGroup, record: StreamRecord) -> Iterator[str]:
    """Why a group of which this is known is drawn only nearly; none where all of it hides what is beneath."""
    if group.knockout and record.shows_beneath:
        yield KNOCKOUT
    if group.space is not None and group.isolated and record.transparent:
        yield IN_INKS if blends_in_inks(rewriter, group.space) else IN_SCREEN_COLOURS


def _place(form: FormObject, ctm: Matrix) -> Box:
    """Where a form lies at most."""
    return ctm.bounds(*(numbers(entry(form.stream, "/BBox"), 4) or _ENDLESS))


def _conditions(rewriter: Rewriter, ctm: Matrix) -> tuple[object, ...]:
    """What may make a difference to how a form is rewritten, but for where it lies."""
    state = rewriter.state
    overprint = state.overprint
    return (
        overprint,
        state.touched(stroke=False) if overprint.fill else None,
        state.touched(stroke=True) if overprint.stroke else None,
        state.laid_plainly,
        state.blend_mode,
        state.fill.nothing,
        state.stroke.nothing,
        isinstance(state.fill, PatternPaint),
        isinstance(state.stroke, PatternPaint),
        state.stroke_opacity,
        state.written_opacity,
        state.line_width,
        state.text_mode,
        state.lettering,
        state.intent,
        rewriter.uncoloured,
        rewriter.scope.isolated,
        rewriter.scope.on_page,
        rewriter.change,
        round(ctm.x_length, 6),
        round(ctm.y_length, 6),
    )


def _serves(known: Rewritten, ctm: Matrix, state: State) -> bool:
    """Whether a form that was rewritten for another place, in other colours, does for this one too."""
    record = known.record
    coloured_alike = not record.tinted or (state.fill is known.fill and state.stroke is known.stroke)
    return coloured_alike and (not record.placed or ctm == known.ctm) and not record.laid_back
