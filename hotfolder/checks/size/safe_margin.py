"""Safe margin: text keeps clear of the cut.

Why: no cutter is exact; text at the cut loses a part, and text near it looks crooked as soon as the
    cut shifts.
On paper: letters cut through, or a line of text that runs along the edge at an angle.
Not flagged: text wholly outside the trim (slug lines, printer's marks); display type (14 pt or more) that
    runs on through the full bleed, as it is meant to; invisible text, text on hidden layers and text that
    is wholly covered; text turned into pixels, which is no longer text in the file; dots, bars, hatching,
    borders, crop marks and textures, which are of one shape, have few sides or stand on no line; logos
    whose parts do not stand side by side as letters do; a single letter, and short words in outlines of
    which most letters are alike (WWW); room that a font keeps for letters that are not there: text
    reaches as far as its ink does, where the font in the file tells that; white text on bare paper, which
    nobody sees. Reversed out of a picture or a ground, white text is text like any other.
Source: common practice for the margin, which logos and signs keep as text does, and for 1 mm, the shift of
    a guillotine; type from 14 pt is display type by the trade's custom (from memory). That two to five
    outlines in a row are taken for a short word or a sign is this program's own choice.
"""

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from typing import ClassVar, Final

from hotfolder.checks.shared.marks.ground import Ground
from hotfolder.checks.shared.marks.on_product import overlaps
from hotfolder.checks.shared.marks.outlined_words import type_in_outlines
from hotfolder.checks.shared.marks.text_clips import text_clips
from hotfolder.checks.shared.needed_facts import NeededFacts
from hotfolder.checks.shared.occurrences import Occurrences
from hotfolder.checks.shared.settings import NamedFigures
from hotfolder.model.artwork import Artwork
from hotfolder.model.findings import Finding, Severity, Unjudged
from hotfolder.model.geometry import Box, Edge
from hotfolder.model.marks import Mark, MarkKind
from hotfolder.model.pages import Page
from hotfolder.model.ruleset import LengthSetting, Rule
from hotfolder.units import Length, mm_to_pt
from hotfolder.wording.figures import quantity
from hotfolder.wording.lists import counted
from hotfolder.wording.pages import edges_words
from hotfolder.wording.shown import quoted

ID: Final = "safe-margin"
_DISPLAY_PT: Final = 14.0
_TOLERANCE: Final = mm_to_pt(0.5)  # of a bleed, as in the rule about bleed
_NOISE: Final = 0.01


class SafeMarginSettings(NamedFigures):
    """margin: how far text keeps from the trim. cut_within: nearer than this, text counts as cut.

    bleed: display type that runs this far past the trim is meant to do so.
    """

    needs: ClassVar[tuple[str, ...]] = ("margin",)
    codes: ClassVar[Mapping[str, Severity]] = {
        "cut-by-trim": Severity.MUST_FIX,
        "near-trim": Severity.ADVICE,
    }

    margin: LengthSetting = Length.of_mm(0)
    cut_within: LengthSetting = Length.of_mm(1)
    bleed: LengthSetting = Length.of_mm(3)


@dataclass(frozen=True, slots=True)
class _EdgeRun:
    """A run of text near an edge: where, how far inside the trim it stays there, and what it says."""

    page: Page
    edge: str
    box: Box
    inside: float
    words: str
    looks_like: str


@dataclass(frozen=True, slots=True)
class _Text:
    """Text that shows: how far it reaches, what it says, and how large it is.

    looks_like: what shapes look like that are no text to the file.
    """

    box: Box
    words: str
    size_pt: float
    looks_like: str = ""


def check(artwork: Artwork, settings: SafeMarginSettings) -> Iterator[Finding | Unjudged]:
    """Text that is cut through or stands too near the cut."""
    facts = NeededFacts(ID, settings)
    near: list[_EdgeRun] = []
    for page in facts.pages(artwork):
        if page.raster is not None:
            yield Unjudged(
                ID,
                Severity.ADVICE,
                "text inside a picture cannot be told from the picture; check by eye that it stays"
                f" {settings.margin} away from the cut",
                page.number,
            )
            continue
        trim, marks = facts.trim(page), facts.marks(page)
        if trim is None or marks is None:
            continue
        texts = [*_texts(marks, trim.box), *_outlined(marks, trim.box, settings)]
        for edge in Edge:
            near.extend(_near(page, trim.box, edge, texts, settings))
    yield from _findings(near, settings)
    yield from facts.unjudged()


def _texts(marks: Sequence[Mark], trim: Box) -> Iterator[_Text]:
    """The text that shows on the product, with how far it reaches."""
    ground: Ground | None = None
    clips = text_clips(marks).texts
    for order, mark in enumerate(marks):
        if mark.kind is not MarkKind.TEXT or not (mark.shows or order in clips):
            continue
        box = _reach(mark)
        if box is None or not overlaps(box, trim):
            continue
        if mark.white and order not in clips:
            ground = ground or Ground(marks)
            if all(area.white for area in ground.beneath(order, box)):
                continue
        text = mark.text
        yield _Text(box, text.words if text is not None else "", text.size_pt if text is not None else 0.0)


def _outlined(marks: Sequence[Mark], trim: Box, settings: SafeMarginSettings) -> Iterator[_Text]:
    """Type turned into outlines that shows on the product, near its edges."""
    clear = trim.grown(-max(settings.margin.points, settings.cut_within.points))
    ground: Ground | None = None
    for line, looks_like in type_in_outlines(marks, clear):
        order = min(line.marks)
        if not overlaps(line.box, trim):
            continue
        if marks[order].white:
            ground = ground or Ground(marks)
            if all(area.white for area in ground.beneath(order, line.box)):
                continue
        yield _Text(line.box, "", line.size_pt, looks_like)


def _near(
    page: Page, trim: Box, edge: Edge, texts: list[_Text], settings: SafeMarginSettings
) -> Iterator[_EdgeRun]:
    """Text that stands nearer to one edge than it should."""
    edge_name = edges_words([edge], page.rotate)
    for text in texts:
        run = _EdgeRun(page, edge_name, text.box, -text.box.beyond(edge, trim), text.words, text.looks_like)
        too_near = run.inside < max(settings.margin.points, settings.cut_within.points) - _NOISE
        if too_near and not _meant_so(text, run, settings):
            yield run


def _findings(near: list[_EdgeRun], settings: SafeMarginSettings) -> Iterator[Finding]:
    margin = settings.margin
    move = f"Move it at least {margin} inside the page edge"
    cut = [run for run in near if run.inside < settings.cut_within.points + _NOISE]
    clear = [run for run in near if run.inside >= settings.cut_within.points + _NOISE]
    if cut:
        worst = min(cut, key=lambda run: run.inside)
        finding = Finding(
            rule=ID,
            code="cut-by-trim",
            severity=settings.severity_of("cut-by-trim"),
            message=f"{_named(worst)} {_crossing(worst.inside, margin)}{_and_others(cut)}. It should"
            f" stay {margin} inside. Cutting is never exact, so letters may be cut through.",
            remedy=f"{move}. Type that is meant to run off the page must run {settings.bleed} past its edge.",
            measured=quantity(margin, worst.inside),
            required=quantity(margin, max(margin.points, settings.cut_within.points)),
        )
        yield _placed(finding, cut, worst)
    if clear:
        worst = min(clear, key=lambda run: run.inside)
        finding = Finding(
            rule=ID,
            code="near-trim",
            severity=settings.severity_of("near-trim"),
            message=f"{_named(worst)} stands {margin.like(worst.inside)} from the cut line"
            f"{_and_others(clear)}. {margin} is wanted (safe margin). If the cut"
            " shifts a little, it looks crooked.",
            remedy=f"{move}.",
            measured=quantity(margin, worst.inside),
            required=quantity(margin, margin.points),
        )
        yield _placed(finding, clear, worst)


def _placed(finding: Finding, runs: list[_EdgeRun], worst: _EdgeRun) -> Finding:
    """`finding` with all its places; its words tell the edge of the worst one."""
    places = Occurrences()
    for run in runs:
        places.add(run.page, run.box)
    page = f"page {worst.page.number}, " if len(places.pages) > 1 else ""
    placed = replace(finding, message=f"at the {page}{worst.edge} {finding.message}")
    return places.located(placed, words_for_place=False)


def _reach(mark: Mark) -> Box | None:
    """How far text reaches: its ink, where that is known, or else the room that its font declares for it."""
    text = mark.text
    return mark.visible if text is None or text.ink is None else text.visible_ink


def _named(run: _EdgeRun) -> str:
    if run.looks_like:
        return f"what looks like {run.looks_like} in outlines"
    words = quoted(run.words)
    return f"the text {words}" if words else "text"


def _and_others(runs: list[_EdgeRun]) -> str:
    pieces = len({(run.page.number, run.box) for run in runs})  # one in a corner is near two edges
    return f" ({counted(pieces, 'piece')} of text in all)" if pieces > 1 else ""


def _meant_so(text: _Text, run: _EdgeRun, settings: SafeMarginSettings) -> bool:
    """Whether it is display type that runs on through the full bleed."""
    return text.size_pt >= _DISPLAY_PT and -run.inside >= settings.bleed.points - _TOLERANCE > 0


def _crossing(inside: float, margin: Length) -> str:
    if str(margin.like(abs(inside))) == str(margin.like(0)):
        return "reaches the cut line"
    if inside < 0:
        return f"runs {margin.like(-inside)} past the cut line"
    return f"stands only {margin.like(inside)} from the cut line"


RULE = Rule(
    id=ID,
    title="Safe margin",
    settings=SafeMarginSettings,
    check=check,
    question="How far must text stay inside the cut line?",
    since="0.1",
)
