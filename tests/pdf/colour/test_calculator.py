# PostScript calculator functions: every operator against Ghostscript's PostScript interpreter, and branches
# that part some inputs from others.
import shutil
import subprocess
from collections.abc import Sequence

import numpy as np
import pytest
from numpy.typing import NDArray

from hotfolder.errors import NotDrawnError
from hotfolder.pdf.colour.calculator import read_program

Floats = NDArray[np.float64]

# Programs of two inputs x and y, and how many numbers each leaves; one for each operator of ISO 32000-2,
# table 42, and the mixtures that drawing programs write.
PROGRAMS = [
    ("abs exch neg abs", 2), ("add", 1), ("1 add atan", 1), ("ceiling exch ceiling", 2),
    ("360 mul cos exch 360 mul sin", 2), ("7 mul cvi exch 5 mul cvi idiv 3 add", 1) , ("0.5 add div", 1),
    ("exp", 1), ("floor exch 3 mul floor", 2), ("1 add ln exch 1 add log", 2),
    ("9 mul cvi exch 3 mul cvi 1 add mod", 1), ("mul", 1), ("round exch 4 mul round", 2), ("sub sqrt", 1),
    ("sqrt exch sqrt", 2), ("3 mul truncate exch -3 mul truncate", 2), ("cvi cvr exch cvr", 2),
    ("100 mul cvi 12 and exch 100 mul cvi 3 or", 2), ("100 mul cvi 5 xor exch 100 mul cvi not", 2),
    ("100 mul cvi 3 bitshift exch 100 mul cvi -2 bitshift", 2),
    ("lt {1} {0} ifelse", 1), ("2 copy le {exch} if pop", 1), ("ge {0.25} {0.75} ifelse", 1),
    ("gt not {0.2} {0.8} ifelse", 1), ("eq {1} {2} ifelse", 1), ("ne {1} {2} ifelse", 1),
    ("0.5 gt exch 0.5 gt and {1} {0} ifelse", 1), ("0.5 gt exch 0.5 gt xor {1} {0} ifelse", 1),
    ("true exch 0.3 lt or {1} {0} ifelse exch pop", 1), ("2 copy 4 2 roll", 4), ("dup 2 index", 4),
    ("3 1 roll 2 copy", 0), ("pop dup", 2), ("0.1 0.2 4 -1 roll", 4), ("0.1 0.2 0.3 5 2 roll", 5),
    ("dup 0.5 lt {2 mul} {1 exch sub dup 0.1 lt {pop 0} if} ifelse", 2),
    ("{0.3} pop", 0), ("1 exch sub exch 1 exch sub 2 copy gt {exch} if pop dup 0.9 gt {pop 1} if", 1),
    ("0.59 mul exch 0.3 mul add dup 0 lt {pop 0} if dup 1 gt {pop 1} if", 1),
]  # fmt: skip
RUNNABLE = [(text, count) for text, count in PROGRAMS if count and not text.startswith("3 1 roll")]
PLACES = [
    (0.0, 0.0),
    (0.25, 0.75),
    (0.75, 0.25),
    (0.5, 0.5),
    (1.0, 0.0),
    (0.0, 1.0),
    (1.0, 1.0),
    (0.93, 0.07),
]


def run(text: str, places: Sequence[tuple[float, ...]], outputs: int) -> Floats:
    return read_program(b"{" + text.encode() + b"}").run(np.array(places, np.float64), outputs)


@pytest.mark.skipif(
    shutil.which("gs") is None, reason="needs Ghostscript, whose interpreter tells the results"
)
def test_programs_give_what_postscript_gives() -> None:
    # Reference: Ghostscript's interpreter. Where PostScript stops with an error (a square root of less than
    # nothing, a division by zero) the standard leaves open what follows: those places are left out.
    asked = [(text, count, place) for text, count in RUNNABLE for place in PLACES]
    lines = []
    for text, count, (x, y) in asked:
        show = "count -1 roll ==" if count == 1 else f"{count} array astore =="
        lines.append(f"clear {{ {x} {y} {text} {show} }} stopped {{ (error) == }} if")
    done = subprocess.run(
        ["gs", "-q", "-dNODISPLAY", "-dBATCH", "-dNOPAUSE", "-"],
        input="\n".join(lines), capture_output=True, text=True, timeout=60, check=True,
    )  # fmt: skip
    answers = [line for line in done.stdout.splitlines() if line.strip()]
    assert len(answers) == len(asked), done.stdout
    compared = 0
    for (text, count, place), answer in zip(asked, answers, strict=True):
        if "error" in answer:
            continue
        expected = [float(word) for word in answer.strip("[]").split()]
        assert run(text, [place], count)[0] == pytest.approx(expected, abs=1e-4), (text, place)
        compared += 1
    assert compared > 0.9 * len(asked)


@pytest.mark.parametrize(("text", "count"), RUNNABLE)
def test_many_inputs_at_once_give_what_each_gives_alone(text: str, count: int) -> None:
    together = run(text, PLACES, count)
    alone = np.concatenate([run(text, [place], count) for place in PLACES])
    np.testing.assert_array_equal(together, alone)


def test_a_place_on_the_stack_may_differ_between_inputs() -> None:
    result = run("10 20 30 4 -1 roll 2 mul cvi index 5 1 roll pop pop pop pop", [(0.1, 0.0), (0.1, 1.0)], 1)
    assert result[:, 0].tolist() == [30, 10]


def test_comments_and_line_ends_are_no_operators() -> None:
    result = read_program(b"{ % halves\r\n 0.5 mul %}\n}").run(np.array([[0.5]]), 1)
    assert result.tolist() == [[0.25]]


@pytest.mark.parametrize(
    "data",
    [b"", b"0.5 mul", b"{ 0.5 glow }", b"{ pop pop add }", b"{ 1 3 copy }", b"{ 5 index }", b"{ if }"],
)
def test_what_is_no_program_or_runs_dry_is_not_drawn(data: bytes) -> None:
    with pytest.raises(NotDrawnError):
        read_program(data).run(np.array([[0.5]]), 1)


def test_branches_that_leave_different_numbers_of_values_are_not_drawn() -> None:
    with pytest.raises(NotDrawnError):
        run("0.5 gt {1 2} {1} ifelse", [(0.1, 0.1), (0.1, 0.9)], 1)


def test_nesting_without_end_is_not_drawn() -> None:
    with pytest.raises(NotDrawnError):
        read_program(b"{" * 1000 + b"}" * 1000)


def test_a_whole_number_beyond_32_bits_is_a_real() -> None:
    """PostScript Language Reference, 3.2.2: an integer that is too large is converted to a real."""
    great = "1" + "0" * 400
    assert read_program(f"{{ pop {great} exch pop 1e9 gt {{1}} {{0}} ifelse }}".encode()).run(
        np.array([[0.0, 0.0]]), 1
    ).tolist() == [[1.0]]
    assert read_program(b"{ 3000000000 div }").run(np.array([[1.5e9]]), 1).tolist() == [[0.5]]


@pytest.mark.parametrize("program", ["1e400 copy", "1e400 2 roll", "nan", "inf add", "1_0", "1 +-2"])
def test_what_stands_for_no_number_is_not_drawn(program: str) -> None:
    with pytest.raises(NotDrawnError):
        read_program(f"{{ {program} }}".encode()).run(np.array([[0.5, 0.25]]), 1)
