# Frames that white leaves of a rectangle, and what is none.

from dataclasses import replace

from hotfolder.measure.pdf.frames import mark_frames
from hotfolder.model.marks import Mark, MarkKind, Source
from tests.artwork.colours import BLACK, BLUE, CMYK_WHITE
from tests.artwork.flyer import mm_box


def area(inset: float, colour: object = BLACK, **changes: object) -> Mark:
    box = mm_box(inset, inset, 100 - inset, 100 - inset)
    white = colour is CMYK_WHITE
    mark = Mark(MarkKind.PATH, box, box, Source("f"), fill=colour, solid=box, white=white)  # type: ignore[arg-type]
    return replace(mark, **changes)  # type: ignore[arg-type] # a mark's own fields


def paper(inset: float) -> Mark:
    return area(inset, CMYK_WHITE)


def test_white_laid_on_a_rectangle_leaves_a_frame() -> None:
    black, white = mark_frames([area(0), paper(0.1)])
    assert black.hollow == white.solid
    assert round(black.sliver_pt or 0, 3) == round(0.1 / 25.4 * 72, 3)
    assert (white.hollow, white.sliver_pt) == (None, None)


def test_a_thick_frame_is_no_thin_line() -> None:
    black, _ = mark_frames([area(0), paper(5)])
    assert black.hollow is not None
    assert black.sliver_pt is None


def test_the_largest_white_counts() -> None:
    black, *_ = mark_frames([area(0), paper(20), paper(1)])
    assert black.hollow == paper(1).solid


def test_what_is_no_frame() -> None:
    cases = {
        "colour on colour": [area(0), area(0.1, BLUE)],
        "ground of the same colour": [area(0), area(20), paper(20.1)],
        "white over one side": [area(0), replace(paper(0.1), solid=mm_box(0, 0.1, 99.9, 99.9))],
        "white on white": [paper(0), paper(0.1)],
        "white that may let it through": [area(0), replace(paper(0.1), solid=None)],
        "a rectangle that is clipped": [area(0, solid=mm_box(10, 10, 90, 90)), paper(10.1)],
        "the last step of a gradient": [*(area(0.1 * step, BLACK if step % 2 else BLUE) for step in range(9)),
                                        paper(0.9)],
    }  # fmt: skip
    assert {name: [m.hollow for m in mark_frames(marks) if m.hollow] for name, marks in cases.items()} == {
        name: [] for name in cases
    }
