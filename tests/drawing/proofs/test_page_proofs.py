# The pictures of a file's pages: from plates where there are some, drawn where not, each page once.

from dataclasses import replace
from pathlib import Path

import numpy as np
import pytest

from hotfolder.drawing import ProofRules, page_proofs
from hotfolder.model.artwork import Artwork
from hotfolder.model.facts import FileFacts, Format, Unmeasured
from hotfolder.model.inks import CELL_PT, PageInk
from hotfolder.model.pages import Page
from hotfolder.model.pictures import PagePicture, PageProof
from hotfolder.model.plates import PagePlates
from hotfolder.model.press import Press
from hotfolder.presses.loading import load_press
from tests.drawing.files import many_pages_pdf
from tests.drawing.plates_by_hand import SHEET, edges_short_on_the_right, frame_of, ink_of, page_of, plates_of

RULES = ProofRules(bleed_pt=3 * CELL_PT)


class Drawer:
    """Plates with a grey area for every page but those that have none; counts what it is asked for."""

    def __init__(self, without: tuple[int, ...] = ()) -> None:
        self.asked: list[int] = []
        self._without = without

    def draw(self, page_number: int) -> PagePlates | Unmeasured:
        self.asked.append(page_number)
        if page_number in self._without:
            return Unmeasured("ink", "the drawing stopped")
        frame = frame_of(SHEET, 3)
        return plates_of(
            {"Black": np.full((frame.height_px, frame.width_px), 90, np.uint8)}, frame, page=page_number
        )


def artwork(count: int, *, unmeasured: tuple[int, ...] = (), rotate: int = 0) -> Artwork:
    drawn = Drawer().draw(1)
    assert isinstance(drawn, PagePlates)
    ink = ink_of(drawn)
    pages = tuple(
        page_of(number, Unmeasured("ink", "not read") if number in unmeasured else ink, rotate=rotate)
        for number in range(1, count + 1)
    )
    return Artwork(FileFacts("leaflet.pdf", 1, "00" * 32, Format.PDF), pages)


def numbers(shown: tuple[PageProof | PagePicture | Unmeasured, ...]) -> list[int]:
    return [
        each.printed.page if isinstance(each, PageProof) else each.page
        for each in shown
        if not isinstance(each, Unmeasured)
    ]


def test_each_page_is_asked_for_once_in_page_order(tmp_path: Path) -> None:
    drawer = Drawer()
    shown = page_proofs(drawer, tmp_path / "none.pdf", artwork(3), RULES)
    assert drawer.asked == [1, 2, 3]
    assert numbers(shown) == [1, 2, 3]
    assert all(isinstance(each, PageProof) for each in shown)


def test_eight_pages_at_most_those_with_findings_first(tmp_path: Path) -> None:
    drawer = Drawer()
    shown = page_proofs(drawer, tmp_path / "none.pdf", artwork(30), replace(RULES, finding_pages=(20, 29)))
    assert drawer.asked == [1, 2, 3, 4, 5, 6, 20, 29]
    assert numbers(shown) == drawer.asked
    whole = [each.printed.page for each in shown if isinstance(each, PageProof) and each.coverage is not None]
    assert whole == [1, 2, 20, 29]


def test_pages_without_plates_are_drawn_as_a_viewer_does(tmp_path: Path) -> None:
    path = tmp_path / "pages.pdf"
    sized = many_pages_pdf(path, 3)
    with_ink = replace(
        sized,
        pages=tuple(
            replace(known, ink=Unmeasured("ink", "not read") if known.number == 2 else _some_ink())
            for known in sized.known_pages
        ),
    )
    drawer = Drawer(without=(3,))
    shown = page_proofs(drawer, path, with_ink, RULES)
    assert drawer.asked == [1, 3]
    assert [type(each) for each in shown] == [PageProof, PagePicture, PagePicture]
    assert numbers(shown) == [1, 2, 3]


def _some_ink() -> PageInk:
    ink = artwork(1).known_pages[0].ink
    assert isinstance(ink, PageInk)
    return ink


def test_without_a_drawer_all_pages_are_drawn(tmp_path: Path) -> None:
    path = tmp_path / "pages.pdf"
    shown = page_proofs(None, path, many_pages_pdf(path, 2), RULES)
    assert [type(each) for each in shown] == [PagePicture, PagePicture]


def test_a_page_that_cannot_be_drawn_either_says_why(tmp_path: Path) -> None:
    (tmp_path / "torn.pdf").write_bytes(b"%PDF-1.7\n")
    (shown,) = page_proofs(Drawer(without=(1,)), tmp_path / "torn.pdf", artwork(1), RULES)
    assert isinstance(shown, Unmeasured)
    assert shown.what == "picture of page 1"


def test_a_file_without_pages_has_no_pictures(tmp_path: Path) -> None:
    nothing = replace(artwork(1), pages=Unmeasured("pages", "torn"))
    assert page_proofs(Drawer(), tmp_path / "none.pdf", nothing, RULES) == ()


def _edges_shown(page: Page, rules: ProofRules) -> bool:
    one = replace(artwork(1), pages=(page,))
    (proof,) = page_proofs(Drawer(), Path("none.pdf"), one, rules)
    assert isinstance(proof, PageProof)
    return bool(proof.edges)


@pytest.mark.parametrize("reach_mm", [None, 3.0, 2.8])
def test_edges_are_not_shown_where_paint_runs_on_or_does_not_touch(reach_mm: float | None) -> None:
    reach = None if reach_mm is None else reach_mm * CELL_PT
    fine = tuple(replace(edge, reach_pt=(reach,) * 10) for edge in edges_short_on_the_right())
    page = page_of(1, replace(_some_ink(), edges=fine))
    assert not _edges_shown(page, RULES)
    assert _edges_shown(page, replace(RULES, finding_pages=(1,), bleed_pages=frozenset({1})))
    assert not _edges_shown(page, replace(RULES, finding_pages=(1,)))


def test_edges_are_shown_where_paint_ends_before_the_bleed_does() -> None:
    page = page_of(1, replace(_some_ink(), edges=edges_short_on_the_right()))
    assert _edges_shown(page, RULES)
    assert not _edges_shown(replace(page, trim=Unmeasured("trim", "nothing tells it")), RULES)
    unknown = replace(_some_ink(), edges=Unmeasured("edges", "no trim"))
    assert not _edges_shown(page_of(1, unknown), RULES)


def test_the_condition_is_named_only_where_its_profile_made_the_colours() -> None:
    coated, other = (
        page_proofs(Drawer(), Path("none.pdf"), artwork(1), replace(RULES, press=press, paper_white=True))[0]
        for press in (load_press("coated"), Press("other", "Another paper", None))
    )
    assert isinstance(coated, PageProof)
    assert isinstance(other, PageProof)
    assert (coated.condition, coated.paper_white) == (load_press("coated").title, True)
    assert (other.condition, other.paper_white) == ("", False)
    assert coated.printed.data != other.printed.data
