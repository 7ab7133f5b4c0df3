"""Rewritten content: made once, then written for each pass by filling in what differs.

A `Script` is a list of parts in painting order. Bytes are the same in every pass; a `Varying` part is asked
what it is in one. That costs a tenth of reading the content anew.
"""

from abc import ABC, abstractmethod
from collections.abc import Callable
from dataclasses import dataclass
from typing import Final

from hotfolder.drawing.rewriting.overprint import EVERY_PLATE, NO_PLATE, Touched
from hotfolder.drawing.rewriting.passes import Pass
from hotfolder.pdf.language.operators import PATH_PAINTING

# How text is shown (9.3.6, table 104), by whether its glyphs are filled and stroked.
_TEXT_MODES: Final = {(True, False): 0, (False, True): 1, (True, True): 2, (False, False): 3}
_CLIPPING: Final = 4
_PATHS: Final = 2


class Varying(ABC):
    """A part of a script that is not the same in all passes."""

    __slots__ = ()

    @abstractmethod
    def written(self, into: Pass) -> bytes:
        """The part as it stands in a pass, with a space in front."""


Part = bytes | Varying


@dataclass(frozen=True, slots=True, eq=False)
class Until(Varying):
    """A place at which a script may end. reached: whether it does, in the drawing that is being made."""

    reached: Callable[[], bool]

    def written(self, into: Pass) -> bytes:  # noqa: ARG002 - the same in all
        """Nothing, where the script goes on."""
        return b""


@dataclass(slots=True, eq=False)
class Script:
    """Rewritten content of one stream."""

    parts: list[Part]
    varying: list[int]

    @classmethod
    def of(cls, parts: list[Part]) -> "Script":
        """The script that consists of `parts`."""
        return cls(parts, [place for place, part in enumerate(parts) if not isinstance(part, bytes)])

    def written(self, into: Pass) -> bytes:
        """The content in a pass."""
        parts = self.parts.copy()
        for place in self.varying:
            part = self.parts[place]
            if isinstance(part, Until) and part.reached():
                del parts[place:]
                break
            parts[place] = part.written(into)  # type: ignore[union-attr] # `varying` lists those
        return b"".join(parts)  # type: ignore[arg-type] # all are bytes by now


@dataclass(frozen=True, slots=True)
class Multiplied:
    """How something that overprints is drawn by multiplying, where leaving it out would be wrong.

    Within an isolated group what is left out would let through what lies beneath the group. There it lays
    white in the plates that it does not touch, and changes nothing where something of the group lies beneath
    it: that is what multiplying with white does (11.4.7, 11.7.4.3), and white it is in such a pass. In screen
    colours, inks on top of others look like multiplied. begin and end: the operators around it.
    """

    begin: bytes
    end: bytes
    isolated: bool

    def drawn(self, what: bytes, into: Pass, touched: Touched) -> bytes:
        """`what` as it is drawn in a pass that shows plates that it touches."""
        return self._of(what) if into.multiplies(touched) else what

    def left_out(self, what: bytes, instead: bytes, touched: Touched) -> bytes:
        """What stands for `what` in a pass that shows no plate that it touches: `instead`, or white."""
        # What a blend mode spares is not white there; and what paints nothing at all lays no white.
        white = not touched.but and touched != NO_PLATE
        return self._of(what) if self.isolated and white else instead

    def _of(self, drawn: bytes) -> bytes:
        return self.begin + drawn + self.end


@dataclass(frozen=True, slots=True, eq=False)
class Drawn(Varying):
    """Something that one operator draws, where it is drawn at all: `Do`, `sh`."""

    what: bytes
    touched: Touched
    multiplied: Multiplied

    def written(self, into: Pass) -> bytes:
        """The operator, or nothing."""
        if into.draws(self.touched):
            return self.multiplied.drawn(self.what, into, self.touched)
        return self.multiplied.left_out(self.what, b"", self.touched)


@dataclass(frozen=True, slots=True, eq=False)
class PaintedPath(Varying):
    """A path being painted. filled, stroked: None where it is not."""

    operator: bytes
    filled: Touched | None
    stroked: Touched | None
    multiplied: Multiplied

    def written(self, into: Pass) -> bytes:
        """The operator that paints as much of it as the pass shows."""
        parts = [each for each in (self.filled, self.stroked) if each is not None]
        fill = self.filled is not None and into.draws(self.filled)
        stroke = self.stroked is not None and into.draws(self.stroked)
        painted = painted_as(self.operator, fill=fill, stroke=stroke)
        if fill or stroke:
            # Fill and stroke that touch different plates are not told apart in screen colours.
            return self.multiplied.drawn(painted, into, parts[0]) if len(set(parts)) == 1 else painted
        return self.multiplied.left_out(b" " + self.operator, painted, parts[0])


def painted_as(operator: bytes, *, fill: bool, stroke: bool) -> bytes:
    """The path-painting operator that does as `operator`, but fills and strokes only as asked (8.5.3)."""
    does = PATH_PAINTING[operator.decode("ascii")]
    even_odd = b"*" if does.even_odd else b""
    if fill and stroke:
        return (b" b" if does.closes else b" B") + even_odd
    if fill:
        return b" f" + even_odd
    if stroke:
        return b" s" if does.closes else b" S"
    return b" n"


@dataclass(frozen=True, slots=True, eq=False)
class AsPaths(Varying):
    """The switch for letters to be drawn as paths on plates: filled, and stroked with nothing.

    As pictures, small letters come out 6 % too heavy, and on whole pixels, a sixth of a millimetre off. gs:
    the graphics state with the opacity for lines that goes with it.
    """

    gs: bytes
    on: bool

    def written(self, into: Pass) -> bytes:
        """The graphics state and the rendering mode."""
        return b" %b gs %d Tr" % (self.gs, _PATHS if self.on else 0) if into.tells_inks else b""


@dataclass(frozen=True, slots=True, eq=False)
class ShownText(Varying):
    """Text being shown, in a rendering mode from 0 to 7. as_paths: the switch for that is on."""

    what: bytes
    mode: int
    filled: Touched
    stroked: Touched
    multiplied: Multiplied
    as_paths: bool

    def written(self, into: Pass) -> bytes:
        """The operator, in the mode that paints as much of it as the pass shows."""
        plain = self.mode % _CLIPPING
        fill = plain in {0, 2} and into.draws(self.filled)
        stroke = plain in {1, 2} and into.draws(self.stroked)
        touched = self.stroked if plain == 1 else self.filled
        mode = _TEXT_MODES[fill, stroke] + self.mode - plain
        held = _PATHS if self.as_paths and into.tells_inks else self.mode
        painted = self.what if mode == self.mode else b" %d Tr%b %d Tr" % (mode, self.what, held)
        if fill or stroke:
            return self.multiplied.drawn(painted, into, touched)
        return self.multiplied.left_out(self.what, painted, touched)


def drawn(what: bytes, touched: Touched, multiplied: Multiplied) -> Part:
    """The part for something that one operator draws."""
    if touched == EVERY_PLATE:
        return what
    return b"" if touched == NO_PLATE else Drawn(what, touched, multiplied)
