"""What fills or strokes in rewritten content: colours and patterns, written in the channels of each pass."""

from abc import ABC, abstractmethod
from collections.abc import Mapping
from functools import cache
from typing import Final

from hotfolder.colour.conversions import Intent
from hotfolder.drawing.rewriting.overprint import (
    EVERY_PLATE,
    Touched,
    named_inks,
    paints_nothing,
    touched_by_colour,
    touched_by_space,
)
from hotfolder.drawing.rewriting.passes import Pass
from hotfolder.drawing.rewriting.script import Varying
from hotfolder.drawing.spaces.named_inks import Grey
from hotfolder.drawing.spaces.space import PaintSpace
from hotfolder.drawing.spaces.view import CHANNELS, View
from hotfolder.model.colour import PROCESS_INKS

_OPERATORS: Final = {False: b"rg", True: b"RG"}


class RewrittenPaint(ABC):
    """A colour or pattern that is being painted with."""

    __slots__ = ("blends", "nothing")

    def __init__(self, *, nothing: bool = False, blends: bool = False) -> None:
        self.nothing = nothing  # painting with it has no effect
        self.blends = blends  # something in it blends with what lies beneath

    @property
    @abstractmethod
    def spaces(self) -> tuple[PaintSpace, ...]:
        """The colour spaces whose colours it lays itself."""

    @abstractmethod
    def inks(self) -> Mapping[str, float]:
        """The inks that it lays, and how much of each at most."""

    @abstractmethod
    def touched(self, mode: int) -> Touched:
        """The plates that it touches while it overprints in an overprint mode."""

    @abstractmethod
    def chosen(self, into: Pass, *, stroke: bool) -> bytes:
        """The operators that choose it in a pass, with a space in front."""


class Solid(RewrittenPaint):
    """One colour. rgb: the space of screen colours, for passes in which it becomes one of them first."""

    __slots__ = ("_numbers", "components", "intent", "rgb", "space")

    def __init__(
        self, space: PaintSpace, components: tuple[float, ...], intent: Intent, rgb: PaintSpace
    ) -> None:
        super().__init__(nothing=paints_nothing(space))
        self.space = space
        self.components = components
        self.intent = intent
        self.rgb = rgb
        self._numbers: dict[Pass, bytes] = {}

    @property
    def spaces(self) -> tuple[PaintSpace, ...]:
        """Its space."""
        return (self.space,)

    def inks(self) -> Mapping[str, float]:
        """Its inks."""
        return self.space.inks(self.components, self.intent)

    def touched(self, mode: int) -> Touched:
        """Those of its inks or of its space, by the mode."""
        return touched_by_colour(self.space, self.components, mode)

    def shown(self, into: Pass) -> tuple[float, float, float]:
        """The colour in the channels of a pass."""
        if into.through_colours and self.space.own and not named_inks(self.space):
            return self.rgb.shown(self._as_colour(), into.view, self.intent)
        return self.space.shown(self.components, into.view, self.intent)

    def _as_colour(self) -> tuple[float, float, float]:
        """The screen colour that an ink's colour becomes; a grey is as light as it says (10.4.2.2)."""
        if isinstance(self.space, Grey):
            light = min(max(self.components[0], 0.0), 1.0)
            return light, light, light
        return self.space.screen(self.components, self.intent)

    def numbers(self, into: Pass) -> bytes:
        """The colour as three operands in a pass, with a space in front."""
        numbers = self._numbers.get(into)
        if numbers is None:
            numbers = self._numbers[into] = b" %.4f %.4f %.4f" % self.shown(into)
        return numbers

    def chosen(self, into: Pass, *, stroke: bool) -> bytes:
        """As RGB, which is what the channels of the drawing are."""
        return b"%b %b" % (self.numbers(into), _OPERATORS[stroke])


class ProcessSolid(Solid):
    """A colour of DeviceCMYK or DeviceGray, by far the most frequent ones: its inks need no conversion."""

    __slots__ = ("_cmyk",)

    def __init__(
        self, space: PaintSpace, components: tuple[float, ...], intent: Intent, rgb: PaintSpace
    ) -> None:
        super().__init__(space, components, intent, rgb)
        limited = tuple(min(max(each, 0.0), 1.0) for each in components)
        self._cmyk = (*limited, 0.0) if len(limited) == 4 else (0.0, 0.0, 0.0, 1 - limited[0], 0.0)

    def inks(self) -> Mapping[str, float]:
        """Its numbers."""
        return dict(zip(PROCESS_INKS, self._cmyk, strict=False))

    def numbers(self, into: Pass) -> bytes:
        """The light that its inks leave."""
        if not into.plates or into.through_colours:
            return super().numbers(into)
        red, green, blue = _places(into.view)
        cmyk = self._cmyk
        return b" %.4f %.4f %.4f" % (1 - cmyk[red], 1 - cmyk[green], 1 - cmyk[blue])


@cache
def _places(view: View) -> tuple[int, int, int]:
    """Where in a colour's process inks those of a view's channels stand; after the last where it has none."""
    red, green, blue = (
        PROCESS_INKS.index(ink) if (ink := view.ink_in(channel)) in PROCESS_INKS else len(PROCESS_INKS)
        for channel in range(CHANNELS)
    )
    return red, green, blue


class PatternPaint(RewrittenPaint):
    """A pattern. name: its resource name. space: the resource name of its pattern space.

    colour: that of an uncoloured pattern. spaces, inks, touched: the colour space of a shading pattern, the
    inks that it lays and the plates that it touches. blends: something in a cell blends with what lies
    beneath.
    """

    __slots__ = ("_colour", "_inks", "_name", "_space", "_spaces", "_touched")

    def __init__(  # noqa: PLR0913 - a pattern of three kinds
        self,
        name: bytes,
        space: bytes,
        colour: Solid | None = None,
        *,
        spaces: tuple[PaintSpace, ...] = (),
        inks: Mapping[str, float] | None = None,
        touched: Touched = EVERY_PLATE,
        blends: bool = False,
    ) -> None:
        nothing = any(map(paints_nothing, spaces)) or (colour is not None and colour.nothing)
        super().__init__(nothing=nothing, blends=blends)
        self._name, self._space, self._colour = name, space, colour
        self._spaces, self._inks, self._touched = spaces, inks or {}, touched

    @property
    def spaces(self) -> tuple[PaintSpace, ...]:
        """Those of its colour or shading; cells tell theirs as they are rewritten."""
        return self._colour.spaces if self._colour is not None else self._spaces

    def inks(self) -> Mapping[str, float]:
        """Those of its colour or shading."""
        return self._colour.inks() if self._colour is not None else self._inks

    def touched(self, mode: int) -> Touched:  # noqa: ARG002 - see below
        """Those of its colour's space or its shading; overprint mode 1 is about plain colours (8.6.7).

        A cell that brings colours decides by itself for each object in it.
        """
        return touched_by_space(self._colour.space) if self._colour is not None else self._touched

    def chosen(self, into: Pass, *, stroke: bool) -> bytes:
        """The pattern space, then the pattern, with its colour where it has none of its own."""
        space, colour = (b"CS", b"SCN") if stroke else (b"cs", b"scn")
        numbers = self._colour.numbers(into) if self._colour is not None else b""
        return b" %b %b%b %b %b" % (self._space, space, numbers, self._name, colour)


class Chosen(Varying):
    """The choice of a paint as a part of a script."""

    __slots__ = ("paint", "stroke")

    def __init__(self, paint: RewrittenPaint, *, stroke: bool) -> None:
        self.paint, self.stroke = paint, stroke

    def written(self, into: Pass) -> bytes:
        """Its operators in the pass."""
        return self.paint.chosen(into, stroke=self.stroke)
