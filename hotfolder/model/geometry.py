"""Boxes and edges: points (1/72 in) in the page's unrotated user space after `UserUnit`; y grows upwards."""

from collections.abc import Iterator
from dataclasses import dataclass
from enum import StrEnum


class Edge(StrEnum):
    """An edge of a box in unrotated user space."""

    LEFT = "left"
    BOTTOM = "bottom"
    RIGHT = "right"
    TOP = "top"


@dataclass(frozen=True, slots=True)
class Box:
    """An axis-parallel rectangle; x0 <= x1 and y0 <= y1."""

    x0: float
    y0: float
    x1: float
    y1: float

    @classmethod
    def around(cls, points: Iterator[tuple[float, float]] | list[tuple[float, float]]) -> "Box":
        """The smallest box that holds all `points`; ValueError where there are none."""
        corners = list(points)
        xs, ys = [x for x, _ in corners], [y for _, y in corners]
        return cls(min(xs), min(ys), max(xs), max(ys))

    @property
    def width(self) -> float:
        """Extent along x, in points."""
        return self.x1 - self.x0

    @property
    def height(self) -> float:
        """Extent along y, in points."""
        return self.y1 - self.y0

    @property
    def corners(self) -> tuple[tuple[float, float], tuple[float, float]]:
        """The lower left and the upper right corner."""
        return (self.x0, self.y0), (self.x1, self.y1)

    def grown(self, margin: float) -> "Box":
        """The box with `margin` points added on each side; a negative margin shrinks it."""
        return Box(self.x0 - margin, self.y0 - margin, self.x1 + margin, self.y1 + margin)

    def cut_by(self, other: "Box") -> "Box | None":
        """What both boxes cover; None where they do not touch.

        A box without extent (a horizontal rule) that lies in the other is kept.
        """
        cut = (
            max(self.x0, other.x0), max(self.y0, other.y0),
            min(self.x1, other.x1), min(self.y1, other.y1),
        )  # fmt: skip
        return Box(*cut) if cut[0] <= cut[2] and cut[1] <= cut[3] else None

    def holds(self, other: "Box", tolerance: float = 0.0) -> bool:
        """Whether `other` lies in this box, give or take `tolerance` points."""
        return (
            self.x0 - tolerance <= other.x0
            and self.y0 - tolerance <= other.y0
            and self.x1 + tolerance >= other.x1
            and self.y1 + tolerance >= other.y1
        )

    def beyond(self, edge: Edge, other: "Box") -> float:
        """How far this box reaches past `other` at `edge`, in points; negative if it stops short."""
        match edge:
            case Edge.LEFT:
                return other.x0 - self.x0
            case Edge.BOTTOM:
                return other.y0 - self.y0
            case Edge.RIGHT:
                return self.x1 - other.x1
            case Edge.TOP:
                return self.y1 - other.y1

    def across(self, edge: Edge, other: "Box") -> float:
        """How far this box's side at `edge` lies from the opposite side of `other`, in points.

        Outwards; negative where the whole of `other` lies further out.
        """
        match edge:
            case Edge.LEFT:
                return other.x1 - self.x0
            case Edge.BOTTOM:
                return other.y1 - self.y0
            case Edge.RIGHT:
                return self.x1 - other.x0
            case Edge.TOP:
                return self.y1 - other.y0
