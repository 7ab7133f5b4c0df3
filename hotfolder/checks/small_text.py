"""Small text: type is large enough for the way in which it is printed.

Why: the fine strokes of small letters are as thin as hairlines; in several inks they need plates that meet
    exactly, and left blank in a colour the ink closes over them.
On paper: letters that break up, show coloured rims, or fill up with ink until they cannot be read.
Not flagged: text outside trim and bleed, on hidden layers, invisible behind a scan or wholly covered;
    white text on bare paper; black with other inks beneath it, which the rule about black text judges;
    greys and black of screen colours, which count as one ink; a twentieth of a point less; text turned
    into outlines or pixels, which is no text to a file any more. Type 3 letters count with their drawn
    height.
Source: common practice, and house rules that differ: 5 pt (a record printer) or 6 pt (a newspaper group)
    in one ink, 7 to 8 pt reversed, 8 to 9 pt in several inks (an advertisement specification).
"""

from collections.abc import Iterator, Mapping
from typing import ClassVar, Final

from hotfolder.artwork import Artwork, Box, Colour, Mark, MarkKind, Page
from hotfolder.checks.ground import Ground
from hotfolder.checks.inks import is_black, is_paper, several_inks
from hotfolder.checks.paint import in_order
from hotfolder.checks.settings import NamedFigures
from hotfolder.checks.sightings import Sightings
from hotfolder.checks.telling import counted, quantity, quoted
from hotfolder.checks.unknown import Unknowns
from hotfolder.findings import Finding, Severity, Unjudged
from hotfolder.ruleset import LengthSetting, Rule
from hotfolder.units import Length

ID: Final = "small-text"

# 5 pt set in the points of some programs (72.27 an inch) are 4.98 of ours.
_TOLERANCE_PT: Final = 0.05
# What sizes and heights have to do with each other where a font's own unit says nothing: ascenders to
# descenders are about one em and a fifth.
_EM_OF_HEIGHT: Final = 1 / 1.2


class SmallTextSettings(NamedFigures):
    """one_ink: the least size of text in one ink.

    several_inks, reversed: of text in several inks, and of text left blank in a coloured ground; where
    none is named, one_ink counts.
    """

    needs: ClassVar[tuple[str, ...]] = ("one_ink",)
    codes: ClassVar[Mapping[str, Severity]] = {
        "small": Severity.ADVICE,
        "small-in-inks": Severity.ADVICE,
        "small-reversed": Severity.ADVICE,
    }

    one_ink: LengthSetting = Length.of_mm(0)
    several_inks: LengthSetting | None = None
    reversed: LengthSetting | None = None

    def least(self, code: str) -> Length:
        """The least size for what `code` tells of."""
        larger = {"small-in-inks": self.several_inks, "small-reversed": self.reversed}.get(code)
        return larger or self.one_ink


class _Small:
    """Runs of one kind that are too small."""

    def __init__(self) -> None:
        self.seen = Sightings()
        self.smallest = float("inf")
        self.words = ""

    def add(self, page: Page, mark: Mark, box: Box, size: float) -> None:
        self.seen.add(page, (mark.text.visible_ink if mark.text is not None else None) or box)
        if size < self.smallest:
            self.smallest = size
            self.words = mark.text.words if mark.text is not None else ""


def check(artwork: Artwork, settings: SmallTextSettings) -> Iterator[Finding | Unjudged]:
    """Text that is too small, by what makes it so."""
    unknowns = Unknowns(ID, settings)
    found = {code: _Small() for code in settings.codes}
    largest = max(settings.least(code).points for code in settings.codes) - _TOLERANCE_PT
    drawn = {font.name for font in artwork.fonts if font.type3}
    for page, marks in unknowns.drawn(artwork):
        ground: Ground | None = None
        for order, mark, box in in_order(page, marks):
            size = _size(mark, drawn)
            if size is None or size >= largest:
                continue
            colour = mark.fill or mark.stroke
            if colour is not None and is_paper(colour):
                ground = ground or Ground(marks)
                if not ground.inks(order, box):
                    continue
                code = "small-reversed"
            else:
                code = "small-in-inks" if colour is not None and _in_inks(colour) else "small"
            if size < settings.least(code).points - _TOLERANCE_PT:
                found[code].add(page, mark, box, size)
    for code, small in found.items():
        if small.seen:
            yield small.seen.told(_finding(code, small, settings))
    yield from unknowns.told()


def _size(mark: Mark, drawn: set[str]) -> float | None:
    """The size of a run of text; None for what is none, and for text of no extent."""
    if mark.kind is not MarkKind.TEXT or mark.text is None or mark.text.size_pt <= 0:
        return None
    if mark.text.font in drawn:
        return max(mark.text.size_pt, mark.box.height * _EM_OF_HEIGHT)
    return mark.text.size_pt


def _in_inks(colour: Colour) -> bool:
    return several_inks(colour) and not is_black(colour)


_WHAT: Final = {
    "small": "too small for a press to print with certainty",
    "small-in-inks": "too small for several inks, which never meet exactly",
    "small-reversed": "too small to be left blank in a colour, which closes over fine strokes",
}
_ON_PAPER: Final = {
    "small": "Its finest strokes may break up.",
    "small-in-inks": "It may show coloured rims or look blurred.",
    "small-reversed": "It may fill up with ink and be hard to read.",
}
_REMEDY: Final = {
    "small": "Set it in {least} or larger.",
    "small-in-inks": "Set it in {least} or larger, or in one ink alone, such as black.",
    "small-reversed": "Set it in {least} or larger and in a bolder face without fine strokes, or print it in"
    " black on a light ground.",
}


def _finding(code: str, small: _Small, settings: SmallTextSettings) -> Finding:
    least = settings.least(code)
    which = "" if small.seen.count == 1 else "the smallest has "
    figures = f"{which}{least.like(small.smallest).finely()}; at least {least} are wanted"
    says = quoted(small.words)
    return Finding(
        rule=ID,
        code=code,
        severity=settings.severity_of(code),
        message=f"{counted(small.seen.count, 'piece')} of text{f', such as {says},' if says else ''}"
        f" {_WHAT[code]} ({figures}). {_ON_PAPER[code]}",
        remedy=_REMEDY[code].format(least=least),
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
