"""Lines as programs write them that turn strokes into areas: rings, ribbons and rectangles in one another."""


def ring(x0: float, y0: float, x1: float, y1: float, width: float, *, how: str = "even-odd") -> str:
    """A frame of this width, filled. how: by which rule, or with white laid on it."""
    outer = f"{x0} {y0} {x1 - x0} {y1 - y0} re"
    left, low, right, top = x0 + width, y0 + width, x1 - width, y1 - width
    inner = f"{left:.4f} {low:.4f} {right - left:.4f} {top - low:.4f} re"
    backwards = (
        f"{left:.4f} {low:.4f} m {left:.4f} {top:.4f} l {right:.4f} {top:.4f} l {right:.4f} {low:.4f} l h"
    )
    return {
        "even-odd": f"{outer} {inner} f*",
        "direction": f"{outer} {backwards} f",
        "white": f"{outer} f 0 0 0 0 k {inner} f",
    }[how]


def circle(x: float, y: float, radius: float, *, backwards: bool = False) -> str:
    """A circle of four curves, as a path."""
    k, turn = radius * 0.5522847498, -1 if backwards else 1
    quarter = [(radius, 0.0), (radius, k), (k, radius)]
    points = [*quarter, *((-b, a) for a, b in quarter), *((-a, -b) for a, b in quarter)]
    points += [*((b, -a) for a, b in quarter), (radius, 0.0)]
    at = [f"{x + a:.5f} {y + turn * b:.5f}" for a, b in points]
    return f"{at[0]} m " + " ".join(f"{' '.join(at[n : n + 3])} c" for n in range(1, 13, 3)) + " h"


def ribbon(x: float, y: float, width: float) -> str:
    """A stroke along a low arch 60 long, filled."""
    return (
        f"{x} {y} m {x + 20} {y + 8} {x + 40} {y + 8} {x + 60} {y} c {x + 60} {y + width} l"
        f" {x + 40} {y + 8 + width} {x + 20} {y + 8 + width} {x} {y + width} c f"
    )
