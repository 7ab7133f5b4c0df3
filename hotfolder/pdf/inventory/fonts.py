"""Reads how the fonts that pages use are put down (ISO 32000-2, 9.6 to 9.9)."""

import struct
from collections.abc import Mapping, Sequence
from typing import Final

import pikepdf

from hotfolder.model.inventory.fonts import FontEntries, ProgramKind
from hotfolder.pdf.content.readers import Readers
from hotfolder.pdf.content.uses import Use, UseKind
from hotfolder.pdf.inventory.beginnings import beginning_of
from hotfolder.pdf.objects.limits import FONT_PROGRAM_BYTES
from hotfolder.pdf.objects.reading import entry, fingerprint, item, name
from hotfolder.pdf.objects.streams import bounded_bytes

_FILES: Final = ("FontFile", "FontFile2", "FontFile3")
_DIRECTORY_BYTES: Final = 12 + 16 * 64  # of a font of tables (OpenType 1.9): subsets have below twenty tables
_LICENCE_AT: Final = 8  # fsType in the table OS/2
_TRUETYPE: Final = (b"\0\1\0\0", b"true")
_TYPE1_WITHIN: Final = 1024  # bytes that a program in PostScript may have before its first line


def read_fonts(uses: Sequence[Use], readers: Readers) -> tuple[FontEntries, ...]:
    """The entries of each font that pages choose, once; nothing is raised for what a file says."""
    fonts: dict[str, tuple[object, set[int]]] = {}
    blanks: dict[object, set[int]] = {}
    for use in uses:
        if use.kind is UseKind.FONT:
            _, pages = fonts.setdefault(fingerprint(use.value), (use.value, set()))
            pages.add(use.page)
        elif use.kind is UseKind.BLANKS:
            blanks.setdefault(use.value, set()).add(use.page)
    return tuple(_entries(font, frozenset(pages), blanks, readers) for font, pages in fonts.values())


def _entries(
    font: object, pages: frozenset[int], blanks: Mapping[object, set[int]], readers: Readers
) -> FontEntries:
    facts = readers.font(font).facts
    composite = name(entry(font, "/Subtype")) == "Type0"
    inner = item(entry(font, "/DescendantFonts"), 0) if composite else font
    descriptor = entry(inner, "/FontDescriptor")
    file = next((key for key in _FILES if isinstance(entry(descriptor, f"/{key}"), pikepdf.Stream)), "")
    program = entry(descriptor, f"/{file}") if file else None
    directory = beginning_of(program, _DIRECTORY_BYTES)
    mapped = entry(inner, "/CIDToGIDMap")
    return FontEntries(
        name=facts.name,
        object=facts.object,
        subtype=name(entry(inner, "/Subtype")) or "",
        composite=composite,
        file=file,
        file_subtype=(name(entry(program, "/Subtype")) or "") if file == "FontFile3" else "",
        kind=_kind(directory) if file else None,
        cmap=_cmap(entry(font, "/Encoding")) if composite else None,
        cid_map=mapped is not None,
        cid_map_name=name(mapped) or "",
        licence=_licence(program, directory or b""),
        pages=pages,
        blank_pages=pages & blanks.get(facts.object or facts.name, set()),
    )


def _cmap(encoding: object) -> str | None:
    return "" if isinstance(encoding, pikepdf.Stream) else name(encoding)


def _kind(data: bytes | None) -> ProgramKind:
    """What a program is, by its beginning; a font of tables may also hold CFF under any first bytes."""
    if not data:
        return ProgramKind.UNKNOWN
    if data[:4] == b"OTTO":
        return ProgramKind.OPENTYPE_CFF
    if data[:4] in _TRUETYPE:
        return ProgramKind.TRUETYPE
    if data[:1] == b"\1" and data[2:3] >= b"\4":
        return ProgramKind.CFF
    if data[:2] == b"\x80\1" or b"%!" in data[:_TYPE1_WITHIN]:
        return ProgramKind.TYPE1
    return ProgramKind.UNKNOWN


def _licence(program: object, directory: bytes) -> int | None:
    """The bits of OS/2, fsType; most programs in a PDF lack that table."""
    if directory[:4] not in {*_TRUETYPE, b"OTTO"}:
        return None
    (count,) = struct.unpack_from(">4xH", directory) if len(directory) >= 12 else (0,)
    for at in range(12, min(12 + 16 * count, len(directory) - 15), 16):
        tag, offset = struct.unpack_from(">4s4xI", directory, at)
        if tag == b"OS/2":
            data = bounded_bytes(program, FONT_PROGRAM_BYTES) or b""
            bits = data[offset + _LICENCE_AT : offset + _LICENCE_AT + 2]
            return int.from_bytes(bits) if len(bits) == 2 else None
    return None
