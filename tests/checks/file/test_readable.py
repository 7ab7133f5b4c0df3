# Readable: what could not be read, what was repaired, and what reading gave up on.
from dataclasses import replace

from hotfolder.checks.file.readable import ReadableSettings, check
from hotfolder.model.artwork import Artwork
from hotfolder.model.facts import Problem, ProblemKind
from hotfolder.model.findings import Severity
from tests.artwork.files import A_FILE, artwork, unreadable
from tests.artwork.flyer import flyer
from tests.checks.said import codes, the_only, unjudged

PLAIN = ReadableSettings()


def with_problem(kind: ProblemKind, *what: str) -> Artwork:
    problems = tuple(Problem("pages[1].marks", each, kind) for each in what)
    return replace(flyer().artwork(), problems=problems)


def test_a_sound_file_passes() -> None:
    assert codes(check(flyer().artwork(), PLAIN)) == []


def test_a_file_that_cannot_be_read_must_be_fixed() -> None:
    finding = the_only(check(unreadable(what="it ends too early"), PLAIN))
    assert (finding.code, finding.severity) == ("unreadable", Severity.MUST_FIX)
    assert "The file cannot be read: it ends too early." in finding.message
    assert (finding.measured, finding.required) == ("nothing can be read", "everything readable")


def test_a_part_that_cannot_be_read_is_told_as_a_part() -> None:
    finding = the_only(check(with_problem(ProblemKind.UNREADABLE, "a picture is broken"), PLAIN))
    assert finding.code == "unreadable"
    assert "A part of the file" in finding.message
    assert (finding.measured, finding.required) == ("1 part that cannot be read", "everything readable")


def test_repairs_are_one_finding() -> None:
    finding = the_only(check(with_problem(ProblemKind.DAMAGED, "a", "b", "c", "d", "d"), PLAIN))
    assert (finding.code, finding.severity) == ("damaged", Severity.MUST_FIX)
    assert "a, b, c and 1 more" in finding.message
    assert (finding.measured, finding.required) == ("5 parts damaged", "nothing damaged")


def test_a_rule_set_may_take_repaired_files() -> None:
    lenient = ReadableSettings(severity={"damaged": Severity.ADVICE})
    assert the_only(check(with_problem(ProblemKind.DAMAGED, "a"), lenient)).severity is Severity.ADVICE


def test_the_pages_are_told_where_they_are_known() -> None:
    places = ("pages[7].marks", "pages[2].images", "pages[2].boxes")
    problems = tuple(Problem(where, "a picture is broken", ProblemKind.DAMAGED) for where in places)
    finding = the_only(check(replace(flyer().artwork(), problems=problems), PLAIN))
    assert (finding.page, [place.page for place in finding.further]) == (2, [7])
    assert "damaged (pages 2 and 7)" in finding.message


def test_what_concerns_the_file_as_a_whole_is_on_no_page() -> None:
    problems = (
        Problem("pages[7].marks", "a picture is broken", ProblemKind.DAMAGED),
        Problem("file", "the file was mended", ProblemKind.DAMAGED),
    )
    finding = the_only(check(replace(flyer().artwork(), problems=problems), PLAIN))
    assert (finding.page, finding.further) == (None, ())
    assert "damaged (page 7)" in finding.message


def test_notes_are_not_flagged() -> None:
    assert codes(check(with_problem(ProblemKind.NOTE, "an odd header"), PLAIN)) == []


def test_limits_and_what_is_not_understood_are_not_judged() -> None:
    for kind in (ProblemKind.LIMIT, ProblemKind.UNSUPPORTED):
        said = unjudged(check(with_problem(kind, "stopped after 10 pages"), PLAIN))
        assert [(item.severity, item.reason, item.page) for item in said] == [
            (Severity.MUST_FIX, "stopped after 10 pages", 1)
        ]


def test_a_locked_file_is_not_judged_here() -> None:
    said = unjudged(check(unreadable(ProblemKind.ENCRYPTED, "it needs a password"), PLAIN))
    assert [item.severity for item in said] == [Severity.MUST_FIX]


def test_pages_that_are_missing_without_a_word_are_not_passed() -> None:
    said = unjudged(check(replace(unreadable(what="nobody knows"), problems=()), PLAIN))
    assert [item.reason for item in said] == ["nobody knows"]


def test_a_file_without_pages_must_be_fixed() -> None:
    assert codes(check(artwork(), PLAIN)) == ["no-pages"]
    assert codes(check(Artwork(A_FILE, ()), PLAIN)) == ["no-pages"]
