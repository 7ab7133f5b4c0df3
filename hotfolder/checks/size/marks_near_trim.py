"""Marks near the trim: nothing stands so near the cut that it shows how far the cut is off.

Why: no cutter is exact; a logo close to the edge, or a frame along it, makes a shift of half a millimetre
    plain to see, where a picture that runs off the page hides it.
On paper: a logo nearer to the edge than on the other copies, or a frame that is wider on one side.
    A frame may be a line, or an area with most of it left out or covered with white.
Not flagged: text, lines and short words of it in outlines and what is seen through letters, which the
    rule about the safe margin judges; whatever runs on beyond the trim, and what overlaps such a thing as
    parts of one picture do; areas over a third of the page's width or height; edges with so many marks
    near them that they are an illustration; lines across the page; lines on the trim in an ink of their
    own, which say where to cut; frames that others lie close around, as steps of one gradient; paper
    white; the white or clear rim of a picture, gradient or mask on bare paper; what is on hidden layers,
    clipped away or wholly covered; picture files.
Source: common practice for the margin; a third and the number of marks are this program's own choices.
"""

from collections.abc import Iterable, Iterator, Mapping
from typing import ClassVar, Final

from hotfolder.checks.shared.marks.edges import LINE
from hotfolder.checks.shared.marks.on_product import in_painting_order, overlaps
from hotfolder.checks.shared.marks.outlined_words import type_in_outlines
from hotfolder.checks.shared.marks.text_clips import text_clips
from hotfolder.checks.shared.needed_facts import NeededFacts
from hotfolder.checks.shared.occurrences import Occurrences
from hotfolder.checks.shared.plates.inked_places import inked_part
from hotfolder.checks.shared.settings import NamedFigures
from hotfolder.model.artwork import Artwork
from hotfolder.model.colour import ColourKind
from hotfolder.model.facts import Unmeasured
from hotfolder.model.findings import Finding, Severity, Unjudged
from hotfolder.model.geometry import Box, Edge
from hotfolder.model.marks import Mark, MarkKind
from hotfolder.model.pages import Page
from hotfolder.model.ruleset import LengthSetting, Rule
from hotfolder.units import Length, mm_to_pt
from hotfolder.wording.figures import quantity
from hotfolder.wording.lists import counted

ID: Final = "marks-near-trim"

_SMALL_SHARE: Final = 1 / 3
_FRAME_SHARE: Final = 0.8
_STEP_PT: Final = 0.1  # frames that lie no further apart touch: steps of a gradient that runs on outwards
# More marks than this near one edge are an illustration, a map or a pattern, no logo.
_MOST_MARKS: Final = 60
_DOT_PT: Final = 1.0  # what is smaller is no mark that an eye would measure the margin by
_OVER_PT: Final = mm_to_pt(0.2)  # within this of the trim a mark ends there on purpose
_NOISE: Final = 0.01


class MarksNearTrimSettings(NamedFigures):
    """margin: how far isolated marks and frames keep inside the trim."""

    needs: ClassVar[tuple[str, ...]] = ("margin",)
    codes: ClassVar[Mapping[str, Severity]] = {"isolated": Severity.ADVICE, "frame": Severity.ADVICE}

    margin: LengthSetting = Length.of_mm(0)


class _Near:
    """Marks of one kind that stand too near the cut."""

    def __init__(self) -> None:
        self.places = Occurrences()
        self.nearest = float("inf")

    def add(self, page: Page, box: Box, inside: float) -> None:
        self.places.add(page, box)
        self.nearest = min(self.nearest, inside)


def check(artwork: Artwork, settings: MarksNearTrimSettings) -> Iterator[Finding | Unjudged]:
    """Isolated marks and frames that stand within the margin, in one finding each."""
    facts = NeededFacts(ID, settings)
    isolated, frames = _Near(), _Near()
    for page, marks in facts.drawn(artwork):
        trim = facts.trim(page)
        if trim is None:
            continue
        margin = settings.margin.points
        # What stays clear of the margin on every side cannot be near, and most marks do.
        clear = trim.box.grown(_NOISE - margin)
        letters = {order for line, _ in type_in_outlines(marks, clear) for order in line.marks}
        letters |= text_clips(marks).painted
        shown = [
            (mark, box)
            for order, mark, box in _with_ink(page, in_painting_order(page, marks), clear)
            if not clear.holds(box) and order not in letters and _counts(mark)
        ]
        for mark, box in shown:
            inside = min(_insides(box, trim.box))
            on_trim = -LINE < inside <= _OVER_PT and _may_be_printed(mark)
            if (
                (on_trim or inside > _OVER_PT)
                and _is_frame(mark, box, trim.box)
                and not _is_step(mark, shown)
            ):
                frames.add(page, box, max(0.0, inside))
        for box, inside in _sides(shown, trim.box, margin):
            frames.add(page, box, inside)
        for box, inside in _alone([box for _, box in shown], trim.box, margin):
            isolated.add(page, box, inside)
    if isolated.places:
        yield isolated.places.located(_isolated(isolated, settings))
    if frames.places:
        yield frames.places.located(_frame(frames, settings))
    yield from facts.unjudged()


def _with_ink(
    page: Page, marks: Iterable[tuple[int, Mark, Box]], clear: Box
) -> Iterator[tuple[int, Mark, Box]]:
    """The marks, those that may be white or clear at their rim with the part that has ink in it.

    clear: what lies in it stays clear of the margin in any case.
    """
    for order, mark, box in marks:
        soft = mark.kind in {MarkKind.IMAGE, MarkKind.SHADING} or mark.state.soft_mask
        if not soft or clear.holds(box) or isinstance(page.ink, Unmeasured):
            yield order, mark, box
        elif (inked := inked_part(page.ink, box)) is not None:
            yield order, mark, inked


def _counts(mark: Mark) -> bool:
    if mark.white or mark.kind is MarkKind.TEXT:
        return False
    return (mark.state.fill_opacity if mark.fill is not None else mark.state.stroke_opacity) > 0


def _insides(box: Box, trim: Box) -> tuple[float, float, float, float]:
    """How far inside each edge of the trim a box stays; negative where it runs over."""
    return box.x0 - trim.x0, box.y0 - trim.y0, trim.x1 - box.x1, trim.y1 - box.y1


def _is_frame(mark: Mark, box: Box, trim: Box) -> bool:
    """Whether a mark is an outline around most of the page, or an area with most of it left out."""
    hole = mark.hollow
    wide = hole is not None and min(hole.width / box.width, hole.height / box.height) >= _FRAME_SHARE
    around = mark.kind is MarkKind.PATH and (mark.fill is None or wide)
    return around and min(box.width / trim.width, box.height / trim.height) >= _FRAME_SHARE


def _is_step(mark: Mark, shown: Iterable[tuple[Mark, Box]]) -> bool:
    """Whether another frame, or an area, lies around a frame without a gap, as a step of one gradient."""
    if mark.hollow is None:
        return False
    for other, box in shown:
        if other is not mark and other.fill is not None and box.holds(mark.box) and box != mark.box:
            if other.hollow is None:
                if other.kind is MarkKind.PATH and other.fill == mark.fill:
                    return True
                continue  # a ground of another colour, on which the steps may lie
            # What has its hole within the frame's own is a ground that the frame lies on.
            if mark.box.grown(_STEP_PT).holds(other.hollow) and other.hollow.grown(_STEP_PT).holds(
                mark.hollow
            ):
                return True
    return False


def _may_be_printed(mark: Mark) -> bool:
    """Whether an outline on the trim is no line for cutting: a fine one, in inks that are printed."""
    special = {ColourKind.SPOT, ColourKind.REGISTRATION, ColourKind.NONE}
    fine = (mark.line_width_pt or mark.frame_pt or 0.0) < LINE
    return fine and not any(colour.space.kind in special for colour in mark.colours())


def _sides(shown: Iterable[tuple[Mark, Box]], trim: Box, margin: float) -> Iterator[tuple[Box, float]]:
    """The lines that make up a frame: one along each edge, for most of its length."""
    line_by_edge: dict[Edge, tuple[Box, float]] = {}
    for mark, box in shown:
        if mark.kind is not MarkKind.PATH or min(box.width, box.height) >= LINE or not _may_be_printed(mark):
            continue
        for edge in Edge:
            flat = edge in {Edge.BOTTOM, Edge.TOP}
            share = box.width / trim.width if flat else box.height / trim.height
            inside = -box.beyond(edge, trim)
            if share >= _FRAME_SHARE and -LINE < inside < margin - _NOISE:
                line_by_edge.setdefault(edge, (box, max(0.0, inside)))
    if len(line_by_edge) == len(Edge):
        yield from line_by_edge.values()


def _alone(boxes: list[Box], trim: Box, margin: float) -> Iterator[tuple[Box, float]]:
    """The places of small marks within the margin that are no part of something that runs over the trim."""
    near: tuple[list[tuple[Box, float]], ...] = ([], [], [], [])  # by edge: all that comes near it
    for box in boxes:
        for edge, inside in enumerate(_insides(box, trim)):
            if inside < margin - _NOISE and len(near[edge]) <= _MOST_MARKS:
                near[edge].append((box, inside))
    sparse = [boxes_near for boxes_near in near if len(boxes_near) <= _MOST_MARKS]
    running = [box for boxes_near in sparse for box, inside in boxes_near if inside <= _OVER_PT]
    for box, inside in (each for boxes_near in sparse for each in boxes_near):
        if not _is_small(box, trim) or min(_insides(box, trim)) <= _OVER_PT:
            continue
        # On a ground that it lies wholly on, a mark is a thing of its own; across its rim, it is not.
        if not any(overlaps(box, other) and not other.holds(box, _NOISE) for other in running):
            yield box, inside


def _is_small(box: Box, trim: Box) -> bool:
    width, height = box.width, box.height
    return max(width / trim.width, height / trim.height) <= _SMALL_SHARE and max(width, height) >= _DOT_PT


def _isolated(near: _Near, settings: MarksNearTrimSettings) -> Finding:
    margin = settings.margin
    return Finding(
        rule=ID,
        code="isolated",
        severity=settings.severity_of("isolated"),
        message=f"{counted(near.places.count, 'small element')} close to the cut line, the nearest"
        f" {margin.like(near.nearest)} from it; {margin} is wanted. If the cut shifts slightly, it shows"
        " there first.",
        remedy=f"Move logos and other small elements at least {margin} inside the page, or let them run off"
        " its edge.",
        measured=quantity(margin, near.nearest),
        required=quantity(margin, margin.points),
    )


def _frame(near: _Near, settings: MarksNearTrimSettings) -> Finding:
    margin = settings.margin
    return Finding(
        rule=ID,
        code="frame",
        severity=settings.severity_of("frame"),
        message=f"a frame runs along the cut line, at its nearest {margin.like(near.nearest)} from it;"
        f" {margin} is wanted. If the cut shifts slightly, it looks wider on one side than on the other.",
        remedy=f"Move the frame at least {margin} inside the page, or leave it out.",
        measured=quantity(margin, near.nearest),
        required=quantity(margin, margin.points),
    )


RULE = Rule(
    id=ID,
    title="Marks near the trim",
    settings=MarksNearTrimSettings,
    check=check,
    question="How far must logos and frames stay inside the cut line?",
    since="0.1",
)
