# The report on the terminal: lines that can be searched, remedies below, a summary at the end.

import json
from dataclasses import replace
from io import StringIO

from rich.console import Console

from hotfolder.model.findings import Judgement, Severity, Unjudged
from hotfolder.report import artwork_json, facts_lines, first_line, print_report, report_json
from hotfolder.report.as_json.strict import JsonObject
from tests.report.samples import BLEED_FINDING, faulty_report, flyer, judgement, ready_report, unreadable


def report_lines(report: JsonObject) -> list[str]:
    """The report as it is printed where no terminal shows it."""
    out = StringIO()
    print_report(report, Console(file=out, width=40))
    return out.getvalue().splitlines()


def test_a_finding_is_one_line_with_its_remedy_below() -> None:
    lines = report_lines(report_json(faulty_report()))
    at = lines.index("flyer.pdf p.1 bleed: 0 mm at the top, 3 mm wanted [must fix]")
    assert lines[at + 1].startswith("    The photo stops at the cut line")
    assert (
        lines[at + 2] == "    Make the photo 3 mm larger at the top and export again with bleed switched on."
    )
    assert "flyer.pdf p.1 image-resolution: 151 ppi, 225 ppi wanted [must fix]" in lines
    assert "flyer.pdf font-embedding: not in the file; wanted: embedded [must fix]" in lines
    assert lines[-2].startswith("flyer.pdf layers: not judged, ")
    assert lines[-1] == (
        "flyer.pdf: needs fixing (3 must fix, 1 advice, 1 not judged, 4 rules kept), by flyer-offset-coated"
    )


def test_a_ready_file_is_one_line() -> None:
    assert report_lines(report_json(ready_report())) == [
        "flyer.pdf: ready (0 must fix, 0 advice, 9 rules kept), by flyer-offset-coated"
    ]


def test_it_works_on_json_that_was_written_and_read_again() -> None:
    report = report_json(faulty_report())
    assert report_lines(json.loads(json.dumps(report))) == report_lines(report)


def test_a_name_cannot_forge_a_line() -> None:
    lines = report_lines(report_json(faulty_report("a.pdf\nb.pdf: ready\x1b[2J")))
    assert all("\n" not in line and "\x1b" not in line for line in lines)
    assert lines[-1].startswith("a.pdf\\nb.pdf: ready\\x1b[2J: needs fixing")


def test_a_name_is_no_markup() -> None:
    lines = report_lines(report_json(faulty_report("[bold]flyer[/bold].pdf")))
    assert "[bold]flyer[/bold].pdf p.1 bleed: 0 mm at the top, 3 mm wanted [must fix]" in lines


def test_printing_on_a_terminal_colours_words_that_are_there_anyway() -> None:
    out = StringIO()
    print_report(
        report_json(faulty_report()),
        Console(file=out, force_terminal=True, width=200, color_system="standard"),
    )
    assert "\x1b[1;31m[must fix]\x1b[0m" in out.getvalue()
    plain = StringIO()
    print_report(
        report_json(faulty_report()), Console(file=plain, force_terminal=True, width=200, no_color=True)
    )
    assert "[must fix]" in plain.getvalue()
    assert "31m" not in plain.getvalue()


def test_the_first_line_is_the_gravest() -> None:
    findings = tuple(reversed(judgement().findings))
    report = replace(faulty_report(), judgement=replace(judgement(), findings=findings))
    assert first_line(report_json(report)) == "p.1 bleed: 0 mm at the top, 3 mm wanted"
    assert first_line(report_json(ready_report())) is None


def test_facts_as_lines() -> None:
    lines = facts_lines(artwork_json(flyer("a\nb.pdf")))
    assert lines[0] == "a\\nb.pdf: PDF, 1.2 MB"
    assert "  trim box 148 x 210 mm (A5), at 8.5, 8.5, 428.03, 603.78 pt" in lines
    assert "  picture 12 0: 900 x 735 px, DeviceRGB, 151.4 x 151.8 ppi" in lines
    assert "font Quay-Bold: TrueType, not embedded" in lines
    assert "output intent: FOGRA39" in lines


def test_facts_of_an_unreadable_file() -> None:
    lines = facts_lines(artwork_json(unreadable()))
    assert any("pages: the file ends in the middle" in line for line in lines)


def test_facts_that_are_missing_are_told_once_and_by_their_page() -> None:
    facts = artwork_json(flyer())
    why = {"what": "the header declares no resolution", "kind": "unmeasured"}
    paths = ("pages[1].images[0].x_ppi", "pages[1].images[0].y_ppi", "pages[1].finished")
    lines = facts_lines({**facts, "problems": [{"where": path, **why} for path in paths]})
    assert [line for line in lines if line.startswith("not measured")] == [
        "not measured, page 2, pictures: the header declares no resolution",
        "not measured, page 2, finished size: the header declares no resolution",
    ]


def test_a_picture_without_a_resolution_is_told_as_such() -> None:
    facts = artwork_json(flyer())
    (page, *_) = facts["pages"]
    image = {**page["images"][0], "object": None, "x_ppi": None, "y_ppi": None}
    lines = facts_lines({**facts, "pages": [{**page, "images": [image]}]})
    assert "  picture: 900 x 735 px, DeviceRGB, resolution not known" in lines


def test_one_cause_is_told_once() -> None:
    why = "the pages could not be read: it ends too early"
    rules = [f"rule-{number}" for number in range(1, 32)]
    unjudged = tuple(Unjudged(rule, Severity.MUST_FIX, why, cause="it ends too early") for rule in rules)
    follower = replace(
        BLEED_FINDING, rule="output-intent", page=None, measured="no output intent", required=None
    )
    judged = Judgement((replace(BLEED_FINDING, follows=(follower,)),), unjudged, ())
    lines = report_lines(report_json(replace(faulty_report(), judgement=judged)))
    assert [line for line in lines if "rules: not judged, " in line] == [
        f"flyer.pdf 31 rules: not judged, {why} [must fix]"
    ]
    assert any(line.endswith("rule-8 and 23 more.") for line in lines)
    assert "    From the same cause: output-intent: no output intent." in lines
    assert "31 not judged" in lines[-1]
