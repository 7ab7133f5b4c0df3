"""Safe margin: text keeps clear of the cut.

Why: no cutter is exact; text at the cut loses a part, and text near it looks crooked as soon as the
    cut shifts.
On paper: letters cut through, or a line of text that runs along the edge at an angle.
Not flagged: text wholly outside the trim (slug lines, printer's marks); display type (14 pt or
    more) that runs on through the full bleed and is meant so; invisible text and text on hidden
    layers; text turned into outlines or pixels, which is no text to a file any more. White text
    counts: reversed out of a picture it is text like any other.
Source: common practice for the margin and for 1 mm, the shift of a guillotine; type from 14 pt is
    display type by the trade's custom (from memory).
"""

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from typing import ClassVar, Final

from hotfolder.artwork import Artwork, Box, Edge, Mark, MarkKind, Page
from hotfolder.checks.paint import gathered, overlaps
from hotfolder.checks.settings import NamedFigures
from hotfolder.checks.telling import counted, edges_told, quantity
from hotfolder.checks.unknown import Unknowns
from hotfolder.findings import Finding, Severity, Unjudged
from hotfolder.ruleset import LengthSetting, Rule
from hotfolder.units import Length, mm_to_pt

ID: Final = "safe-margin"
_DISPLAY_PT: Final = 14.0
_TOLERANCE: Final = mm_to_pt(0.5)  # of a bleed, as in the rule about bleed
_NOISE: Final = 0.01


class SafeMarginSettings(NamedFigures):
    """margin: how far text keeps from the trim. cut_within: nearer than this, text counts as cut.

    bleed: display type that runs on this far beyond the trim is meant so.
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
class _Run:
    """A run of text near an edge: its box, and how far inside the trim it stays there."""

    box: Box
    inside: float


def check(artwork: Artwork, settings: SafeMarginSettings) -> Iterator[Finding | Unjudged]:
    """Text that is cut through or stands too near the cut, by page and edge."""
    unknowns = Unknowns(ID, settings)
    for page in unknowns.pages(artwork):
        if page.raster is not None:
            yield Unjudged(
                ID,
                Severity.ADVICE,
                "text that is part of a picture cannot be told from the picture; look yourself whether it"
                f" keeps {settings.margin} from the cut",
                page.number,
            )
            continue
        trim, marks = unknowns.trim(page), unknowns.marks(page)
        if trim is None or marks is None:
            continue
        texts = [
            (mark, mark.visible)
            for mark in marks
            if mark.kind is MarkKind.TEXT
            and mark.printed
            and mark.visible is not None
            and overlaps(mark.visible, trim.box)
        ]
        for edge in Edge:
            yield from _edge(page, trim.box, edge, texts, settings)
    yield from unknowns.told()


def _edge(
    page: Page, trim: Box, edge: Edge, texts: list[tuple[Mark, Box]], settings: SafeMarginSettings
) -> Iterator[Finding]:
    cut: list[_Run] = []
    near: list[_Run] = []
    for mark, box in texts:
        run = _Run(box, -box.beyond(edge, trim))
        if run.inside >= max(settings.margin.points, settings.cut_within.points) - _NOISE:
            continue
        if _meant_so(mark, run, settings):
            continue
        (cut if run.inside < settings.cut_within.points + _NOISE else near).append(run)
    where = f"Page {page.number}, {edges_told([edge], page.rotate)}"
    margin = settings.margin
    move = f"Move it at least {margin} inside the page edge"
    if cut:
        least = min(run.inside for run in cut)
        yield Finding(
            rule=ID,
            code="cut-by-trim",
            severity=settings.severity_of("cut-by-trim"),
            message=f"{where}: {_crossing(least, margin)} ({counted(len(cut), 'piece')} of text). It should"
            f" keep {margin} inside. Cutting is never exact, so letters may be cut through.",
            remedy=f"{move}; type that is meant to run off the page has to run on {settings.bleed} beyond"
            " it.",
            page=page.number,
            boxes=gathered(run.box for run in cut),
            measured=quantity(margin, least),
            required=quantity(margin, max(margin.points, settings.cut_within.points)),
        )
    if near:
        least = min(run.inside for run in near)
        yield Finding(
            rule=ID,
            code="near-trim",
            severity=settings.severity_of("near-trim"),
            message=f"{where}: text stands {margin.like(least)} from the cut line"
            f" ({counted(len(near), 'piece')} of text). {margin} are wanted (safe margin). A cut that shifts"
            " a little makes it look crooked.",
            remedy=f"{move}.",
            page=page.number,
            boxes=gathered(run.box for run in near),
            measured=quantity(margin, least),
            required=quantity(margin, margin.points),
        )


def _meant_so(mark: Mark, run: _Run, settings: SafeMarginSettings) -> bool:
    """Whether it is display type that runs on through the full bleed."""
    display = mark.text is not None and mark.text.size_pt >= _DISPLAY_PT
    return display and -run.inside >= settings.bleed.points - _TOLERANCE > 0


def _crossing(inside: float, margin: Length) -> str:
    if str(margin.like(abs(inside))) == str(margin.like(0)):
        return "text reaches the cut line"
    if inside < 0:
        return f"text runs {margin.like(-inside)} over the cut line"
    return f"text stands only {margin.like(inside)} from the cut line"


RULE = Rule(
    id=ID,
    title="Safe margin",
    settings=SafeMarginSettings,
    check=check,
    question="How far must text stay inside the cut line?",
    since="0.1",
)
