"""White and pale overprint: white knocks out, and pale colours do not mix with what lies beneath.

Why: a colour that overprints is laid over the inks beneath instead of taking their place; white has no
    ink to lay, so that nothing at all is printed, and a pale colour is lost in a darker one. On a screen
    that does not simulate overprint it looks right.
On paper: white text or a white logo that is simply missing; pale shapes that turn into another colour.
Not flagged: white that overprints on bare paper; white tints that clear all the inks that lie beneath;
    white in CMYK without the special overprint mode, in grey or RGB, which clears process inks (over a spot
    ink, which stays, it is told as advice); pictures, gradients and what is blended or fades; spot inks
    that overprint, as varnish and cutting lines should; black and strong colours, which are made to
    overprint; what lies outside trim and bleed, on hidden layers or wholly covered; picture files.
Source: ISO 32000-2, 8.6.7 and 11.7.4 (the table of results is from memory).
"""

from collections.abc import Iterator, Mapping
from typing import ClassVar, Final

from hotfolder.checks.shared.marks.ground import Ground
from hotfolder.checks.shared.marks.on_product import in_painting_order
from hotfolder.checks.shared.marks.overprint import kept_process_inks, lies_plainly, overprints
from hotfolder.checks.shared.marks.tints import is_paper, tints
from hotfolder.checks.shared.needed_facts import NeededFacts
from hotfolder.checks.shared.occurrences import Occurrences
from hotfolder.model.artwork import Artwork
from hotfolder.model.colour import PROCESS_INKS, Colour, ColourKind
from hotfolder.model.findings import Finding, Severity, Unjudged
from hotfolder.model.marks import Mark, MarkKind
from hotfolder.model.ruleset import Rule, RuleSettings
from hotfolder.wording.lists import counted

ID: Final = "white-overprint"

_PROCESS: Final = frozenset(PROCESS_INKS)
_NO_COLOUR: Final = frozenset({ColourKind.NONE, ColourKind.REGISTRATION, ColourKind.PATTERN})
# Yellow is light however much of it there is; of the others less than this is pale (own choice).
_PALE_BELOW: Final = 0.5


class WhiteOverprintSettings(RuleSettings):
    """No figures: white is seen or it is not."""

    codes: ClassVar[Mapping[str, Severity]] = {
        "vanishes": Severity.MUST_FIX,
        "spot-stays": Severity.ADVICE,
        "pale-mixes": Severity.ADVICE,
    }


def check(artwork: Artwork, settings: WhiteOverprintSettings) -> Iterator[Finding | Unjudged]:
    """White and pale paint that overprints other paint."""
    facts = NeededFacts(ID, settings)
    by_code = {code: Occurrences() for code in settings.codes}
    for page, marks in facts.drawn(artwork):
        ground: Ground | None = None
        # White that overprints leaves no ink, and is no less a fault for that.
        for order, mark, box in in_painting_order(page, marks, inkless=True):
            for colour, stroke in _overprinting(mark):
                ground = ground or Ground(marks)
                code = _code(mark, colour, ground.inks(order, box), stroke=stroke)
                if code is not None:
                    by_code[code].add(page, box)
    for code, places in by_code.items():
        if places:
            yield places.located(_finding(code, places.count, settings))
    yield from facts.unjudged()


def _overprinting(mark: Mark) -> Iterator[tuple[Colour, bool]]:
    """The colours of a mark for which overprint is on, each with whether it strokes."""
    if mark.kind is MarkKind.SHADING or not lies_plainly(mark.state):
        return
    for colour, stroke in ((mark.fill, False), (mark.stroke, True)):
        if (
            colour is not None
            and colour.components
            and colour.space.kind not in _NO_COLOUR
            and overprints(mark.state, stroke=stroke)
        ):
            yield colour, stroke


def _code(mark: Mark, colour: Colour, beneath: frozenset[str], *, stroke: bool) -> str | None:
    """What overprinting does to a colour over these inks; None where it does no harm."""
    spared = kept_process_inks(mark.state, colour, stroke=stroke)
    if is_paper(colour):
        named = frozenset(colour.space.inks)
        if spared and beneath - named:
            return "vanishes"
        return "spot-stays" if not spared and beneath - _PROCESS - named else None
    return "pale-mixes" if _is_pale(colour) and beneath & spared else None


def _is_pale(colour: Colour) -> bool:
    """Whether a colour is made of process inks and light."""
    by_ink = tints(colour)
    return (
        by_ink is not None
        and set(by_ink) <= _PROCESS
        and all(tint < _PALE_BELOW for name, tint in by_ink.items() if name != "Yellow")
    )


_MESSAGE: Final = {
    "vanishes": "in white that overprints a colour. White has no ink, so nothing would be printed there, and"
    " it would be missing on paper although it shows on screen.",
    "spot-stays": "in white that overprints a spot colour. The white clears the process inks but not the spot"
    " ink, which would show through it.",
    "pale-mixes": "in a pale colour that overprints other inks. It would mix with them, or be lost in them.",
}
_REMEDY: Final = {
    "vanishes": "Switch overprint off for everything white, then check it with overprint preview on.",
    "spot-stays": "Switch overprint off for everything white, then check it with overprint preview on.",
    "pale-mixes": "Switch overprint off for these colours, or check them with overprint preview on and "
    "keep them if that is what you want.",
}


def _finding(code: str, count: int, settings: WhiteOverprintSettings) -> Finding:
    return Finding(
        rule=ID,
        code=code,
        severity=settings.severity_of(code),
        message=f"{counted(count, 'thing')} {_MESSAGE[code]}",
        remedy=_REMEDY[code],
        measured="overprints",
        required="knocks out",
        standard="ISO 32000-2, 8.6.7",
    )


RULE = Rule(
    id=ID,
    title="White and pale overprint",
    settings=WhiteOverprintSettings,
    check=check,
    question="Do you print with the overprint that is set in the file?",
    since="0.1",
)
