"""What a file says of itself, in Info and in XMP, as it is written."""

from dataclasses import dataclass, field
from enum import StrEnum


class MetadataState(StrEnum):
    """What became of the metadata stream of the catalog."""

    ABSENT = "absent"
    TOO_LARGE = "too large"
    UNREADABLE = "unreadable"
    READ = "read"


@dataclass(frozen=True, slots=True)
class InfoFacts:
    """The document information (ISO 32000-1, 14.3.3).

    Texts are None where there are none, or what stands there is no text. created, modified: dates as they are
    written. trapped: the value as it is written: `True` for the name, `(True)` for a string, `true` for a
    boolean; empty where there is none. odd: the entries whose value is no text. level: GTS_PDFXVersion,
    white space at its ends included.
    """

    title: str | None = None
    producer: str | None = None
    creator: str | None = None
    created: str | None = None
    modified: str | None = None
    trapped: str = ""
    odd: tuple[str, ...] = ()
    level: str | None = None


@dataclass(frozen=True, slots=True)
class MetadataFacts:
    """The metadata stream of the catalog, and what its XMP says (ISO 16684-1).

    type, subtype: those of its dictionary; empty where there are none. The properties
    are None where there are none, or they are empty. described: when the metadata were last changed.
    copied_level: the level of PDF/X in the place for copies of Info's own entries, which identifies nothing.
    """

    state: MetadataState = MetadataState.ABSENT
    type: str = ""
    subtype: str = ""
    level: str | None = None
    copied_level: str | None = None
    title: str | None = None
    producer: str | None = None
    creator: str | None = None
    created: str | None = None
    modified: str | None = None
    described: str | None = None
    trapped: str | None = None
    document_id: str | None = None
    version_id: str | None = None
    rendition_class: str | None = None


@dataclass(frozen=True, slots=True)
class IdentificationFacts:
    """Both."""

    info: InfoFacts = field(default_factory=InfoFacts)
    metadata: MetadataFacts = field(default_factory=MetadataFacts)
