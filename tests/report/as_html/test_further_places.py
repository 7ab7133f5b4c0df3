# One cause on several pages: told once in full, shown on every page that has a picture.
from dataclasses import replace
from io import BytesIO

from PIL import Image

from hotfolder.model.findings import Finding, Judgement, Place, Severity
from hotfolder.model.pictures import PagePicture
from hotfolder.report import report_html, report_json
from hotfolder.report.model import Report
from tests.report.as_html.test_html_report import Reader
from tests.report.samples import A5_SHEET, faulty_report, flyer, mm_box, page

THIN = Finding(
    rule="line-width",
    code="thin",
    severity=Severity.ADVICE,
    message="Pages 1 to 3: 5 lines are too thin.",
    remedy="Make them wider.",
    page=1,
    boxes=(mm_box(10, 10, 20, 10.2),),
    further=(
        Place(2, (mm_box(30, 30, 40, 30.2), mm_box(30, 50, 40, 50.2))),
        Place(3, (mm_box(10, 10, 20, 10.2),)),
    ),
)


def thin_lines() -> Report:
    three = replace(flyer(), pages=(page(1), page(2), page(3)))
    return replace(faulty_report(), artwork=three, judgement=Judgement((THIN,), (), ()))


def pictures(*numbers: int) -> list[PagePicture]:
    data = BytesIO()
    Image.new("RGB", (154, 216), "white").save(data, "PNG")
    return [PagePicture(number, data.getvalue(), "image/png", 154, 216, A5_SHEET) for number in numbers]


def test_the_json_names_every_page_with_its_boxes() -> None:
    (found,) = report_json(thin_lines())["findings"]
    assert (found["page"], len(found["boxes"])) == (1, 1)
    assert [(place["page"], len(place["boxes"])) for place in found["further"]] == [(2, 2), (3, 1)]


def test_a_page_with_a_picture_shows_its_places_and_points_to_the_finding() -> None:
    seen = Reader(report_html(thin_lines(), pictures(1, 2)))
    assert seen.words.count("5 lines are too thin.") == 1
    assert seen.words.count("As told under 1.") == 1
    assert [identifier for identifier in seen.ids() if identifier.startswith("finding-")] == ["finding-1"]
    assert {identifier for identifier in seen.ids() if identifier.startswith("page-")} >= {"page-1", "page-2"}
    frames = [each for each in seen.every("rect") if each.get("class") == "place advice"]
    legend = 2  # one in each legend
    assert len(frames) == 1 + 2 + legend


def test_a_page_without_a_picture_is_not_shown_for_what_was_told_before() -> None:
    seen = Reader(report_html(thin_lines(), pictures(1)))
    assert "As told under" not in seen.words
    assert "page-2" not in seen.ids()
