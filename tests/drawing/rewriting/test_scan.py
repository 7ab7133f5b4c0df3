# Content streams cut into runs and instructions (ISO 32000-2, 7.2 and 7.3): nothing is lost, nothing torn.
import re
import time
import tracemalloc

import pikepdf
import pytest
from hypothesis import given
from hypothesis import strategies as st

from hotfolder.drawing.rewriting.operators.table import COPIED, LEFT_OUT, OPERATORS
from hotfolder.drawing.rewriting.scan import (
    CAREFUL_RUN,
    RUN,
    TEXT_RUN,
    Scan,
    has_operands,
    last_name,
    names_in,
    numbers_in,
    operands_in,
    path_at_end,
)
from hotfolder.pdf.content.operators.table import OPERATORS as ALL_OPERATORS

Cut = list[tuple[bytes, bytes]]


def cut(data: bytes, *, careful: bool = False) -> tuple[list[bytes], Cut]:
    """Runs and instructions in the order of their kind."""
    scan = Scan(data)
    runs: list[bytes] = []
    instructions: Cut = []
    while True:
        run = scan.run(CAREFUL_RUN if careful else RUN)
        if run:
            runs.append(run)
        instruction = scan.instruction()
        if instruction is None:
            return runs, instructions
        instructions.append(instruction)


def operators(data: bytes) -> list[bytes]:
    """All operators, one by one."""
    scan, found = Scan(data), []
    while (instruction := scan.instruction()) is not None:
        found.append(instruction[1])
    return found


def test_every_operator_of_the_standard_has_its_place() -> None:
    # The other table holds those of Annex A, as a test of its own says.
    assert {name.encode() for name in ALL_OPERATORS} == OPERATORS.keys()
    assert not set(COPIED) & set(LEFT_OUT)


def test_what_is_drawn_alike_is_one_run() -> None:
    path = b"10 10 m 20 -20.5 l .5 1 2 3 4 5 c h\nf*"
    runs, instructions = cut(path + b" 1 0 0 0 k 0 0 m 5 5 l S")
    assert runs == [path, b" 0 0 m 5 5 l S"]
    assert instructions == [(b" 1 0 0 0 ", b"k")]


def test_a_careful_run_stops_before_paint() -> None:
    runs, instructions = cut(b"0 0 m 5 5 l S (a) Tj", careful=True)
    assert runs == [b"0 0 m 5 5 l"]
    assert [operator for _, operator in instructions] == [b"S", b"Tj"]


@pytest.mark.parametrize(
    "text",
    [
        b"(plain)",
        b"(a \\) b \\( c)",
        b"(a (nested (twice)) b)",
        b"(((((deeper than the patterns go)))))",
        b"(f k S \\\\)",
        b"<0a0B>",
        b"[(a) -250 (S) <20>]",
    ],
)
def test_strings_hide_what_looks_like_an_operator(text: bytes) -> None:
    _, instructions = cut(b"BT " + text + b" TJ ET 1 g")
    assert [operator for _, operator in instructions][-1] == b"g"
    assert operators(b"BT " + text + b" TJ ET 1 g") == [b"BT", b"TJ", b"ET", b"g"]


def test_comments_are_no_instructions() -> None:
    assert operators(b"0 0 m % 5 5 l S\r1 1 l %k\nS") == [b"m", b"l", b"S"]


def test_dictionaries_are_operands() -> None:
    _, instructions = cut(b"/Span <</ActualText (f) /Deep <</A [1 2]>> /B true>> BDC EMC")
    assert [operator for _, operator in instructions] == [b"BDC", b"EMC"]


def test_stray_brackets_are_stepped_over() -> None:
    scan = Scan(b"1 0 ) 0 0 k } 0.5 g")
    found = []
    while (instruction := scan.instruction()) is not None:
        found.append(instruction)
    assert found == [(b"  0 0 ", b"k"), (b"  0.5 ", b"g")]


@pytest.mark.parametrize(
    ("written", "read"),
    [
        (b" 1 -2.5 .5 +3 4. ", [1, -2.5, 0.5, 3, 4]),
        (b"--3 1.2.3 4-5", [-3, 1.2, 4]),
        (b"/Name 0.5", [0.5]),
        (b"1 2 true", [1, 2]),
    ],
)
def test_numbers_are_read_as_renderers_read_them(written: bytes, read: list[float]) -> None:
    assert numbers_in(written) == read


@pytest.mark.parametrize(
    ("written", "handed_over"),
    [
        (b"+-5 --5.25 m", (b"-5.000000 -5.250000 ", b"m")),
        (b"1.5.2 . l", (b"1.500000 0.000000 ", b"l")),
        (b"[(a--5) --5 <4-> 4.] TJ", (b"[(a--5) -5.000000 <4-> 4.] ", b"TJ")),
        (b"/A--5 5-3 scn", (b"/A--5 5.000000 ", b"scn")),
        (b"-1 +2 .5 4. -.5 1 c", (b"-1 +2 .5 4. -.5 1 ", b"c")),
    ],
)
def test_broken_numbers_are_written_as_they_are_read_and_others_left_as_they_are(
    written: bytes, handed_over: tuple[bytes, bytes]
) -> None:
    assert Scan(written).instruction() == handed_over


@pytest.mark.parametrize("kind", [RUN, TEXT_RUN, CAREFUL_RUN])
def test_what_has_a_broken_number_is_not_copied_as_it_stands(kind: re.Pattern[bytes]) -> None:
    scan = Scan(b"1 2 m 3 4 l 5 --6 l 7 8 l")
    assert scan.run(kind) == b"1 2 m 3 4 l"
    assert scan.instruction() == (b" 5 -6.000000 ", b"l")
    assert scan.run(kind) == b" 7 8 l"


@pytest.mark.parametrize(
    ("written", "operands"),
    [
        (b" 1 -2.5/A ", [b"1", b"-2.5", b"/A"]),
        (b"/Span<</A [(b) <20>] /C<</D 1>>>>", [b"/Span", b"<</A [(b) <20>] /C<</D 1>>>>"]),
        (b"[(a)-5 (b)]0 % 1 [2\n(c [)", [b"[(a)-5 (b)]", b"0", b"(c [)"]),
        (b"] 1 [2", [b"]", b"1"]),
        (b"", []),
    ],
)
def test_operands_are_told_apart(written: bytes, operands: list[bytes]) -> None:
    assert operands_in(written) == operands


@pytest.mark.parametrize(
    ("written", "operator", "enough"),
    [
        (b"", b"h", True),
        (b" 1 ", b"w", True),
        (b" % 1\n", b"w", False),
        (b"/A/B", b"BDC", True),
        (b"(a b)", b"BDC", False),
        (b"1 2 (a)", b'"', True),
        (b"[1 2]", b"d", False),
        (b"1 2 3 4 5", b"cm", False),
    ],
)
def test_operands_are_counted(written: bytes, operator: bytes, *, enough: bool) -> None:
    assert has_operands(written, operator) is enough


@pytest.mark.parametrize(
    "instruction",
    [b"5 l", b"3 4l", b"1 2 3 l", b"/A 5 6 l", b"1 2 3 4 c", b"(a) Tj Tj", b"0 d", b"[1] d", b"5 h"],
)
@pytest.mark.parametrize("kind", [RUN, TEXT_RUN, CAREFUL_RUN])
def test_a_run_holds_only_what_has_the_operands_that_it_takes(
    kind: re.Pattern[bytes], instruction: bytes
) -> None:
    sound = b"1 2 m 3 4 5 6 7 8 c [1 2] 0 d W n 1 2 Td T*"
    scan = Scan(sound + b" " + instruction + b" " + sound)
    copied = scan.run(kind)
    assert copied.removesuffix(b" (a) Tj") == sound


def test_names_are_read_with_their_escapes() -> None:
    assert list(names_in(b"/A#20B /C 1")) == ["A B", "C"]
    assert last_name(b"0.5 /Pattern#231") == "Pattern#1"
    assert last_name(b"0.5") is None


@pytest.mark.parametrize("text", [b"(ab", b"(a(b)", b"(a\\", b"(((((a"])
def test_a_string_without_end_holds_the_rest(text: bytes) -> None:
    scan = Scan(b"1 g " + text + b" 0 0 m f")
    assert scan.instruction() == (b"1 ", b"g")
    assert scan.instruction() is None


@pytest.mark.parametrize(
    "data",
    [
        b"1 " * 300_000,
        b"(" + rb"\a" * 100_000,
        b"(a" * 50_000,
        b"[" + b"(a)" * 100_000 + b" TJ",
        b"[ " * 100_000 + b"S",
        b" " * 500_000,
        b"<" * 50_000,
    ],
    ids=["numbers", "escapes", "open strings", "strings", "open arrays", "spaces", "open hex strings"],
)
def test_long_nonsense_is_passed_in_one_go(data: bytes) -> None:
    began_s = time.process_time()
    cut(data)
    assert time.process_time() - began_s < 5  # what is tried again at each place takes minutes


def test_many_operands_are_not_noted_one_by_one() -> None:
    data = b"1 " * 300_000
    tracemalloc.start()
    try:
        cut(data)
        _, peak = tracemalloc.get_traced_memory()
    finally:
        tracemalloc.stop()
    assert peak < 10 * len(data)


@pytest.mark.parametrize("length", [None, 6])
def test_an_inline_picture_is_taken_whole(length: int | None) -> None:
    scan = Scan(b"BI /W 3 ID \x00\xff\x80\x01\x02\x03 EI Q")
    assert scan.instruction() == (b"", b"BI")
    assert scan.instruction() == (b" /W 3 ", b"ID")
    assert scan.inline_image(length) == b"\x00\xff\x80\x01\x02\x03"
    assert scan.instruction() == (b" ", b"Q")


def test_an_end_within_the_data_of_a_picture_is_none() -> None:
    scan = Scan(b"ID \x00 EI \xff\xfe\x80\x01 EI Q")
    scan.instruction()
    assert scan.inline_image(None) == b"\x00 EI \xff\xfe\x80\x01"


@given(st.binary(max_size=200))
def test_no_bytes_make_it_fail_or_run_for_ever(data: bytes) -> None:
    runs, instructions = cut(data)
    assert sum(map(len, runs)) <= len(data)
    assert len(instructions) <= len(data)


_NUMBER = st.decimals(-1000, 1000, places=3).map(str)
_OPERAND = _NUMBER | st.sampled_from(["/Name", "(a(b)c)", "<6162>", "[1 (x) 2]", "<</A /B>>"])
_INSTRUCTION = st.tuples(
    st.lists(_OPERAND, max_size=4), st.sampled_from(["m", "l", "k", "gs", "Do", "Tj", "f*", "q", "w", "'"])
)


@given(st.lists(_INSTRUCTION, max_size=12))
def test_instructions_are_those_that_qpdf_finds(written: list[tuple[list[str], str]]) -> None:
    data = "\n".join(" ".join([*operands, operator]) for operands, operator in written).encode()
    with pikepdf.new() as pdf:
        page = pdf.add_blank_page()
        page.obj.Contents = pdf.make_stream(data)
        theirs = [bytes(each.operator) for each in pikepdf.parse_content_stream(page)]
    assert operators(data) == theirs


@pytest.mark.parametrize(
    ("content", "path"),
    [
        (b"1 0 0 1 5 5 cm 0 0 m 5 5 l", b" 0 0 m 5 5 l"),
        (b"0 0 m 1 1 l S\n10 10 5 5 re", b"\n10 10 5 5 re"),
        (b"0 0 m 5 5 l h", b"0 0 m 5 5 l h"),
        (b"0 0 m 5 5 l W", b""),
        (b"f " + b"1 1 l " * 2000, b""),
    ],
)
def test_a_path_at_the_end_of_content_is_found(content: bytes, path: bytes) -> None:
    assert path_at_end(content) == path
