"""What the report shows of one page's inks: coverage, plates, edges and colours that change."""

from collections.abc import Sequence
from dataclasses import dataclass, replace
from typing import Final

from hotfolder.colour.cielab import srgb
from hotfolder.model.facts import Unmeasured
from hotfolder.model.inks import ColourShift, MovedColour, PageInk, Plate
from hotfolder.model.pages import Page
from hotfolder.model.pictures import EncodedPicture, PagePicture, PageProof, PlatePicture, ScaleStep
from hotfolder.report.as_html.edge_strips import Strip, edge_strips
from hotfolder.report.as_html.proof import NoteFrame, Proof, box_words, frames_on, lay_out
from hotfolder.report.notes import Note
from hotfolder.wording.colours import change_words, colour_words, lab_words
from hotfolder.wording.figures import number_words, percent_words
from hotfolder.wording.lists import listed

# The rules whose places are shown on these pictures.
_INK_RULES: Final = frozenset({"total-ink"})
_BLEED_RULES: Final = frozenset({"bleed"})
_SHIFT_RULES: Final = frozenset({"colour-shift"})

_MOST_PATCHES: Final = 6
_LEAST_SHARE_PERCENT: Final = 0.5


@dataclass(frozen=True, slots=True)
class Coverage:
    """The picture of total ink as a marked proof of its own. words: what it says, a sentence each."""

    picture: PagePicture
    alt: str
    proof: Proof
    legend: tuple[tuple[str, str], ...]
    limit: str
    words: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class PlateShown:
    """One plate's picture and what is told beside it."""

    ink: str
    picture: EncodedPicture
    words: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class Patch:
    """A colour before and after, as `#rrggbb`; `letter` marks it on the picture of the page as meant."""

    letter: str
    before: str
    after: str
    words: str
    figures: str
    where: str
    frame: NoteFrame | None


@dataclass(frozen=True, slots=True)
class ColourChange:
    """The page as meant, beside what prints, and the colours that move most. notes: what is said of it."""

    meant: EncodedPicture
    words: tuple[str, ...]
    notes: tuple[Note, ...]
    patches: tuple[Patch, ...]


@dataclass(frozen=True, slots=True)
class InkSection:
    """All that is told of the inks of one page.

    sheet: where the page lies on its marked proof, whose picture is shown once more beside the master.
    summary: it in a line.
    """

    page: Page
    sheet: NoteFrame
    condition: str
    coverage: Coverage | None
    plates: tuple[PlateShown, ...]
    strips: tuple[Strip, ...]
    change: ColourChange | None
    summary: str

    @property
    def parts(self) -> str:
        """What stands in the section, in words."""
        there = {
            "coverage": self.coverage,
            "plates": self.plates,
            "edges": self.strips,
            "colours that change": self.change,
        }
        return listed([name for name, part in there.items() if part]).capitalize()


def ink_section(
    page: Page, proof: PageProof, marked: Proof, notes: Sequence[Note], bleed_pt: float
) -> InkSection | None:
    """What `proof` has to show of the inks of `page`; None where that is the page alone.

    marked: the page's marked proof. notes: those on this page, with their places on it.
    """
    if isinstance(page.ink, Unmeasured) or not (proof.coverage or proof.plates or proof.edges or proof.meant):
        return None
    return InkSection(
        page=page,
        sheet=marked.sheet,
        condition=proof.condition,
        coverage=_coverage(page, page.ink, proof, notes, bleed_pt),
        plates=_plates(page.ink, proof),
        strips=edge_strips(page, proof.edges, bleed_pt, _of(notes, _BLEED_RULES)),
        change=_change(page, page.ink.shift, proof, notes),
        summary=_summary(page.ink),
    )


def condition_words(page: Page, proof: PageProof | PagePicture | None) -> str:
    """What the picture of the page is, and for which printing condition it was made."""
    if isinstance(proof, PageProof):
        whose = f"for {proof.condition}" if proof.condition else "with the colours of the usual inks"
        paper = "the paper's own tint is shown" if proof.paper_white else "the paper is shown white"
        without = f", without {listed(proof.left_out)}" if proof.left_out else ""
        return f"As it will print: its plates put together {whose}{without}; {paper}."
    reason = page.ink.reason if isinstance(page.ink, Unmeasured) else "they were not drawn again"
    return f"As a viewer shows it, not put together from its plates: {reason}." if proof else ""


def _coverage(
    page: Page, ink: PageInk, proof: PageProof, notes: Sequence[Note], bleed_pt: float
) -> Coverage | None:
    shown = proof.coverage
    if shown is None:
        return None
    picture = replace(
        proof.printed,
        data=shown.picture.data,
        media_type=shown.picture.media_type,
        width_px=shown.picture.width_px,
        height_px=shown.picture.height_px,
    )
    laid = lay_out(page, picture, _of(notes, _INK_RULES), bleed_pt)
    if laid is None:
        return None
    return Coverage(
        picture,
        shown.picture.alt,
        laid,
        _legend(shown.scale),
        "" if shown.limit_percent is None else f"{percent_words(shown.limit_percent)}",
        _coverage_words(ink, proof),
    )


def _legend(scale: Sequence[ScaleStep]) -> tuple[tuple[str, str], ...]:
    """Each tone with its words: the first is bare paper, the last has no upper end."""
    tones = []
    for place, step in enumerate(scale):
        below = scale[place - 1].up_to_percent if place else None
        if place == 0:
            words = "none"
        elif step.up_to_percent is None:
            words = f"over {below:g}"
        else:
            words = f"to {step.up_to_percent:g}"
        tones.append((step.tone, words))
    return tuple(tones)


def _coverage_words(ink: PageInk, proof: PageProof) -> tuple[str, ...]:
    highest = percent_words(ink.max_1mm2_percent)
    words = [
        f"The most ink on one square millimetre is {highest}, in one spot {percent_words(ink.max_percent)}."
    ]
    if proof.left_out:
        inks = "a technical ink" if len(proof.left_out) == 1 else "technical inks"
        words.append(f"The picture leaves out {listed(proof.left_out)}, {inks}; the figures count all.")
    words.extend(f"Approximate: {reason.rstrip('.')}." for reason in ink.approximate)
    return tuple(words)


def _plates(ink: PageInk, proof: PageProof) -> tuple[PlateShown, ...]:
    facts = {plate.ink: plate for plate in ink.plates}
    return tuple(_plate(shown, facts.get(shown.ink), proof.left_out) for shown in proof.plates)


def _plate(shown: PlatePicture, fact: Plate | None, left_out: Sequence[str]) -> PlateShown:
    words = []
    if fact is not None:
        words += [f"mean {percent_words(fact.mean_percent)}", f"highest {percent_words(fact.max_percent)}"]
    if shown.ink in left_out:
        words.append("a technical ink")
    if not shown.own_colour:
        words.append("shown in grey, its own colour would not show on paper")
    return PlateShown(shown.ink, shown.picture, tuple(words))


def _change(
    page: Page, shift: ColourShift | None, proof: PageProof, notes: Sequence[Note]
) -> ColourChange | None:
    if proof.meant is None or shift is None:
        return None
    moved = shift.moved[:_MOST_PATCHES]
    picture = replace(proof.printed, width_px=proof.meant.width_px, height_px=proof.meant.height_px)
    frames = frames_on(picture, [colour.place for colour in moved]) or (None,) * len(moved)
    patches = tuple(
        _patch(chr(ord("a") + place), page, colour, frame)
        for place, (colour, frame) in enumerate(zip(moved, frames, strict=True))
    )
    return ColourChange(proof.meant, _shift_words(shift), tuple(_of(notes, _SHIFT_RULES)), patches)


def _shift_words(shift: ColourShift) -> tuple[str, ...]:
    if shift.over_5_percent < _LEAST_SHARE_PERCENT:
        return ("Hardly any colour on this page changes visibly.",)
    shares = (
        (
            shift.over_5_percent,
            "of the sheet moves by more than 5 units of CIEDE2000, which shows side by side",
        ),
        (shift.over_10_percent, "by more than 10, which shows at once"),
        (shift.over_20_percent, "by more than 20, which is another colour"),
    )
    sentences = [
        f"{percent_words(share)} {words}" for share, words in shares if share >= _LEAST_SHARE_PERCENT
    ]
    return (f"A press cannot print every colour of a screen: {'; '.join(sentences)}.",)


def _patch(letter: str, page: Page, colour: MovedColour, frame: NoteFrame | None) -> Patch:
    share = f", on {percent_words(colour.share_percent)} of the sheet" if colour.share_percent else ""
    return Patch(
        letter=letter,
        before="#{:02x}{:02x}{:02x}".format(*srgb(colour.before)),
        after="#{:02x}{:02x}{:02x}".format(*srgb(colour.after)),
        words=f"{colour_words(colour.before)}, printed {change_words(colour.before, colour.after)}",
        figures=f"Moves by {number_words(colour.delta_e, 0)} units{share}; from {lab_words(colour.before)} "
        f"to {lab_words(colour.after)}",
        where=box_words(colour.place, page),
        frame=frame,
    )


def _summary(ink: PageInk) -> str:
    names = listed([plate.ink for plate in ink.plates]) or "no ink"
    return f"{names}; most on one square millimetre {percent_words(ink.max_1mm2_percent)}"


def _of(notes: Sequence[Note], rules: frozenset[str]) -> list[Note]:
    return [note for note in notes if note.finding.rule in rules]
