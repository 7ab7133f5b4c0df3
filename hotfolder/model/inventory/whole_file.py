"""What is spread over a whole file: how its streams are packed, and which files it refers to or holds."""

from dataclasses import dataclass
from enum import StrEnum


class StreamKind(StrEnum):
    """What a stream is, in a word for people."""

    PICTURE = "picture"
    INLINE_PICTURE = "picture within the content"
    FORM = "form"
    CONTENT = "page content"
    FONT = "font program"
    PROFILE = "colour profile"
    METADATA = "metadata"
    ATTACHMENT = "attached file"
    OTHER = "stream"


@dataclass(frozen=True, slots=True)
class StreamFacts:
    """A stream, or a picture within content, that is packed by other means than deflating, or lies elsewhere.

    object: `12 0`; None for a picture within content. filters: their full names, in the order in which they
    decode. outside: the entries that move its data to another file (`F`, `FFilter`, `FDecodeParms`).
    deciphered: it has a Crypt filter that deciphers, so one of another name than `Identity`. pages: those
    whose content it is, or that use the picture within content.
    """

    object: str | None
    kind: StreamKind
    filters: tuple[str, ...]
    outside: tuple[str, ...] = ()
    deciphered: bool = False
    pages: tuple[int, ...] = ()


@dataclass(frozen=True, slots=True)
class FileReference:
    """A file specification (ISO 32000-2, 7.11.3).

    name: that of the file, empty where it gives none. embedded: the file lies within this one. object: that
    of the dictionary, or of the one that it stands in (`12 0`); None in the trailer itself.
    """

    name: str
    embedded: bool
    object: str | None


@dataclass(frozen=True, slots=True)
class WholeFileFacts:
    """What is told by all objects that can be reached from the end of the file.

    streams: those that are packed by other means than deflating, or lie elsewhere. collection: the file is a
    folder of attached files (ISO 32000-2, 7.11.6). unread: why not all objects were looked at; empty where
    they were.
    """

    streams: tuple[StreamFacts, ...] = ()
    file_references: tuple[FileReference, ...] = ()
    collection: bool = False
    unread: str = ""
