"""Black text: small black text is one ink, printed on top of what lies beneath.

Why: a plate may shift by a tenth of a millimetre; black ink alone, printed over a colour, hides that,
    while black in four inks, or black left out of the colour beneath, shows it.
On paper: small letters with coloured shadows, or with white rims where they stand on a colour.
Not flagged: black text that overprints; black on bare paper, on paper white, or on a tint of black; text
    larger than the rule set says; text that is blended or see-through; text outside trim and bleed, on hidden
    layers or wholly covered; text in the pixels of pictures. Text in all four inks at full strength is left
    to the rule about registration colour. A trace of another ink, under 5 %, counts as none. A page group of
    screen colours (RGB) counts only where something on the page is transparent, and black as an ink with a
    name of its own does not become one of these. Where plates can only be drawn roughly, text in black ink
    alone is left open, with the reason.
Source: common practice (12 pt from memory); ISO 32000-2, 8.6.7 for what overprints: black as grey never
    spares the inks beneath; 11.4.7 and 11.6.6 for groups, whose colours become those of the group's space.
"""

from collections.abc import Iterator, Mapping
from typing import ClassVar, Final

from hotfolder.checks.shared.marks.ground import Ground
from hotfolder.checks.shared.marks.on_product import in_painting_order
from hotfolder.checks.shared.marks.overprint import kept_process_inks, lies_plainly
from hotfolder.checks.shared.marks.tints import BLACK, is_black, is_black_alone, is_four_full, is_screen_black
from hotfolder.checks.shared.marks.transparent import is_transparent
from hotfolder.checks.shared.needed_facts import NeededFacts
from hotfolder.checks.shared.occurrences import Occurrences
from hotfolder.checks.shared.plates.doubtful import in_doubt, note_doubt
from hotfolder.model.artwork import Artwork
from hotfolder.model.colour import Colour, ColourKind
from hotfolder.model.facts import Unmeasured
from hotfolder.model.findings import Finding, Severity, Unjudged
from hotfolder.model.geometry import Box
from hotfolder.model.inks import Doubt
from hotfolder.model.marks import Mark, MarkKind
from hotfolder.model.pages import Page
from hotfolder.model.ruleset import LengthSetting, Rule, RuleSettings
from hotfolder.units import Length, LengthUnit
from hotfolder.wording.lists import counted

ID: Final = "black-text"


class BlackTextSettings(RuleSettings):
    """below: text of this size and larger is not judged."""

    codes: ClassVar[Mapping[str, Severity]] = {
        "knocks-out": Severity.ADVICE,
        "rich-black": Severity.ADVICE,
        "screen-black": Severity.ADVICE,
        "blended-on-screen": Severity.ADVICE,
    }

    below: LengthSetting = Length(12.0, LengthUnit.POINT)


def check(artwork: Artwork, settings: BlackTextSettings) -> Iterator[Finding | Unjudged]:
    """Small black text in more than black ink, or left out of a colour beneath it."""
    facts = NeededFacts(ID, settings)
    by_code = {code: Occurrences() for code in settings.codes}
    for page, marks in facts.drawn(artwork):
        ground: Ground | None = None
        on_screen = _is_blended_on_screen(page)
        for order, mark, box in in_painting_order(page, marks):
            colour = _colour(mark, settings)
            if colour is not None and (on_screen or mark.state.on_screen) and _is_process_black(colour):
                by_code["blended-on-screen"].add(page, box)
                continue
            doubt = None if colour is None else _doubt(page, colour, box)
            if doubt is not None:
                note_doubt(facts, page, doubt)
                continue
            code = None if colour is None else _code(mark, colour)
            if code == "knocks-out":
                ground = ground or Ground(marks)
                # Beneath must be another ink than black: out of a tint of black, nothing shifts.
                code = code if ground.inks(order, box) - {BLACK} else None
            if code is not None:
                by_code[code].add(page, box)
    for code, places in by_code.items():
        if places:
            yield places.located(_finding(code, places.count, settings))
    yield from facts.unjudged()


def _colour(mark: Mark, settings: BlackTextSettings) -> Colour | None:
    """The colour of small text; None for everything else."""
    small = mark.kind is MarkKind.TEXT and mark.text is not None and mark.text.size_pt < settings.below.points
    return mark.fill if small else None


def _is_blended_on_screen(page: Page) -> bool:
    """Whether a page as a whole becomes screen colours before it becomes ink: where something is blended."""
    space = page.blend_space
    screen = space is not None and space.kind in {ColourKind.RGB, ColourKind.LAB}
    return screen and any(mark.shows and is_transparent(mark) for mark in page.known_marks)


def _is_process_black(colour: Colour) -> bool:
    """Whether a colour is black ink alone by its amount; black as an ink with a name is blended by itself."""
    return is_black(colour) and is_black_alone(colour) and not colour.space.inks


def _doubt(page: Page, colour: Colour, box: Box) -> Doubt | None:
    """Why black ink alone may come out as more, or be left out of what is beneath; None where it is certain.

    Black that is mixed in the file itself stays so.
    """
    if isinstance(page.ink, Unmeasured) or not page.ink.doubts:
        return None
    return in_doubt(page.ink, box) if is_black(colour) and is_black_alone(colour) else None


def _code(mark: Mark, colour: Colour) -> str | None:
    """What may be wrong with small text of this colour; `knocks-out` depends on what lies beneath."""
    if is_screen_black(colour):
        return "screen-black"
    if not is_black(colour) or is_four_full(colour):
        return None
    if not is_black_alone(colour):
        return "rich-black"
    plain = lies_plainly(mark.state) and not kept_process_inks(mark.state, colour, stroke=False)
    return "knocks-out" if plain else None


_WHAT: Final = {
    "knocks-out": "small black text on a colour ({pieces}) is cut out of that colour (knocked out) "
    "instead of printing on top. If the plates shift slightly, white edges show around the letters.",
    "rich-black": "small text ({pieces}) in black mixed with other inks (rich black). If the plates shift "
    "slightly, coloured shadows show beside the letters.",
    "screen-black": "small text ({pieces}) in screen black (RGB). In print it becomes a mix of four inks, "
    "with coloured shadows if the plates shift slightly.",
    "blended-on-screen": "small black text ({pieces}) stands where transparency is blended in screen colours "
    "(RGB). Its black is turned into RGB first, and in print becomes a mix of four inks, with coloured "
    "shadows if the plates shift slightly.",
}
_REMEDY: Final = {
    "knocks-out": "Set the text in 100 % black ink and let it overprint, or ask whether the printer sets "
    "small black text to overprint.",
    "rich-black": "Set small text in 100 % black ink alone; keep black with other inks for large areas.",
    "screen-black": "Set the text in 100 % black ink (CMYK 0/0/0/100), and export it unchanged.",
    "blended-on-screen": "Set the document to blend transparency in CMYK (its blend space), or flatten it,"
    " and export again.",
}
_MEASURED_AND_REQUIRED: Final = {
    "knocks-out": ("knocks out", "overprints"),
    "rich-black": ("black with other inks", "black ink alone"),
    "screen-black": ("RGB black", "black ink alone"),
    "blended-on-screen": ("black blended in RGB", "black ink alone"),
}


def _finding(code: str, count: int, settings: BlackTextSettings) -> Finding:
    measured, required = _MEASURED_AND_REQUIRED[code]
    return Finding(
        rule=ID,
        code=code,
        severity=settings.severity_of(code),
        message=_WHAT[code].format(pieces=counted(count, "piece")),
        remedy=_REMEDY[code],
        measured=measured,
        required=f"{required}, for text under {settings.below}",
        standard="ISO 32000-2, 8.6.7" if code == "knocks-out" else None,
    )


RULE = Rule(
    id=ID,
    title="Black text",
    settings=BlackTextSettings,
    check=check,
    question="Up to which size must black text be one ink and overprint?",
    since="0.1",
)
