"""Requirements on the output intent: the printing condition that the file names."""

from collections.abc import Iterator
from typing import Final

from hotfolder.checks.pdf.pdfx.registered_conditions import (
    is_icc_registry,
    means_no_condition,
    registered_name,
)
from hotfolder.checks.pdf.pdfx.requirement import Breach, JudgedExtent, NotJudged, Requirement, Subject
from hotfolder.checks.pdf.pdfx.sources import SERIES
from hotfolder.checks.shared.pdfx_levels import ALL, X4, Level
from hotfolder.model.inventory.output_intents import IntentFacts
from hotfolder.wording.shown import quoted

_TABLE: Final = "ISO 32000-1, table 365"
_EXPORT: Final = "Export as PDF/X again, with the printer's profile as output intent"


def intents_of(subject: Subject) -> tuple[IntentFacts, ...]:
    """The file's output intents for PDF/X."""
    return subject.inventory.output_intents.for_pdfx


def _present(subject: Subject, _level: Level) -> Iterator[Breach]:
    if not intents_of(subject) and not subject.inventory.output_intents.unread:
        yield Breach("the file has no output intent for PDF/X")


def _only_one(subject: Subject, _level: Level) -> Iterator[Breach | NotJudged]:
    count = len(intents_of(subject))
    if count > 1:
        yield Breach(f"the file has {count} output intents for PDF/X")
    if subject.inventory.output_intents.unread:
        yield NotJudged("the file has too many output intents to read them all")


def _identifier(subject: Subject, _level: Level) -> Iterator[Breach]:
    for intent in intents_of(subject):
        if not intent.identifier:
            yield Breach("the output intent has no name for its printing condition")


def _registry_agrees(subject: Subject, _level: Level) -> Iterator[Breach | NotJudged]:
    for intent in intents_of(subject):
        name = intent.identifier
        if not name or not is_icc_registry(intent.registry):
            continue
        known = registered_name(name)
        if means_no_condition(name):
            yield Breach(f"the output intent names {quoted(name)} and refers to the ICC's registry for it")
        elif known is None:
            yield NotJudged(
                f"whether the ICC's registry has a printing condition {quoted(name)} is not known"
            )
        elif known.casefold() != name.strip().casefold():
            yield Breach(f"the output intent names {quoted(name)}, which the ICC's registry has as '{known}'")


def _described(subject: Subject, _level: Level) -> Iterator[Breach | NotJudged]:
    for intent in intents_of(subject):
        if intent.info or not intent.identifier or registered_name(intent.identifier) is not None:
            continue
        name = quoted(intent.identifier)
        if is_icc_registry(intent.registry) and not means_no_condition(intent.identifier):
            yield NotJudged(f"whether the ICC's registry has a printing condition {name} is not known")
        else:
            yield Breach(
                f"the output intent names {name}, which is no registered printing condition, and does not say"
                " more of it (Info)"
            )


def _reference_present(subject: Subject, _level: Level) -> Iterator[Breach]:
    for intent in intents_of(subject):
        if intent.reference is None:
            yield Breach("the output intent does not refer to a profile (DestOutputProfileRef)")


def _reference_alone(subject: Subject, _level: Level) -> Iterator[Breach]:
    for intent in intents_of(subject):
        if intent.reference is not None and intent.profile is not None:
            yield Breach("the output intent refers to a profile outside of the file, and brings one too")


def _no_reference(subject: Subject, _level: Level) -> Iterator[Breach]:
    for intent in intents_of(subject):
        if intent.reference is not None:
            yield Breach("the output intent refers to a profile outside of the file (DestOutputProfileRef)")


def _reference_whole(subject: Subject, _level: Level) -> Iterator[Breach]:
    for intent in intents_of(subject):
        if intent.reference is None:
            continue
        for key in intent.reference.missing:
            yield Breach(f"the reference to the output profile lacks {key}")
        size = intent.reference.checksum_bytes
        if size not in {None, 16}:
            yield Breach(f"the check sum of the output profile has {size} bytes, not 16")


_X4P: Final = frozenset({Level.X4P})
_PRODUCERS: Final = "LaTeX's pdfx.sty 1.6 and ConTeXt's lpdf-fmt"

OUTPUT_INTENT: Final = (
    Requirement(
        id="no-output-intent",
        wants="wants an output intent: the printing condition for which the colours are made",
        levels=ALL,
        why="How the colours are to look on paper is left to chance.",
        remedy=f"{_EXPORT}.",
        source=f"{SERIES}; PDFlib's tutorial on PDF/X; ISO 32000-1, 14.11.5; LaTeX's pdfx.sty 1.6",
        judge=_present,
        told_by=frozenset({"output-intent.absent"}),
    ),
    Requirement(
        id="several-output-intents",
        wants="wants one output intent for PDF/X, no more",
        levels=ALL,
        unconfirmed=ALL,
        why="Which one is taken depends on the program.",
        remedy=f"{_EXPORT}, and with one only.",
        source="from memory",
        judge=_only_one,
        told_by=frozenset({"output-intent.several"}),
    ),
    Requirement(
        id="output-condition-name",
        wants="wants a name for the printing condition (OutputConditionIdentifier)",
        levels=ALL,
        why="Nobody can tell what the colours are made for.",
        remedy=f"{_EXPORT}.",
        source=f"{_TABLE}; {SERIES}",
        judge=_identifier,
        told_by=frozenset({"output-intent.no-condition"}),
    ),
    Requirement(
        id="registered-name",
        wants="wants a condition of a registry to be named as the registry names it",
        levels=ALL,
        unconfirmed=ALL,
        why="A program that looks it up there does not find it.",
        remedy=f"{_EXPORT}, and with the name that the registry has, such as FOGRA39.",
        source=f"{SERIES}; that some spellings count as the same is not known",
        judge=_registry_agrees,
        extent=JudgedExtent.PART,
        limits="Only the ICC's registry is looked at, and the names of it that are known here.",
    ),
    Requirement(
        id="output-condition-info",
        wants="wants a condition that is not registered to be described (Info)",
        levels=ALL,
        why="The name alone says nothing to the printer.",
        remedy=f"{_EXPORT}, or write a description of the printing condition into the output intent.",
        source=f"{_TABLE}; {SERIES}",
        judge=_described,
        extent=JudgedExtent.PART,
        limits="Left open where the ICC's registry may have a name that is not known here.",
    ),
    Requirement(
        id="profile-reference",
        wants="wants a reference to an output profile outside of the file (DestOutputProfileRef)",
        levels=_X4P,
        why="The printer cannot know which profile is meant.",
        remedy="Export as PDF/X-4p again, with the printer's profile; or as PDF/X-4, which brings it.",
        source=f"{_PRODUCERS}; the title of ISO 15930-7: partial exchange with external profile reference;"
        " the manual of LaTeX's package pdfx 1.6",
        judge=_reference_present,
        told_by=frozenset({"output-intent.absent"}),
    ),
    Requirement(
        id="profile-reference-entries",
        wants="wants that reference to have CheckSum (16 bytes), ICCVersion, ProfileCS, ProfileName and URLs",
        levels=_X4P,
        unconfirmed=_X4P,
        why="The printer cannot be sure to have the profile that is meant.",
        remedy="Export as PDF/X-4p again, with the printer's profile; or as PDF/X-4, which brings it.",
        source=f"{_PRODUCERS}, which write all of them or none; that all have to be there is said by no"
        " public source",
        judge=_reference_whole,
    ),
    Requirement(
        id="profile-reference-beside-profile",
        wants="may take the reference to an output profile only where the file does not bring one",
        levels=_X4P,
        unconfirmed=_X4P,
        why="Which of the two is taken depends on the program.",
        remedy="Export as PDF/X-4, which brings the profile, or as PDF/X-4p, which refers to it.",
        source=f"{_PRODUCERS}, which write either; that both together are a fault is from memory",
        judge=_reference_alone,
    ),
    Requirement(
        id="profile-outside",
        wants="takes no output profile outside of the file",
        levels=ALL - _X4P,
        unconfirmed=ALL - X4,
        why="The profile does not come with the file, and the printer may have another one.",
        remedy=f"{_EXPORT}, and with the profile embedded.",
        source="the title of ISO 15930-7: complete exchange (PDF/X-4), and partial exchange with external"
        " profile reference (PDF/X-4p); the manual of LaTeX's package pdfx 1.6, which says the same of"
        " the p in a name; for the earlier levels, which do not know such a reference, from memory",
        judge=_no_reference,
    ),
)
