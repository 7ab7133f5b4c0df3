# Judging: kept, broken, not judged, and a check of ours that breaks down.
import logging
from collections.abc import Iterator, Mapping
from dataclasses import replace
from pathlib import Path
from typing import Any, ClassVar

import pytest

from hotfolder.checks import CHECKS, rule_by_id
from hotfolder.checks.ink.total_ink import TotalInkSettings
from hotfolder.checks.judge import judge
from hotfolder.checks.shared.pdfx_levels import Level
from hotfolder.model.artwork import Artwork
from hotfolder.model.findings import Finding, Severity, Unjudged, Verdict
from hotfolder.model.geometry import Edge
from hotfolder.model.marks import MarkState
from hotfolder.model.pages import Page
from hotfolder.model.ruleset import AppliedRule, Product, Rule, RuleSet, RuleSettings
from tests.artwork.colours import CMYK_BLACK, SCREEN_RED, spot
from tests.artwork.files import A_PDF, COATED, X4, artwork, unreadable
from tests.artwork.flyer import Flyer, flyer
from tests.artwork.inventories import inventory_of
from tests.artwork.plates import plates


def rule_set(**tables: dict[str, object]) -> RuleSet:
    """A rule set of these rules; `_` stands for `-` in their ids."""
    rules = []
    for name, table in tables.items():
        rule = rule_by_id(name.replace("_", "-"))
        rules.append(AppliedRule(rule, rule.settings.model_validate(table)))
    return of_rules(*rules)


def of_rules(*rules: AppliedRule[Any]) -> RuleSet:
    return RuleSet("quay", "Quay", Path("quay.toml"), "common practice", None, Product(), rules)


def test_a_rule_that_says_nothing_is_passed() -> None:
    said = judge(flyer().with_background().artwork(), rule_set(bleed={"wanted": "3 mm"}, readable={}))
    assert (said.passed, said.findings, said.unjudged) == (("bleed", "readable"), (), ())
    assert said.verdict is Verdict.READY


def test_a_broken_rule_needs_fixing() -> None:
    said = judge(flyer().with_background(0).artwork(), rule_set(bleed={"wanted": "3 mm"}, readable={}))
    assert ([item.code for item in said.findings], said.passed) == (["not-drawn"], ("readable",))
    assert said.verdict is Verdict.NEEDS_FIXING


def test_advice_does_not_block() -> None:
    said = judge(flyer().artwork(), rule_set(file_name={"longest": 3}, bleed={"wanted": "3 mm"}))
    assert [item.severity for item in said.findings] == [Severity.ADVICE]
    assert said.verdict is Verdict.READY


def test_a_code_that_is_off_is_not_told_and_the_rule_is_passed() -> None:
    said = judge(flyer().artwork(), rule_set(file_name={"longest": 3, "severity": {"too-long": "off"}}))
    assert (said.findings, said.passed) == ((), ("file-name",))


def test_a_rule_set_changes_severities() -> None:
    rules = rule_set(bleed={"wanted": "3 mm", "severity": {"not-drawn": "advice"}})
    said = judge(flyer().with_background(0).artwork(), rules)
    assert [item.severity for item in said.findings] == [Severity.ADVICE]


def test_what_must_be_fixed_comes_first() -> None:
    rules = rule_set(file_name={"longest": 3}, bleed={"wanted": "3 mm"})
    said = judge(flyer().with_background(0).artwork(), rules)
    assert [item.rule for item in said.findings] == ["bleed", "file-name"]


def test_an_open_question_is_not_judged_and_never_blocks() -> None:
    said = judge(flyer().with_background(0).artwork(), rule_set(bleed={"ask": True}))
    assert (said.findings, said.passed, said.verdict) == ((), (), Verdict.READY)
    assert [(item.rule, item.severity) for item in said.unjudged] == [("bleed", Severity.ADVICE)]
    assert rule_by_id("bleed").question in said.unjudged[0].reason


def test_what_could_not_be_judged_blocks_where_the_rule_must_be_kept() -> None:
    said = judge(flyer().unreadable().artwork(), rule_set(bleed={"wanted": "3 mm"}))
    assert (said.passed, said.verdict) == ((), Verdict.NEEDS_FIXING)
    lenient = rule_set(layers={"severity": {"no-flat-picture": "advice"}})
    assert judge(unreadable(), lenient).verdict is Verdict.READY


class Fragile(RuleSettings):
    codes: ClassVar[Mapping[str, Severity]] = {"seen": Severity.ADVICE, "grave": Severity.MUST_FIX}


def breaks_down(artwork: Artwork, settings: Fragile) -> Iterator[Finding | Unjudged]:
    yield Finding("fragile", "seen", settings.severity_of("seen"), artwork.file.name, "Nothing.")
    message = "a fault of ours"
    raise ZeroDivisionError(message)


def test_a_check_that_breaks_down_is_logged_told_and_no_pass(caplog: pytest.LogCaptureFixture) -> None:
    fragile = Rule("fragile", "Fragile", Fragile, breaks_down, "Is it?", "0.1")
    with caplog.at_level(logging.ERROR):
        said = judge(flyer().artwork(), of_rules(AppliedRule(fragile, Fragile())))
    assert [item.code for item in said.findings] == ["seen"]
    assert [(item.rule, item.severity) for item in said.unjudged] == [("fragile", Severity.MUST_FIX)]
    assert (said.passed, said.verdict) == ((), Verdict.NEEDS_FIXING)
    assert caplog.records[0].exc_info is not None
    assert "ZeroDivisionError" in caplog.text


# A whole rule set, as a printer of flyers would have it

FLYERS: dict[str, dict[str, object]] = {
    "annotations": {},
    "black_and_white": {},
    "black_text": {},
    "blank_pages": {},
    "bleed": {"wanted": "3 mm"},
    "built_black": {},
    "colour_shift": {},
    "colour_spaces": {"allowed": ["CMYK", "grey"]},
    "encryption": {},
    "file_name": {},
    "file_size": {"largest": "500 MB"},
    "file_type": {"accept": ["pdf"]},
    "fonts": {},
    "fonts_embedded": {},
    "image_resolution": {"wanted": "300 ppi", "floor": "225 ppi"},
    "image_weight": {"most": "450 ppi"},
    "inks_used": {"allowed": ["process"]},
    "jpeg_quality": {"least": 50},
    "layers": {},
    "line_width": {"one_ink": "0.25 pt"},
    "marks_near_trim": {"margin": "3 mm"},
    "output_intent": {"conditions": ["FOGRA51"]},
    "outside_bleed": {},
    "page_boxes": {},
    "page_count": {"pages": [1, 2]},
    "pdfx_claim": {"accepted": ["PDF/X-4"]},
    "picture_file": {},
    "printers_marks": {},
    "readable": {},
    "registration_colour": {},
    "safe_margin": {"margin": "5 mm"},
    "small_text": {"one_ink": "5 pt"},
    "spot_colours": {},
    "technical_inks": {},
    "total_ink": {"limit": "330 %", "wanted": "300 %"},
    "transparency": {},
    "trim_size": {"sizes": ["A4", "A5"]},
    "veil": {},
    "white_overprint": {},
}
X4_PDF = replace(A_PDF, pdfx=X4, output_intents=(COATED,), inventory=inventory_of(Level.X4))
OVERPRINTS = MarkState(overprint_fill=True, overprint_mode=1)
GOOD = (
    flyer()
    .with_background()
    .with_image((20, 20, 100, 100), (1000, 1000))
    .with_text((10, 150), colour=CMYK_BLACK, state=OVERPRINTS)
)


def printed(of: Flyer, reach_mm: float, *cmyk: float) -> Page:
    """The page with these inks all over, which run on so far on each side."""
    made = plates(of).with_inks((-3, -3, of.width_mm + 3, of.height_mm + 3), *cmyk)
    for edge in Edge:
        made = made.with_edge(edge, reach_mm)
    return made.looked_at(TotalInkSettings.model_validate(FLYERS["total_ink"])).page()


def test_a_good_flyer_keeps_every_rule() -> None:
    page = printed(GOOD, 3, 100, 60, 0, 0)
    said = judge(artwork(page, page, pdf=X4_PDF), rule_set(**FLYERS))
    assert said.passed == tuple(rule.id for rule in CHECKS)
    assert said.verdict is Verdict.READY


def test_each_fault_is_told_by_its_own_rule() -> None:
    bad = (
        flyer()
        .with_background(0)
        .with_image((20, 20, 100, 100), (200, 200))
        .with_text((1, 150), colour=SCREEN_RED)
        .with_annotation("Stamp", (50, 50, 60, 60), prints=True)
    )
    said = judge(artwork(bad.page(), bad.page(), bad.page(), pdf=X4_PDF), rule_set(**FLYERS))
    broken = {item.rule for item in said.findings if item.severity is Severity.MUST_FIX}
    assert broken == {
        "annotations",
        "bleed",
        "colour-spaces",
        "image-resolution",
        "page-count",
        "safe-margin",
    }


def test_a_file_that_cannot_be_read_passes_no_rule_about_its_pages() -> None:
    said = judge(unreadable(), rule_set(**FLYERS))
    assert set(said.passed) == {"file-name", "file-size", "file-type"}
    assert [item.rule for item in said.findings] == ["readable"]
    assert {item.rule for item in said.unjudged} | set(said.passed) | {"readable"} == {
        rule.id for rule in CHECKS
    }


def test_messages_say_what_where_and_how_to_mend_it() -> None:
    bad = flyer("A6").with_background(1).with_text((1, 50), colour=SCREEN_RED)
    varnished = bad.with_outline(10, 60, 60, 60, 1, spot("Varnish")).with_area(
        20, 70, 40, 90, colour=spot("Varnish")
    )
    heavy = artwork(
        printed(varnished, 1, 90, 90, 80, 90),
        printed(varnished, 0, 40, 30, 30, 30),
        printed(varnished, 0, 0, 0, 2, 0),
        printed(varnished, 3, 0, 0, 0, 50),
    )
    rules: dict[str, dict[str, object]] = {
        **FLYERS,
        "technical_inks": {"technical": ["Varnish"]},
        "inks_used": {"allowed": ["Black"]},
    }
    said = judge(heavy, rule_set(**rules)).findings
    assert {"built-black", "inks-used", "technical-inks", "total-ink", "veil"} <= {item.rule for item in said}
    for item in (*said, *judge(bad.artwork(), rule_set(**FLYERS)).findings):
        assert item.message.endswith(".")
        assert item.remedy.endswith(".")
        assert item.measured is not None
        assert item.required is not None
        assert item.message[0].isupper()
        assert not {"MediaBox", "TrimBox", "BleedBox", "invalid", "ERROR"} & set(item.message.split())
