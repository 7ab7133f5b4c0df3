# Page count: named counts, bounds, and multiples for folded sheets.
import pytest
from pydantic import ValidationError

from hotfolder.checks.size.page_count import PageCountSettings, check
from hotfolder.model.artwork import Artwork
from hotfolder.model.findings import Quantity, Severity, Unjudged
from tests.artwork.files import artwork, unreadable
from tests.artwork.flyer import flyer
from tests.checks.said import codes, figures, the_only, unjudged

SIDES = PageCountSettings(pages=(1, 2))
STITCHED = PageCountSettings(fewest=8, most=64, multiple_of=4)


def pages(count: int) -> Artwork:
    return artwork(*[flyer().page()] * count)


def of_pages(*values: float) -> Quantity:
    return Quantity(values, "pages")


@pytest.mark.parametrize("count", [1, 2])
def test_named_counts_pass(count: int) -> None:
    assert codes(check(pages(count), SIDES)) == []


def test_another_count_must_be_fixed() -> None:
    finding = the_only(check(pages(3), SIDES))
    assert (finding.code, finding.severity, finding.page) == ("wrong", Severity.MUST_FIX, None)
    assert figures(finding) == (of_pages(3), of_pages(1, 2))


@pytest.mark.parametrize(
    ("count", "expected"),
    [
        (8, []),
        (64, []),
        (4, ["too-few"]),
        (68, ["too-many"]),
        (10, ["multiple"]),
        (6, ["too-few"]),
    ],
)
def test_a_stitched_brochure_is_made_of_sheets_of_four(count: int, expected: list[str]) -> None:
    # A folded sheet has four pages (common practice).
    assert codes(check(pages(count), STITCHED)) == expected


def test_no_count_is_asked_for_that_another_bound_forbids() -> None:
    """62 pages of at most 62 in sheets of 4: 64 would be too many, 60 will do."""
    tight = PageCountSettings(fewest=7, most=62, multiple_of=4)
    finding = the_only(check(pages(62), tight))
    assert (finding.code, finding.required) == ("multiple", Quantity.of(60, unit="pages"))
    assert "until there are 60;" in finding.remedy
    finding = the_only(check(pages(66), tight))
    assert (finding.code, finding.required) == ("too-many", Quantity.of(60, unit="pages"))
    finding = the_only(check(pages(5), tight))
    assert (finding.code, finding.required) == ("too-few", Quantity.of(8, unit="pages"))


def test_the_next_multiples_are_named() -> None:
    finding = the_only(check(pages(10), STITCHED))
    assert finding.required == of_pages(12)
    assert "12 or 8" in finding.remedy


def test_the_settings_name_a_count_and_do_not_contradict_themselves() -> None:
    with pytest.raises(ValidationError, match="pages"):
        PageCountSettings()
    with pytest.raises(ValidationError, match="not both"):
        PageCountSettings(pages=(1,), most=2)
    with pytest.raises(ValidationError, match="less than"):
        PageCountSettings(fewest=8, most=4)
    assert PageCountSettings(ask=True).pages == ()


def test_a_file_without_pages_is_left_to_the_rule_about_reading() -> None:
    [said] = check(artwork(), SIDES)
    assert isinstance(said, Unjudged)
    assert said.reason.endswith("the file holds no page")


def test_an_unread_file_is_not_judged() -> None:
    assert [item.severity for item in unjudged(check(unreadable(), SIDES))] == [Severity.MUST_FIX]
