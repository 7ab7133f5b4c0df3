# One cause, one finding: what follows from another finding goes with it, and nothing is lost by that.
from dataclasses import replace

import pytest

from hotfolder.checks.causes import one_for_each_cause
from hotfolder.checks.judge import judge
from hotfolder.model.artwork import Artwork
from hotfolder.model.facts import FileFacts, Problem, ProblemKind, Unmeasured
from hotfolder.model.findings import Finding, Judgement, Severity, Verdict
from hotfolder.model.pages import Page
from tests.artwork.files import A_PDF, COATED, X4, artwork, unreadable
from tests.artwork.flyer import flyer
from tests.checks.test_judge import rule_set

ANY_LEVEL: dict[str, object] = {"accepted": ["PDF/X-4"]}
MUST: dict[str, object] = {"severity": {"no-trim-box": "must-fix"}}


def sized(page: Page) -> Page:
    return replace(page, trim=Unmeasured("trim", "no size fits"), boxes=replace(page.boxes, trim=None))


def without_pdfx(*, trim_box: bool = False) -> Artwork:
    page = flyer().with_background().page()
    return artwork(page if trim_box else sized(page), pdf=A_PDF)


def told(judgement: Judgement) -> dict[str, list[str]]:
    return {found.name: [each.name for each in found.follows] for found in judgement.findings}


def test_a_file_without_pdfx_is_one_finding() -> None:
    said = judge(without_pdfx(), rule_set(pdfx_claim=ANY_LEVEL, output_intent={}, page_boxes=MUST))
    assert told(said) == {"pdfx-claim.absent": ["page-boxes.no-trim-box", "output-intent.absent"]}
    assert (said.verdict, said.passed) == (Verdict.NEEDS_FIXING, ())


def test_a_missing_output_intent_is_told_where_the_file_says_that_it_is_pdfx() -> None:
    pdf = replace(A_PDF, pdfx=X4)
    said = judge(
        artwork(flyer().with_background().page(), pdf=pdf), rule_set(pdfx_claim=ANY_LEVEL, output_intent={})
    )
    assert told(said) == {"output-intent.absent": []}


def test_what_follows_is_told_by_itself_where_nobody_asks_for_its_cause() -> None:
    said = judge(without_pdfx(), rule_set(output_intent={}, page_boxes=MUST))
    assert told(said) == {"page-boxes.no-trim-box": [], "output-intent.absent": []}


def test_what_must_be_fixed_never_goes_with_advice() -> None:
    lenient: dict[str, object] = {**ANY_LEVEL, "severity": {"absent": "advice"}}
    said = judge(without_pdfx(trim_box=True), rule_set(pdfx_claim=lenient, output_intent={}))
    assert told(said) == {"output-intent.absent": [], "pdfx-claim.absent": []}


def test_a_file_of_no_kind_is_one_finding_and_one_reason() -> None:
    what = "the file is of a kind that is not read here"
    piece = Artwork(
        FileFacts("flyer.pdf", 7, "0" * 64, None),
        Unmeasured("pages", what),
        problems=(Problem("file", what, ProblemKind.UNREADABLE),),
    )
    rules = rule_set(
        file_type={"accept": ["pdf"]}, readable={}, bleed={"wanted": "3 mm"}, fonts={}, layers={}
    )
    said = judge(piece, rules)
    assert told(said) == {"file-type.unknown": ["readable.unreadable"]}
    assert [(cause.rules, cause.severity) for cause in said.open_causes] == [
        (("bleed", "fonts", "layers"), Severity.MUST_FIX)
    ]


def test_a_part_that_cannot_be_read_is_told_beside_an_unknown_kind() -> None:
    """Only a file of which nothing can be read says no more than that its kind is not known."""
    part = (Problem("pages[1].marks", "the page's content could not be read", ProblemKind.UNREADABLE),)
    piece = replace(without_pdfx(), problems=part, file=FileFacts("flyer.pdf", 7, "0" * 64, None))
    said = judge(piece, rule_set(file_type={"accept": ["pdf"]}, readable={}))
    assert told(said) == {"file-type.unknown": [], "readable.unreadable": []}


@pytest.mark.parametrize(
    ("kind", "first"),
    [
        (ProblemKind.UNREADABLE, "readable.unreadable"),
        (ProblemKind.DAMAGED, "readable.damaged"),
        (ProblemKind.ENCRYPTED, "encryption.locked"),
    ],
)
def test_a_file_that_does_not_open_is_one_finding_and_one_reason(kind: ProblemKind, first: str) -> None:
    rules = rule_set(
        encryption={}, readable={}, bleed={"wanted": "3 mm"}, fonts={}, pdfx_claim=ANY_LEVEL, output_intent={}
    )
    said = judge(unreadable(kind), rules)
    assert told(said) == {first: []}
    assert len(said.open_causes) == 1
    assert {item.rule for item in said.unjudged} == set(said.open_causes[0].rules)


def test_a_limit_that_was_reached_is_one_reason() -> None:
    what = "the page before it holds more than 1,000,000 painted things; it was not read"
    pages = [replace(flyer().page(), marks=Unmeasured("marks", what)) for _ in range(3)]
    problems = tuple(Problem(f"pages[{at}].marks", what, ProblemKind.LIMIT) for at in (1, 2, 3))
    piece = replace(artwork(*pages, pdf=A_PDF), problems=problems)
    said = judge(piece, rule_set(readable={}, bleed={"wanted": "3 mm"}, fonts={}, fonts_embedded={}))
    (cause,) = said.open_causes
    assert set(cause.rules) == {"readable", "bleed", "fonts", "fonts-embedded"}
    assert "pages 1 to 3" in cause.reason


def test_the_gravest_of_a_cause_counts_and_comes_first() -> None:
    rules = rule_set(
        fonts={"severity": dict.fromkeys(("damaged", "signs-missing"), "advice")}, bleed={"wanted": "3 mm"}
    )
    (cause,) = judge(flyer().unreadable().artwork(), rules).open_causes
    assert (cause.rules, cause.severity) == (("bleed", "fonts"), Severity.MUST_FIX)


def test_different_causes_stay_apart() -> None:
    page = replace(sized(flyer().page()), marks=Unmeasured("marks", "the page's content could not be read"))
    said = judge(artwork(page, pdf=A_PDF), rule_set(bleed={"wanted": "3 mm"}, fonts={}))
    assert [cause.rules for cause in said.open_causes] == [("bleed",), ("bleed", "fonts")]


def test_a_profile_that_cannot_be_read_is_one_finding() -> None:
    pdf = replace(
        A_PDF,
        pdfx=X4,
        output_intents=(replace(COATED, profile_space=None, profile_name=None, registry=None),),
    )
    broken = Problem("pdf.output_intents[1].profile", "could not be read", ProblemKind.DAMAGED)
    piece = replace(artwork(flyer().with_background().page(), pdf=pdf), problems=(broken,))
    assert told(judge(piece, rule_set(readable={}, output_intent={}))) == {
        "output-intent.no-profile": ["readable.damaged"]
    }
    more = replace(piece, problems=(broken, Problem("pages[1]", "a page is missing", ProblemKind.DAMAGED)))
    assert set(told(judge(more, rule_set(readable={}, output_intent={})))) == {
        "output-intent.no-profile",
        "readable.damaged",
    }


# The mechanism by itself


def found(name: str, *told_by: str, severity: Severity = Severity.MUST_FIX) -> Finding:
    rule, _, code = name.partition(".")
    return Finding(rule, code, severity, "Said.", "Do.", told_by=tuple(frozenset({each}) for each in told_by))


def names(*findings: Finding) -> dict[str, list[str]]:
    return {each.name: [one.name for one in each.follows] for each in one_for_each_cause(findings)}


def test_what_follows_from_what_follows_goes_with_the_first_cause() -> None:
    assert names(found("c.c", "b.b"), found("b.b", "a.a"), found("a.a")) == {"a.a": ["c.c", "b.b"]}


def test_two_that_name_each_other_are_both_told() -> None:
    assert names(found("a.a", "b.b"), found("b.b", "a.a")) == {"a.a": [], "b.b": []}


def test_what_is_told_elsewhere_only_in_part_is_told() -> None:
    assert names(found("a.a", "b.b", "c.c"), found("b.b")) == {"a.a": [], "b.b": []}
    assert names(found("a.a", "b.b", "c.c"), found("b.b"), found("c.c")) == {"b.b": ["a.a"], "c.c": []}
