"""Line width: lines are wide enough to be printed and seen.

Why: a plate holds no line that is thinner than its finest dot, and a line in several inks, or one left
    blank in them, loses more wherever the plates do not meet exactly.
On paper: lines that break up or vanish, and thin lines with coloured rims; a line of width 0 is as thin as
    the device can make it, easy to see from an office printer and gone on a plate. Overprint and transparency
    decide in how many inks a line is: at half its strength it lightens the inks beneath it, and has its
    shape on all of their plates.
    Letters that are drawn by their outline alone are lines; so are filled shapes with three or four straight
    sides that are too narrow, upright or slanting, and those that are evenly thin all along, as strokes are
    that were turned into areas: ribbons along a curve, frames filled as rings, or a frame that white laid on
    a rectangle leaves of it.
Not flagged: thin outlines of shapes and of text that are filled with a colour; paper-white lines on bare
    paper; thin strips laid side by side and frames laid within one another, of which gradients are made;
    dots, which are as wide as they are long; swashes that run out to a point; letters and small
    signs in outlines, unless they are thinner than a line in one ink; bent areas and rings of more than
    1.5 pt; lines outside trim and bleed, on hidden layers, clipped away or wholly covered; greys of screen
    colours, which count as one ink; inks that lie evenly beneath a line that is printed on top of them;
    lines in the pixels of pictures. On a photo or a gradient, and where the plates are not drawn, a line
    that mixes with what lies beneath counts by its colour alone.
Source: ISO 32000-2, 8.4.3.2 for the line of width 0; common practice for the widths: 0.25 pt for one ink
    (an advertisement specification), 0.25 mm for lines left blank (a book printer and a record printer).
"""

import math
from collections.abc import Iterator, Mapping
from typing import ClassVar, Final

from hotfolder.checks.shared.least_by_inks import LeastByInks
from hotfolder.checks.shared.marks.ground import Ground
from hotfolder.checks.shared.marks.ink_count import in_several_inks, mixed_of_several, mixing_words
from hotfolder.checks.shared.marks.lone_lines import lone_lines, lone_slivers
from hotfolder.checks.shared.marks.on_product import in_painting_order
from hotfolder.checks.shared.marks.outlined_type import type_lines
from hotfolder.checks.shared.marks.tints import is_paper
from hotfolder.checks.shared.needed_facts import NeededFacts
from hotfolder.checks.shared.occurrences import Occurrences
from hotfolder.checks.shared.plates.doubtful import doubted_inks, note_doubt
from hotfolder.model.artwork import Artwork
from hotfolder.model.colour import Colour
from hotfolder.model.findings import Finding, Severity, Unjudged
from hotfolder.model.geometry import Box
from hotfolder.model.marks import Mark, MarkKind
from hotfolder.model.pages import Page
from hotfolder.model.ruleset import Rule
from hotfolder.wording.figures import quantity
from hotfolder.wording.lists import counted

ID: Final = "line-width"

# 0.2499 is 0.25; far above what floating point does.
_NOISE: Final = 0.005

# Letters in outlines are some ten strokes high, in light type; a line is longer (own choice).
_SIGN: Final = 12.0
_STRAIGHT_SIDES: Final = 4


class LineWidthSettings(LeastByInks):
    """one_ink: the least width of a line in one ink.

    several_inks, reversed: of one in several inks, and of one left blank in coloured ground; where none
    is named, one_ink counts.
    """

    codes: ClassVar[Mapping[str, Severity]] = {
        "hairline": Severity.MUST_FIX,
        "thin": Severity.ADVICE,
        "thin-in-inks": Severity.ADVICE,
        "thin-reversed": Severity.ADVICE,
    }


class _Thin:
    """Lines of one kind that are too thin."""

    def __init__(self) -> None:
        self.places = Occurrences()
        self.thinnest = float("inf")
        self.mixed = 0  # of which overprint or transparency makes several inks

    def add(self, page: Page, mark: Mark, box: Box, width: float) -> None:
        self.places.add(page, box)
        colour = _colour(mark)
        self.mixed += colour is not None and mixed_of_several(mark, colour)
        self.thinnest = min(self.thinnest, width)


def check(artwork: Artwork, settings: LineWidthSettings) -> Iterator[Finding | Unjudged]:
    """Lines that are too thin, by what makes them so."""
    facts = NeededFacts(ID, settings)
    by_code = {code: _Thin() for code in settings.codes}
    for page, marks in facts.drawn(artwork):
        for code, mark, box, width in _thin(page, marks, settings):
            depends_on_inks = width >= settings.least("thin").points - _NOISE
            doubt = doubted_inks(page, mark, box) if depends_on_inks else None
            if doubt is not None:
                note_doubt(facts, page, doubt)
            else:
                by_code[code].add(page, mark, box, width)
    for code, thin in by_code.items():
        if thin.places:
            yield thin.places.located(_finding(code, thin, settings))
    yield from facts.unjudged()


def _thin(
    page: Page, marks: tuple[Mark, ...], settings: LineWidthSettings
) -> Iterator[tuple[str, Mark, Box, float]]:
    """Lines that are too thin, each with the code of what makes it so, its place and its width."""
    widest = max(settings.least(code).points for code in settings.codes)
    ground: Ground | None = None
    for order, mark, box, width in _lines(page, marks, widest, settings.one_ink.points - _NOISE):
        colour = _colour(mark)
        if colour is None:
            continue
        if is_paper(colour):
            ground = ground or Ground(marks)
            if mark.inks is None and not ground.inks(order, box):
                continue
            code = settings.code_of_white(mark, colour, "thin")
        else:
            code = "thin-in-inks" if in_several_inks(mark, colour) else "thin"
        code = "hairline" if width <= 0 else code
        if width < settings.least(code).points - _NOISE:
            yield code, mark, box, width


def _colour(mark: Mark) -> Colour | None:
    return mark.stroke if mark.fill is None else mark.fill


def _lines(
    page: Page, marks: tuple[Mark, ...], widest: float, least: float
) -> Iterator[tuple[int, Mark, Box, float]]:
    """Strokes and filled strips under `widest` points, each with its number, its place and its width.

    Letters in outlines are lines only under `least` points.
    """
    strips: list[tuple[int, Mark, Box, float]] = []
    slivers: list[tuple[int, Mark, Box, float]] = []
    for order, mark, box in in_painting_order(page, marks):
        if mark.fill is None and mark.kind in {MarkKind.PATH, MarkKind.TEXT}:
            width = mark.line_width_pt
            if width is not None and width < widest and mark.state.stroke_opacity > 0:
                yield order, mark, _seen(mark, box), width
            continue
        if mark.fill is None or mark.kind not in {MarkKind.PATH, MarkKind.TEXT}:
            continue
        if is_paper(mark.fill) and mark.stroke is not None and (mark.line_width_pt or 0) < widest:
            # A frame around bare paper: the outline is all that is seen.
            yield order, _outline(mark), _seen(mark, box), mark.line_width_pt or 0.0
        elif mark.kind is MarkKind.TEXT:
            continue
        elif min(mark.box.width, mark.box.height) < widest and mark.state.fill_opacity > 0:
            strips.append((order, mark, box, min(mark.box.width, mark.box.height)))
        elif mark.sliver_pt is not None and mark.sliver_pt < widest:
            slivers.append((order, mark, box, mark.sliver_pt))
    alone = lone_lines([mark.box for _, mark, _, _ in strips])
    yield from (strip for strip, is_line in zip(strips, alone, strict=True) if is_line)
    if any(width >= least for _, _, _, width in slivers):
        letters = {order for line in type_lines(marks, Box(0, 0, 0, 0)) for order in line.marks}
        slivers = [each for each in slivers if each[3] < least or not (each[0] in letters or _is_sign(*each))]
    alone = lone_slivers([(mark.box, width) for _, mark, _, width in slivers])
    yield from (sliver for sliver, is_line in zip(slivers, alone, strict=True) if is_line)


def _is_sign(_order: int, mark: Mark, _box: Box, width: float) -> bool:
    """Whether a bent shape is no larger than a letter or a tick with strokes of this width."""
    return mark.sides > _STRAIGHT_SIDES and math.hypot(mark.box.width, mark.box.height) < _SIGN * width


def _seen(mark: Mark, box: Box) -> Box:
    """Where a line is seen: the letters themselves, where it is drawn around text."""
    return (mark.text.visible_ink if mark.text is not None else None) or box


def _outline(mark: Mark) -> Mark:
    """The outline alone of a mark that is filled too."""
    return Mark(
        kind=mark.kind,
        box=mark.box,
        visible=mark.visible,
        source=mark.source,
        stroke=mark.stroke,
        state=mark.state,
        line_width_pt=mark.line_width_pt,
    )


_WHAT: Final = {
    "thin": "too thin to print reliably",
    "thin-in-inks": "too thin for several inks, which never line up exactly",
    "thin-reversed": "too thin to be left white in a coloured area (reversed out)",
}
_ON_PAPER: Final = {
    "thin": "may break up or vanish.",
    "thin-in-inks": "may show coloured edges or look blurred.",
    "thin-reversed": "may fill up with ink.",
}


def _finding(code: str, thin: _Thin, settings: LineWidthSettings) -> Finding:
    least = settings.least(code)
    one = thin.places.count == 1
    lines = counted(thin.places.count, "line")
    if code == "hairline":
        message = (
            f"{lines} with a width of 0, which means as thin as the device can draw. An office printer "
            f"shows {'it' if one else 'them'}; on a printing plate next to nothing is left."
        )
        remedy = f"Give the lines a width, {least.finely()} or more."
    else:
        mixed = thin.mixed if code == "thin-in-inks" else 0
        width = f"{'its width is' if one else 'the thinnest is'} {least.like(thin.thinnest).finely()}"
        message = (
            f"{lines} {_WHAT[code]}; {width}, at least {least.finely()} is wanted."
            f"{mixing_words(mixed, thin.places.count)} {'It' if one else 'They'} {_ON_PAPER[code]}"
        )
        remedy = f"Make the lines {least.finely()} or wider at their printed size"
        remedy += ", or draw them in one ink alone" if code == "thin-in-inks" else ""
        remedy += ", opaque or overprinting." if mixed else "."
    return Finding(
        rule=ID,
        code=code,
        severity=settings.severity_of(code),
        message=message,
        remedy=remedy,
        measured=quantity(least, max(thin.thinnest, 0.0)),
        required=quantity(least, least.points),
    )


RULE = Rule(
    id=ID,
    title="Line width",
    settings=LineWidthSettings,
    check=check,
    question="How thin may a line be: in one ink, in several, and reversed out of a colour?",
    since="0.1",
)
