# In which order findings are told: what must be fixed, page by page, bleed and size before paperwork.

import pytest

from hotfolder.checks import CHECKS
from hotfolder.model.findings import Finding, Severity
from hotfolder.wording.importance import _RANKS as RANKS
from hotfolder.wording.importance import importance, in_telling_order

MUST, ADVICE = Severity.MUST_FIX, Severity.ADVICE


def finding(rule: str, page: int | None = None, severity: Severity = MUST, code: str = "any") -> Finding:
    return Finding(rule, code, severity, "What is wrong.", "What to do.", page)


def order(*findings: Finding) -> list[tuple[str, int | None]]:
    return [(each.rule, each.page) for each in in_telling_order(findings)]


def test_what_must_be_fixed_comes_before_advice_on_any_page() -> None:
    ordered = order(finding("trim-size", 1, ADVICE), finding("file-name", None, ADVICE), finding("bleed", 7))
    assert ordered == [("bleed", 7), ("trim-size", 1), ("file-name", None)]


def test_then_page_by_page_and_on_each_page_what_matters_most_on_paper() -> None:
    ordered = order(
        finding("page-boxes", 1),
        finding("image-resolution", 1),
        finding("bleed", 2),
        finding("bleed", 1),
        finding("trim-size", 2),
    )
    assert ordered == [
        ("bleed", 1),
        ("image-resolution", 1),
        ("page-boxes", 1),
        ("trim-size", 2),
        ("bleed", 2),
    ]


def test_paperwork_about_the_whole_file_stands_after_its_pages_and_the_page_count_before_them() -> None:
    ordered = order(
        finding("pdfx-claim"), finding("output-intent"), finding("safe-margin", 3), finding("page-count")
    )
    assert ordered == [
        ("page-count", None),
        ("safe-margin", 3),
        ("pdfx-claim", None),
        ("output-intent", None),
    ]


def test_a_file_that_cannot_be_read_is_told_before_all_that_follows_from_it() -> None:
    assert order(finding("trim-size", 1), finding("readable", 4))[0] == ("readable", 4)


def test_equals_keep_their_order() -> None:
    assert order(finding("bleed", 1, code="a"), finding("bleed", 1, code="b")) == [("bleed", 1)] * 2
    first, second = in_telling_order([finding("bleed", 1, code="b"), finding("bleed", 1, code="a")])
    assert (first.code, second.code) == ("b", "a")


def test_a_page_without_any_size_is_no_paperwork() -> None:
    assert importance("page-boxes", MUST, "no-page-size") < importance("trim-size", MUST)
    assert importance("page-boxes", MUST, "no-trim-box") > importance("veil", MUST)


def test_every_rule_has_its_place() -> None:
    assert {rule.id for rule in CHECKS} | {"measuring"} == set(RANKS)


@pytest.mark.parametrize("rule", ["a-rule-of-tomorrow"])
def test_a_rule_without_a_place_comes_before_paperwork(rule: str) -> None:
    assert importance("jpeg-quality", MUST) < importance(rule, MUST) < importance("page-boxes", MUST)
