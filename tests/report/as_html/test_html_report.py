# The page for people: self-contained, shows nothing of the file unescaped, tells everything in words.

import base64
import hashlib
import re
from collections import Counter
from dataclasses import replace
from html.parser import HTMLParser
from io import BytesIO

import pytest
from PIL import Image

from hotfolder.model.document import Font
from hotfolder.model.facts import Unmeasured
from hotfolder.model.findings import Judgement, Severity, Unjudged
from hotfolder.model.pictures import PagePicture, picture_fact
from hotfolder.report import Release, Report, failure_report, mark_released, released_note, report_html
from tests.report.samples import (
    A5_SHEET,
    BLEED_FINDING,
    MADE_AT,
    faulty_report,
    flyer,
    judgement,
    page,
    ready_report,
    rule_set,
    unreadable,
)

VOID = {"meta", "br", "img", "link", "input", "hr"}
HOSTILE = '<script>alert(1)</script>"><img src=x onerror=alert(2)>{{ 7 * 7 }}<!-- hotfolder:released -->.pdf'


class Reader(HTMLParser):
    """What a browser would see: elements with their attributes, text, and whether all is closed."""

    def __init__(self, html: str) -> None:
        super().__init__(convert_charrefs=True)
        self.elements: list[tuple[str, dict[str, str]]] = []
        self.text: list[str] = []
        self.comments: list[str] = []
        self._open: list[str] = []
        self.feed(html)
        self.close()
        assert self._open == []

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        self.elements.append((tag, {name: value or "" for name, value in attrs}))
        if tag not in VOID:
            self._open.append(tag)

    def handle_startendtag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        self.elements.append((tag, {name: value or "" for name, value in attrs}))

    def handle_endtag(self, tag: str) -> None:
        assert self._open.pop() == tag

    def handle_data(self, data: str) -> None:
        self.text.append(data)

    def handle_comment(self, data: str) -> None:
        self.comments.append(data.strip())

    @property
    def words(self) -> str:
        return " ".join(" ".join(self.text).split())

    def every(self, tag: str) -> list[dict[str, str]]:
        return [attributes for name, attributes in self.elements if name == tag]

    def ids(self) -> list[str]:
        return [attributes["id"] for _, attributes in self.elements if "id" in attributes]


def picture(number: int = 1) -> PagePicture:
    data = BytesIO()
    Image.new("RGB", (154, 216), "white").save(data, "PNG")
    return PagePicture(number, data.getvalue(), "image/png", 154, 216, A5_SHEET)


def reports() -> list[Report]:
    return [
        faulty_report(),
        ready_report(),
        replace(faulty_report(), artwork=unreadable(), judgement=Judgement((), (), ())),
        failure_report(flyer().file, rule_set(), "it took longer than 60 s, twice", MADE_AT),
        replace(faulty_report(), artwork=replace(flyer(), pages=(page(1, rotate=90), page(2, rotate=270)))),
    ]


@pytest.mark.parametrize("report", reports())
def test_it_needs_nothing_from_outside(report: Report) -> None:
    html = report_html(report, (picture(),) if report.artwork.known_pages else ())
    seen = Reader(html)
    assert not {"script", "link", "iframe", "object", "embed", "form", "base"} & {
        tag for tag, _ in seen.elements
    }
    for tag, attributes in seen.elements:
        for name, value in attributes.items():
            assert not name.startswith("on"), (tag, name)
            if name in {"src", "href"}:
                assert value.startswith(("data:image/", "#")), (tag, name, value[:40])
            assert name != "style"
    style = "".join(re.findall(r"<style>(.*?)</style>", html, re.DOTALL))
    assert "url(" not in style
    assert "@import" not in style
    assert re.findall(r"https?:", html.replace("http-equiv", "")) == []


def test_its_policy_allows_its_own_style_and_nothing_else() -> None:
    """Content Security Policy Level 3, 2.3.1: a style element may be allowed by the hash of its content."""
    html = report_html(faulty_report(), (picture(),))
    (policy,) = (
        meta["content"]
        for meta in Reader(html).every("meta")
        if meta.get("http-equiv") == "Content-Security-Policy"
    )
    rules = dict(rule.strip().split(" ", 1) for rule in policy.split(";"))
    (style,) = re.findall(r"<style>(.*?)</style>", html, re.DOTALL)
    digest = base64.b64encode(hashlib.sha256(style.encode()).digest()).decode()
    assert rules == {
        "default-src": "'none'",
        "img-src": "data:",
        "style-src": f"'sha256-{digest}'",
        "base-uri": "'none'",
        "form-action": "'none'",
    }
    assert "\r" not in style


def test_nothing_of_the_file_is_shown_unescaped() -> None:
    plain = Reader(report_html(faulty_report(), (picture(),)))
    artwork = flyer(HOSTILE)
    assert artwork.pdf is not None
    hostile = replace(
        faulty_report(HOSTILE),
        artwork=replace(
            artwork,
            pdf=replace(artwork.pdf, producer=HOSTILE, creator=HOSTILE),
            fonts=(Font(HOSTILE, HOSTILE, None, subset=False, object=None), *artwork.fonts[1:]),
        ),
        judgement=replace(
            judgement(),
            findings=tuple(
                replace(finding, message=HOSTILE, remedy=HOSTILE) for finding in judgement().findings
            ),
        ),
        job=HOSTILE,
        previous_job=HOSTILE,
    )
    html = report_html(hostile, (picture(), Unmeasured(picture_fact(2), HOSTILE)))
    seen = Reader(html)
    added = Counter(tag for tag, _ in seen.elements) - Counter(tag for tag, _ in plain.elements)
    assert not {"script", "img"} & set(added)
    assert "{{ 7 * 7 }}" in seen.words
    assert seen.comments == ["hotfolder:released"]
    assert "<script>alert(1)</script>" in seen.words


def test_what_cannot_be_seen_in_a_name_is_shown_as_an_escape() -> None:
    html = report_html(faulty_report("caf\udce9\n\u202egpj.pdf"))
    html.encode("utf-8")
    assert "caf\\xe9\\n\\u202egpj.pdf" in Reader(html).words


def test_every_finding_can_be_linked_and_every_link_has_its_place() -> None:
    seen = Reader(report_html(faulty_report(), (picture(), picture(2))))
    ids = seen.ids()
    assert len(ids) == len(set(ids))
    assert {f"finding-{number}" for number in range(1, 5)} <= set(ids)
    targets = {link["href"].removeprefix("#") for link in seen.every("a")}
    assert targets <= set(ids)
    assert {"page-1", "page-2", "unjudged"} <= set(ids)


def test_verdict_first_then_the_glance_then_the_depth() -> None:
    words = Reader(report_html(faulty_report(), (picture(),))).words
    order = [
        words.index(text)
        for text in (
            "Needs fixing",
            "3 things must be fixed, 1 piece of advice.",
            "Bleed: 0 mm at the top, 3 mm wanted",
            "The file does not bring the font Quay-Bold.",
            "The photo stops at the cut line at the top.",
            "What could not be judged",
            "Checked and fine",
            "Not measured by this version",
            "Measurements",
            "The printer's own specification has the last word.",
            "Safety signs, legal texts, and the packaging of medicine and food",
        )
    ]
    assert order == sorted(order)
    assert "job 2026-03-02-000003" in words
    assert "2026-03-03 14:05 UTC" in words
    assert "ab" * 32 in words


def test_severity_is_told_in_words_and_by_shape() -> None:
    seen = Reader(report_html(faulty_report(), (picture(),)))
    labels = [link["aria-label"] for link in seen.every("a") if link.get("class", "").startswith("badge")]
    assert labels == [
        "Note 2, must fix: Bleed",
        "Note 3, must fix: Resolution of pictures",
        "Note 4, advice: Text and the trim",
    ]
    assert len(seen.every("circle")) == 2  # must fix
    assert sum("rx" in rect for rect in seen.every("rect")) == 1  # advice


def test_every_picture_has_a_text_and_every_table_its_scopes() -> None:
    seen = Reader(report_html(faulty_report(), (picture(), picture(2))))
    assert len(seen.every("image")) == 2
    assert all("flyer.pdf" in image["aria-label"] for image in seen.every("image"))
    assert all(cell["scope"] in {"row", "col"} for cell in seen.every("th"))
    assert seen.every("html") == [{"lang": "en"}]
    assert len(seen.every("h1")) == 1
    assert {"name": "generator", "content": "hotfolder-report/1"} in seen.every("meta")


def test_a_page_that_could_not_be_drawn_says_why_and_still_shows_its_places() -> None:
    seen = Reader(report_html(faulty_report(), (Unmeasured(picture_fact(1), "it would take 900 MB"),)))
    assert "No picture of this page: it would take 900 MB." in seen.words
    assert seen.every("image") == []
    assert len(seen.every("figure")) == 1
    assert "Not shown, and without findings of their own: page 2." in seen.words


def test_a_ready_file_says_so() -> None:
    seen = Reader(report_html(ready_report(), (picture(),)))
    assert seen.words.startswith("flyer.pdf: ready")
    assert "Nothing was found that breaks a rule." in seen.words
    assert "Nothing to note on this page." in seen.words
    assert seen.every("circle") == []


def test_rules_unjudged_for_one_reason_are_told_together() -> None:
    report = failure_report(flyer().file, rule_set(), "it took longer than 60 s, twice", MADE_AT)
    words = Reader(report_html(report)).words
    assert words.count("the file could not be measured. Must be known before") == 1
    assert "9 rules could not be judged" in words


def test_open_rules_that_hold_a_file_back_are_counted() -> None:
    open_rule = Unjudged("bleed", Severity.MUST_FIX, "the trim is not known")
    report = replace(faulty_report(), judgement=Judgement((), (open_rule,), ()))
    assert "1 rule that must be kept could not be judged." in Reader(report_html(report)).words


def test_a_release_is_marked_below_the_verdict_and_findings_are_kept() -> None:
    release = Release("R. <b>Vale</b>", "agreed & paid", MADE_AT)
    before = report_html(faulty_report(), (picture(),))
    after = mark_released(before, release)
    assert after == before.replace("<!-- hotfolder:released -->", released_note(release))
    seen = Reader(after)
    note = "Released by R. <b>Vale</b> on 2026-03-03 14:05 UTC, despite the findings below."
    assert f"{note} Reason: agreed & paid" in seen.words
    assert (
        seen.words.index("Needs fixing") < seen.words.index("Released by") < seen.words.index("3 things must")
    )
    assert "The photo stops at the cut line" in seen.words
    assert seen.comments == []
    assert report_html(replace(faulty_report(), released=release), (picture(),)) == after


def test_a_page_that_is_no_report_of_ours_cannot_be_marked() -> None:
    release = Release("R. Vale", "agreed", MADE_AT)
    with pytest.raises(ValueError, match="no place"):
        mark_released("<html></html>", release)
    with pytest.raises(ValueError, match="no place"):
        mark_released(mark_released(report_html(faulty_report()), release), release)


def test_pages_after_the_first_dozen_are_folded() -> None:
    pages = tuple(page(number) for number in range(1, 20))
    findings = tuple(replace(BLEED_FINDING, page=number) for number in range(1, 20))
    report = replace(
        faulty_report(),
        artwork=replace(flyer(), pages=pages),
        judgement=replace(judgement(), findings=findings),
    )
    seen = Reader(report_html(report))
    assert len(seen.every("section")) >= 19
    assert "7 more pages" in seen.words
    assert "And 9 more below." in seen.words


def test_finding_of_a_page_that_is_not_there_is_not_lost() -> None:
    stray = replace(BLEED_FINDING, page=99)
    report = replace(faulty_report(), judgement=replace(judgement(), findings=(stray,)))
    assert "finding-1" in Reader(report_html(report, (picture(),))).ids()


def test_what_has_the_cause_of_a_finding_stands_with_it() -> None:
    follower = replace(BLEED_FINDING, rule="output-intent", message="The file names no press. It is open.")
    judged = Judgement((replace(BLEED_FINDING, follows=(follower,)),), (), ())
    page = report_html(replace(faulty_report(), judgement=judged))
    assert "From the same cause" in page
    assert "<strong>Output intent:</strong> The file names no press." in page
    assert page.count('class="finding must-fix"') == 1
