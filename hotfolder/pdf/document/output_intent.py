"""Reads a document's output intents (ISO 32000-2, 14.11.5)."""

import pikepdf

from hotfolder.colour.icc import ProfileFacts, read_profile
from hotfolder.model.document import OutputIntent
from hotfolder.model.facts import Problem, ProblemKind
from hotfolder.pdf.objects.document_limits import OUTPUT_INTENTS, OUTPUT_PROFILE_BYTES
from hotfolder.pdf.objects.reading import entry, items, name, text
from hotfolder.pdf.objects.streams import bounded_bytes


def read_output_intents(pdf: pikepdf.Pdf, problems: list[Problem]) -> tuple[OutputIntent, ...]:
    """The output intents in order; a profile that cannot be read is added to `problems`."""
    array = entry(pdf.Root, "/OutputIntents")
    intents = []
    for index, intent in enumerate(items(array, OUTPUT_INTENTS), start=1):
        if not isinstance(intent, pikepdf.Dictionary):
            continue
        profile = _profile(intent, f"pdf.output_intents[{index}].profile", problems)
        intents.append(
            OutputIntent(
                subtype=name(entry(intent, "/S")) or "",
                identifier=text(entry(intent, "/OutputConditionIdentifier")) or None,
                condition=text(entry(intent, "/OutputCondition")) or None,
                registry=text(entry(intent, "/RegistryName")) or None,
                info=text(entry(intent, "/Info")) or None,
                profile_name=(profile.name or None) if profile is not None else None,
                profile_space=profile.space if profile is not None else None,
                profile_class=profile.device_class if profile is not None else None,
            )
        )
    if isinstance(array, pikepdf.Array) and len(array) > OUTPUT_INTENTS:
        what = f"reading stopped after {OUTPUT_INTENTS} output intents"
        problems.append(Problem("pdf.output_intents", what, ProblemKind.LIMIT))
    return tuple(intents)


def _profile(intent: pikepdf.Dictionary, where: str, problems: list[Problem]) -> ProfileFacts | None:
    stream = entry(intent, "/DestOutputProfile")
    if stream is None:
        return None
    profile = read_profile(bounded_bytes(stream, OUTPUT_PROFILE_BYTES) or b"")
    if profile is None:
        what = "the colour profile of the output intent could not be read"
        problems.append(Problem(where, what, ProblemKind.DAMAGED))
    return profile
