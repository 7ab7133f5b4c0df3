# The report's pictures out of plates: what they say, beside what is found, in one light page.

import re
from dataclasses import replace
from importlib import import_module

import pytest

from hotfolder.colour.soft_proof import InkColours
from hotfolder.drawing.proofs.pictures import ProofWanted, page_proof
from hotfolder.model.facts import Unmeasured
from hotfolder.model.findings import Finding, Judgement, Quantity, Severity
from hotfolder.model.inks import CELL_PT, ColourShift, PageInk
from hotfolder.model.pictures import PagePicture, PageProof
from hotfolder.presses.loading import load_press
from hotfolder.report import Report, report_html
from hotfolder.report.as_html.page import page_template
from tests.drawing.plates_by_hand import CUT, LOOKS, MOVED, SPOT, flyer_plates, ink_of, mm_box, page_of
from tests.report.as_html.test_html_report import HOSTILE, Reader, picture
from tests.report.samples import BLEED_FINDING, faulty_report, flyer

CONDITION = "Coated paper, sheetfed offset"
TOTAL_INK = Finding(
    "total-ink",
    "over-limit",
    Severity.MUST_FIX,
    "This area carries more ink than the press can dry; the sheet sticks to the next one.",
    "Lower the ink there, for example by converting the colours for this printing condition.",
    page=1,
    boxes=(mm_box(20, 20, 60, 50),),
    measured=Quantity.of(340, unit="%"),
    required=Quantity.of(300, unit="%"),
)
BLEED = replace(BLEED_FINDING, boxes=(mm_box(151, 90, 154, 213),))


def proof_of(page: int, *, whole: bool = True, grain: int = 0) -> PageProof:
    plates = flyer_plates(page, px_per_mm=3, grain=grain)
    ink = ink_of(plates)
    wanted = ProofWanted(CONDITION, 3 * CELL_PT, 300, frozenset({CUT}), whole, whole)
    return page_proof(plates, page_of(page, ink), InkColours(None, LOOKS), wanted)


@pytest.fixture(scope="module")
def proofs() -> tuple[PageProof, PageProof]:
    return proof_of(1), proof_of(2)


@pytest.fixture(scope="module")
def ink() -> PageInk:
    return ink_of(flyer_plates(px_per_mm=3), MOVED)


@pytest.fixture(scope="module")
def report(ink: PageInk) -> Report:
    pages = tuple(replace(page, ink=ink) for page in flyer().known_pages)
    judgement = Judgement((TOTAL_INK, BLEED), (), ())
    artwork = replace(flyer(), pages=pages, press="coated")
    return replace(faulty_report(), artwork=artwork, judgement=judgement)


def read(report: Report, *shown: PageProof | PagePicture | Unmeasured) -> Reader:
    return Reader(report_html(report, shown))


def test_the_page_stands_as_it_will_print_with_the_condition_it_is_made_for(
    report: Report, proofs: tuple[PageProof, PageProof]
) -> None:
    seen = read(report, *proofs)
    said = (
        f"As it will print: its plates put together for {CONDITION}, without Cut; the paper is shown white."
    )
    assert seen.words.count(said) == 1  # not again for the second page
    first = next(image for image in seen.every("image") if image.get("id") == "printed-1")
    assert first["href"] == proofs[0].printed.data_uri
    assert f"made for {CONDITION}. A picture on a screen is not a contract proof" in seen.words


def test_a_page_without_plates_says_what_its_picture_is(report: Report) -> None:
    pages = (
        replace(report.artwork.known_pages[0], ink=Unmeasured("ink", "it would take 900 MB")),
        report.artwork.known_pages[1],
    )
    seen = read(replace(report, artwork=replace(report.artwork, pages=pages)), picture())
    assert "As a viewer shows it, not put together from its plates: it would take 900 MB." in seen.words
    assert "Ink on paper" in seen.words  # among the measurements
    assert "Not measured, page 1: it would take 900 MB." in seen.words
    assert "Plates" not in [text.strip() for text in seen.text]


def test_every_section_stands_under_its_own_heading(
    report: Report, proofs: tuple[PageProof, PageProof]
) -> None:
    seen = read(report, *proofs)
    for number in (1, 2):
        for part in ("inks", "coverage", "plates", "edges", "change"):
            assert f"{part}-{number}" in seen.ids()
    assert len(seen.ids()) == len(set(seen.ids()))
    headings = [text.strip() for text in seen.text]
    for heading in ("Ink on paper", "Plates", "Edges", "Colours that change"):
        assert headings.count(heading) >= 2, heading


def test_a_flyer_shows_all_and_of_longer_works_pages_without_findings_are_folded(
    report: Report, proofs: tuple[PageProof, PageProof]
) -> None:
    assert read(report, *proofs).every("details") == []
    third = replace(proofs[1], printed=replace(proofs[1].printed, page=3))
    pages = (*report.artwork.known_pages, replace(report.artwork.known_pages[1], number=3))
    longer = replace(report, artwork=replace(report.artwork, pages=pages))
    seen = read(longer, *proofs, third)
    assert len(seen.every("details")) == 2
    assert seen.words.count("Coverage, plates, edges and colours that change") == 2


def test_all_pictures_have_a_text_and_nothing_comes_from_outside(
    report: Report, proofs: tuple[PageProof, PageProof]
) -> None:
    seen = read(report, *proofs)
    images, drawn = seen.every("img"), seen.every("image")
    assert len(images) == 2 * 6
    assert len(drawn) == 2 * (1 + 1 + 4 + 1)  # proof, coverage, edges, master
    assert all(image["alt"] for image in images)
    assert all(image["aria-label"] for image in drawn)
    assert all(image["src"].startswith("data:image/") for image in images)
    assert all(image["href"].startswith("data:image/") for image in drawn)
    assert [use["href"] for use in seen.every("use")] == ["#printed-1", "#printed-2"]
    assert not [name for _, attributes in seen.elements for name in attributes if name.startswith("on")]
    assert not [1 for _, attributes in seen.elements if "style" in attributes]


def test_a_picture_is_in_the_page_only_once(report: Report, proofs: tuple[PageProof, PageProof]) -> None:
    uris = re.findall(r"data:image/[^\"]+", report_html(report, proofs[:1]))
    assert len(uris) == len(set(uris)) == 2 + 6 + 4 + 1


def test_places_over_the_limit_are_numbered_on_the_coverage_picture(
    report: Report, proofs: tuple[PageProof, PageProof]
) -> None:
    seen = read(report, proofs[0])
    labels = [link["aria-label"] for link in seen.every("a") if link.get("class", "").startswith("badge")]
    # On the marked proof both findings, on the coverage picture that on ink again.
    assert sorted(labels) == [
        "Note 1, must fix: Bleed", "Note 2, must fix: Total ink", "Note 2, must fix: Total ink",
    ]  # fmt: skip
    assert "hatched: over the limit of 300 %" in seen.words
    assert "Total ink in percent: none to 50 to 100" in seen.words


def test_each_plate_has_its_figures_beside_it(
    report: Report, ink: PageInk, proofs: tuple[PageProof, PageProof]
) -> None:
    words = read(report, proofs[0]).words
    black = next(plate for plate in ink.plates if plate.ink == "Black")
    assert f"Black mean {black.mean_percent:.0f} % highest 100 %" in words
    assert f"{SPOT} mean" in words
    assert "a technical ink" in words
    assert "The picture leaves out Cut, a technical ink; the figures count all." in words


def test_the_edges_show_the_place_and_what_was_measured(
    report: Report, proofs: tuple[PageProof, PageProof]
) -> None:
    words = read(report, proofs[0]).words
    assert "Right edge, from top to bottom" in words
    assert "0 mm to 3 mm beyond the trim; along 123 mm of this edge it is less than the 3 mm wanted." in words
    assert "No paint touches the trim here." in words


def test_colours_that_change_stand_side_by_side_with_their_figures(
    report: Report, proofs: tuple[PageProof, PageProof]
) -> None:
    seen = read(report, proofs[0])
    assert (
        "41 % of the sheet moves by more than 5 units of CIEDE2000, which shows side by side; 22 % by more"
        in seen.words
    )
    assert "vivid green, printed duller and darker" in seen.words
    assert (
        "Moves by 18 units, on 6.5 % of the sheet; from L 85, a -70, b 70 to L 70, a -45, b 45" in seen.words
    )
    fills = [rect["fill"] for rect in seen.every("rect") if rect.get("height") == "44"]
    assert len(fills) == 2 * len(MOVED.moved)
    assert all(re.fullmatch("#[0-9a-f]{6}", fill) for fill in fills)


def test_hardly_any_change_is_told_as_that(
    report: Report, ink: PageInk, proofs: tuple[PageProof, PageProof]
) -> None:
    still = replace(ink, shift=ColourShift(0.1, 0.0, 0.0))
    pages = tuple(replace(page, ink=still) for page in report.artwork.known_pages)
    words = read(replace(report, artwork=replace(report.artwork, pages=pages)), proofs[0]).words
    assert "Hardly any colour on this page changes" in words
    assert "moves by more than" not in words


def test_pages_of_the_presss_own_colours_have_no_such_section(
    report: Report, ink: PageInk, proofs: tuple[PageProof, PageProof]
) -> None:
    own = tuple(replace(page, ink=replace(ink, shift=None)) for page in report.artwork.known_pages)
    plain = replace(report, artwork=replace(report.artwork, pages=own))
    assert "Colours that change" not in read(plain, replace(proofs[0], meant=None)).words


def test_a_page_with_its_proof_only_has_no_section(report: Report) -> None:
    seen = read(report, proof_of(1, whole=False))
    assert "coverage-1" not in seen.ids()
    assert "plates-1" not in seen.ids()


def test_nothing_of_the_file_is_shown_unescaped(
    report: Report, ink: PageInk, proofs: tuple[PageProof, PageProof]
) -> None:
    odd_ink = replace(
        ink,
        plates=tuple(replace(plate, ink=HOSTILE) for plate in ink.plates[:1]),
        approximate=(HOSTILE,),
    )
    pages = tuple(replace(page, ink=odd_ink) for page in report.artwork.known_pages)
    plate = replace(
        proofs[0].plates[0], ink=HOSTILE, picture=replace(proofs[0].plates[0].picture, alt=HOSTILE)
    )
    odd = replace(proofs[0], condition=HOSTILE, left_out=(HOSTILE,), plates=(plate,))
    seen = read(replace(report, artwork=replace(report.artwork, pages=pages, press=HOSTILE)), odd)
    assert seen.every("script") == []
    assert [image["alt"] for image in seen.every("img")] == [HOSTILE]
    assert seen.comments == ["hotfolder:released"]
    assert seen.words.count("<script>alert(1)</script>") >= 5


def test_the_measurements_tell_the_inks_of_each_page(report: Report, ink: PageInk) -> None:
    nearly = replace(ink, approximate=("a knockout group is drawn as if it were none",))
    pages = (report.artwork.known_pages[0], replace(report.artwork.known_pages[1], ink=nearly))
    words = read(replace(report, artwork=replace(report.artwork, pages=pages))).words
    assert "The plates are those for this printing condition: coated." in words
    assert "Approximate, page 2: a knockout group is drawn as if it were none." in words
    assert f"{ink.max_1mm2_percent:.0f} %" in words
    assert "Page 1: 41 % of the sheet changes its colour by more than 5 units of CIEDE2000" in words
    assert f"{SPOT} " in words


def test_the_press_of_the_rule_set_is_told_in_its_own_words(report: Report) -> None:
    press = load_press("coated")
    words = read(replace(report, rule_set=replace(report.rule_set, press=press))).words
    assert f"The plates are those for this printing condition: {press.title}." in words


def test_the_template_is_compiled_once_and_before_it_is_needed() -> None:
    module = import_module("hotfolder.report.preload")
    assert module.page_template() is page_template()


@pytest.mark.parametrize(("grain", "most_bytes"), [(8, 500_000), (200, 1_500_000)])
def test_a_flyer_of_two_pages_is_light(report: Report, grain: int, most_bytes: int) -> None:
    html = report_html(report, (proof_of(1, grain=grain), proof_of(2, grain=grain)))
    assert len(html.encode()) < most_bytes
