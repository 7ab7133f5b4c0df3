"""Walks over all objects of a file that can be reached from its end.

Most of them say nothing that is asked here. So each is first looked at as the text that qpdf writes of it,
which is far faster than through Python; only those with an entry that matters are read.
"""

import re
from collections import deque
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, field
from typing import Final

import pikepdf

from hotfolder.model.inventory.whole_file import FileReference, StreamFacts, StreamKind, WholeFileFacts
from hotfolder.pdf.content.uses import Use, UseKind
from hotfolder.pdf.objects.reading import (
    READING_ERRORS,
    entry,
    identity,
    item,
    items,
    keys,
    name,
    printable,
    text,
)
from hotfolder.pdf.objects.streams import content_parts, filters

# A map or a catalogue has a hundred thousand objects; each takes some ten microseconds.
_OBJECTS: Final = 200_000

# Streams and references that are kept; only a file made for it has more that are not deflated.
_KEPT: Final = 20_000

# Values within one object that are looked at where it has an entry that matters.
_VALUES: Final = 50_000

_REFERENCE: Final = re.compile(rb"(\d{1,10}) (\d{1,5}) R(?![A-Za-z0-9])")
_MATTERS: Final = re.compile(rb"/(?:Filter|FFilter|FDecodeParms|F|EF|RF|Filespec)(?=[ /<>\[\]()])")
_DEFLATED: Final = re.compile(rb"/Filter (?:\[ )?/FlateDecode[ />]")
_FONT_PROGRAM: Final = re.compile(rb"/FontFile[23]? (\d+) (\d+) R")
_PROFILE: Final = re.compile(rb"/(?:ICCBased|DestOutputProfile) (\d+) (\d+) R")

_OUTSIDE: Final = ("F", "FFilter", "FDecodeParms")
_SPECIFICATION_TYPES: Final = frozenset({"Filespec", "F"})
_NAMES: Final = ("/UF", "/F", "/Unix", "/Mac", "/DOS")


def read_whole_file(
    pdf: pikepdf.Pdf, pages: Sequence[pikepdf.Dictionary], uses: Sequence[Use]
) -> WholeFileFacts:
    """What the objects of the file tell; nothing is raised for what a file says."""
    walk = _ObjectWalk(pdf, _contents_of(pages))
    walk.run()
    return WholeFileFacts(
        streams=(*walk.streams(), *_inline_pictures(uses)),
        file_references=tuple(walk.references),
        collection=isinstance(entry(pdf.Root, "/Collection"), pikepdf.Dictionary),
        unread=walk.unread,
    )


def _contents_of(pages: Sequence[pikepdf.Dictionary]) -> dict[str, list[int]]:
    """The streams that are the content of pages, by object, with the numbers of the pages."""
    owners: dict[str, list[int]] = {}
    for number, page in enumerate(pages, start=1):
        for part in content_parts(entry(page, "/Contents")):
            key = identity(part)
            if key is not None:
                owners.setdefault(key, []).append(number)
    return owners


def _inline_pictures(uses: Sequence[Use]) -> Iterator[StreamFacts]:
    different: dict[tuple[str, ...], dict[int, None]] = {}
    for use in uses:
        if use.kind is UseKind.INLINE_IMAGE:
            chain = filters(use.value)
            if set(chain) - {"FlateDecode"}:
                different.setdefault(chain, {})[use.page] = None
    for chain, numbers in different.items():
        yield StreamFacts(None, StreamKind.INLINE_PICTURE, chain, pages=tuple(numbers))


@dataclass(slots=True)
class _ObjectWalk:
    """The way through the objects of one file, each looked at once."""

    pdf: pikepdf.Pdf
    contents: dict[str, list[int]]
    unread: str = ""
    references: list[FileReference] = field(default_factory=list)
    _streams: list[StreamFacts] = field(default_factory=list)
    _roles: dict[str, StreamKind] = field(default_factory=dict)

    def run(self) -> None:
        """Looks at all that can be reached from the trailer."""
        seen: set[tuple[int, int]] = set()
        waiting: deque[tuple[int, int]] = deque()
        self._look(self.pdf.trailer, self._written(self.pdf.trailer), seen, waiting)
        while waiting:
            if len(seen) > _OBJECTS or len(self._streams) + len(self.references) > _KEPT:
                self.unread = (
                    f"the file has more than {_OBJECTS:,} objects, and not all of them were looked at"
                    if len(seen) > _OBJECTS
                    else f"the file has more than {_KEPT:,} unusual streams and references to files"
                )
                return
            number, generation = waiting.popleft()
            try:
                value = self.pdf.get_object(number, generation)
            except READING_ERRORS:
                continue
            self._look(value, self._written(value), seen, waiting)

    def streams(self) -> Iterator[StreamFacts]:
        """The streams that were met, with what other objects tell of what they are."""
        for stream in self._streams:
            role = self._roles.get(stream.object or "")
            known = role is None or stream.kind is not StreamKind.OTHER
            yield stream if known else _as(stream, role)

    @staticmethod
    def _written(value: object) -> bytes:
        """The object as qpdf writes it; empty where that is impossible."""
        if not isinstance(value, pikepdf.Dictionary | pikepdf.Stream | pikepdf.Array):
            return b""
        try:
            if isinstance(value, pikepdf.Stream):
                return value.stream_dict.unparse(resolved=True)
            return value.unparse(resolved=True)
        except READING_ERRORS:
            return b""

    def _look(
        self, value: object, written: bytes, seen: set[tuple[int, int]], waiting: deque[tuple[int, int]]
    ) -> None:
        for match in _REFERENCE.finditer(written):
            key = (int(match[1]), int(match[2]))
            if key not in seen and key[0] < 2**31 and len(seen) <= _OBJECTS:
                seen.add(key)
                waiting.append(key)
        for pattern, kind in ((_FONT_PROGRAM, StreamKind.FONT), (_PROFILE, StreamKind.PROFILE)):
            for match in pattern.finditer(written):
                self._roles[f"{int(match[1])} {int(match[2])}"] = kind
        matters = _MATTERS.findall(written)
        if matters == [b"/Filter"] and _DEFLATED.search(written) and filters(value) == ("FlateDecode",):
            return
        if matters == [b"/Filter"] and isinstance(value, pikepdf.Stream):
            self._stream(value, identity(value))  # a picture, mostly: nothing within it names a file
        elif matters:
            self._inspect(value)

    def _inspect(self, value: object) -> None:
        """Reads an object and all that stands directly within it."""
        owner = identity(value)
        if isinstance(value, pikepdf.Stream):
            self._stream(value, owner)
        waiting, left = [value], _VALUES
        while waiting and left:
            part = waiting.pop()
            left -= 1
            if isinstance(part, pikepdf.Array):
                within = list(items(part, left))
            elif isinstance(part, pikepdf.Dictionary | pikepdf.Stream):
                self._reference(part, owner)
                within = [entry(part, key) for key in keys(part, left)]
            else:
                continue
            waiting += [each for each in within if identity(each) is None]

    def _stream(self, stream: pikepdf.Stream, owner: str | None) -> None:
        chain = filters(stream)
        outside = tuple(key for key in _OUTSIDE if self._moves(stream, key))
        if set(chain) <= {"FlateDecode"} and not outside:
            return
        numbers = tuple(self.contents.get(owner or "", ()))
        kind = StreamKind.CONTENT if numbers else _kind(stream)
        self._streams.append(StreamFacts(owner, kind, chain, outside, _deciphers(stream, chain), numbers))

    @staticmethod
    def _moves(stream: pikepdf.Stream, key: str) -> bool:
        """Whether an entry moves a stream's data elsewhere; F as a name is met for Filter, and moves none."""
        value = entry(stream, f"/{key}")
        return isinstance(value, pikepdf.String | pikepdf.Dictionary) if key == "F" else value is not None

    def _reference(self, part: object, owner: str | None) -> None:
        embedded = isinstance(entry(part, "/EF"), pikepdf.Dictionary)
        related = isinstance(entry(part, "/RF"), pikepdf.Dictionary)
        if not (embedded or related or name(entry(part, "/Type")) in _SPECIFICATION_TYPES):
            return
        names = (_file_name(entry(part, key)) for key in _NAMES)
        self.references.append(FileReference(next(filter(None, names), ""), embedded, owner))


def _file_name(value: object) -> str:
    return printable(text(value) or "")


def _as(stream: StreamFacts, kind: StreamKind | None) -> StreamFacts:
    return StreamFacts(
        stream.object, kind or stream.kind, stream.filters, stream.outside, stream.deciphered, stream.pages
    )


def _kind(stream: pikepdf.Stream) -> StreamKind:
    match name(entry(stream, "/Subtype")), name(entry(stream, "/Type")):
        case "Image", _:
            return StreamKind.PICTURE
        case "Form", _:
            return StreamKind.FORM
        case _, "Metadata":
            return StreamKind.METADATA
        case _, "EmbeddedFile":
            return StreamKind.ATTACHMENT
        case _:
            return StreamKind.OTHER


def _deciphers(stream: pikepdf.Stream, chain: tuple[str, ...]) -> bool:
    """Whether a Crypt filter deciphers: its name is not `Identity`, which is the default (7.4.10)."""
    given = entry(stream, "/DecodeParms")
    for place, each in enumerate(chain):
        if each == "Crypt":
            parameters = item(given, place) if isinstance(given, pikepdf.Array) else given
            if (name(entry(parameters, "/Name")) or "Identity") != "Identity":
                return True
    return False
