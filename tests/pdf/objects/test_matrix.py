# Transformation matrices: chains, inverses, stretches and bounds, as properties of any matrix.

import functools
import math

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from hotfolder.pdf.objects.matrix import IDENTITY, Matrix, moving, scaling

_NUMBER = st.integers(-50_000, 50_000).map(lambda thousandths: thousandths / 1000)
_MATRICES = st.builds(Matrix, _NUMBER, _NUMBER, _NUMBER, _NUMBER, _NUMBER, _NUMBER)


@given(st.lists(_MATRICES, max_size=5), _NUMBER, _NUMBER)
def test_a_chain_of_matrices_equals_their_product(chain: list[Matrix], x: float, y: float) -> None:
    product = functools.reduce(Matrix.then, chain, IDENTITY)
    step_by_step = functools.reduce(lambda point, matrix: matrix.point(*point), chain, (x, y))
    # Each matrix makes a number of 50 a hundred times as large, and rounding grows with it.
    assert product.point(x, y) == pytest.approx(step_by_step, abs=1e-12 * 101 ** (len(chain) + 1))


def test_the_first_of_a_chain_acts_first() -> None:
    assert moving(10, 0).then(scaling(2)).point(1, 1) == (22, 2)
    assert scaling(2).then(moving(10, 0)).point(1, 1) == (12, 2)


@given(_MATRICES, _NUMBER, _NUMBER)
def test_an_inverse_undoes(matrix: Matrix, x: float, y: float) -> None:
    inverse = matrix.inverted()
    if inverse is None or abs(matrix.determinant) < 1e-3:
        return
    assert inverse.point(*matrix.point(x, y)) == pytest.approx((x, y), abs=1e-3)


def test_a_matrix_that_flattens_has_no_inverse() -> None:
    assert Matrix(1, 2, 2, 4, 0, 0).inverted() is None
    assert Matrix(0, 0, 0, 0, 0, 0).inverted() is None


@settings(deadline=None)
@given(_MATRICES)
def test_least_stretch_is_the_shortest_a_unit_becomes(matrix: Matrix) -> None:
    angles = [math.pi * step / 2000 for step in range(2000)]
    lengths = [math.hypot(*matrix.direction(math.cos(angle), math.sin(angle))) for angle in angles]
    # Half a step of the slow way beside the true angle is out by no more than this.
    tolerance = max(lengths) * math.pi / 2000
    assert min(lengths) - tolerance <= matrix.least_stretch <= min(lengths) + 1e-6


def test_least_stretch_keeps_its_digits_where_one_side_is_tiny() -> None:
    assert Matrix(1e6, 0, 0, 1e-6, 0, 0).least_stretch == pytest.approx(1e-6)


@given(_MATRICES, st.floats(0, 1), st.floats(0, 1))
def test_bounds_hold_every_transformed_point(matrix: Matrix, x: float, y: float) -> None:
    box = matrix.bounds(0, 0, 1, 1)
    across, up = matrix.point(x, y)
    assert box.x0 - 1e-9 <= across <= box.x1 + 1e-9
    assert box.y0 - 1e-9 <= up <= box.y1 + 1e-9


def test_numbers_beyond_measure_raise_nothing() -> None:
    huge = Matrix(1e200, 0, 0, 1e200, 0, 0)
    assert not math.isfinite(huge.then(huge).bounds(0, 0, 1, 1).x1)
    assert huge.least_stretch == 1e200
    skewed = Matrix(1e200, 1e199, 0, 1e200, 0, 0)
    assert math.isinf(skewed.least_stretch) or math.isnan(skewed.least_stretch)
