"""Output intent: the file says for which printing condition its colours are made.

Why: the same CMYK figures look different on coated paper and on newsprint; the output intent says
    which was meant, and its profile is what colours are converted and proofed with.
On paper: colours too heavy or too pale, or a proof that promises something else.
Not flagged: raster files; an output intent of another kind beside that for PDF/X; a profile that is left out
    where the condition is named by the ICC's registry, or where the level keeps it outside; RGB, Lab and grey
    profiles in the artwork, which belong to no press; names that differ by spaces or case, or are others of
    the same condition; a house condition or profile, whose name tells of no registered one.
Source: ISO 32000-2, 14.11.5 (output intents); ISO 15930 (PDF/X) asks for one. That an X-4 file must
    bring its profile whatever it names is from memory.
"""

from collections.abc import Iterator, Mapping
from functools import lru_cache
from typing import ClassVar, Final

from hotfolder.checks.shared.marks.on_product import on_product
from hotfolder.checks.shared.needed_facts import NeededFacts
from hotfolder.checks.shared.occurrences import Occurrences
from hotfolder.checks.shared.pdfx_levels import OUTSIDE_PROFILE, level_name
from hotfolder.checks.shared.printing_conditions import conditions_in
from hotfolder.model.artwork import Artwork
from hotfolder.model.colour import ColourKind, ColourSpace
from hotfolder.model.document import OutputIntent
from hotfolder.model.findings import Finding, Quantity, Severity, Unjudged
from hotfolder.model.ruleset import Rule, RuleSettings
from hotfolder.wording.lists import counted, listed, shortened
from hotfolder.wording.shown import shown_name

ID: Final = "output-intent"
_STANDARD: Final = "ISO 32000-2, 14.11.5"
_SUBTYPE: Final = "GTS_PDFX"
_EXPORT: Final = "Export again as PDF/X with the printer's profile as output intent"


class OutputIntentSettings(RuleSettings):
    """space: colour space of the profile (`CMYK`, `GRAY`, `RGB`). conditions: names expected, if any."""

    codes: ClassVar[Mapping[str, Severity]] = {
        "absent": Severity.MUST_FIX,
        "several": Severity.ADVICE,
        "no-condition": Severity.MUST_FIX,
        "no-profile": Severity.MUST_FIX,
        "wrong-space": Severity.MUST_FIX,
        "contradiction": Severity.MUST_FIX,
        "other-condition": Severity.ADVICE,
        "other-profile": Severity.ADVICE,
    }

    space: str = "CMYK"
    conditions: tuple[str, ...] = ()


def check(artwork: Artwork, settings: OutputIntentSettings) -> Iterator[Finding | Unjudged]:
    """An output intent that is absent, doubled, incomplete or for something else."""
    facts = NeededFacts(ID, settings)
    pdf = facts.pdf(artwork)
    yield from facts.unjudged()
    if pdf is None:
        return
    intents = [intent for intent in pdf.output_intents if intent.subtype.lstrip("/") == _SUBTYPE]
    if not intents:
        yield Finding(
            rule=ID,
            code="absent",
            severity=settings.severity_of("absent"),
            message="The file does not say for which printing condition its colours are made (no output"
            " intent). How they will look is then left to chance.",
            remedy=f"{_EXPORT}.",
            measured="no output intent",
            required=listed(settings.conditions, "or") if settings.conditions else "an output intent",
            standard=_STANDARD,
            told_by=(frozenset({"pdfx-claim.absent"}),),
        )
        return
    if len(intents) > 1:
        yield Finding(
            rule=ID,
            code="several",
            severity=settings.severity_of("several"),
            message=f"The file names {counted(len(intents), 'printing condition')} (output intents); which"
            " one is taken depends on the program.",
            remedy=f"{_EXPORT}, and with one only.",
            measured=Quantity.of(len(intents), unit="output intents"),
            required=Quantity.of(1, unit="output intents"),
            standard=_STANDARD,
        )
    level = level_name(pdf.pdfx.name) if pdf.pdfx is not None else ""
    yield from _complete(intents[0], level, settings)
    yield from _contradiction(intents[0], settings)
    yield from _other_profiles(artwork, intents[0], settings)


def _complete(intent: OutputIntent, level: str, settings: OutputIntentSettings) -> Iterator[Finding]:
    named = shown_name(intent.identifier or intent.condition or "")
    if not intent.identifier:
        yield Finding(
            rule=ID,
            code="no-condition",
            severity=settings.severity_of("no-condition"),
            message="The file has an output intent that names no printing condition, so nobody can tell what"
            " its colours are made for."
            if not named
            else f"The file has an output intent that only describes its printing condition ({named}),"
            " without the name that programs go by.",
            remedy=f"{_EXPORT}.",
            measured="no name",
            required=listed(settings.conditions, "or") if settings.conditions else "a printing condition",
            standard=_STANDARD,
        )
    elif settings.conditions and not _expected(intent, settings.conditions):
        wanted = listed(settings.conditions, "or")
        yield Finding(
            rule=ID,
            code="other-condition",
            severity=settings.severity_of("other-condition"),
            message=f"The colours are made for {named}; this printer prints by {wanted}. They may come out"
            " heavier or paler than on your proof.",
            remedy=f"Convert the colours to {wanted} from the original pictures and export with it as output"
            " intent.",
            measured=named,
            required=wanted,
            standard=_STANDARD,
        )
    if intent.profile_space is None:
        if not _profile_may_be_left_out(intent, level):
            yield Finding(
                rule=ID,
                code="no-profile",
                severity=settings.severity_of("no-profile"),
                message=f"The output intent{f' for {named}' if named else ''} has no colour profile in the"
                " file, or one that cannot be read. Colours cannot be proofed or converted with it.",
                remedy=f"{_EXPORT}, and with the profile embedded.",
                measured="no profile",
                required=f"a {settings.space} profile",
                standard=_STANDARD,
            )
    elif intent.profile_space.strip() != settings.space:
        space = shown_name(intent.profile_space.strip())
        yield Finding(
            rule=ID,
            code="wrong-space",
            severity=settings.severity_of("wrong-space"),
            message=f"The output intent's profile is for {space}, not for {settings.space}: it does not "
            "describe this press, and all colours would be misread.",
            remedy=f"{_EXPORT}, not with that of a screen.",
            measured=space,
            required=settings.space,
            standard=_STANDARD,
        )


def _contradiction(intent: OutputIntent, settings: OutputIntentSettings) -> Iterator[Finding]:
    """A name and a profile that each tell a registered condition, and not the same."""
    named, brought = intent.identifier or "", intent.profile_name or ""
    conditions_named, conditions_brought = conditions_in(named), conditions_in(brought)
    if not conditions_named or not conditions_brought or conditions_named & conditions_brought:
        return
    yield Finding(
        rule=ID,
        code="contradiction",
        severity=settings.severity_of("contradiction"),
        message=f"The output intent names {shown_name(named)}, but its profile is that of another printing"
        f" condition: {shown_name(brought)}. Some programs go by the name and some by the profile;"
        " colours may come out heavier or paler than on your proof.",
        remedy=f"{_EXPORT}, so that name and profile are those of one condition.",
        measured=shown_name(brought),
        required=f"a profile for {shown_name(named)}",
        standard=_STANDARD,
    )


def _other_profiles(
    artwork: Artwork, intent: OutputIntent, settings: OutputIntentSettings
) -> Iterator[Finding]:
    """CMYK that was made for another press: its embedded profile has another name than the intent's."""
    meant = intent.profile_name
    if not meant or (intent.profile_space or "").strip() != "CMYK":
        return
    places = Occurrences()
    names: dict[str, None] = {}
    for page in artwork.known_pages:
        for mark, visible in on_product(page, page.known_marks):
            for colour in mark.colours():
                profile = _cmyk_profile(colour.space)
                if profile and not _is_alike(profile, meant):
                    places.add(page, visible)
                    names[shown_name(profile)] = None
    if places:
        yield places.located(
            Finding(
                rule=ID,
                code="other-profile",
                severity=settings.severity_of("other-profile"),
                message=f"{counted(places.count, 'thing')} in CMYK made for another press than the file as a"
                f" whole ({shortened(list(names))}, not {shown_name(meant)}). The press may print these"
                " colours as they are, or convert them once more.",
                remedy="Convert all colours to one press profile, from the original pictures, and export"
                " with it.",
                measured=shortened(list(names)),
                required=shown_name(meant),
                standard=_STANDARD,
            )
        )


def _cmyk_profile(space: ColourSpace) -> str | None:
    """The name of the profile of a CMYK space; None for all others."""
    if space.family in {"Indexed", "Pattern"} and space.base is not None:
        space = space.base
    return space.profile if space.family == "ICCBased" and space.kind is ColourKind.CMYK else None


def _expected(intent: OutputIntent, conditions: tuple[str, ...]) -> bool:
    """Whether the intent names one of the conditions; spaces and case do not count."""
    return any(_is_alike(intent.identifier or "", name) for name in conditions)


@lru_cache(maxsize=256)
def _is_alike(one: str, other: str) -> bool:
    """Whether two names of conditions or profiles are the same, or tell the same registered condition."""
    return _plain(one) == _plain(other) or bool(conditions_in(one) & conditions_in(other))


def _plain(name: str) -> str:
    return "".join(name.split()).casefold()


def _profile_may_be_left_out(intent: OutputIntent, level: str) -> bool:
    if level in OUTSIDE_PROFILE:
        return True
    registered = intent.registry is not None and "color.org" in intent.registry and bool(intent.identifier)
    return registered and not level.startswith("PDF/X-4")


RULE = Rule(
    id=ID,
    title="Output intent",
    settings=OutputIntentSettings,
    check=check,
    question="For which printing condition (such as FOGRA51) do you want files to be made?",
    since="0.1",
)
