# Transparency: its causes, and what looks like it.
from dataclasses import replace

import pytest

from hotfolder.checks.pdf.transparency import TransparencySettings, check
from hotfolder.model.findings import Severity
from hotfolder.model.marks import MarkState, Masking
from hotfolder.units import parse_size
from tests.artwork.files import artwork, unreadable
from tests.artwork.flyer import Flyer, flyer, image_facts
from tests.artwork.pictures import placed, raster
from tests.checks.said import codes, findings, the_only, unjudged

PLAIN = TransparencySettings()
PLACE = (10, 10, 50, 50)


def in_state(state: MarkState) -> Flyer:
    return flyer().with_area(*PLACE, state=state)


def masked(masking: Masking) -> Flyer:
    return flyer().with_image(PLACE, (600, 600), replace(image_facts((600, 600), PLACE), masking=masking))


@pytest.mark.parametrize(
    ("piece", "code"),
    [
        (in_state(MarkState(fill_opacity=0.5)), "opacity"),
        (in_state(MarkState(blend_mode="Multiply")), "blend-mode"),
        (in_state(MarkState(soft_mask=True)), "soft-mask"),
        (masked(Masking.SOFT), "image-soft-mask"),
    ],
)
def test_each_cause_must_be_fixed_and_is_told_by_its_code(piece: Flyer, code: str) -> None:
    finding = the_only(check(piece.artwork(), PLAIN))
    assert (finding.code, finding.severity, finding.page, len(finding.boxes)) == (
        code,
        Severity.MUST_FIX,
        1,
        1,
    )


def test_a_group_alone_is_advice() -> None:
    finding = the_only(check(in_state(MarkState(group=True)).artwork(), PLAIN))
    assert (finding.code, finding.severity) == ("group", Severity.ADVICE)


def test_marks_of_one_cause_are_one_finding() -> None:
    half = MarkState(fill_opacity=0.5)
    piece = in_state(half).with_area(60, 60, 70, 70, state=half)
    assert len(the_only(check(piece.artwork(), PLAIN)).boxes) == 2


def test_a_mark_may_have_several_causes() -> None:
    state = MarkState(fill_opacity=0.5, blend_mode="Screen")
    assert codes(check(in_state(state).artwork(), PLAIN)) == ["opacity", "blend-mode"]


@pytest.mark.parametrize(
    "piece",
    [
        pytest.param(flyer().with_area(*PLACE), id="opaque"),
        pytest.param(in_state(MarkState(blend_mode="Compatible")), id="compatible"),
        pytest.param(in_state(MarkState(stroke_opacity=0.5)), id="opacity of strokes, and nothing stroked"),
        pytest.param(masked(Masking.EXPLICIT), id="hard mask"),
        pytest.param(masked(Masking.COLOUR_KEY), id="cut out by colour"),
        pytest.param(masked(Masking.STENCIL), id="stencil"),
        pytest.param(
            flyer().with_area(*PLACE, state=MarkState(fill_opacity=0.5), printed=False), id="hidden layer"
        ),
    ],
)
def test_not_flagged(piece: Flyer) -> None:
    assert codes(check(piece.artwork(), PLAIN)) == []


def test_a_transparent_stroke_is_flagged() -> None:
    piece = flyer().with_outline(*PLACE, 1)
    stroked = replace(piece, marks=(replace(piece.marks[0], state=MarkState(stroke_opacity=0.5)),))
    assert codes(check(stroked.artwork(), PLAIN)) == ["opacity"]


def test_the_opacity_of_fills_does_not_matter_where_nothing_is_filled() -> None:
    piece = flyer().with_outline(*PLACE, 1)
    stroked = replace(piece, marks=(replace(piece.marks[0], state=MarkState(fill_opacity=0.5)),))
    assert codes(check(stroked.artwork(), PLAIN)) == []


def test_outside_trim_and_bleed_is_not_flagged() -> None:
    piece = flyer()
    roomy = piece.with_boxes(replace(piece.boxes, media=piece.trim_box.grown(60)))
    outside = roomy.with_area(0, -15, 9, -8, state=MarkState(fill_opacity=0.5))
    assert codes(check(outside.artwork(), PLAIN)) == []


def test_the_kinds_of_blend_modes_and_their_pages_are_told() -> None:
    first = in_state(MarkState(blend_mode="Multiply")).page()
    second = in_state(MarkState(blend_mode="Screen")).page()
    finding = the_only(check(artwork(first, second), PLAIN))
    assert [place.page for place in finding.places] == [1, 2]
    assert "(Multiply and Screen)" in finding.message


def test_overprint_in_a_group_is_told_in_place_of_the_group() -> None:
    finding = the_only(check(in_state(MarkState(group=True, overprint_fill=True)).artwork(), PLAIN))
    assert (finding.code, finding.severity) == ("overprint", Severity.ADVICE)
    stroking_only = MarkState(group=True, overprint_stroke=True)
    assert codes(check(in_state(stroking_only).artwork(), PLAIN)) == ["group"]  # nothing is stroked there


def test_picture_files_are_for_another_rule() -> None:
    clear = replace(raster((1819, 2551)), alpha=True)
    assert codes(check(placed(clear, parse_size("A5"), 3), PLAIN)) == []


def test_what_could_not_be_read_is_not_judged() -> None:
    assert len(unjudged(check(unreadable(), PLAIN))) == 1
    said = list(
        check(artwork(in_state(MarkState(soft_mask=True)).page(), flyer().unreadable().page()), PLAIN)
    )
    assert [item.code for item in findings(said[:1])] == ["soft-mask"]
    assert [item.page for item in unjudged(said[1:])] == [2]
