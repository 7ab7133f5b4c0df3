# Words are compared soundly: text that lies a little elsewhere for us is seen, however it is parted into
# runs and words, and none of the known reasons excuses it.
from collections.abc import Callable
from dataclasses import replace
from pathlib import Path

import pikepdf
import pytest

from hotfolder.measure import measure
from hotfolder.model.artwork import Artwork
from hotfolder.model.geometry import Box
from hotfolder.model.marks import Mark
from tests.reference.facts import Comparison, Difference, Kind
from tests.reference.glyphs import caught_runs
from tests.reference.pdf import compare_pdf

pytestmark = pytest.mark.usefixtures("tools")

WORDS = {Kind.WORD, Kind.WORD_HEIGHT, Kind.TEXT_SEEN}
TWO_RUNS = b"BT /F 24 Tf 40 100 Td (Harbour f) Tj (estival 30) Tj ET"


@pytest.fixture
def poster(tmp_path: Path) -> Callable[..., Path]:
    """Makes a page of 400 by 300 points with that content, a form field, and further entries."""

    def made(
        content: bytes, field: pikepdf.Dictionary | None = None, **entries: pikepdf.Object | float
    ) -> Path:
        path = tmp_path / "poster.pdf"
        with pikepdf.new() as pdf:
            page = pdf.add_blank_page(page_size=(400, 300))
            font = pikepdf.Dictionary(
                Type=pikepdf.Name.Font, Subtype=pikepdf.Name.Type1, BaseFont=pikepdf.Name.Helvetica
            )
            page.obj.Resources = pikepdf.Dictionary(Font=pikepdf.Dictionary(F=pdf.make_indirect(font)))
            page.obj.Contents = pdf.make_stream(content)
            for name, value in entries.items():
                page.obj[f"/{name}"] = value
            if field is not None:
                fields = pikepdf.Array([pdf.make_indirect(field)])
                page.obj.Annots, pdf.Root.AcroForm = fields, pikepdf.Dictionary(Fields=fields)
            pdf.save(path)
        return path

    return made


def compared(path: Path, change: Callable[[Mark], Mark | None] = lambda mark: mark) -> Comparison:
    """The comparison of a file whose marks are changed first; None leaves one out."""
    with caught_runs() as runs:
        artwork = measure(path)
    return compare_pdf(path, with_marks(artwork, change), runs)


def with_marks(artwork: Artwork, change: Callable[[Mark], Mark | None]) -> Artwork:
    def changed(marks: tuple[Mark, ...]) -> tuple[Mark, ...]:
        return tuple(new for mark in marks if (new := change(mark)) is not None)

    pages = (replace(page, marks=changed(page.known_marks)) for page in artwork.known_pages)
    return replace(artwork, pages=tuple(pages))


def disagreeing(comparison: Comparison) -> list[tuple[Kind, Difference | None]]:
    found = ((fact.kind, fact.difference) for fact in comparison.facts if fact.kind in WORDS)
    return sorted(found, key=str)


def test_words_agree_over_the_ends_of_runs(poster: Callable[..., Path]) -> None:
    comparison = compared(poster(TWO_RUNS))
    assert disagreeing(comparison) == []
    # `Harbour`, `festival` and `30`; two runs.
    assert {kind: comparison.agreeing[kind] for kind in WORDS} == {
        Kind.WORD: 3, Kind.WORD_HEIGHT: 3, Kind.TEXT_SEEN: 2,
    }  # fmt: skip


@pytest.mark.parametrize("turn", [0, 90, 180, 270])
@pytest.mark.parametrize(
    "matrix", [b"1 0 0 1 90 80", b"0 1 -1 0 90 80", b"-1 0 0 -1 290 80", b"0 -1 1 0 90 280"]
)
def test_words_agree_on_pages_and_lines_that_are_turned(
    poster: Callable[..., Path], matrix: bytes, turn: int
) -> None:
    content = b"BT /F 20 Tf " + matrix + b" Tm 2 Tc 80 Tz [(Qu) 200 (ay) -900 (Side)] TJ ET"
    comparison = compared(
        poster(content, Rotate=turn, UserUnit=2, MediaBox=pikepdf.Array([10, 20, 400, 300]))
    )
    assert disagreeing(comparison) == []
    assert comparison.agreeing[Kind.WORD] == 2


def moved(x: float, y: float) -> Callable[[Mark], Mark]:
    def change(mark: Mark) -> Mark:
        box = mark.box
        return replace(mark, box=Box(box.x0 + x, box.y0 + y, box.x1 + x, box.y1 + y))

    return change


def grown(left: float = 0, bottom: float = 0, right: float = 0, top: float = 0) -> Callable[[Mark], Mark]:
    def change(mark: Mark) -> Mark:
        box = mark.box
        return replace(mark, box=Box(box.x0 - left, box.y0 - bottom, box.x1 + right, box.y1 + top))

    return change


@pytest.mark.parametrize(
    ("change", "kinds"),
    [
        (moved(0.6, 0), [Kind.WORD] * 3),
        (moved(-0.6, 0), [Kind.WORD] * 3),
        (moved(0, 0.6), [Kind.WORD_HEIGHT] * 3),
        (grown(left=0.6), [Kind.WORD]),
        (grown(right=0.6), [Kind.WORD]),
        (grown(right=-0.6), [Kind.WORD]),
        (grown(top=0.6), [Kind.WORD_HEIGHT] * 3),
        (grown(bottom=-0.6), [Kind.WORD_HEIGHT] * 3),
        (lambda mark: None if mark.source.index == 3 else mark, [Kind.WORD] * 2),
        (lambda mark: replace(mark, printed=False), [Kind.WORD] * 3),
        (moved(0, 200), [Kind.TEXT_SEEN] * 2 + [Kind.WORD] * 3),
        (moved(0.4, 0.4), []),  # within the tolerance
    ],
)
def test_text_that_lies_elsewhere_is_seen(
    poster: Callable[..., Path], change: Callable[[Mark], Mark | None], kinds: list[Kind]
) -> None:
    found = disagreeing(compared(poster(TWO_RUNS), change))
    assert found == sorted(((kind, None) for kind in kinds), key=str)


def test_a_letter_of_another_width_is_seen(poster: Callable[..., Path]) -> None:
    # Poppler gets to read letters that are a twelfth of a point wider each than those that we measured.
    path = poster(b"BT /F 24 Tf 40 100 Td (Harbour) Tj ET")
    with caught_runs() as runs:
        artwork = measure(path)
    comparison = compare_pdf(poster(b"BT /F 24 Tf 0.1 Tc 40 100 Td (Harbour) Tj ET"), artwork, runs)
    assert disagreeing(comparison) == [(Kind.WORD, None)]


def test_text_at_an_angle_is_named_and_no_excuse_for_other_text(poster: Callable[..., Path]) -> None:
    oblique = b" BT /F 24 Tf 0.87 0.5 -0.5 0.87 200 160 Tm (Regatta) Tj ET"
    path = poster(TWO_RUNS + oblique)
    assert {difference for _, difference in disagreeing(compared(path))} == {Difference.OBLIQUE}
    shifted = compared(path, lambda mark: moved(0.6, 0)(mark) if mark.source.index in {3, 4} else mark)
    assert [kind for kind, difference in disagreeing(shifted) if difference is None] == [Kind.WORD] * 3


def test_text_that_a_span_stands_for_is_named_and_no_excuse_for_other_text(
    poster: Callable[..., Path],
) -> None:
    span = b" /Span << /ActualText (Pier) >> BDC BT /F 24 Tf 40 200 Td ( ) Tj ET EMC"
    path = poster(TWO_RUNS + span)
    assert disagreeing(compared(path)) == [(Kind.WORD, Difference.ACTUAL_TEXT)]
    shifted = disagreeing(compared(path, moved(0.6, 0)))
    assert shifted.count((Kind.WORD, None)) == 3


@pytest.mark.parametrize(("flags", "reason"), [(0, Difference.SCREEN_ONLY), (4, Difference.REDRAWN_FIELD)])
def test_a_field_without_looks_is_named(poster: Callable[..., Path], flags: int, reason: Difference) -> None:
    field = pikepdf.Dictionary(
        Type=pikepdf.Name.Annot,
        Subtype=pikepdf.Name.Widget,
        FT=pikepdf.Name.Tx,
        T=pikepdf.String("quay"),
        V=pikepdf.String("Jetty"),
        DA=pikepdf.String("/Helv 12 Tf 0 g"),
        Rect=pikepdf.Array([40, 200, 200, 220]),
        F=flags,
    )
    path = poster(TWO_RUNS, field)
    assert disagreeing(compared(path)) == [(Kind.WORD, reason)]
