# Trim size: the finished size against those that are taken, and what is said of sizes that were concluded.
from dataclasses import replace

import pytest

from hotfolder.checks.size.trim_size import check
from hotfolder.checks.size.trim_sizes.trim_settings import TakenElsewhere, TrimSizeSettings
from hotfolder.model.artwork import Artwork
from hotfolder.model.facts import Unmeasured
from hotfolder.model.findings import Quantity, Severity
from hotfolder.model.geometry import Box
from hotfolder.model.pages import Page, PageBoxes, Trim, TrimOrigin
from hotfolder.model.raster import raster_mark
from hotfolder.model.ruleset import Product
from hotfolder.units import Length, mm_to_pt, parse_size
from hotfolder.workshop.placing import place
from tests.artwork.files import artwork, unreadable
from tests.artwork.flyer import Flyer, flyer
from tests.artwork.pictures import placed, raster, unplaced
from tests.checks.said import codes, figures, findings, mm, the_only, unjudged


def sizes(*names: str) -> TrimSizeSettings:
    return TrimSizeSettings(sizes=tuple(parse_size(name) for name in names))


FLYERS = sizes("A4", "A5", "A6", "DL")


@pytest.mark.parametrize("size", ["A4", "A5", "A6", "DL", "210 x 148 mm", "297 x 210 mm"])
def test_sizes_that_are_taken_pass_either_way_up(size: str) -> None:
    assert codes(check(flyer(size).artwork(), FLYERS)) == []


def test_a4_as_programs_round_it_passes() -> None:
    # 595 x 842 pt and 595.28 x 841.89 pt are both common for A4 (210 x 297 mm, ISO 216).
    assert codes(check(flyer("595 x 842 pt").artwork(), FLYERS)) == []
    assert codes(check(flyer("595.276 x 841.89 pt").artwork(), FLYERS)) == []


def test_another_size_must_be_fixed() -> None:
    finding = the_only(check(flyer("150 x 150 mm").artwork(), FLYERS))
    assert (finding.code, finding.severity, finding.page) == ("wrong", Severity.MUST_FIX, 1)
    assert figures(finding) == (mm(150, 150), mm(105, 148))
    assert finding.boxes == (flyer("150 x 150 mm").trim_box,)


def test_another_paper_size_is_called_by_its_name() -> None:
    finding = the_only(check(flyer("A5").artwork(), sizes("A6")))
    assert "This is A5; A6 (105 x 148 mm) is expected here" in finding.message
    assert figures(finding) == (mm(148, 210), mm(105, 148))


def test_a_size_that_is_only_near_a_paper_size_is_not_called_by_its_name() -> None:
    assert "This is A5" not in the_only(check(flyer("149 x 210 mm").artwork(), sizes("A6"))).message


def test_a_trim_box_around_the_bleed_is_explained() -> None:
    finding = the_only(check(flyer("154 x 216 mm").artwork(), FLYERS))
    assert finding.code == "wrong"
    assert "A5 (148 x 210 mm) with 3 mm more on every side" in finding.message


def test_a_spread_is_explained() -> None:
    finding = the_only(check(flyer("420 x 297 mm").artwork(), sizes("210 x 297 mm")))
    assert (finding.code, finding.severity) == ("spread", Severity.MUST_FIX)
    assert "or A3 as a whole" in finding.message  # two A4 pages are A3 too
    for written in ("297 x 210 mm", "296.99 x 210 mm", "29.7 x 21 cm"):  # two A5 are 296 mm wide
        assert the_only(check(flyer(written).artwork(), sizes("A5"))).code == "spread"
    finding = the_only(check(flyer("170 x 240 mm").artwork(), sizes("85 x 240 mm")))
    assert (finding.code, finding.severity) == ("spread", Severity.MUST_FIX)
    assert "two pages of 85 x 240 mm side by side" in finding.message


def test_pages_above_each_other_are_no_spread() -> None:
    # A4 upright holds two A5 lying, one above the other: nobody exports spreads so.
    assert the_only(check(flyer("A4").artwork(), sizes("A5"))).code == "wrong"


def test_the_size_of_a_turned_page_is_told_as_it_is_seen() -> None:
    lying, upright = flyer("A4").rotated(90), flyer("297 x 210 mm").rotated(270)
    spread = the_only(check(lying.artwork(), sizes("A5")))
    assert (spread.code, figures(spread)[0]) == ("spread", mm(297, 210))
    assert spread.message.startswith("Page 1 is 297 x 210 mm")
    wrong = the_only(check(upright.artwork(), sizes("A5")))
    assert (wrong.code, figures(wrong)[0]) == ("wrong", mm(210, 297))
    off = the_only(check(flyer("148.3 x 210 mm").rotated(90).artwork(), FLYERS))
    assert (off.code, *figures(off)) == ("off", mm(210, 148.3), mm(210, 148))


@pytest.mark.parametrize(
    ("width", "expected"), [(148.1, []), (148.19, []), (148.3, ["off"]), (148.49, ["off"])]
)
def test_a_little_off_is_advice(width: float, expected: list[str]) -> None:
    assert codes(check(flyer(f"{width} x 210 mm").artwork(), FLYERS)) == expected


def test_what_is_a_little_off_is_told_finely() -> None:
    finding = the_only(check(flyer("148.3 x 210 mm").artwork(), FLYERS))
    assert (finding.severity, *figures(finding)) == (Severity.ADVICE, mm(148.3, 210), mm(148, 210))
    assert "0.3 mm off" in finding.message


def test_more_than_the_tolerance_is_wrong() -> None:
    assert codes(check(flyer("148.6 x 210 mm").artwork(), FLYERS)) == ["wrong"]
    wide = FLYERS.model_copy(update={"tolerance": Length.of_mm(1)})
    assert codes(check(flyer("148.6 x 210 mm").artwork(), wide)) == ["off"]


def test_figures_are_told_in_the_unit_of_the_size() -> None:
    finding = the_only(check(flyer("8 x 11 in").artwork(), sizes("Letter")))
    assert figures(finding) == (Quantity.of(8.0, 11.0, unit="in"), Quantity.of(8.5, 11.0, unit="in"))


def test_pages_of_one_wrong_size_are_one_finding() -> None:
    wrong, right = flyer("A3").page(), flyer("A4").page()
    finding = the_only(check(artwork(wrong, wrong, right, wrong), FLYERS))
    assert (finding.page, "Pages 1, 2 and 4 are" in finding.message) == (1, True)


def test_pages_of_different_sizes_cannot_be_printed_together() -> None:
    finding = the_only(check(artwork(flyer("A4").page(), flyer("A5").page()), FLYERS))
    assert (finding.code, finding.severity, finding.page) == ("mixed", Severity.MUST_FIX, 2)
    assert figures(finding) == (mm(148, 210), mm(210, 297))


def test_a_page_turned_the_other_way_is_advice() -> None:
    upright, lying = flyer("A5"), flyer("210 x 148 mm")
    finding = the_only(check(artwork(upright.page(), lying.page()), FLYERS))
    assert (finding.code, finding.severity, finding.page) == ("turned", Severity.ADVICE, 2)
    # A lying page that is shown turned by 90 degrees is upright.
    assert codes(check(artwork(upright.page(), lying.rotated(90).page()), FLYERS)) == []


def test_square_pages_have_no_way_up() -> None:
    square = flyer("148 x 148 mm")
    assert codes(check(artwork(square.page(), square.rotated(90).page()), sizes("148 x 148 mm"))) == []


def inferred(piece: Flyer) -> Flyer:
    return piece.with_trim(Trim(piece.trim_box, TrimOrigin.INFERRED, "The page is A5 with 3 mm around it."))


def test_an_inferred_trim_is_told() -> None:
    finding = the_only(check(inferred(flyer()).artwork(), FLYERS))
    assert (finding.code, finding.severity) == ("inferred", Severity.ADVICE)
    assert "the page is A5 with 3 mm around it." in finding.message
    strict = FLYERS.model_copy(update={"severity": {"inferred": Severity.MUST_FIX}})
    assert the_only(check(inferred(flyer()).artwork(), strict)).severity is Severity.MUST_FIX


def test_an_art_box_is_a_declared_size() -> None:
    piece = flyer()
    assert codes(check(piece.with_trim(Trim(piece.trim_box, TrimOrigin.ART_BOX)).artwork(), FLYERS)) == []


# Raster files


def test_a_picture_as_large_as_its_header_says_is_not_flagged() -> None:
    piece = placed(raster((1819, 2551), declared_ppi=300), parse_size("A5"), 3, "The header says 300 ppi.")
    assert codes(check(piece, FLYERS)) == []


def test_a_picture_placed_by_its_shape_is_told() -> None:
    piece = placed(raster((1819, 2551), declared_ppi=72), parse_size("A5"), 3, "By its shape it is A5.")
    finding = the_only(check(piece, FLYERS))
    assert (finding.code, finding.severity) == ("placed", Severity.ADVICE)
    assert codes(check(placed(raster((1819, 2551)), parse_size("A5"), 3, "By its shape."), FLYERS)) == [
        "placed"
    ]


def test_a_picture_that_may_be_several_sizes_is_a_question() -> None:
    finding = the_only(check(unplaced(raster((1819, 2551), declared_ppi=72), "It may be A4 or A5"), FLYERS))
    assert (finding.code, finding.severity, finding.page) == ("unknown", Severity.MUST_FIX, 1)
    assert "It may be A4 or A5" in finding.message
    assert "Save the picture with its printed size" in finding.remedy


def in_poster_inbox(ppi: float) -> Artwork:
    facts = raster((1819, 2551), declared_ppi=ppi)
    media = Box(0, 0, 1819 / ppi * 72, 2551 / ppi * 72)
    unknown = Unmeasured("trim", "a picture")
    page = Page(1, 0, 1.0, PageBoxes(media), unknown, (raster_mark(facts, media),), raster=facts)
    return place(artwork(page), Product(POSTERS.sizes, mm_to_pt(3)))


POSTERS = sizes("A3", "A2", "A1")


def test_a_flyer_in_a_poster_inbox_is_of_the_wrong_size() -> None:
    """154 x 216 mm at 300 ppi; by its shape alone it might be A3 at 152 ppi."""
    finding = the_only(check(in_poster_inbox(300), POSTERS))
    assert (finding.code, finding.severity) == ("wrong", Severity.MUST_FIX)
    assert figures(finding) == (mm(154.01, 215.98), mm(297, 420))
    assert "A5 (148 x 210 mm) with 3 mm more on every side" in finding.message
    assert "its pixels then come to about 156 ppi" in finding.remedy


def test_a_picture_whose_header_says_nothing_goes_by_its_shape() -> None:
    assert codes(check(in_poster_inbox(72), POSTERS)) == ["placed"]


def test_another_inbox_of_the_studio_that_takes_the_size_is_named() -> None:
    knowing = POSTERS.knowing(
        (
            TakenElsewhere("quay/inbox/cards", sizes("85 x 55 mm").sizes),
            TakenElsewhere("quay/inbox", FLYERS.sizes),
        )
    )
    finding = the_only(check(in_poster_inbox(300), knowing))
    assert finding.remedy.startswith(
        "Wrong inbox? A5 (148 x 210 mm) is taken in quay/inbox: drop it there. If it belongs here: make the"
    )
    finding = the_only(check(flyer("55 x 85 mm").artwork(), knowing))
    assert "85 x 55 mm is taken in quay/inbox/cards" in finding.remedy
    spread = the_only(
        check(
            flyer("297 x 210 mm").artwork(),
            sizes("A5").knowing((TakenElsewhere("west/inbox", sizes("A4").sizes),)),
        )
    )
    assert spread.remedy == (
        "Wrong inbox? A4 (210 x 297 mm) is taken in west/inbox: drop it there. If it belongs here: export"
        " single pages instead of spreads."
    )
    assert "Wrong inbox" not in the_only(check(flyer("150 x 150 mm").artwork(), knowing)).remedy


# Pages that do not say where they are cut


def without_trim(piece: Flyer, reason: str = "The page declares no trim") -> Page:
    boxes = PageBoxes(media=piece.boxes.media)
    return piece.with_boxes(boxes).with_trim(Unmeasured("trim", reason)).page()


def test_a_page_without_a_trim_that_can_be_no_size_is_wrong() -> None:
    page = without_trim(flyer("Letter").with_bleed_mm(0))
    finding = the_only(check(artwork(page), FLYERS))
    assert (finding.code, finding.severity) == ("wrong", Severity.MUST_FIX)
    assert "215.9 x 279.4 mm as a whole, and the file does not say where it is cut" in finding.message
    assert "This is Letter; A4" in finding.message
    assert "Drop it where Letter is taken" in finding.remedy
    assert "with trim and bleed included in the file" in finding.remedy


def test_a_manual_of_many_pages_is_one_finding() -> None:
    page = without_trim(flyer("190 x 235 mm").with_bleed_mm(0))
    finding = the_only(check(artwork(*[page] * 566), FLYERS))
    assert (finding.code, finding.page) == ("wrong", 1)
    assert "Pages 1 to 566 are 190 x 235 mm" in finding.message


def test_a_page_that_may_be_two_sizes_is_unknown_and_must_be_fixed() -> None:
    page = without_trim(flyer("160 x 222 mm").with_bleed_mm(0), "It may be A5 or 154 x 216 mm")
    finding = the_only(check(artwork(page, page), sizes("A5", "154 x 216 mm")))
    assert (finding.code, finding.severity, finding.page) == ("unknown", Severity.MUST_FIX, 1)
    assert [place.page for place in finding.further] == [2]
    assert finding.message.startswith("Pages 1 and 2: the finished size is not known. It may be A5 or")
    assert "with trim and bleed included in the file" in finding.remedy


# What cannot be judged


def test_a_page_without_any_size_is_not_judged() -> None:
    unknown = flyer().with_boxes(PageBoxes(None)).with_trim(Unmeasured("trim", "no page size")).page()
    said = unjudged(check(artwork(unknown, unknown), FLYERS))
    assert [(item.severity, item.page) for item in said] == [(Severity.MUST_FIX, None)]
    assert len(unjudged(check(unreadable(), FLYERS))) == 1


def test_known_pages_are_judged_beside_unknown_ones() -> None:
    all_findings = findings(
        check(artwork(flyer("A3").page(), without_trim(flyer("A5"), "no size fits")), FLYERS)
    )
    assert [(item.code, item.page) for item in all_findings] == [("unknown", 2), ("wrong", 1)]


def test_the_nearest_of_two_close_sizes_counts() -> None:
    # 85 x 55 mm and 86 x 54 mm (rounded ID-1) differ by a millimetre.
    cards = TrimSizeSettings(
        sizes=(parse_size("85 x 55 mm"), parse_size("86 x 54 mm")), tolerance=Length.of_mm(1)
    )
    finding = the_only(check(flyer("85.7 x 54.2 mm").artwork(), cards))
    assert finding.required == mm(86, 54)


def test_user_units_and_origin_do_not_matter() -> None:
    piece = replace(flyer(), user_unit=10.0)
    assert codes(check(piece.artwork(), FLYERS)) == []
    assert piece.trim_box.x0 == pytest.approx(mm_to_pt(20))
