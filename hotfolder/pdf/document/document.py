"""Opens a PDF. What pikepdf raises becomes a problem of the file: by the exception's class, not its text."""

import io
import re
from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import dataclass
from pathlib import Path
from typing import BinaryIO, Final

import pikepdf

from hotfolder.model.document import Encryption
from hotfolder.model.facts import Problem, ProblemKind
from hotfolder.pdf.objects.document_limits import REBUILT_BYTES
from hotfolder.pdf.objects.parser_limits import limit_parser
from hotfolder.pdf.objects.reading import entry, items, name

_READ_ERROR: Final = (ProblemKind.UNREADABLE, "the file could not be read")
_BROKEN_PICTURE: Final = (ProblemKind.DAMAGED, "a picture in the file is damaged")
_UNKNOWN_PICTURE: Final = (ProblemKind.UNSUPPORTED, "a picture in the file is of a kind that is not read")
_ODD: Final = (ProblemKind.NOTE, "something odd was met while the file was read")

# What each class of pikepdf's exceptions means for the artwork, where `objects.reading` has not caught it.
# By name, since older versions lack some of them. A test compares this table with what pikepdf exports, so
# that a new class cannot arrive unnoticed.
MEANINGS: Final[dict[str, tuple[ProblemKind, str]]] = {
    "PasswordError": (ProblemKind.ENCRYPTED, "the file opens only with a password"),
    "PdfError": (ProblemKind.UNREADABLE, "the file is damaged beyond repair, or not a PDF at all"),
    "DataDecodingError": (ProblemKind.DAMAGED, "data in the file could not be decoded"),
    "ReferenceCycleError": (ProblemKind.DAMAGED, "parts of the file refer to each other in a circle"),
    "DeletedObjectError": (ProblemKind.DAMAGED, "a part of the file is missing"),
    "ForeignObjectError": _READ_ERROR,
    "QpdfRuntimeError": _READ_ERROR,
    "JobUsageError": _READ_ERROR,
    "OutlineStructureError": (ProblemKind.NOTE, "the bookmarks are damaged"),
    "DependencyError": (ProblemKind.UNSUPPORTED, "the file uses a method that is not installed here"),
    "InvalidPdfImageError": _BROKEN_PICTURE,
    "UnsupportedImageTypeError": _UNKNOWN_PICTURE,
    "NotExtractableError": _UNKNOWN_PICTURE,
    "HifiPrintImageNotTranscodableError": _UNKNOWN_PICTURE,
    "PikepdfError": _READ_ERROR,
    "PageCopyWarning": _ODD,
    "XmpTypeWarning": _ODD,
    "PikepdfWarning": _ODD,
}

_METHODS: Final = {"rc4": "RC4", "aes": "AES 128 bit", "aesv3": "AES 256 bit"}

# An encryption dictionary is named in the trailer, in plain sight even in a compressed file.
_ENCRYPT_ENTRY: Final = re.compile(rb"/Encrypt\s*(?:<<|\d+\s+\d+\s+R)")
_NO_MEMORY: Final = "bad_alloc"  # what the C++ library says where it found none
_HEADER: Final = re.compile(rb"%PDF-(\d\.\d)")
_HEADER_WITHIN: Final = 1024 + 8  # ISO 32000-1, annex H: bytes before the header are accepted
_TABLE_MARK: Final = b"startxref"  # 7.5.5
_TRAILER_WITHIN: Final = 64 * 1024  # bytes at either end that a trailer is looked for in

_REBUILT: Final = Problem(
    "pages",
    "the file's table of contents is damaged and was rebuilt; pages or objects may be missing",
    ProblemKind.DAMAGED,
)


@dataclass(frozen=True, slots=True)
class Opened:
    """A PDF that was opened; `pdf` is None where it could not be, and `problems` says why."""

    pdf: pikepdf.Pdf | None
    encryption: Encryption | None
    problems: tuple[Problem, ...]


def meaning(error: BaseException) -> tuple[ProblemKind, str]:
    """The kind and the words of the problem that an exception stands for, by its nearest listed class."""
    return next(
        (MEANINGS[each.__name__] for each in type(error).__mro__ if each.__name__ in MEANINGS), _READ_ERROR
    )


@contextmanager
def opened(path: Path) -> Iterator[Opened]:
    """The PDF at `path`, open while the context lasts. OSError from opening the file propagates.

    A file that is encrypted, but opens without a password, is read like any other.
    """
    limit_parser()
    # A stream, since pikepdf cannot take a path whose bytes are no UTF-8.
    with path.open("rb") as stream:
        pdf, problems = _open(path, stream)
        if pdf is None:
            locked = any(problem.kind is ProblemKind.ENCRYPTED for problem in problems)
            encryption = Encryption(opened=False, method="unknown", printing_allowed=None) if locked else None
            yield Opened(None, encryption, problems)
            return
        with pdf:
            yield Opened(pdf, _encryption(pdf), problems)


def _open(path: Path, stream: BinaryIO) -> tuple[pikepdf.Pdf | None, tuple[Problem, ...]]:
    try:
        pdf = pikepdf.open(stream, suppress_warnings=True, inherit_page_attributes=False)
    except (pikepdf.PikepdfError, RuntimeError, ValueError) as error:
        if not isinstance(error, pikepdf.PasswordError) and _names_encryption(path):
            what = "the file is encrypted in a way that needs more than a password, such as a certificate"
            return None, (Problem("pages", what, ProblemKind.ENCRYPTED),)
        rebuilt = None if isinstance(error, pikepdf.PasswordError) else _rebuilt(stream)
        return rebuilt, (_problem(error) if rebuilt is None else _REBUILT,)
    return pdf, (_REBUILT,) if warnings_of(pdf) and not _opens_without_repair(path) else ()


def warnings_of(pdf: pikepdf.Pdf) -> list[str]:
    """What qpdf mended or left out since it was last asked.

    MemoryError where it found no memory for an object: it leaves that out as if it were broken.
    """
    warnings = [str(warning) for warning in pdf.get_warnings()]
    if any(_NO_MEMORY in warning for warning in warnings):
        raise MemoryError
    return warnings


def _rebuilt(stream: BinaryIO) -> pikepdf.Pdf | None:
    """The PDF read without its cross-reference table; None where that does not open it either.

    A table that is sound in itself may lack objects that the file cannot do without: that of an incremental
    update whose former version was cut off. qpdf searches for the objects themselves only where it finds no
    table at all.
    """
    size = stream.seek(0, io.SEEK_END)
    if size > REBUILT_BYTES:
        return None
    stream.seek(0)
    without = stream.read().replace(_TABLE_MARK, b" " * len(_TABLE_MARK))
    try:
        return pikepdf.open(io.BytesIO(without), suppress_warnings=True, inherit_page_attributes=False)
    except (pikepdf.PikepdfError, RuntimeError, ValueError):
        return None


def _opens_without_repair(path: Path) -> bool:
    try:
        with path.open("rb") as stream:
            pikepdf.open(
                stream, suppress_warnings=True, attempt_recovery=False, inherit_page_attributes=False
            ).close()
    except (pikepdf.PikepdfError, RuntimeError, ValueError):
        return False
    return True


def _problem(error: BaseException) -> Problem:
    kind, what = meaning(error)
    return Problem("pages", what, kind)


def _names_encryption(path: Path) -> bool:
    """Whether a trailer near either end of the file names an encryption dictionary."""
    with path.open("rb") as file:
        head = file.read(_TRAILER_WITHIN)
        size = file.seek(0, 2)
        file.seek(max(0, size - _TRAILER_WITHIN))
        tail = file.read()
    return _ENCRYPT_ENTRY.search(head) is not None or _ENCRYPT_ENTRY.search(tail) is not None


def _encryption(pdf: pikepdf.Pdf) -> Encryption | None:
    if not pdf.is_encrypted:
        return None
    info = pdf.encryption
    # Up to version 3 of the algorithm there was only RC4, and nothing that names it (7.6.2, table 20).
    method = "RC4" if info.V < 4 else _METHODS.get(info.stream_method.name, "unknown")
    # A press prints in full quality: permission for a degraded print is none (7.6.4.2, table 22).
    return Encryption(
        opened=True,
        method=f"{method} {info.bits} bit" if method == "RC4" else method,
        printing_allowed=pdf.allow.print_highres,
    )


@dataclass(frozen=True, slots=True)
class Trailer:
    """What the trailer says, and the version.

    version: the higher of those in header and catalog (7.2.2). id_parts: how many
    non-empty strings the file's ID has, of two.
    object_streams: the cross-reference table is a stream, or a part of it (7.5.8); only such a table can
    refer to objects in object streams.
    """

    version: str
    id_parts: int
    object_streams: bool


def read_trailer(pdf: pikepdf.Pdf) -> Trailer:
    """What the trailer of an open document says, and its catalog of the version."""
    catalog = name(entry(pdf.Root, "/Version")) or ""
    parts = [each for each in items(entry(pdf.trailer, "/ID"), 2) if isinstance(each, pikepdf.String)]
    in_stream = name(entry(pdf.trailer, "/Type")) == "XRef"
    return Trailer(
        version=max(pdf.pdf_version, catalog, key=_version_key),
        id_parts=len([part for part in parts if bytes(part)]),
        object_streams=in_stream or entry(pdf.trailer, "/XRefStm") is not None,
    )


def header_version(path: Path) -> str:
    """The version in a file's header; empty where there is none."""
    with path.open("rb") as file:
        match = _HEADER.search(file.read(_HEADER_WITHIN))
    return match[1].decode("ascii") if match is not None else ""


def _version_key(version: str) -> tuple[int, int]:
    match = re.fullmatch(r"(\d{1,3})\.(\d{1,3})", version)
    return (int(match[1]), int(match[2])) if match is not None else (0, 0)
