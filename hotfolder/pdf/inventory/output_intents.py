"""Reads the output intents of a file as they are written, with their profiles (ISO 32000-2, 14.11.5)."""

import struct
from typing import Final

import pikepdf

from hotfolder.colour.icc import read_profile, tags_of
from hotfolder.model.inventory.output_intents import (
    IntentFacts,
    IntentProfile,
    OutputIntentFacts,
    ProfileReference,
)
from hotfolder.pdf.objects.document_limits import OUTPUT_INTENTS, OUTPUT_PROFILE_BYTES
from hotfolder.pdf.objects.reading import (
    READING_ERRORS,
    entry,
    fingerprint,
    identity,
    items,
    name,
    text,
    whole,
)
from hotfolder.pdf.objects.streams import survey

_SUBTYPE: Final = "GTS_PDFX"
_VERSION_AT: Final = 8  # ICC.1:2022, 7.2.4

# The entries of a reference to a profile, as producers of PDF/X-4p write them.
_TEXTS: Final = ("CheckSum", "ICCVersion", "ProfileCS", "ProfileName")
_PLACES: Final = "URLs"


def read_intents(pdf: pikepdf.Pdf) -> OutputIntentFacts:
    """The output intents in order; nothing is raised for what a file says."""
    array = entry(pdf.Root, "/OutputIntents")
    intents = [each for each in items(array, OUTPUT_INTENTS) if isinstance(each, pikepdf.Dictionary)]
    streams = [entry(each, "/DestOutputProfile") for each in intents]
    return OutputIntentFacts(
        for_pdfx=tuple(_intent(each) for each in intents if name(entry(each, "/S")) == _SUBTYPE),
        profiles=tuple(dict.fromkeys(fingerprint(each) for each in streams if each is not None)),
        unread=isinstance(array, pikepdf.Array) and len(array) > OUTPUT_INTENTS,
    )


def _intent(intent: pikepdf.Dictionary) -> IntentFacts:
    return IntentFacts(
        identifier=text(entry(intent, "/OutputConditionIdentifier")) or "",
        condition=text(entry(intent, "/OutputCondition")) or "",
        registry=text(entry(intent, "/RegistryName")) or "",
        info=text(entry(intent, "/Info")) or "",
        profile=_profile(entry(intent, "/DestOutputProfile")),
        reference=_reference(entry(intent, "/DestOutputProfileRef")),
    )


def _profile(stream: object) -> IntentProfile | None:
    if stream is None:
        return None
    unreadable = IntentProfile(identity(stream), readable=False, components=whole(entry(stream, "/N")))
    if not isinstance(stream, pikepdf.Stream):
        return unreadable
    try:
        if survey(stream, OUTPUT_PROFILE_BYTES).length is None:
            return IntentProfile(identity(stream), readable=False, too_large=True)
        data = stream.read_bytes()
    except READING_ERRORS:
        return unreadable
    profile = read_profile(data)
    # The size that it gives of itself may be less than the stream holds: some writers fill up at the end.
    if profile is None or struct.unpack_from(">I", data)[0] > len(data):
        return unreadable
    return IntentProfile(
        object=identity(stream),
        readable=True,
        components=whole(entry(stream, "/N")),
        name=profile.name,
        version=data[_VERSION_AT],
        device_class=profile.device_class,
        space=profile.space.strip(),
        tags=tags_of(data),
    )


def _reference(value: object) -> ProfileReference | None:
    if value is None:
        return None
    missing = [key for key in _TEXTS if not _bytes(entry(value, f"/{key}"))]
    if not any(True for _ in items(entry(value, f"/{_PLACES}"), 1)):
        missing.append(_PLACES)
    checksum = _bytes(entry(value, "/CheckSum"))
    return ProfileReference(tuple(missing), len(checksum) if checksum else None)


def _bytes(value: object) -> bytes:
    """The bytes of a string; none for anything else."""
    return bytes(value) if isinstance(value, pikepdf.String) else b""
