# Damaged, hostile and odd content: it is survived, told, and what can be read is read.

import base64
import time
import zlib
from dataclasses import replace

import pikepdf
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from pikepdf import Array, Name

from hotfolder.model.facts import ProblemKind
from hotfolder.model.geometry import Box
from hotfolder.pdf.content import content as content_module
from hotfolder.pdf.content import ledger as ledger_module
from hotfolder.pdf.content.interpret import DocumentBudget, interpret_page
from hotfolder.pdf.content.operators.table import OPERATORS
from hotfolder.pdf.content.readers import Readers
from hotfolder.pdf.document.optional_content import Layers
from hotfolder.pdf.fonts.fonts import FontReader
from hotfolder.pdf.objects.deadline import Deadline
from hotfolder.pdf.objects.limits import NESTING
from tests.pdf.drawn_page import Drawn, corners, kinds, only, read

_BOX = b" 10 10 20 20 re f "


@pytest.mark.parametrize(
    "junk",
    [
        b"/Nope Do", b"(text) w", b"1 cm", b"re", b"1 2 3 re", b"zz", b"/X /Y /Z re", b"null null m",
        b"[ 1 2 ] 4 4 l", b"<< /A 1 >> gs", b"1 2 ) rg", b"\x80\x81\xff", b"BI ID x EI",
        b"/Nope scn", b"/Nope cs", b"/Nope sh", b"(x) Tj", b"() '", b"9999999999999999999999999 w",
        b"/OC /Nope BDC", b"0 0 0 0 0 0 0 0 0 0 0 0 zz", b"[(a) (b)] Tj", b"(a) TJ",
    ],
)  # fmt: skip
def test_junk_is_left_out_and_told(junk: bytes) -> None:
    page = read(junk + _BOX)
    assert corners(only(page).box) == (10, 10, 30, 30)
    assert ProblemKind.DAMAGED in kinds(page)


@pytest.mark.parametrize("content", [b"", b"   \n", b"% a remark", b"q Q", b"EMC"])
def test_a_page_may_be_empty(content: bytes) -> None:
    page = read(content)
    assert page.marks == ()
    assert set(kinds(page)) <= {ProblemKind.NOTE}


def test_a_page_without_contents_is_empty() -> None:
    drawn = Drawn()
    del drawn.page.obj["/Contents"]
    assert drawn.read_as_is().marks == ()
    assert drawn.read_as_is().problems == ()


@pytest.mark.parametrize(
    ("spelled", "meant"),
    [(b"--10", -10.0), (b"10.5.7", 10.5), (b"10.-5", 10.0), (b"-", 0.0), (b"+-4", -4.0)],
)
def test_broken_numbers_are_read_as_far_as_they_go(spelled: bytes, meant: float) -> None:
    page = read(spelled + b" 10 20 20 re f")
    # How far readers go is common practice; the standard does not say.
    assert only(page).box.x0 == pytest.approx(meant)


def test_letters_after_a_number_are_an_operator() -> None:
    assert corners(only(read(b"10 20 20 20re f")).box) == (10, 20, 30, 40)
    assert kinds(read(b"q 1w 10 20 20 20re f Q")) == []


@pytest.mark.parametrize("word", [b"1e3", b"5x", b"-x"])
def test_letters_after_a_number_that_are_no_operator_are_told(word: bytes) -> None:
    page = read(word + b" 10 20 20 re f" + _BOX)
    assert len(page.marks) == 1
    assert kinds(page) == [ProblemKind.DAMAGED] * 2  # the word, and the rectangle that lacks a number


def test_many_broken_numbers_take_no_longer_than_others() -> None:
    began_s = time.process_time()
    page = read(b"--5 " * 50_000 + _BOX)
    assert time.process_time() - began_s < 10  # seconds; copied each time, they took minutes
    assert kinds(page) == [ProblemKind.DAMAGED]


def test_unknown_instructions_in_a_compatibility_section_are_meant_so() -> None:
    assert kinds(read(b"BX 1 2 unheard EX" + _BOX)) == []
    assert kinds(read(b"BX EX unheard" + _BOX)) == [ProblemKind.DAMAGED]


@pytest.mark.parametrize("tail", [b"10 10 20", b"[(abc) 20", b"(abc", b"<< /A 1"])
def test_content_that_breaks_off_is_told(tail: bytes) -> None:
    page = read(_BOX + tail)
    assert len(page.marks) == 1
    assert kinds(page) == [ProblemKind.DAMAGED]


def test_an_inline_image_without_an_end_takes_what_follows_with_it() -> None:
    page = read(_BOX + b"BI /W 1 /H 1 /BPC 8 /CS /G ID xxxx 0 0 5 5 re f")
    assert len(page.marks) == 1
    assert kinds(page) == [ProblemKind.UNREADABLE]


def test_the_same_trouble_is_told_once_with_its_count() -> None:
    page = read(b"zz " * 7 + _BOX)
    assert len(page.problems) == 1
    assert page.problems[0].what.endswith("(7 times)")


def test_several_content_streams_are_one() -> None:
    drawn = Drawn()
    parts = [b"q 2 0 0 2", b"0 0 cm 10 10 20", b"20 re f Q"]
    drawn.page.obj.Contents = Array([drawn.pdf.make_stream(part) for part in parts])
    mark = only(drawn.read_as_is())
    assert corners(mark.box) == (20, 20, 60, 60)
    first = drawn.page.obj.Contents[0].objgen
    assert (mark.source.object, mark.source.index) == (f"{first[0]} {first[1]}", 3)


@pytest.mark.parametrize("filter_", [Name.FlateDecode, Name.LZWDecode, Name.ASCII85Decode, Name.Unheard])
def test_one_part_that_cannot_be_decoded_is_told_and_the_others_are_read(filter_: Name) -> None:
    drawn = Drawn()
    broken = drawn.pdf.make_stream(b"")
    broken.write(b"\x00A\x00~~zz~", filter=filter_)
    drawn.page.obj.Contents = Array([drawn.pdf.make_stream(_BOX), broken, drawn.pdf.make_stream(_BOX)])
    page = drawn.read_as_is()
    assert len(page.marks) == 2
    assert kinds(page) == [ProblemKind.UNREADABLE]


_MANY = b"".join(b"%d %d 20 20 re f\n" % (number * 7 % 251, number * 13 % 257) for number in range(2000))


def _broken(data: bytes) -> bytes:
    """Deflated `data` with a stretch in the middle overwritten."""
    whole = zlib.compress(data)
    middle = len(whole) // 2
    return whole[:middle] + b"\xff" * 40 + whole[middle + 40 :]


def _stream(drawn: Drawn, data: bytes, *filters: Name) -> pikepdf.Stream:
    made = drawn.pdf.make_stream(b"")
    made.write(data, filter=Array(filters))
    return made


@pytest.mark.parametrize("text", [False, True])
def test_what_stands_before_a_break_in_compressed_content_is_read(text: bool) -> None:  # noqa: FBT001 - both ways
    drawn = Drawn()
    broken = _broken(_MANY)
    filters = [Name.FlateDecode]
    if text:
        broken, filters = base64.a85encode(broken) + b"~>", [Name.ASCII85Decode, Name.FlateDecode]
    drawn.page.obj.Contents = _stream(drawn, broken, *filters)
    found, whole = drawn.read_as_is(), read(_MANY)
    assert 500 < len(found.marks) < 2000
    assert found.marks[:500] == tuple(
        replace(mark, source=replace(mark.source, object=found.marks[0].source.object))
        for mark in whole.marks[:500]
    )
    assert ProblemKind.DAMAGED in kinds(found)
    assert ProblemKind.UNREADABLE not in kinds(found)


def test_a_wrong_checksum_at_the_end_loses_nothing() -> None:
    # The data are whole; readers in use do not look at the sum.
    drawn = Drawn()
    drawn.page.obj.Contents = _stream(drawn, zlib.compress(_MANY)[:-4] + b"\0\0\0\0", Name.FlateDecode)
    page = drawn.read_as_is()
    assert len(page.marks) == 2000
    assert kinds(page) == []


def test_instructions_that_go_on_from_one_part_to_the_next_survive_a_break_in_a_third() -> None:
    drawn = Drawn()
    parts = [b"q 2 0 0 2", b"0 0 cm 10 10 20", b"20 re f Q "]
    drawn.page.obj.Contents = Array(
        [*(drawn.pdf.make_stream(part) for part in parts), _stream(drawn, _broken(_MANY), Name.FlateDecode)]
    )
    page = drawn.read_as_is()
    assert corners(page.marks[0].box) == (20, 20, 60, 60)
    assert len(page.marks) > 500
    assert page.problems[0].kind is ProblemKind.DAMAGED


def test_what_stands_before_a_break_in_a_form_is_read() -> None:
    drawn = Drawn()
    form = drawn.form(b"")
    form.write(_broken(_MANY), filter=Name.FlateDecode)
    drawn.resource("XObject", "F", form)
    page = drawn.read(b"/F Do 0 0 5 5 re f")
    assert corners(page.marks[-1].box) == (0, 0, 5, 5)
    assert len(page.marks) > 500
    assert ProblemKind.DAMAGED in kinds(page)


def test_broken_content_whose_bytes_are_differences_is_not_guessed_at() -> None:
    drawn = Drawn()
    broken = _stream(drawn, _broken(_MANY), Name.FlateDecode)
    broken.DecodeParms = pikepdf.Dictionary(Predictor=12, Columns=5)
    drawn.page.obj.Contents = broken
    page = drawn.read_as_is()
    assert page.marks == ()
    assert kinds(page) == [ProblemKind.UNREADABLE]


def test_compressed_content_that_is_cut_off_is_told() -> None:
    drawn = Drawn()
    whole = zlib.compress(b"".join(b"%d %d 20 20 re f\n" % (i * 7 % 251, i * 13 % 257) for i in range(500)))
    cut = drawn.pdf.make_stream(b"")
    cut.write(whole[: len(whole) // 2], filter=Name.FlateDecode)
    drawn.page.obj.Contents = cut
    page = drawn.read_as_is()
    assert 0 < len(page.marks) < 500
    assert ProblemKind.DAMAGED in kinds(page)


@pytest.mark.parametrize("junk", [pikepdf.String("text"), Array([1, Name.A]), pikepdf.Dictionary(A=1)])
def test_contents_that_are_no_streams_are_told(junk: pikepdf.Object) -> None:
    drawn = Drawn()
    drawn.page.obj.Contents = junk
    page = drawn.read_as_is()
    assert page.marks == ()
    assert kinds(page) == [ProblemKind.DAMAGED]


def test_a_stream_that_unpacks_beyond_measure_is_not_unpacked(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(content_module, "DECODED_BYTES_PER_STREAM", 10_000)
    drawn = Drawn()
    bomb = drawn.pdf.make_stream(b"")
    bomb.write(zlib.compress(b"0 0 1 1 re f " * 1000), filter=Name.FlateDecode)
    drawn.page.obj.Contents = bomb
    page = drawn.read_as_is()
    assert page.marks == ()
    assert kinds(page) == [ProblemKind.LIMIT]


@pytest.mark.parametrize(
    ("limit", "value", "content"),
    [
        ("OPERATORS_PER_PAGE", 10, _BOX * 20),
        ("MARKS_PER_PAGE", 5, _BOX * 20),
    ],
)
def test_a_limit_keeps_what_was_found_and_is_told(
    monkeypatch: pytest.MonkeyPatch, limit: str, value: int, content: bytes
) -> None:
    monkeypatch.setattr(ledger_module, limit, value)
    page = read(content)
    assert len(page.marks) == 5
    assert kinds(page) == [ProblemKind.LIMIT]


def test_a_limit_reached_inside_a_form_ends_the_page(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(ledger_module, "OPERATORS_PER_PAGE", 100)
    drawn = Drawn()
    drawn.resource("XObject", "X", drawn.form(_BOX * 40))
    page = drawn.read(b"/X Do /X Do" + _BOX)
    assert len(page.marks) == 49
    assert kinds(page) == [ProblemKind.LIMIT]


def test_forms_in_forms_are_read_to_a_depth() -> None:
    drawn = Drawn()
    inner = drawn.form(_BOX)
    for _ in range(NESTING + 5):
        inner = drawn.form(b"/X Do", Resources=pikepdf.Dictionary(XObject=pikepdf.Dictionary(X=inner)))
    drawn.resource("XObject", "X", inner)
    page = drawn.read(_BOX + b"/X Do")
    assert len(page.marks) == 1
    assert kinds(page) == [ProblemKind.LIMIT]


def test_forms_in_forms_below_the_depth_are_all_read() -> None:
    drawn = Drawn()
    inner = drawn.form(_BOX)
    for _ in range(NESTING - 1):
        inner = drawn.form(b"/X Do", Resources=pikepdf.Dictionary(XObject=pikepdf.Dictionary(X=inner)))
    drawn.resource("XObject", "X", inner)
    page = drawn.read(b"/X Do")
    assert len(page.marks) == 1
    assert page.problems == ()


_WORDS = st.sampled_from(
    [*OPERATORS, "0", "1", "-3.5", "1e9", "/A", "/OC", "(x)", "[", "]", "<<", ">>", "<41>", "ID "]
)


@settings(max_examples=300, deadline=None)
@given(st.lists(_WORDS, max_size=60))
def test_no_order_of_words_raises(words: list[str]) -> None:
    for mark in read(" ".join(words).encode()).marks:
        assert mark.box.x0 <= mark.box.x1
        assert mark.box.y0 <= mark.box.y1


@settings(max_examples=200, deadline=None)
@given(st.binary(max_size=200))
def test_no_bytes_raise(data: bytes) -> None:
    page = read(data)
    assert all(problem.where == "pages[1].marks" for problem in page.problems)


def test_reading_a_page_stops_when_the_time_for_the_file_is_over() -> None:
    drawn = Drawn()
    drawn.page.obj.Contents = drawn.pdf.make_stream(_BOX * 3000)
    over = DocumentBudget(deadline=Deadline(seconds=12, until=0.0))
    media = Box(0.0, 0.0, 300.0, 400.0)
    found = interpret_page(drawn.page.obj, 1, 1.0, media, Readers(FontReader(), Layers(drawn.pdf)), over)
    assert 0 < len(found.marks) < 3000
    told = [problem.what for problem in found.problems if problem.kind is ProblemKind.LIMIT]
    assert told == ["reading stopped after 12 s of processor time for the whole file"]
