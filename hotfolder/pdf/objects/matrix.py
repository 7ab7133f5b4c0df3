"""Transformation matrices (ISO 32000-2, 8.3.3), as rows [a b 0; c d 0; e f 1] for row vectors."""

import math
from typing import NamedTuple

from hotfolder.model.geometry import Box

Point = tuple[float, float]


class Matrix(NamedTuple):
    """The transformation x' = a x + c y + e, y' = b x + d y + f."""

    a: float
    b: float
    c: float
    d: float
    e: float
    f: float

    def then(self, after: "Matrix") -> "Matrix":
        """First this transformation, then `after`: the product self x after."""
        a, b, c, d, e, f = self
        p, q, r, s, t, u = after
        return Matrix(
            a * p + b * r, a * q + b * s,
            c * p + d * r, c * q + d * s,
            e * p + f * r + t, e * q + f * s + u,
        )  # fmt: skip

    def after_moving(self, x: float, y: float) -> "Matrix":
        """First a shift by (x, y), then this transformation: what `moving(x, y).then(self)` gives."""
        a, b, c, d, e, f = self
        return Matrix(a, b, c, d, a * x + c * y + e, b * x + d * y + f)

    def point(self, x: float, y: float) -> Point:
        """Where the point (x, y) comes to lie."""
        return self.a * x + self.c * y + self.e, self.b * x + self.d * y + self.f

    def direction(self, x: float, y: float) -> Point:
        """What becomes of the vector (x, y), which has no place."""
        return self.a * x + self.c * y, self.b * x + self.d * y

    def bounds(self, x0: float, y0: float, x1: float, y1: float) -> Box:
        """The smallest upright box around the transformed rectangle."""
        a, b, c, d, e, f = self
        if not b and not c:
            # By far the most are upright, and each mark asks for its bounds.
            left, right, bottom, top = a * x0 + e, a * x1 + e, d * y0 + f, d * y1 + f
            if left > right:
                left, right = right, left
            return Box(left, bottom, right, top) if bottom <= top else Box(left, top, right, bottom)
        xs = (a * x0 + c * y0, a * x1 + c * y0, a * x0 + c * y1, a * x1 + c * y1)
        ys = (b * x0 + d * y0, b * x1 + d * y0, b * x0 + d * y1, b * x1 + d * y1)
        return Box(min(xs) + e, min(ys) + f, max(xs) + e, max(ys) + f)

    @property
    def keeps_upright(self) -> bool:
        """Whether upright rectangles stay so: nothing but scaling, mirroring and quarter turns."""
        a, b, c, d, _, _ = self
        if not (b or c) or not (a or d):
            return True
        # A quarter turn worked out by sine and cosine leaves a remainder.
        noise = 1e-9 * (abs(a) + abs(b) + abs(c) + abs(d))
        return (abs(b) < noise and abs(c) < noise) or (abs(a) < noise and abs(d) < noise)

    @property
    def determinant(self) -> float:
        """By how much areas grow; negative where the transformation mirrors."""
        return self.a * self.d - self.b * self.c

    @property
    def x_length(self) -> float:
        """The length that one unit along x comes to have."""
        return math.hypot(self.a, self.b)

    @property
    def y_length(self) -> float:
        """The length that one unit along y comes to have."""
        return math.hypot(self.c, self.d)

    @property
    def least_stretch(self) -> float:
        """The smaller singular value: the length of a unit in the direction that shrinks most."""
        if not self.b and not self.c:
            return min(abs(self.a), abs(self.d))
        # The singular values have the sum of squares `total` and the product |determinant|.
        total = self.a * self.a + self.b * self.b + self.c * self.c + self.d * self.d
        product = abs(self.determinant)
        rest = math.sqrt(max((total - 2 * product) * (total + 2 * product), 0.0))
        greatest = math.sqrt((total + rest) / 2)
        # Dividing keeps the digits that the difference total - rest would lose.
        return product / greatest if greatest else 0.0

    def inverted(self) -> "Matrix | None":
        """The transformation that undoes this one; None where this one flattens everything to a line."""
        determinant = self.determinant
        if not determinant or not math.isfinite(1 / determinant):
            return None
        a, b, c, d = self.d / determinant, -self.b / determinant, -self.c / determinant, self.a / determinant
        return Matrix(a, b, c, d, -(self.e * a + self.f * c), -(self.e * b + self.f * d))


IDENTITY = Matrix(1.0, 0.0, 0.0, 1.0, 0.0, 0.0)


def scaling(factor: float) -> Matrix:
    """The same enlargement in both directions."""
    return Matrix(factor, 0.0, 0.0, factor, 0.0, 0.0)


def moving(x: float, y: float) -> Matrix:
    """A shift without turning or scaling."""
    return Matrix(1.0, 0.0, 0.0, 1.0, x, y)
