"""The output intents of a file, with their profiles, as they are written."""

from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class IntentProfile:
    """The colour profile that an output intent brings.

    object: `12 0`; None for what is no object of its own. readable: it is a stream that holds an ICC profile,
    not cut short. too_large: it was not read for its size. components: what the stream says of their number
    (N); None where it says none. version: the first figure of that of the profile's format. device_class
    (`prtr`), space (`CMYK`) and tags (`A2B0`): as the profile says. What is not read has zero and none.
    """

    object: str | None
    readable: bool
    too_large: bool = False
    components: int | None = None
    name: str = ""
    version: int = 0
    device_class: str = ""
    space: str = ""
    tags: frozenset[str] = frozenset()


@dataclass(frozen=True, slots=True)
class ProfileReference:
    """A profile outside of the file that an output intent refers to (ISO 32000-2, 14.11.5).

    missing: the entries that it lacks, or that are of another type than theirs. checksum_bytes: the length of
    its check sum; None where there is none.
    """

    missing: tuple[str, ...]
    checksum_bytes: int | None


@dataclass(frozen=True, slots=True)
class IntentFacts:
    """An output intent for PDF/X: a dictionary whose S is `GTS_PDFX` (ISO 32000-2, 14.11.5).

    Its texts are empty where there are none, or what stands there is no text.
    """

    identifier: str
    condition: str
    registry: str
    info: str
    profile: IntentProfile | None
    reference: ProfileReference | None


@dataclass(frozen=True, slots=True)
class OutputIntentFacts:
    """The output intents of the file.

    for_pdfx: in order. profiles: the different profiles of all intents, those for other standards included:
    their objects, or their place where they are no objects of their own. unread: not all of them were read.
    """

    for_pdfx: tuple[IntentFacts, ...] = ()
    profiles: tuple[str, ...] = ()
    unread: bool = False
