# Conforming files, of the bases and of independent producers, changed in some hundred ways: what breaks is
# told by the requirement that it breaks, and what harms nothing is told of nothing.
from collections.abc import Iterator, Mapping
from functools import cache
from io import BytesIO
from pathlib import Path
from types import ModuleType

import pikepdf
import pytest
from _pytest.mark import ParameterSet

from hotfolder.checks.shared.pdfx_levels import Level
from tests.checks.pdf.pdfx.bases import base, saved
from tests.checks.pdf.pdfx.drawing import with_nulls
from tests.checks.pdf.pdfx.judged import broken, judged, left_open
from tests.checks.pdf.pdfx.mutations import (
    colours,
    deep,
    fonts,
    graphics,
    information,
    inks,
    intent,
    of_producers,
    pages,
    pictures,
    structure,
    subtle,
    two_faults,
)  # fmt: skip
from tests.checks.pdf.pdfx.mutations.mutation import Mutation
from tests.producers.pdfx.archive import unpacked

TOPICS: tuple[ModuleType, ...] = (
    colours, deep, fonts, graphics, information, inks, intent, of_producers, pages, pictures, structure,
    subtle,
    two_faults,
)  # fmt: skip
MUTATIONS: tuple[tuple[str, Mutation], ...] = tuple(
    (topic.__name__.rpartition(".")[2], each) for topic in TOPICS for each in topic.MUTATIONS
)


PAIRS = ((Level.X1A_2001, Level.X1A_2003), (Level.X3_2002, Level.X3_2003), (Level.X4, Level.X4P))


@cache
def _untouched(level: Level) -> bytes:
    return saved(base(level), level)


@pytest.fixture(scope="module")
def produced(tmp_path_factory: pytest.TempPathFactory) -> Mapping[str, bytes]:
    return {path.stem: path.read_bytes() for path in unpacked(tmp_path_factory.mktemp("producers"))}


def _of_producer(mutation: Mutation, before: bytes) -> bytes:
    with pikepdf.open(BytesIO(before)) as pdf:
        version = pdf.pdf_version
        mutation.edit(pdf)
        out = BytesIO()
        pdf.save(
            out,
            force_version=version,
            object_stream_mode=pikepdf.ObjectStreamMode.preserve,
            compress_streams=False,
            stream_decode_level=pikepdf.StreamDecodeLevel.none,
            fix_metadata_version=False,
        )
    return mutation.afterwards(out.getvalue())


def _of_base(mutation: Mutation, level: Level) -> bytes:
    pdf = base(level)
    mutation.edit(pdf)
    return mutation.afterwards(with_nulls(saved(pdf, level)))


def _levels(mutation: Mutation, turn: int) -> Iterator[Level]:
    """The levels to try: of two that differ by a year or a p alone, and expect the same, one in turn."""
    for pair in PAIRS:
        levels = [level for level in pair if level in mutation.expects]
        same = len({mutation.expects[level] for level in levels}) == 1
        yield from levels[turn % len(levels) :][:1] if same else levels


def _trials() -> Iterator[ParameterSet]:
    for turn, (topic, mutation) in enumerate(MUTATIONS):
        for level in _levels(mutation, turn):
            marks = [pytest.mark.xfail(reason=mutation.open, strict=True)] if mutation.open else []
            yield pytest.param(
                mutation, level, marks=marks, id=f"{topic}: {mutation.producer} {mutation.name} ({level})"
            )


@pytest.mark.parametrize(("mutation", "level"), list(_trials()))
def test_a_changed_file_breaks_what_the_standard_says_and_no_more(
    mutation: Mutation, level: Level, produced: Mapping[str, bytes], tmp_path: Path
) -> None:
    before = produced[mutation.producer] if mutation.producer else _untouched(level)
    after = _of_producer(mutation, before) if mutation.producer else _of_base(mutation, level)
    assert after != before
    conformance = judged(after, level, tmp_path)
    assert set(broken(conformance)) == mutation.expects[level]
    if not mutation.expects[level]:
        assert left_open(conformance) == []


def test_the_mutations_are_many_of_both_kinds_at_each_level_and_named_apart() -> None:
    names = [(topic, mutation.producer, mutation.name) for topic, mutation in MUTATIONS]
    assert len(names) == len(set(names))
    assert len(names) >= 300
    for level in Level:
        verdicts = [mutation.expects[level] for _, mutation in MUTATIONS if level in mutation.expects]
        assert sum(1 for verdict in verdicts if verdict) >= 100
        assert sum(1 for verdict in verdicts if not verdict) >= 50
