"""Spot colours: the file asks for no inks other than those agreed.

Why: each spot colour is a plate and an ink of its own, which costs money and has to be ordered; two spellings
    of one ink are two plates, and a process ink under another name is that ink twice.
On paper: a colour that is missing or mixed from the four process inks, or a bill for a plate too many.
Not flagged: the process inks by their names in PDF; registration colour and paint on no plate; technical inks
    that the rule set names (cut, crease, varnish); inks of marks outside trim and bleed, on hidden layers,
    clipped away or wholly covered; an ink that looks different where it is combined with others; two
    descriptions of it that differ by rounding.
Source: common practice; ISO 32000-2, 8.6.6.4 and 8.6.6.5 (clause numbers from memory) for how a file
    names inks.
"""

import re
from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass, field
from typing import ClassVar, Final

from hotfolder.checks.shared.marks.on_product import on_product
from hotfolder.checks.shared.needed_facts import NeededFacts
from hotfolder.checks.shared.occurrences import Occurrences
from hotfolder.model.artwork import Artwork
from hotfolder.model.colour import PROCESS_INKS, ColourKind, ColourSpace, inks_of
from hotfolder.model.facts import Unmeasured
from hotfolder.model.findings import Finding, Quantity, Severity, Unjudged
from hotfolder.model.geometry import Box
from hotfolder.model.pages import Page
from hotfolder.model.ruleset import Rule, RuleSettings
from hotfolder.wording.lists import counted, listed
from hotfolder.wording.shown import shown_name

ID: Final = "spot-colours"

# What two descriptions of one colour may differ by: programs round to whole per cents, or to a 255th.
_NEAR: Final = 0.0101
_NEAR_LAB: Final = 1.01

# Endings that tell coated and uncoated swatches and proofing variants of one ink apart (common practice).
_SWATCH_ENDING: Final = re.compile(r"\s+(?:c|u|m|cv|cvc|cvu|cp|ec|pc|up)$")
# A process ink under another name than PDF's: with `process`, by its letter, in capitals (common practice).
_PROCESS_NAME: Final = re.compile(
    r"(?:process )?(?:cyan|magenta|yellow|black|[cmyk])(?: process)?(?: 100 ?%?)?"
)


class SpotColoursSettings(RuleSettings):
    """allowed: how many spot colours, or which by name. technical: names of inks that never count."""

    codes: ClassVar[Mapping[str, Severity]] = {
        "too-many": Severity.MUST_FIX,
        "not-agreed": Severity.MUST_FIX,
        "process-ink": Severity.MUST_FIX,
        "alike": Severity.ADVICE,
        "two-looks": Severity.ADVICE,
    }

    allowed: int | tuple[str, ...] = 0
    technical: tuple[str, ...] = ()


@dataclass(slots=True)
class _Ink:
    """A spot ink: where it is used, and how the file says that it looks at full strength."""

    name: str
    uses: list[tuple[Page, Box | None]] = field(default_factory=list)
    looks: list["_Look"] = field(default_factory=list)

    def add_look(self, look: "_Look") -> None:
        """Adds a look, unless one that is known is the same."""
        if not any(look.is_like(each) for each in self.looks):
            self.looks.append(look)


@dataclass(frozen=True, slots=True)
class _Look:
    """What an ink is replaced by where there is no such ink: a colour, its values empty if not known."""

    kind: ColourKind
    values: tuple[float, ...]

    def is_like(self, other: "_Look") -> bool:
        """Whether nobody would see the difference, or none is known."""
        if self.kind is not other.kind:
            return False
        near = _NEAR_LAB if self.kind is ColourKind.LAB else _NEAR
        return all(abs(one - two) <= near for one, two in zip(self.values, other.values, strict=False))

    @property
    def words(self) -> str:
        """The look with its values as design programs write them."""
        match self.kind:
            case ColourKind.RGB:
                shown = (f"{255 * value:.0f}" for value in self.values)
            case ColourKind.LAB:
                shown = (f"{value:.0f}" for value in self.values)
            case ColourKind.GREY:
                shown = (f"{100 * (1 - value):.0f} %" for value in self.values)
            case _:
                shown = (f"{100 * value:.0f} %" for value in self.values)
        return f"{self.kind} {' / '.join(shown)}".strip()


def check(artwork: Artwork, settings: SpotColoursSettings) -> Iterator[Finding | Unjudged]:
    """Spot colours beyond those agreed, and names that look like one ink spelled twice."""
    facts = NeededFacts(ID, settings)
    agreed = () if isinstance(settings.allowed, int) else settings.allowed
    inks = _used(artwork, settings, facts)
    # A name that was agreed on is what was agreed, whatever it looks like.
    spots = [ink for ink in inks if not _is_process(ink.name) or _among(ink.name, agreed)]
    doubled = [ink for ink in inks if ink not in spots]
    if doubled:
        yield _where(doubled).located(_process_ink(doubled, settings))
    if isinstance(settings.allowed, int):
        if len(spots) > settings.allowed:
            yield _where(spots).located(_too_many(spots, settings.allowed, settings))
    else:
        for ink in spots:
            if not _among(ink.name, agreed):
                yield _where([ink]).located(_not_agreed(ink, agreed, settings))
    yield from _alike(spots, settings)
    for ink in spots:
        if len(ink.looks) > 1:
            yield _where([ink]).located(_two_looks(ink, settings))
    yield from facts.unjudged()


def _used(artwork: Artwork, settings: SpotColoursSettings, facts: NeededFacts) -> list[_Ink]:
    """The inks in use that are neither process inks nor technical ones."""
    inks: dict[str, _Ink] = {}
    for page in facts.pages(artwork):
        for space, box in _spaces(page, facts):
            for name in inks_of(space):
                if name in PROCESS_INKS or _among(name, settings.technical):
                    continue
                ink = inks.setdefault(name, _Ink(name))
                ink.uses.append((page, box))
                if space.family == "Separation" and space.base is not None:
                    ink.add_look(_Look(space.base.kind, space.full_tint))
    return list(inks.values())


def _spaces(page: Page, facts: NeededFacts) -> Iterator[tuple[ColourSpace, Box | None]]:
    """The colour spaces in use on a page, each with where it is used."""
    if page.raster is not None and isinstance(page.marks, Unmeasured):
        # The inks of a picture are known even where its size is not.
        yield page.raster.colour, None
        return
    for mark, visible in on_product(page, facts.marks(page) or ()):
        for colour in mark.colours():
            space = colour.space
            made_of = space.base if space.family in {"Indexed", "Pattern"} else space
            if made_of is not None:
                yield made_of, visible


def _where(inks: Iterable[_Ink]) -> Occurrences:
    places = Occurrences()
    for ink in inks:
        for page, box in ink.uses:
            places.add(page, *(() if box is None else (box,)))
    return places


def _too_many(inks: list[_Ink], allowed: int, settings: SpotColoursSettings) -> Finding:
    wanted = f"{counted(allowed, 'is', 'are')} agreed" if allowed else "none is agreed"
    return Finding(
        rule=ID,
        code="too-many",
        severity=settings.severity_of("too-many"),
        message=f"{counted(len(inks), 'spot colour')} used: {_named(inks)}; {wanted}. Each is a plate and an"
        " ink of its own, or is mixed from the process inks and looks different.",
        remedy="Convert spot colours that should not print as such to process colours (CMYK), or agree on "
        "them with the printer.",
        measured=Quantity.of(len(inks), unit="spot colours"),
        required=Quantity.of(allowed, unit="spot colours"),
    )


def _not_agreed(ink: _Ink, agreed: tuple[str, ...], settings: SpotColoursSettings) -> Finding:
    return Finding(
        rule=ID,
        code="not-agreed",
        severity=settings.severity_of("not-agreed"),
        message=f"the spot colour '{shown_name(ink.name)}' is used; agreed are"
        f" {listed(agreed) if agreed else 'none'}. It would need an extra plate, or be mixed from other "
        "inks and look different.",
        remedy="Use the agreed ink under exactly its name, convert it to process colours (CMYK), or agree "
        "on it with the printer.",
        measured=shown_name(ink.name),
        required=listed(agreed, "or") if agreed else "no spot colour",
    )


def _process_ink(inks: list[_Ink], settings: SpotColoursSettings) -> Finding:
    one = len(inks) == 1
    return Finding(
        rule=ID,
        code="process-ink",
        severity=settings.severity_of("process-ink"),
        message=f"{_named(inks)} {'is a spot colour' if one else 'are spot colours'} with the name of a"
        f" process ink. {'It becomes a plate' if one else 'They become plates'} beside that ink's own.",
        remedy="Convert these swatches to process colours (CMYK), in placed files too.",
        measured=_named(inks),
        required="process colours",
    )


def _alike(inks: list[_Ink], settings: SpotColoursSettings) -> Iterator[Finding]:
    """Names that differ by case, spaces or a swatch's ending only: one ink, split over two plates."""
    groups: dict[str, list[_Ink]] = {}
    for ink in inks:
        groups.setdefault("".join(_SWATCH_ENDING.sub("", _plain(ink.name)).split()), []).append(ink)
    for group in groups.values():
        if len(group) > 1:
            finding = Finding(
                rule=ID,
                code="alike",
                severity=settings.severity_of("alike"),
                message=f"the spot colours {_named(group)} are probably one ink under {len(group)} names."
                " Each name becomes a plate of its own.",
                remedy="Merge them into one swatch with one name, in placed files too.",
                measured=_named(group),
                required="one name for one ink",
            )
            yield _where(group).located(finding)


def _two_looks(ink: _Ink, settings: SpotColoursSettings) -> Finding:
    kinds = {look.kind for look in ink.looks}
    looks = listed(look.kind.value if len(kinds) == len(ink.looks) else look.words for look in ink.looks)
    return Finding(
        rule=ID,
        code="two-looks",
        severity=settings.severity_of("two-looks"),
        message=f"the spot colour '{shown_name(ink.name)}' is described as {looks}. Where it is proofed or"
        " mixed from other inks, the same colour looks one way here and another way there.",
        remedy="Use one swatch for it throughout, in placed files too.",
        measured=looks,
        required="one description",
    )


def _named(inks: list[_Ink]) -> str:
    return listed(f"'{shown_name(ink.name)}'" for ink in inks)


def _plain(name: str) -> str:
    return " ".join(name.split()).casefold()


def _among(name: str, names: tuple[str, ...]) -> bool:
    return _plain(name) in {_plain(each) for each in names}


def _is_process(name: str) -> bool:
    return _PROCESS_NAME.fullmatch(_plain(name)) is not None


RULE = Rule(
    id=ID,
    title="Spot colours",
    settings=SpotColoursSettings,
    check=check,
    question="How many spot colours, and which, are part of the order?",
    since="0.1",
)
