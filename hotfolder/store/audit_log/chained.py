r"""Files of chained records: one JSON object a line, each with the hash of the line before.

Which bytes are hashed: SHA-256 over the bytes of a line as they lie in the file, without the
newline that ends it. A record's `previous` is the hash of the record before it, sixty-four zeros in
the first. `step` counts the records of the file from 1.

A crash while a line is written can leave a part of it at the end of the file. The next append leaves those
bytes where they are, and closes them with a record `"event": "torn-line"` that has their SHA-256
(`torn_sha256`, newlines included) and is chained to the last whole record. A last line that only lacks its
newline is whole, and gets it.

A line is written in pure ASCII: bytes of a file name that are no UTF-8 stand as lone surrogates
(`\udcNN`, PEP 383).
"""

import hashlib
import json
from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from pathlib import Path
from typing import Final

from hotfolder.store.refusals import refusals
from hotfolder.store.writing import append

FIRST: Final = "0" * 64
_TAIL_BYTES: Final = 1 << 16

Json = str | int | float | bool | None | list["Json"] | dict[str, "Json"]


@dataclass(frozen=True, slots=True)
class Record:
    """One whole line: its number in the file, its content, its hash, and where it ends (bytes)."""

    line: int
    content: Mapping[str, Json]
    hash: str
    end: int

    @property
    def step(self) -> int:
        """The record's place in the chain."""
        return number_of(self.content, "step")

    @property
    def event(self) -> str:
        """What happened."""
        return text_of(self.content, "event")


@dataclass(frozen=True, slots=True)
class Broken:
    """A place where the chain does not hold, and how."""

    line: int
    what: str


@dataclass(frozen=True, slots=True)
class ChainReading:
    """All of a chained file. unfinished: the bytes of a last line that a crash cut short, not closed yet."""

    records: tuple[Record, ...]
    broken: tuple[Broken, ...]
    unfinished: bytes

    @property
    def last(self) -> Record | None:
        """The last whole record."""
        return self.records[-1] if self.records else None


def text_of(content: Mapping[str, Json], key: str) -> str:
    """The text under `key`, empty where there is none."""
    value = content.get(key)
    return value if isinstance(value, str) else ""


def number_of(content: Mapping[str, Json], key: str) -> int:
    """The whole number under `key`, 0 where there is none."""
    value = content.get(key)
    return value if isinstance(value, int) else 0


def line_hash(line: bytes) -> str:
    """The hash that the next record carries: over the line without its newline."""
    return hashlib.sha256(line).hexdigest()


def read_chain(path: Path) -> ChainReading:
    """Read and check `path`; an absent file is an empty chain."""
    with refusals("reading", path):
        try:
            content = path.read_bytes()
        except FileNotFoundError:
            content = b""
    return check_chain(content)


def check_chain(content: bytes) -> ChainReading:
    """The records in `content`, and every place where the chain does not hold.

    After a broken link the chain is followed from the record that stands there, so that one fault
    is named once.
    """
    records: list[Record] = []
    broken: list[Broken] = []
    gap: list[tuple[int, bytes]] = []  # lines since the last record that are none themselves
    end = 0
    for number, line in enumerate(_lines(content), 1):
        end += len(line)
        parsed = _parse(line)
        if parsed is None:
            gap.append((number, line))
            continue
        record = Record(number, parsed, line_hash(line.removesuffix(b"\n")), end)
        broken.extend(_check(record, records[-1] if records else None, gap))
        gap = []
        records.append(record)
    unfinished = b"".join(line for _, line in gap)
    if unfinished.endswith(b"\n"):
        broken.append(Broken(gap[0][0], "cannot be read as a record"))
    return ChainReading(tuple(records), tuple(broken), unfinished)


def _lines(content: bytes) -> list[bytes]:
    """The lines with their newlines; unlike `splitlines`, a carriage return ends none."""
    *whole, last = content.split(b"\n")
    return [line + b"\n" for line in whole] + ([last] if last else [])


def _parse(line: bytes) -> dict[str, Json] | None:
    try:
        parsed = json.loads(line)
    except (ValueError, RecursionError):
        return None
    whole = isinstance(parsed, dict) and isinstance(parsed.get("step"), int) and "previous" in parsed
    return parsed if whole else None


def _check(record: Record, before: Record | None, gap: list[tuple[int, bytes]]) -> Iterator[Broken]:
    if gap and not _closes(record, gap):
        yield Broken(gap[0][0], "cannot be read as a record")
    if text_of(record.content, "previous") != (before.hash if before else FIRST):
        yield Broken(record.line, "does not fit the line before it: one of the two was altered or is missing")
    elif record.step != (before.step if before else 0) + 1:
        yield Broken(record.line, f"is numbered {record.step}, out of order")


def _closes(record: Record, gap: list[tuple[int, bytes]]) -> bool:
    unfinished = b"".join(line for _, line in gap)
    return record.event == "torn-line" and record.content.get("torn_sha256") == line_hash(unfinished)


def seal(before: Record | None, content: Mapping[str, Json]) -> bytes:
    """The line, without newline, that carries `content` on after `before`."""
    head: dict[str, Json] = {
        "step": (before.step if before else 0) + 1,
        "previous": before.hash if before else FIRST,
    }
    return json.dumps({**head, **content}, ensure_ascii=True, allow_nan=False).encode("ascii")


def extend(path: Path, reading: ChainReading, content: Mapping[str, Json], at: str) -> Record:
    """Append `content` to the chain `path`, read as `reading`; the record that was written."""
    last = reading.last
    lines = b""
    if reading.unfinished:
        closed = reading.unfinished if reading.unfinished.endswith(b"\n") else reading.unfinished + b"\n"
        note: dict[str, Json] = {
            "at": at,
            "event": "torn-line",
            "torn_sha256": line_hash(closed),
            "torn_bytes": len(closed),
        }
        line = seal(last, note)
        lines = (b"" if reading.unfinished.endswith(b"\n") else b"\n") + line + b"\n"
        last = Record(0, note | {"step": (last.step if last else 0) + 1}, line_hash(line), 0)
    elif last is not None and _lacks_newline(path, last):
        lines = b"\n"
    line = seal(last, content)
    lines += line + b"\n"
    append(path, lines)
    return Record(0, {**content, "step": (last.step if last else 0) + 1}, line_hash(line), 0)


def _lacks_newline(path: Path, last: Record) -> bool:
    with refusals("reading", path), path.open("rb") as file:
        file.seek(max(0, last.end - 1))
        return file.read(1) != b"\n"


def read_end(path: Path) -> ChainReading:
    """The last whole record of `path` and the unfinished line behind it, without reading all of a long file.

    `broken` is not judged, and `line` is counted from where reading began.
    """
    with refusals("reading", path):
        try:
            size = path.stat().st_size
        except FileNotFoundError:
            return ChainReading((), (), b"")
        length = _TAIL_BYTES
        while True:
            start = max(0, size - length)
            with path.open("rb") as file:
                file.seek(start)
                content = file.read()
            # What stands before the first newline may be the end of a line that began earlier.
            skipped = 0 if start == 0 else content.find(b"\n") + 1
            reading = check_chain(content[skipped:])
            if start == 0 or (skipped and reading.records):
                break
            length *= 4
    last = reading.last
    if last is None:
        return ChainReading((), (), reading.unfinished)
    shifted = Record(last.line, last.content, last.hash, last.end + start + skipped)
    return ChainReading((shifted,), (), reading.unfinished)
