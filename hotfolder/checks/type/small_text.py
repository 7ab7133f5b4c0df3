"""Small text: type is large enough for the way in which it is printed.

Why: the fine strokes of small letters are as thin as hairlines; in several inks they need plates that meet
    exactly, and left blank in a colour the ink closes over them.
On paper: letters that break up, show coloured rims, or fill up with ink until they cannot be read.
    Overprint and transparency decide as well: black at half its strength lightens the inks beneath it,
    and has its shape on all of their plates. Text filled with a gradient or a pattern has all of its inks;
    where the plates do not tell them, it is left open: transparent, overprinting, or on uneven ground.
Not flagged: text outside trim and bleed, on hidden layers, invisible behind a scan or wholly covered; white
    text on bare paper, and white that leaves no trace because it multiplies or overprints; black with other
    inks beneath it, which the rule about black text judges; one grey, or black, of screen colours, which
    counts as one ink (gradients of them count as the plates have them: in four); inks that lie evenly beneath
    what is printed on top of them; a twentieth of a point less; text turned into outlines or pixels, which is
    no longer text in the file. Type 3 letters count with their drawn height. On a photo or a gradient, and
    where the plates are not drawn, text in one colour that mixes with what lies beneath counts by its colour
    alone.
Source: common practice, and house rules that differ: 5 pt (a record printer) or 6 pt (a newspaper group)
    in one ink, 7 to 8 pt reversed, 8 to 9 pt in several inks (an advertisement specification).
"""

from collections.abc import Iterator, Mapping
from typing import ClassVar, Final

from hotfolder.checks.shared.least_by_inks import LeastByInks
from hotfolder.checks.shared.marks.ground import Ground
from hotfolder.checks.shared.marks.ink_count import (
    in_several_inks,
    inks_are_unknown,
    leaves_no_trace,
    mixed_of_several,
    mixing_words,
)
from hotfolder.checks.shared.marks.on_product import in_painting_order
from hotfolder.checks.shared.marks.tints import is_black, is_paper, several_inks
from hotfolder.checks.shared.needed_facts import NeededFacts
from hotfolder.checks.shared.occurrences import Occurrences
from hotfolder.checks.shared.plates.doubtful import doubted_inks, note_doubt
from hotfolder.model.artwork import Artwork
from hotfolder.model.colour import Colour
from hotfolder.model.facts import Unmeasured
from hotfolder.model.findings import Finding, Severity, Unjudged
from hotfolder.model.geometry import Box
from hotfolder.model.marks import Mark, MarkKind
from hotfolder.model.pages import Page
from hotfolder.model.ruleset import Rule
from hotfolder.wording.figures import quantity
from hotfolder.wording.lists import counted
from hotfolder.wording.shown import quoted

ID: Final = "small-text"

# 5 pt set in the points of some programs (72.27 an inch) are 4.98 of ours.
_TOLERANCE_PT: Final = 0.05
# What sizes and heights have to do with each other where a font's own unit says nothing: ascenders to
# descenders are about one em and a fifth.
_EM_OF_HEIGHT: Final = 1 / 1.2

_OPEN: Final = "in how many inks small text in a gradient or pattern is printed is not known"


class SmallTextSettings(LeastByInks):
    """one_ink: the least size of text in one ink.

    several_inks, reversed: of text in several inks, and of text left blank in a coloured ground; where
    none is named, one_ink counts.
    """

    codes: ClassVar[Mapping[str, Severity]] = {
        "small": Severity.ADVICE,
        "small-in-inks": Severity.ADVICE,
        "small-reversed": Severity.ADVICE,
    }


class _Small:
    """Runs of one kind that are too small."""

    def __init__(self) -> None:
        self.places = Occurrences()
        self.smallest = float("inf")
        self.words = ""
        self.mixed = 0  # of which overprint or transparency makes several inks

    def add(self, page: Page, mark: Mark, box: Box, size: float) -> None:
        self.places.add(page, (mark.text.visible_ink if mark.text is not None else None) or box)
        colour = mark.fill or mark.stroke
        self.mixed += colour is not None and mixed_of_several(mark, colour)
        if size < self.smallest:
            self.smallest = size
            self.words = mark.text.words if mark.text is not None else ""


def check(artwork: Artwork, settings: SmallTextSettings) -> Iterator[Finding | Unjudged]:
    """Text that is too small, by what makes it so."""
    facts = NeededFacts(ID, settings)
    by_code = {code: _Small() for code in settings.codes}
    drawn = {font.name for font in artwork.fonts if font.type3}
    for page, marks in facts.drawn(artwork):
        for code, mark, box, size in _small(page, marks, settings, drawn):
            doubt = doubted_inks(page, mark, box) if _depends_on_inks(size, settings) else None
            if code is None:
                facts.note(_OPEN, _why_open(page), page)
            elif doubt is not None:
                note_doubt(facts, page, doubt)
            else:
                by_code[code].add(page, mark, box, size)
    for code, small in by_code.items():
        if small.places:
            yield small.places.located(_finding(code, small, settings))
    yield from facts.unjudged()


def _depends_on_inks(size: float, settings: SmallTextSettings) -> bool:
    """Whether text of this size is too small in some inks only."""
    return size >= settings.one_ink.points - _TOLERANCE_PT


def _why_open(page: Page) -> str:
    if isinstance(page.ink, Unmeasured):
        return page.ink.reason
    return "the plates show it only for opaque text on even ground"


def _small(
    page: Page, marks: tuple[Mark, ...], settings: SmallTextSettings, drawn: set[str]
) -> Iterator[tuple[str | None, Mark, Box, float]]:
    """Runs of text that are too small, each with the code of what makes it so, its place and its size.

    The code is None where it is too small only if it is in several inks, and nobody knows whether it is.
    """
    largest = max(settings.least(code).points for code in settings.codes) - _TOLERANCE_PT
    ground: Ground | None = None
    for order, mark, box in in_painting_order(page, marks):
        size = _size(mark, drawn)
        if size is None or size >= largest or leaves_no_trace(mark):
            continue
        colour = mark.fill or mark.stroke
        if colour is None:
            code = "small"
        elif inks_are_unknown(mark, colour) and _depends_on_inks(size, settings):
            if size < settings.least("small-in-inks").points - _TOLERANCE_PT:
                yield None, mark, box, size
            continue
        elif is_paper(colour):
            ground = ground or Ground(marks)
            if mark.inks is None and not ground.inks(order, box):
                continue
            code = settings.code_of_white(mark, colour, "small")
        else:
            code = "small-in-inks" if _in_inks(mark, colour) else "small"
        if size < settings.least(code).points - _TOLERANCE_PT:
            yield code, mark, box, size


def _size(mark: Mark, drawn: set[str]) -> float | None:
    """The size of a run of text; None for what is none, and for text of no extent."""
    if mark.kind is not MarkKind.TEXT or mark.text is None or mark.text.size_pt <= 0:
        return None
    if mark.text.font in drawn:
        return max(mark.text.size_pt, mark.box.height * _EM_OF_HEIGHT)
    return mark.text.size_pt


def _in_inks(mark: Mark, colour: Colour) -> bool:
    rich_black = is_black(colour) and several_inks(colour)
    return in_several_inks(mark, colour) and not rich_black


_WHAT: Final = {
    "small": "too small to print reliably",
    "small-in-inks": "too small for several inks, which never line up exactly",
    "small-reversed": "too small to be left white in a coloured area (reversed out)",
}
_ON_PAPER: Final = {
    "small": "Its finest strokes may break up.",
    "small-in-inks": "It may show coloured edges or look blurred.",
    "small-reversed": "It may fill up with ink and be hard to read.",
}
_REMEDY: Final = {
    "small": "Set it in {least} or larger.",
    "small-in-inks": "Set it in {least} or larger, or in one ink alone, such as black{how}.",
    "small-reversed": "Set it in {least} or larger and in a bolder face without fine strokes, or print it in"
    " black on a light ground.",
}


def _finding(code: str, small: _Small, settings: SmallTextSettings) -> Finding:
    least = settings.least(code)
    which = "its size is" if small.places.count == 1 else "the smallest is"
    figures = f"{which} {least.like(small.smallest).finely()}, at least {least} is wanted"
    says = quoted(small.words)
    such = f" ({says})" if small.places.count == 1 else f", such as {says},"
    mixed = small.mixed if code == "small-in-inks" else 0
    return Finding(
        rule=ID,
        code=code,
        severity=settings.severity_of(code),
        message=f"{counted(small.places.count, 'piece')} of text{such if says else ''}"
        f" {_WHAT[code]}; {figures}.{mixing_words(mixed, small.places.count)} {_ON_PAPER[code]}",
        remedy=_REMEDY[code].format(least=least, how=", opaque or overprinting" if mixed else ""),
        measured=quantity(least, small.smallest),
        required=quantity(least, least.points),
    )


RULE = Rule(
    id=ID,
    title="Small text",
    settings=SmallTextSettings,
    check=check,
    question="How small may text be: in one ink, in several, and reversed out of a colour?",
    since="0.1",
)
