# PDF functions of types 0, 2 and 3 (ISO 32000-2, 7.10) against the standard's formulas, worked out slowly.
from itertools import product

import numpy as np
import pikepdf
import pytest
from numpy.typing import NDArray
from pikepdf import Array, Dictionary, Name

from hotfolder.errors import NotDrawnError
from hotfolder.pdf.colour.functions import read_function, read_functions


@pytest.fixture
def pdf() -> pikepdf.Pdf:
    return pikepdf.new()


def table(pdf: pikepdf.Pdf, size: list[int], data: bytes, bits: int, **entries: object) -> pikepdf.Stream:
    made = pdf.make_stream(data)
    made["/FunctionType"], made["/Size"], made["/BitsPerSample"] = 0, Array(size), bits
    made["/Domain"] = Array([0, 1] * len(size))
    for key, value in entries.items():
        made[f"/{key}"] = value
    return made


def interpolated(samples: NDArray[np.float64], place: NDArray[np.float64]) -> NDArray[np.float64]:
    """All corners of a cell, weighted; samples by place, inputs in order (7.10.2)."""
    values = np.zeros(samples.shape[-1])
    low = np.minimum(np.floor(place).astype(int), np.array(samples.shape[:-1]) - 2)
    for corner in product((0, 1), repeat=len(place)):
        weight = np.prod([share if up else 1 - share for up, share in zip(corner, place - low, strict=True)])
        values += weight * samples[tuple(low + corner)]
    return values


def test_tables_are_interpolated_between_all_corners(pdf: pikepdf.Pdf) -> None:
    random = np.random.default_rng(5)
    # By place; in the file the first input runs fastest.
    samples = random.integers(0, 256, (3, 4, 2, 3)).astype(np.uint8)
    data = samples.transpose(2, 1, 0, 3).tobytes()
    function = read_function(table(pdf, [3, 4, 2], data, 8, Range=[0, 1] * 3))
    places = random.random((50, 3))
    steps = np.array([2, 3, 1])
    expected = np.array([interpolated(samples / 255, place * steps) for place in places])
    np.testing.assert_allclose(function(places), expected, atol=1e-12)


@pytest.mark.parametrize(
    ("bits", "data"),
    [
        (1, bytes([0b01000000])), (2, bytes([0b00110000])), (4, bytes([0x0F])), (8, bytes([0, 255])),
        (12, bytes([0x00, 0x0F, 0xFF])), (16, bytes([0, 0, 255, 255])), (24, bytes(3) + b"\xff" * 3),
        (32, bytes(4) + b"\xff" * 4),
    ],
)  # fmt: skip
def test_samples_have_any_number_of_bits(pdf: pikepdf.Pdf, bits: int, data: bytes) -> None:
    function = read_function(table(pdf, [2], data, bits, Range=[0, 1]))
    places = np.array([[0.0], [0.25], [1.0]])
    np.testing.assert_allclose(function(places), places, atol=1e-9)


def test_encode_and_decode_turn_tables_round(pdf: pikepdf.Pdf) -> None:
    function = read_function(table(pdf, [2], b"\0\xff", 8, Range=[0, 10], Encode=[1, 0], Decode=[2, 4]))
    assert function(np.array([[0.0], [0.5], [1.0]])).ravel().tolist() == [4, 3, 2]


def test_powers(pdf: pikepdf.Pdf) -> None:
    function = read_function(
        pdf.make_indirect(Dictionary(FunctionType=2, N=2, Domain=[0, 1], C0=[1, 0], C1=[0, 0.5]))
    )
    # 7.10.3: C0 + x^N (C1 - C0)
    expected = np.array([[0.75, 0.125], [0, 0.5], [0, 0.5]])
    np.testing.assert_allclose(function(np.array([[0.5], [1.0], [7.0]])), expected)


def test_stitches_have_their_bounds_in_the_part_that_follows(pdf: pikepdf.Pdf) -> None:
    parts = [Dictionary(FunctionType=2, N=1, Domain=[0, 1], C0=[at], C1=[at + 1]) for at in (0, 10, 20)]
    function = read_function(
        pdf.make_indirect(
            Dictionary(
                FunctionType=3, Domain=[0, 1], Functions=Array(parts), Bounds=[0.25, 0.5],
                Encode=[0, 1, 1, 0, 0, 1],
            )
        )
    )  # fmt: skip
    places = np.array([[0.0], [0.125], [0.25], [0.375], [0.5], [1.0]])
    np.testing.assert_allclose(function(places).ravel(), [0, 0.5, 11, 10.5, 20, 21])


def test_several_functions_stand_side_by_side(pdf: pikepdf.Pdf) -> None:
    parts = [Dictionary(FunctionType=2, N=1, Domain=[0, 1], C0=[0], C1=[at]) for at in (1, 2)]
    joined = read_functions(pdf.make_indirect(Array(parts)))
    assert joined(np.array([[0.5]])).tolist() == [[0.5, 1.0]]


@pytest.mark.parametrize(
    "entries",
    [
        {}, {"FunctionType": 2}, {"FunctionType": 9, "Domain": [0, 1]}, {"FunctionType": 0, "Domain": [0, 1]},
        {"FunctionType": 3, "Domain": [0, 1]}, {"FunctionType": 4, "Domain": [0, 1]},
        {"FunctionType": 2, "Domain": [0, 1], "C0": [0, 0], "C1": [1]},
    ],
)  # fmt: skip
def test_what_is_no_function_is_not_drawn(pdf: pikepdf.Pdf, entries: dict[str, object]) -> None:
    with pytest.raises(NotDrawnError):
        read_function(pdf.make_indirect(Dictionary(entries and {f"/{key}": entries[key] for key in entries})))


def test_a_function_within_itself_is_not_drawn(pdf: pikepdf.Pdf) -> None:
    made = pdf.make_indirect(Dictionary(FunctionType=3, Domain=[0, 1], Bounds=Array(), Encode=[0, 1]))
    made["/Functions"] = Array([made])
    with pytest.raises(NotDrawnError):
        read_function(made)


def test_a_table_that_is_too_short_is_not_drawn(pdf: pikepdf.Pdf) -> None:
    with pytest.raises(NotDrawnError):
        read_function(table(pdf, [100, 100], b"\0\xff", 8, Range=[0, 1]))


def test_identity_leaves_values_as_they_are() -> None:
    assert read_function(Name.Identity)(np.array([[0.3]])).tolist() == [[0.3]]


# Made to take long, or to end the reading


def test_a_table_of_more_samples_than_can_be_counted_is_not_drawn(pdf: pikepdf.Pdf) -> None:
    with pytest.raises(NotDrawnError):
        read_function(table(pdf, [1 << 32, 1 << 32], bytes(16), 8, Range=[0, 1]))


def test_of_a_table_with_one_sample_for_each_of_many_inputs_that_sample_is_taken(pdf: pikepdf.Pdf) -> None:
    function = read_function(table(pdf, [1] * 31 + [2], b"\0\xff", 8, Range=[0, 1]))
    places = np.array([[0.0] * 31 + [0.0], [1.0] * 31 + [0.25], [1.0] * 31 + [1.0]])
    np.testing.assert_allclose(function(places).ravel(), [0, 0.25, 1])
    with pytest.raises(NotDrawnError):
        read_function(table(pdf, [2] * 17, bytes(1 << 17), 8, Range=[0, 1]))


def test_functions_that_are_stitched_to_themselves_over_and_over_are_not_drawn(pdf: pikepdf.Pdf) -> None:
    made = pdf.make_indirect(Dictionary(FunctionType=2, N=1, Domain=[0, 1]))
    for _ in range(15):
        stitched = Dictionary(FunctionType=3, Domain=[0, 1], Encode=[0, 1] * 10)
        stitched.Functions, stitched.Bounds = Array([made] * 10), [at / 10 for at in range(1, 10)]
        made = pdf.make_indirect(stitched)
    with pytest.raises(NotDrawnError):
        read_function(made)
