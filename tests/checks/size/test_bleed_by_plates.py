# Bleed where the plates are known: the ink on paper decides where and how far, the marks say what it is.
from collections.abc import Callable
from dataclasses import replace

import pytest

from hotfolder.checks.size.bleed import BleedSettings, check
from hotfolder.model.facts import Unmeasured
from hotfolder.model.findings import Finding, Severity, Unjudged
from hotfolder.model.geometry import Edge
from hotfolder.model.marks import Mark, MarkKind, MarkState, Masking, Source
from hotfolder.model.pages import PageBoxes
from hotfolder.units import Length, mm_to_pt
from tests.artwork.colours import CMYK_WHITE, YELLOW
from tests.artwork.flyer import Flyer, flyer, image_facts, mm_box
from tests.artwork.pictures import placed, raster
from tests.artwork.plates import Plates, Reach, plates, without_plates
from tests.checks.said import codes, figures, findings, mm, the_only

THREE = BleedSettings(wanted=Length.of_mm(3))
A5_PX = (1748, 2480)


def along(*parts: tuple[float, float | None], beyond: float | None = 3.0) -> Reach:
    """A reach for each part of the edge, up to the place that is named with it; `beyond` after the last."""

    def reach(place: float) -> float | None:
        for end, value in parts:
            if place < end:
                return value
        return beyond

    return reach


def inked(piece: Flyer, reach: Reach | float | None = 3.0) -> Plates:
    """Ink that touches the trim on all sides and runs on so far."""
    page = plates(piece)
    for edge in Edge:
        page = page.with_edge(edge, reach)
    return page


def solid(piece: Flyer) -> Flyer:
    """The same page, whose last mark is known to fill its box."""
    last = piece.marks[-1]
    return piece.with_marks(*piece.marks[:-1], replace(last, solid=last.visible))


def picture(reach_mm: float = 3) -> Flyer:
    """A photo over the whole page."""
    box = (-reach_mm, -reach_mm, 148 + reach_mm, 210 + reach_mm)
    return solid(flyer().with_image(box, (1819, 2551)))


def round_shape(*at_mm: float) -> Flyer:
    """Something that does not fill its box."""
    x0, y0, x1, y1 = at_mm
    return flyer().with_area(x0, y0, x1, y1)


def test_ink_that_runs_on_passes() -> None:
    assert codes(check(inked(solid(flyer().with_background(3))).artwork(), THREE)) == []


@pytest.mark.parametrize("reach", [2.4, 2.5, 2.67, 3, 5])
def test_half_a_millimetre_less_will_do(reach: float) -> None:
    # Plates are told to a third of a millimetre: half of that is given too.
    assert codes(check(inked(solid(flyer().with_background(reach)), reach).artwork(), THREE)) == []


def test_ink_that_stops_at_the_cut_is_one_finding_for_all_edges() -> None:
    finding = the_only(check(inked(solid(flyer().with_background(0)), 0.0).artwork(), THREE))
    assert (finding.code, finding.severity, len(finding.boxes)) == ("not-drawn", Severity.MUST_FIX, 4)
    assert figures(finding) == (mm(0), mm(3))
    assert finding.boxes[0] == mm_box(-3, 0, 0, 210)


def test_a_bleed_that_is_one_millimetre_short_is_found() -> None:
    page = inked(solid(flyer().with_area(-3, -3, 150, 213))).with_edge(Edge.RIGHT, 2.0)
    finding = the_only(check(page.artwork(), THREE))
    assert (finding.code, *figures(finding), len(finding.boxes)) == ("not-drawn", mm(2), mm(3), 1)
    assert "right edge" in finding.message


def test_a_white_gap_in_one_corner_of_a_picture_is_found() -> None:
    # The photo runs on all around, but for 8 mm in one corner that are white in the picture itself.
    page = inked(picture()).with_edge(Edge.BOTTOM, along((8, 0.0)))
    finding = the_only(check(page.artwork(), THREE))
    assert (finding.code, finding.measured) == ("not-drawn", mm(0))
    (box,) = finding.boxes
    assert box.holds(mm_box(0, -3, 8, 0), 1)
    assert mm_box(0, -3, 8, 0).holds(box, 1)
    assert "a picture" in finding.message


def test_ground_under_white_near_the_cut_is_found_and_what_hides_it_is_named() -> None:
    piece = solid(flyer().with_background(3)).with_area(-3, -3, 151, 0, colour=CMYK_WHITE, white=True)
    finding = the_only(check(inked(piece).with_edge(Edge.BOTTOM, 0.0).artwork(), THREE))
    assert (finding.code, len(finding.boxes)) == ("not-drawn", 1)
    assert "something white covers it" in finding.message


def test_a_hidden_gradient_or_picture_is_found_too() -> None:
    piece = picture().with_area(-3, -3, 151, 0, colour=CMYK_WHITE, white=True)
    finding = the_only(check(inked(piece).with_edge(Edge.BOTTOM, along((3, 0.0))).artwork(), THREE))
    assert "something white covers it" in finding.message


def test_the_page_that_ends_is_told_apart() -> None:
    piece = solid(flyer().with_bleed_mm(0).with_background(3))
    finding = the_only(check(inked(piece, 0.0).artwork(), THREE))
    assert (finding.code, finding.measured) == ("cut-off", mm(0))


def test_a_frame_that_ends_is_told_apart() -> None:
    piece = solid(flyer().with_framed_area((-3, -3, 151, 213), (0, 0, 148, 210)))
    finding = the_only(check(inked(piece, 0.0).artwork(), THREE))
    assert finding.code == "not-drawn"
    assert "frame or mask" in finding.message


def test_a_bleed_box_that_hides_the_bleed_is_told_apart() -> None:
    piece = solid(flyer().with_background(3))
    trim = piece.trim_box
    boxed = piece.with_boxes(PageBoxes(media=trim.grown(mm_to_pt(3)), bleed=trim, trim=trim))
    finding = the_only(check(inked(boxed).artwork(), THREE))
    assert (finding.code, *figures(finding)) == ("box-short", mm(0), mm(3))
    untouched = plates(boxed)
    assert codes(check(untouched.artwork(), THREE)) == []


def test_a_picture_that_ends_on_paint_that_runs_on_is_advice() -> None:
    piece = solid(solid(flyer().with_background(3)).with_image((0, 0, 148, 100), (1748, 1181)))
    finding = the_only(check(inked(piece).artwork(), THREE))
    assert (finding.code, finding.severity) == ("ends-on-paint", Severity.ADVICE)


def test_an_area_that_stops_a_hair_inside_the_trim_is_found() -> None:
    # 0.4 mm inside: no ink touches the trim, and a white line shows even without any shift.
    piece = solid(flyer().with_area(0.4, 20, 100, 40))
    finding = the_only(check(plates(piece).artwork(), THREE))
    assert (finding.code, finding.boxes) == ("not-drawn", (mm_box(-3, 20, 0, 40),))


def test_a_picture_that_is_white_where_it_ends_at_the_trim_is_not_flagged() -> None:
    # A photo of something on white, laid to the cut as exactly as figures allow: no ink ends there.
    piece = solid(flyer().with_image((60, 40, 147.99, 100), (1040, 709)))
    assert codes(check(plates(piece).with_inks((80, 50, 120, 90), 40, 30, 0, 0).artwork(), THREE)) == []


def test_a_picture_is_told_where_it_has_ink_at_its_end_and_nowhere_else() -> None:
    piece = solid(flyer().with_image((60, 40, 147.8, 100), (1040, 709)))
    finding = the_only(check(plates(piece).with_inks((60, 40, 147.8, 70), 40, 30, 0, 0).artwork(), THREE))
    assert finding.code == "not-drawn"
    (box,) = finding.boxes
    assert (box.y0, box.y1) == pytest.approx(
        (mm_box(0, 40, 0, 0).y0, mm_box(0, 70, 0, 0).y0), abs=mm_to_pt(1.1)
    )


def test_figures_and_places_are_the_marks_own_where_plates_agree() -> None:
    # Plates tell a third of a millimetre; the picture begins at 40.1 and runs on 1.1 mm.
    piece = solid(flyer().with_image((40.1, -1.1, 108.2, 35), (804, 426)))
    page = plates(piece).with_edge(Edge.BOTTOM, along((40, None), (108.3, 1.0), beyond=None))
    finding = the_only(check(page.artwork(), THREE))
    assert (finding.measured, finding.boxes) == (mm(1.1), (mm_box(40.1, -3, 108.2, 0),))


def test_what_fills_no_box_is_told_as_plates_see_it() -> None:
    page = plates(round_shape(20, -0.4, 80, 60)).with_edge(
        Edge.BOTTOM, along((30, None), (50, 0.0), beyond=None)
    )
    finding = the_only(check(page.artwork(), THREE))
    assert finding.measured == mm(0.4)
    (box,) = finding.boxes
    assert box.x0 == pytest.approx(mm_box(30, 0, 0, 0).x0, abs=mm_to_pt(0.4))
    assert box.x1 == pytest.approx(mm_box(50, 0, 0, 0).x0, abs=mm_to_pt(0.4))


# What is not flagged


def slanted(slope: float) -> Reach:
    """Something that begins at 40 mm and runs on with this slope, until the bleed ends."""
    return lambda place: None if place < 40 else min(3.0, (place - 40) * slope)


def disc(radius: float, out: float) -> Reach:
    """A disc in the middle of an edge of which so much pokes out."""

    def reach(place: float) -> float | None:
        inside = radius**2 - (place - 74) ** 2
        height = inside**0.5 - (radius - out) if inside > 0 else -1
        return height if height >= 0 else None

    return reach


SILENT: dict[str, Callable[[], Plates]] = {
    "no ink touches the trim, though a box does": lambda: plates(round_shape(-1, -1, 148, 210)),
    "text at the cut": lambda: plates(flyer().with_text((-1, 100))).with_edge(
        Edge.LEFT, along((100, None), (103, 0.5), beyond=None)
    ),
    "a thin rule that ends at the cut": lambda: plates(flyer().with_outline(0, 100, 60, 100, 0.9)).with_edge(
        Edge.LEFT, along((99.5, None), (100.5, 0.0), beyond=None)
    ),
    "a keyline on the trim": lambda: inked(flyer().with_outline(0, 0, 148, 210, 0.9), 0.4),
    "a gap of less than a millimetre": lambda: inked(picture()).with_edge(
        Edge.TOP, along((50, 3.0), (50.6, 0.0))
    ),
    "a slanted edge at 45 degrees": lambda: plates(round_shape(30, -3, 148, 60)).with_edge(
        Edge.BOTTOM, slanted(1)
    ),
    "a slanted edge at 10 degrees": lambda: plates(round_shape(30, -3, 148, 60)).with_edge(
        Edge.BOTTOM, slanted(0.18)
    ),
    "a stripe of 2 mm at 45 degrees": lambda: plates(round_shape(30, -3, 60, 60)).with_edge(
        Edge.BOTTOM, lambda place: place - 40 if 40 < place < 42 else None
    ),
    "a dot that pokes out": lambda: plates(round_shape(72, -1, 76, 3)).with_edge(Edge.BOTTOM, disc(2, 1)),
    "a triangle that runs off the page": lambda: plates(round_shape(58, -3, 90, 30)).with_edge(
        Edge.BOTTOM, lambda place: 3 - abs(place - 74) * 33 / 16 if abs(place - 74) < 1.4 else None
    ),
    "the white parts of a photo that runs on": lambda: inked(picture()).with_edge(
        Edge.TOP, lambda place: 1.2 + (place * 7 % 1.3) if 40 < place < 60 else 3.0
    ),
    "a ragged texture that runs on": lambda: inked(round_shape(-3, -3, 151, 213)).with_edge(
        Edge.TOP, lambda place: place * 7 % 2.2
    ),
    "a pale gradient that fades out before the cut": lambda: plates(
        flyer().with_mark(Mark(MarkKind.SHADING, mm_box(0, 0, 148, 60), mm_box(0, 0, 148, 60), Source("sh")))
    ),
    "paper white": lambda: plates(flyer().with_area(0, 0, 148, 210, colour=CMYK_WHITE, white=True)),
    "ink of nothing that is known": lambda: inked(flyer(), 0.0),
}


@pytest.mark.parametrize("look_alike", SILENT)
def test_not_flagged(look_alike: str) -> None:
    assert codes(check(SILENT[look_alike]().artwork(), THREE)) == []


def test_a_large_disc_that_ends_in_the_bleed_is_flagged() -> None:
    # Of a disc of 20 cm a millimetre pokes out: 20 mm of it end nearly in parallel with the cut.
    page = plates(round_shape(-26, -1, 174, 199)).with_edge(Edge.BOTTOM, disc(100, 1))
    assert codes(check(page.artwork(), THREE)) == ["not-drawn"]


@pytest.mark.parametrize("out", [1, 2])
def test_a_large_disc_is_told_with_how_far_it_pokes_out_and_not_with_the_ends_of_its_arc(out: int) -> None:
    piece = flyer().with_area(-26, -out, 174, 200 - out)
    page = plates(piece).with_edge(Edge.BOTTOM, disc(100, out))
    assert figures(the_only(check(page.artwork(), THREE))) == (mm(out), mm(3))


def shadow(percent_at_cut: float) -> Plates:
    """A soft shadow along the lower edge that ends 1 mm beyond the cut."""
    facts = replace(image_facts((1500, 600), (0, -3, 148, 60)), masking=Masking.SOFT)
    piece = flyer().with_image((0, -1, 148, 60), (1500, 600), facts)
    page = plates(piece).with_edge(Edge.BOTTOM, 1.0)
    for up in range(4):
        page = page.with_ink("Black", percent_at_cut + up * 10, (0, up, 148, up + 1))
    return page


def test_what_fades_out_towards_the_cut_is_no_fault_and_what_ends_there_is() -> None:
    assert codes(check(shadow(6).artwork(), THREE)) == []
    assert codes(check(shadow(40).artwork(), THREE)) == ["not-drawn"]


def test_a_gradient_that_fades_beyond_the_cut_is_no_fault() -> None:
    box = mm_box(-3, -3, 151, 60)
    piece = flyer().with_mark(Mark(MarkKind.SHADING, box, box, Source("sh"), solid=None))
    page = plates(piece).with_edge(Edge.BOTTOM, 1.5).with_ink("Cyan", 50, (0, 0, 148, 60))
    assert codes(check(page.artwork(), THREE)) == []


def test_text_over_an_area_that_stops_does_not_hide_it() -> None:
    piece = solid(flyer().with_area(0, 0, 148, 60, colour=YELLOW)).with_text((-1, 20))
    page = plates(piece).with_edge(Edge.LEFT, along((60, 0.0), beyond=None))
    assert "left edge" in the_only(check(page.with_edge(Edge.RIGHT, None).artwork(), THREE)).message


def test_the_spine_edge_needs_no_bleed_where_the_rule_set_says_so() -> None:
    bound = BleedSettings(wanted=Length.of_mm(3), not_at_spine=True)
    page = inked(solid(flyer().with_area(0, -3, 151, 213))).with_edge(Edge.LEFT, 0.0)
    assert codes(check(page.artwork(), bound)) == []
    assert codes(check(page.artwork(), THREE)) == ["not-drawn"]


def test_a_picture_file_is_judged_by_its_pixels() -> None:
    piece = placed(raster(A5_PX), flyer().size, 0)
    (page,) = piece.known_pages
    short = inked(flyer().with_bleed_mm(0), 0.0).page().ink
    bare = plates(flyer().with_bleed_mm(0)).page().ink
    finding = the_only(check(replace(piece, pages=(replace(page, ink=short),)), THREE))
    assert (finding.code, finding.measured) == ("not-drawn", mm(0))
    assert "canvas" in finding.remedy
    # White up to its edges, it needs no bleed.
    assert codes(check(replace(piece, pages=(replace(page, ink=bare),)), THREE)) == []


# What cannot be judged by paint


def test_without_plates_the_boxes_are_judged_and_that_is_said() -> None:
    said = list(check(without_plates(round_shape(0, 20, 30, 40)), THREE))
    found = [item for item in said if isinstance(item, Finding)]
    noted = [item for item in said if isinstance(item, Unjudged)]
    assert [item.code for item in found] == ["not-drawn"]
    assert "by the boxes" in found[0].message
    assert [(item.severity, item.page) for item in noted] == [(Severity.ADVICE, 1)]
    sound = list(check(without_plates(flyer().with_background(3)), THREE))
    assert [type(item) for item in sound] == [Unjudged]


def test_where_no_plates_were_drawn_at_all_the_finding_alone_says_so() -> None:
    all_findings = findings(check(round_shape(0, 20, 30, 40).artwork(), THREE))
    assert "by the boxes" in all_findings[0].message


def test_an_unknown_trim_is_not_judged() -> None:
    page = plates(flyer().with_trim(Unmeasured("trim", "no size fits")))
    said = list(check(page.artwork(), THREE))
    assert [(type(item), item.severity) for item in said] == [(Unjudged, Severity.MUST_FIX)]


def test_a_soft_mask_in_the_state_is_soft_too() -> None:
    piece = flyer().with_area(0, -1, 148, 60, state=MarkState(soft_mask=True))
    page = plates(piece).with_edge(Edge.BOTTOM, 1.0).with_ink("Cyan", 3, (0, 0, 148, 1))
    assert codes(check(page.artwork(), THREE)) == []
