# Letters in patterns and gradients: what of them is drawn only nearly is said.

from dataclasses import replace
from pathlib import Path

import pytest
from pikepdf import Array, Dictionary, Name

from hotfolder.drawing.plates.pdf import PdfPlates
from hotfolder.measure import measure
from hotfolder.model.facts import Problem, ProblemKind
from hotfolder.model.geometry import Box
from hotfolder.model.plates import PagePlates
from tests.drawing.rewriting.rewritten_page import SIDE, Inks, Plated

FILL = b"/Pattern cs /P scn "
OUTLINE = b"/Pattern CS /P SCN "


@pytest.fixture
def page(tmp_path: Path) -> Plated:
    """A page with a font H, a font D of one drawn letter A, and a gradient P from cyan to magenta."""
    made = Plated(tmp_path / "page.pdf")
    function = Dictionary(FunctionType=2, Domain=[0, 1], C0=[1, 0, 0, 0], C1=[0, 1, 0, 0], N=1)
    shading = Dictionary(ShadingType=2, ColorSpace=Name.DeviceCMYK, Coords=[0, 0, 72, 0], Function=function)
    made.resource("Pattern", "P", Dictionary(PatternType=2, Shading=shading))
    made.resource("Font", "H", Dictionary(Type=Name.Font, Subtype=Name.Type1, BaseFont=Name.Helvetica))
    made.resource(
        "Font",
        "D",
        Dictionary(
            Type=Name.Font, Subtype=Name.Type3, FontBBox=[0, 0, 24, 24], FirstChar=65, LastChar=65,
            FontMatrix=Array([1 / 24, 0, 0, 1 / 24, 0, 0]), Widths=[24],
            Encoding=Dictionary(Differences=[65, Name.A]),
            CharProcs=Dictionary(A=made.stream(b"24 0 0 0 24 24 d1 0 0 24 24 re f")),
        ),
    )  # fmt: skip
    return made


@pytest.mark.parametrize(
    ("content", "reason"),
    [
        (FILL + b"BT /D 24 Tf 10 10 Td (A) Tj ET", "Type 3"),
        (b"0 0 0 1 k BT /D 24 Tf 10 10 Td (A) Tj ET", None),
        (FILL + b"BT /H 9 Tf 10 10 Td (A) Tj ET", None),
        (OUTLINE + b"4 w BT 1 Tr /H 24 Tf 10 10 Td (A) Tj ET", None),
        (OUTLINE + b"/Half gs 4 w BT 1 Tr /H 24 Tf 10 10 Td (A) Tj ET", "opaque"),
        (OUTLINE + b"0.1 w BT 2 Tr /H 24 Tf 10 10 Td (A) Tj ET", "opaque"),
        (FILL + b"/Half gs 0 0 0 1 K 0.1 w BT 2 Tr /H 24 Tf 10 10 Td (A) Tj ET", None),
    ],
)
def test_letters_in_a_pattern_that_are_drawn_only_nearly_are_doubtful(
    content: bytes, reason: str | None, page: Plated
) -> None:
    doubts = page.state("Half", CA=0.5).draw(content).plates.doubts
    assert bool(doubts) is (reason is not None)
    assert all(reason is not None and reason in each.reason for each in doubts)
    # The letters begin at 10, 10 and are 24 points high at the most, with a line of 4 about them.
    assert all(Box(5, -2, 40, 40).holds(each.box) for each in doubts)


def _places(drawn: Inks) -> list[Box]:
    return [each.box for each in drawn.plates.doubts]


def test_only_the_letters_are_doubtful_and_each_of_their_lines(page: Plated) -> None:
    lines = b"BT /D 6 Tf 10 10 Td (A) Tj 0 30 Td (AA) Tj ET"
    drawn = page.draw(FILL + lines + b" 1 0 0 0 k BT /D 24 Tf 40 40 Td (A) Tj ET")
    places = {tuple(map(round, (box.x0, box.y0, box.x1, box.y1))) for box in _places(drawn)}
    assert places == {(10, 10, 16, 16), (10, 40, 22, 46)}
    assert len(drawn.plates.approximate) == len(set(drawn.plates.approximate))


def test_letters_that_nobody_has_the_place_of_leave_the_sheet_in_doubt(page: Plated) -> None:
    """Those of a soft mask are no part of what is painted, and a page may have more than is read."""
    written = page.save(FILL + b"BT /D 24 Tf 10 10 Td (A) Tj ET")
    artwork = measure(written)
    problem = Problem("pages[1].marks", "reading stopped", ProblemKind.LIMIT)
    for known in (
        replace(artwork, problems=(problem,)),
        replace(artwork, pages=(replace(artwork.known_pages[0], marks=()),)),
    ):
        with PdfPlates(written, known, None) as drawing:
            plates = drawing.draw(1)
        assert isinstance(plates, PagePlates)
        assert [each.box for each in plates.doubts] == [Box(0, 0, SIDE, SIDE)]


def test_small_letters_in_a_gradient_have_no_black_about_them(page: Plated) -> None:
    """Filled as paths, each letter of 9 points would have an outline a point wide in black."""
    drawn = page.draw(FILL + b"BT /H 9 Tf 4 30 Td (Nine points) Tj ET")
    plain = page.draw(b"1 0 0 0 k BT /H 9 Tf 4 30 Td (Nine points) Tj ET")
    assert drawn.share("Cyan") + drawn.share("Magenta") == pytest.approx(plain.share("Cyan"), rel=0.03)
    assert "Black" not in drawn.plates.inks or drawn.share("Black") == 0
