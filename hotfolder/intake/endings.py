"""Whether a file ends as a file of its format does: a few small reads, nothing is interpreted.

Quick writers leave no trace of being unfinished but this one: what a format puts last is not there yet,
or the system has set room aside that is still all zero. The answer decides only how long a file is waited
for; a file that never gets its end is judged like any other.

The rules: PDF ends with `startxref`, a number and `%%EOF` (ISO 32000-1, 7.5.5), and a linearised file
says its own length (Annex F.3.3); JPEG with the marker EOI (ISO/IEC 10918-1, B.1.1.3); PNG with the
chunk IEND (ISO/IEC 15948, 11.2.5); a TIFF's directories, strips and tiles lie within the file (TIFF 6.0,
section 2); PSD has its merged picture last (Photoshop file format). The clauses are cited from memory.
That readers accept bytes behind an end is common practice, and so is it here.
"""

import os
import re
from collections.abc import Callable
from contextlib import suppress
from pathlib import Path
from typing import Final

from hotfolder.intake.picture_ends import psd_end, tiff_end
from hotfolder.intake.reading import BoundedFile

_PDF_HEADER_WITHIN: Final = 1024
_PDF_END: Final = re.compile(rb"startxref\s+(\d{1,12})\s+%%EOF")
_PDF_LENGTH: Final = re.compile(rb"/L\s+(\d{1,12})\b")
_TAIL: Final = 4096
_LONG_TAIL: Final = 1 << 16
_IEND: Final = b"\0\0\0\0IEND\xaeB`\x82"
_SEGMENTS: Final = 2000  # markers of a JPEG before its first scan; real ones have some dozens
_RST: Final = range(0xD0, 0xD8)


def why_not_whole(path: Path) -> str | None:
    """What is missing at the end of the file `path`, in a few words.

    None where it ends as it should, where nobody knows how it should end, and where it cannot be read.
    """
    try:
        descriptor = os.open(path, os.O_RDONLY | os.O_NOFOLLOW | os.O_NONBLOCK | os.O_CLOEXEC)
    except OSError:
        return None
    try:
        with suppress(OSError):
            return _look(BoundedFile(descriptor, os.fstat(descriptor).st_size))
    finally:
        os.close(descriptor)
    return None


def _look(file: BoundedFile) -> str | None:
    if file.size == 0:
        return None
    head = file.at(0, _PDF_HEADER_WITHIN)
    if not any(head):
        return "its beginning holds nothing but zeros"
    if file.ends_in_a_hole():
        return "its last part is still empty"
    for signature, end in _ENDS:
        if head.startswith(signature):
            return end(file)
    return _pdf_end(file, head) if b"%PDF-" in head else None


def _pdf_end(file: BoundedFile, head: bytes) -> str | None:
    length = _PDF_LENGTH.search(head) if b"/Linearized" in head else None
    if length is not None and int(length[1]) > file.size:
        return f"it should have {int(length[1])} bytes and has {file.size} so far"
    tail = _without_padding(file)
    end = _PDF_END.search(tail[-_TAIL:])
    # A linearised file has an end marker at its beginning too.
    is_hollow = length is not None and max(0, file.size - _LONG_TAIL) + len(tail) < int(length[1]) - len(
        b"\r\n"
    )
    if end is None or is_hollow:
        return "the end marker of a PDF is missing"
    if int(end[1]) >= file.size:
        return "its table of objects is missing"
    return "a part in the middle is still empty" if file.has_hole() else None


def _jpeg_end(file: BoundedFile) -> str | None:
    scan = _first_scan(file)
    if scan is None:
        return "it holds no picture yet"
    tail = _without_padding(file)
    beyond = max(0, scan - (file.size - min(file.size, _LONG_TAIL)))
    if b"\xff\xd9" not in tail[beyond:]:
        return "the end marker of a JPEG is missing"
    return "a part in the middle is still empty" if file.has_hole() else None


def _first_scan(file: BoundedFile) -> int | None:
    """Where the first scan's header begins; None where there is none."""
    offset = 2
    for _ in range(_SEGMENTS):
        marker = file.at(offset, 4)
        if len(marker) < 4 or marker[0] != 0xFF:
            return None
        if marker[1] == 0xDA:
            return offset
        if marker[1] == 0xFF:  # a fill byte
            offset += 1
        elif marker[1] == 0x01 or marker[1] in _RST:
            offset += 2
        else:
            offset += 2 + int.from_bytes(marker[2:4])
    return None


def _png_end(file: BoundedFile) -> str | None:
    if _IEND not in _without_padding(file)[-_TAIL:]:
        return "the last part of a PNG is missing"
    return "a part in the middle is still empty" if file.has_hole() else None


def _without_padding(file: BoundedFile) -> bytes:
    """The last 64 KB, without zeros behind them."""
    start = max(0, file.size - _LONG_TAIL)
    return file.at(start, _LONG_TAIL).rstrip(b"\0")


_ENDS: Final[tuple[tuple[bytes, Callable[[BoundedFile], str | None]], ...]] = (
    (b"\xff\xd8\xff", _jpeg_end),
    (b"\x89PNG\r\n\x1a\n", _png_end),
    (b"II*\0", tiff_end),
    (b"MM\0*", tiff_end),
    (b"II+\0\x08\0\0\0", tiff_end),
    (b"MM\0+\0\x08\0\0", tiff_end),
    (b"8BPS\0\x01", psd_end),
    (b"8BPS\0\x02", psd_end),
)
