"""What a file is, what could not be established, and what is wrong with it."""

from dataclasses import dataclass
from enum import StrEnum

from hotfolder.model.geometry import Box


@dataclass(frozen=True, slots=True)
class Unmeasured:
    """A fact that could not be established, and why; nobody may treat it as good."""

    what: str
    reason: str


class Format(StrEnum):
    """A file format, decided by content."""

    PDF = "pdf"
    JPEG = "jpeg"
    TIFF = "tiff"
    PNG = "png"
    PSD = "psd"


class ProblemKind(StrEnum):
    """What kind of trouble reading met."""

    UNREADABLE = "unreadable"  # the file, or a part that paints, could not be read at all
    ENCRYPTED = "encrypted"  # it opens only with a password that we do not have
    DAMAGED = "damaged"  # it was read, after repairs or with parts missing
    LIMIT = "limit"  # reading stopped at one of our own limits
    UNSUPPORTED = "unsupported"  # legal, but not understood by this version
    NOTE = "note"  # odd, and without consequence for what was measured


@dataclass(frozen=True, slots=True)
class Problem:
    """Something that could not be read as it should.

    where: a path of facts that counts from 1 (`pages[2].images` are the pictures of page 2).
    box: the part of that page outside which it makes no difference, in points; None where that is not known.
    """

    where: str
    what: str
    kind: ProblemKind
    box: "Box | None" = None


@dataclass(frozen=True, slots=True)
class FileFacts:
    """The file itself. format: by content, None where it is none of those we read."""

    name: str
    bytes: int
    sha256: str
    format: Format | None
