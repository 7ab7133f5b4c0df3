"""Requirements on the profile that the output intent brings."""

from collections.abc import Callable, Iterator
from typing import Final, TypeAlias

from hotfolder.checks.pdf.pdfx.places import unread_pages
from hotfolder.checks.pdf.pdfx.registered_conditions import (
    is_icc_registry,
    means_no_condition,
    registered_name,
)
from hotfolder.checks.pdf.pdfx.requirement import (
    Breach,
    JudgedExtent,
    Judging,
    NotJudged,
    Requirement,
    Subject,
)
from hotfolder.checks.pdf.pdfx.requirements.output_intent import intents_of
from hotfolder.checks.pdf.pdfx.sources import SERIES
from hotfolder.checks.shared.pdfx_levels import ALL, X1A, X3, X4, Level
from hotfolder.checks.shared.printing_conditions import conditions_in
from hotfolder.model.colour import ColourSpace
from hotfolder.model.inventory.output_intents import IntentProfile
from hotfolder.wording.shown import quoted, shown_name

_EXPORT: Final = "Export as PDF/X again, with the printer's profile as output intent and embedded."
_X4: Final = frozenset({Level.X4})

_OF_A_PRESS: Final = "prtr"
_SPACES: Final = {"GRAY": 1, "RGB": 3, "CMYK": 4}
_KNOWN_BY_EYE: Final = frozenset({"CalGray", "CalRGB", "Lab", "ICCBased"})


def _brought(subject: Subject, level: Level) -> Iterator[Breach | NotJudged]:
    for intent in intents_of(subject):
        if intent.profile is not None or (level in X4 and intent.reference is not None):
            continue  # a profile outside of the file is told by itself
        name = intent.identifier
        if level in X4 or not is_icc_registry(intent.registry) or not name or means_no_condition(name):
            yield Breach(f"the output intent{f' {quoted(name)}' if name else ''} has no profile")
        elif registered_name(name) is None:
            yield NotJudged(
                "the output intent has no profile, and whether the ICC's registry has a printing condition"
                f" {quoted(name)} is not known"
            )


def _brought_for_colours(subject: Subject, _level: Level) -> Iterator[Breach | NotJudged]:
    intents = intents_of(subject)
    if not intents or any(intent.profile is not None for intent in intents):
        return
    for page in subject.pages:
        boxes, spaces = [], set()
        for mark in page.known_marks:
            families = {family for colour in mark.colours() for family in _families(colour.space)}
            if mark.visible is not None and mark.on_paper and families & _KNOWN_BY_EYE:
                boxes.append(mark.visible)
                spaces |= families & _KNOWN_BY_EYE
        for space in sorted(spaces):
            yield Breach(f"colours in {space}, and an output intent without a profile", page, tuple(boxes))
    yield from unread_pages(subject)


def _families(space: ColourSpace) -> Iterator[str]:
    yield space.family
    if space.base is not None:
        yield from _families(space.base)


_OfProfile: TypeAlias = Callable[[IntentProfile, Level], str]


def _profiles(fault: _OfProfile) -> Judging:
    """Holds each profile that can be read to something. fault: says what is wrong; empty where nothing is."""

    def judge(subject: Subject, level: Level) -> Iterator[Breach | NotJudged]:
        for intent in intents_of(subject):
            profile = intent.profile
            if profile is not None and profile.too_large:
                yield NotJudged("the output profile is too large to be read")
            elif profile is not None and profile.readable:
                what = fault(profile, level)
                if what:
                    yield Breach(f"the output profile{_named(profile)} {what}")

    return judge


def _named(profile: IntentProfile) -> str:
    return f" {quoted(profile.name)}" if profile.name else ""


def _readable(subject: Subject, _level: Level) -> Iterator[Breach | NotJudged]:
    for intent in intents_of(subject):
        profile = intent.profile
        if profile is not None and profile.too_large:
            yield NotJudged("the output profile is too large to be read")
        elif profile is not None and not profile.readable:
            where = f" (object {profile.object.split()[0]})" if profile.object else ""
            yield Breach(f"the output profile{where} is no colour profile, or is cut short")


def _class(profile: IntentProfile, _level: Level) -> str:
    named = shown_name(profile.device_class)
    return f"is of the class '{named}'" if profile.device_class != _OF_A_PRESS else ""


def _space(profile: IntentProfile, level: Level) -> str:
    allowed = set(_SPACES) - ({"RGB"} if level in X1A else set())
    return f"is for {shown_name(profile.space)} colours" if profile.space not in allowed else ""


def _version(profile: IntentProfile, level: Level) -> str:
    allowed = {2, 4} if level in X4 else {2}
    return f"is of version {profile.version}" if profile.version not in allowed else ""


def _components(profile: IntentProfile, _level: Level) -> str:
    wanted = _SPACES.get(profile.space)
    if wanted is None or profile.components == wanted:
        return ""
    says = "does not say" if profile.components is None else f"says {profile.components}"
    return f"is for {profile.space} colours, which have {wanted} components, and its stream {says} (N)"


def _tables(profile: IntentProfile, _level: Level) -> str:
    # Of grey and RGB profiles one curve, or curves and a matrix, would do (ICC.1:2022, 8.4.3 and 8.4.4).
    if profile.space != "CMYK" or profile.device_class != _OF_A_PRESS:
        return ""
    leads = {"A2B0", "A2B1"} & profile.tags and {"B2A0", "B2A1"} & profile.tags
    return "" if leads else "has no tables that lead to a press's inks and back"


def _agrees(subject: Subject, _level: Level) -> Iterator[Breach]:
    for intent in intents_of(subject):
        brought = intent.profile.name if intent.profile is not None else ""
        by_name, by_profile = conditions_in(intent.identifier), conditions_in(brought)
        if by_name and by_profile and not by_name & by_profile:
            yield Breach(
                f"the output intent names {quoted(intent.identifier)}, and its profile is {quoted(brought)}"
            )


def _same(subject: Subject, _level: Level) -> Iterator[Breach]:
    count = len(subject.inventory.output_intents.profiles)
    if count > 1:
        yield Breach(f"the file's output intents bring {count} profiles")


OUTPUT_PROFILE: Final = (
    Requirement(
        id="output-profile-missing",
        wants="wants the output profile in the file; X-1a and X-3 accept a condition of the ICC's registry"
        " without it",
        levels=ALL - {Level.X4P},
        why="Colours cannot be proofed or converted as they are meant.",
        remedy=_EXPORT,
        source=f"ISO 32000-1, table 365; {SERIES}; Ghostscript's documentation of pdfwrite, by which it may"
        " be missing where the condition is registered; for PDF/X-4, which always brings it, the"
        " title of ISO 15930-7: complete exchange, and the manual of LaTeX's package pdfx 1.6, by"
        " which only levels with a p in their name do without",
        judge=_brought,
        extent=JudgedExtent.PART,
        limits="Left open where the ICC's registry may have a name that is not known here.",
        told_by=frozenset({"output-intent.no-profile"}),
    ),
    Requirement(
        id="output-profile-for-colours",
        wants="wants the output profile in the file where colours are given as the eye sees them",
        levels=X3,
        unconfirmed=X3,
        why="Such colours have to be converted for the press, and without a profile nobody knows how.",
        remedy=_EXPORT,
        source=f"{SERIES}, of PDF/X-3; no second source",
        judge=_brought_for_colours,
    ),
    Requirement(
        id="output-profile-unreadable",
        wants="wants an output profile that can be read",
        levels=ALL,
        why="Colours cannot be proofed or converted with it.",
        remedy=_EXPORT,
        source="ISO 32000-1, table 365; ICC.1:2022, 7.2",
        judge=_readable,
        told_by=frozenset({"output-intent.no-profile"}),
    ),
    Requirement(
        id="output-profile-class",
        wants="wants the profile of an output device (class 'prtr')",
        levels=ALL,
        unconfirmed=ALL,
        why="It does not describe a press, and all colours would be misread.",
        remedy=f"{_EXPORT[:-1]}, not with that of a screen, camera or scanner.",
        source="the manual of LaTeX's package pdfx 1.6, of PDF/X as a whole; from memory; Qt's"
        " qpdfoutputintent.cpp takes the profile of a screen for PDF/X-4",
        judge=_profiles(_class),
    ),
    Requirement(
        id="output-profile-space",
        wants="wants an output profile for CMYK or grey; X-3 and X-4 take RGB too",
        levels=ALL,
        why="It does not describe this kind of printing, and all colours would be misread.",
        remedy=_EXPORT,
        source="PDFlib's tutorial on PDF/X; Ghostscript's documentation of pdfwrite, of PDF/X-1a and X-3,"
        " without RGB; the manual of LaTeX's package pdfx 1.6, by which others than grey, RGB and CMYK"
        " are for PDF/X-5n",
        judge=_profiles(_space),
        told_by=frozenset({"output-intent.wrong-space"}),
    ),
    Requirement(
        id="output-profile-version",
        wants="wants an output profile of version 2; X-4 takes version 4 too",
        levels=ALL,
        why="Programs that keep to the level's version of PDF cannot read it.",
        remedy=f"{_EXPORT[:-1]}, in the version of the format that the level takes.",
        source="ISO 32000-1, table 67: profiles of version 4 came with PDF 1.5",
        judge=_profiles(_version),
    ),
    Requirement(
        id="output-profile-components",
        wants="wants the number of components of the output profile to be that of its colours",
        levels=ALL,
        why="Programs may refuse it, or misread the colours.",
        remedy=_EXPORT,
        source="ISO 32000-1, table 66 (N)",
        judge=_profiles(_components),
    ),
    Requirement(
        id="output-profile-tables",
        wants="wants an output profile that describes a press",
        levels=ALL,
        why="Colours cannot be converted to it, nor proofed with it.",
        remedy=f"{_EXPORT[:-1]}, and the whole of it.",
        source="ICC.1:2022, 8.4.2: what a profile of an output device with tables has to have",
        judge=_profiles(_tables),
    ),
    Requirement(
        id="output-profile-of-another-condition",
        wants="wants the profile of the printing condition that the output intent names",
        levels=ALL,
        why="Some programs go by the name and some by the profile: colours may come out heavier or paler.",
        remedy=f"{_EXPORT[:-1]}; name and profile have to be those of one condition.",
        source="ISO 32000-1, 14.11.5: the profile belongs to the condition",
        judge=_agrees,
        extent=JudgedExtent.PART,
        limits="Only where both names tell a registered condition that is known here.",
        told_by=frozenset({"output-intent.contradiction"}),
    ),
    Requirement(
        id="different-output-profiles",
        wants="may want all output intents to bring the same profile",
        levels=_X4,
        unconfirmed=_X4,
        why="Which of them is taken depends on the program.",
        remedy=f"{_EXPORT[:-1]}, and with one output intent only.",
        source="from memory, by the rule of PDF/A",
        judge=_same,
    ),
)
