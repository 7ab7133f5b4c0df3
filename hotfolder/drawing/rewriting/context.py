"""What all content streams of a page share while they are rewritten, and the summary made on the way.

The context holds the resource names, colour spaces, images and limits; the summary collects which inks, blend
modes and overprinting objects were met, from which the drawings that the plates take are planned.
"""

import math
import time
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field, replace
from typing import Final

import pikepdf

from hotfolder.colour.conversions import Intent
from hotfolder.drawing.images.images import PlateImages
from hotfolder.drawing.rewriting.laid_back import LaidBack
from hotfolder.drawing.rewriting.names import Making, PassResource, ResourceNames
from hotfolder.drawing.rewriting.overprint import EVERY_PLATE, Touched, named_inks
from hotfolder.drawing.rewriting.paints import ProcessSolid, RewrittenPaint, Solid
from hotfolder.drawing.rewriting.passes import Pass
from hotfolder.drawing.rewriting.state import State
from hotfolder.drawing.spaces.changed import ChangedSpace, SpaceChange
from hotfolder.drawing.spaces.reader import PaintSpaces
from hotfolder.drawing.spaces.space import PaintSpace
from hotfolder.drawing.spaces.view import ALL_INKS, View
from hotfolder.errors import NotDrawnError, TimeIsUpError
from hotfolder.model.geometry import Box
from hotfolder.model.plates import PlateFrame
from hotfolder.pdf.document.optional_content import Layers
from hotfolder.pdf.objects.limits import DECODED_BYTES_PER_PAGE, DECODED_BYTES_PER_STREAM, OPERATORS_PER_PAGE
from hotfolder.pdf.objects.matrix import Matrix
from hotfolder.pdf.objects.reading import READING_ERRORS
from hotfolder.pdf.objects.resources import Resources
from hotfolder.pdf.objects.streams import salvaged, survey

_UNREADABLE: Final = "drawing instructions could not be decoded"
_BROKEN: Final = "Compressed drawing instructions are broken; only what stands before the break is drawn."

_PLAIN: Final = frozenset({"DeviceGray", "DeviceCMYK"})  # inks without any conversion
MASKS: Final = Pass(View.luminosity())


@dataclass(slots=True)
class PageSummary:
    """What the content of a page was seen to use, as far as it has been rewritten.

    inks: the most of each ink that anything lays, 0 to 1. overprinted: the plates that overprinting objects
    touch, with the inks that lay on the page before them; overprinted_anywhere: the same for objects drawn
    at times not known yet, such as those in the cells of patterns. blend_modes: those in use.
    looks: the colour of each spot ink at full strength, CIELAB (D50). approximate: what is drawn only nearly,
    a sentence each. foreign: some colours are not the press's own, so that its profile is needed.
    named: Separation or DeviceN spaces are in use. transparent: something is not opaque. toned: a transfer
    function is in force somewhere. doubts: why other ink may lie than is drawn, and where, in points; None
    for all of the sheet.
    """

    inks: dict[str, float] = field(default_factory=dict)
    overprinted: dict[Touched, set[str]] = field(default_factory=dict)
    overprinted_anywhere: set[Touched] = field(default_factory=set)
    blend_modes: set[str] = field(default_factory=set)
    looks: dict[str, tuple[float, float, float]] = field(default_factory=dict)
    approximate: dict[str, None] = field(default_factory=dict)
    foreign: bool = False
    named: bool = False
    transparent: bool = False
    toned: bool = False
    doubts: dict[tuple[str, Box | None], None] = field(default_factory=dict)

    def lay(self, inks: Mapping[str, float]) -> None:
        """Notes that inks are laid; those with nothing do not count."""
        for ink, share in inks.items():
            if share > 0 and share > self.inks.get(ink, 0.0):
                self.inks[ink] = share

    def use(self, space: PaintSpace) -> None:
        """Notes that colours of a space are used."""
        self.foreign = self.foreign or not space.own
        self.named = self.named or named_inks(space)
        self.looks.update(space.looks)
        for reason in space.approximate:
            self.approximate[reason] = None

    def touch(self, touched: Touched) -> None:
        """Notes that something is painted that touches only these plates."""
        if touched != EVERY_PLATE:
            self.overprinted.setdefault(touched, set()).update(self.inks)

    def overprinting(self) -> dict[Touched, set[str]]:
        """What overprinting objects touch, with the inks that may lie beneath them."""
        return {**self.overprinted, **{touched: set(self.inks) for touched in self.overprinted_anywhere}}

    def warn(self, reason: str) -> None:
        """Notes that something is drawn only nearly."""
        self.approximate[reason] = None

    def warned_of(self, reason: str) -> bool:
        """Whether that was noted."""
        return reason in self.approximate

    def doubt(self, reason: str, box: Box | None = None) -> None:
        """Notes that other ink may lie in `box`, in points, or anywhere on the sheet."""
        self.doubts[reason, box] = None

    def dismiss(self, reason: str) -> None:
        """Takes a doubt back that turned out to be none."""
        for each in [each for each in self.doubts if each[0] == reason]:
            del self.doubts[each]

    @property
    def named_inks(self) -> tuple[str, ...]:
        """The inks that are laid, without the word for all of them."""
        return tuple(ink for ink in self.inks if ink != ALL_INKS)


class Budget:
    """What is left of the limits of a page. until: the processor time of this process when it is given up."""

    def __init__(self, until: float = math.inf) -> None:
        self.until = until
        self._steps = OPERATORS_PER_PAGE
        self._bytes = DECODED_BYTES_PER_PAGE

    def spend_steps(self, count: int = 1) -> None:
        """Counts instructions that were looked at."""
        if time.process_time() > self.until:
            raise TimeIsUpError
        self._steps -= count
        if self._steps < 0:
            raise NotDrawnError("the page has more drawing instructions than are read")

    def spend_bytes(self, count: int) -> None:
        """Counts bytes of content."""
        self._bytes -= count
        if self._bytes < 0:
            raise NotDrawnError("the page's drawing instructions are longer than what is read")

    def content(self, stream: pikepdf.Stream) -> tuple[bytes, bool]:
        """The decoded bytes of a content stream, and whether they break off."""
        try:
            surveyed = survey(stream, DECODED_BYTES_PER_STREAM)
        except READING_ERRORS as error:
            raise NotDrawnError(_UNREADABLE) from error
        if surveyed.length is None:
            raise NotDrawnError("drawing instructions unpack to more than what is read")
        self.spend_bytes(surveyed.length)
        salvage = salvaged(stream, DECODED_BYTES_PER_STREAM)
        if salvage is None:
            raise NotDrawnError(_UNREADABLE)
        return salvage.data, salvage.broken or surveyed.cut_off


@dataclass(frozen=True, slots=True)
class Type3Font:
    """A Type 3 font as the file has it. drawn: its glyphs are more than shapes in the colour of the text."""

    dictionary: object
    drawn: bool


@dataclass(slots=True)
class NamedColours:
    """What the names and colours of one resource dictionary were read as, kept for when they return.

    paints: of colours, by operands. spaces: colour spaces by name. drawables: XObjects by operands of `Do`.
    """

    paints: dict[tuple[object, ...], Solid] = field(default_factory=dict)
    spaces: dict[str, PaintSpace] = field(default_factory=dict)
    drawables: dict[bytes, object] = field(default_factory=dict)


@dataclass(slots=True, eq=False)
class RewriteContext:
    """What all content streams of a page share while they are rewritten.

    masks: the context for soft masks, whose colours are greys, not inks; None in that context itself.
    fonts, soft_masks: what was rewritten so far. seen: how often each picture was drawn.
    """

    names: ResourceNames
    spaces: PaintSpaces
    images: PlateImages
    layers: Layers
    frame: PlateFrame
    budget: Budget
    summary: PageSummary
    masks: "RewriteContext | None" = None
    fonts: dict[str, Type3Font] = field(default_factory=dict)
    seen: dict[str, int] = field(default_factory=dict)
    soft_masks: dict[object, PassResource] = field(default_factory=dict)
    laid_back: LaidBack = field(init=False)
    _changed: dict[tuple[PaintSpace, SpaceChange], PaintSpace] = field(default_factory=dict)
    _named: dict[Resources, NamedColours] = field(default_factory=dict)
    _greys: dict[int, Making] = field(default_factory=dict)

    def __post_init__(self) -> None:
        self.laid_back = LaidBack(self.frame)

    @property
    def pdf(self) -> pikepdf.Pdf:
        """The document in which objects are made."""
        return self.names.pdf

    @property
    def pixels_per_pt(self) -> float:
        """How many pixels of the drawing a point takes."""
        return 1 / self.frame.pixel_pt

    def named(self, resources: Resources) -> NamedColours:
        """What was read with these resources so far."""
        colours = self._named.get(resources)
        if colours is None:
            colours = self._named[resources] = NamedColours()
        return colours

    def changed(self, space: PaintSpace, change: SpaceChange) -> PaintSpace:
        """A space whose colours change, made once."""
        key = (space, change)
        if key not in self._changed:
            self._changed[key] = ChangedSpace(space, change)
        return self._changed[key]

    @property
    def for_masks(self) -> "RewriteContext":
        """The context that soft masks are rewritten in: this one where it is for masks itself."""
        return self if self.masks is None else self.masks

    def greys(self, finer: int) -> Making:
        """The resources of this context as greys, made once: soft masks are the same in all passes.

        finer: that of the passes.
        """
        if finer not in self._greys:
            self._greys[finer] = self.names.begun(replace(MASKS, finer=finer))
            self.names.fill(self._greys[finer])  # masks within masks ask for it meanwhile
        return self._greys[finer]

    def drop_pictures(self) -> None:
        """Frees the memory of the pictures made so far, once the drawings that show them are written."""
        self.for_masks._greys.clear()  # noqa: SLF001 - another object of this very class
        self.images.forget()

    def drop(self) -> None:
        """Frees the memory of all that was made."""
        self.drop_pictures()
        for context in {id(self): self, id(self.for_masks): self.for_masks}.values():
            context.names.drop()

    def plain_state(self, ctm: Matrix) -> State:
        """The state in which a page, a pattern's cell, a mask or an appearance begins: black (8.4.1)."""
        grey = self.spaces.device("DeviceGray")
        black = self.solid(grey, (0.0,), Intent.RELATIVE)
        return State(ctm, black, black, grey, grey)

    def solid(self, space: PaintSpace, components: Sequence[float], intent: Intent) -> Solid:
        """A paint of one colour; what it lays is noted. Components that are missing are the initial ones."""
        given = (*components[: space.components], *space.initial[len(components) :])
        plain = space.family in _PLAIN and not isinstance(space, ChangedSpace)
        kind = ProcessSolid if plain else Solid
        paint = kind(space, given, intent, self.spaces.device("DeviceRGB"))
        self.use_paint(paint)
        return paint

    def use_paint(self, paint: RewrittenPaint) -> None:
        """Notes that something is painted with `paint`."""
        for space in paint.spaces:
            self.summary.use(space)
        if self.masks is not None:
            self.summary.lay(paint.inks())

    def use_space(self, space: PaintSpace) -> None:
        """Notes that any colour of `space` may be painted."""
        self.summary.use(space)
        if self.masks is not None:
            self.summary.lay(dict.fromkeys(space.touches, 1.0))

    def content(self, stream: pikepdf.Stream) -> bytes:
        """The decoded bytes of a content stream."""
        data, broken = self.budget.content(stream)
        if broken:
            self.summary.warn(_BROKEN)
        return data
