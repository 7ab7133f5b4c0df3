# Notices: what is told of finished jobs, how several are gathered, and that telling never waits.
import threading
import time
from datetime import UTC, datetime
from pathlib import Path

import pytest

from hotfolder.config.studio import NoticeSettings
from hotfolder.host.notices import Announcement, Gathering, Notices, announce, announce_held
from hotfolder.model.findings import Verdict
from hotfolder.model.jobs import HeldNotice, JobId, JobNotice, Summary

PATIENCE_S = 10.0

NO_BLEED = "Page 1, top edge: the photo stops at the cut line."


def notice(
    name: str = "flyer.pdf",
    verdict: Verdict = Verdict.READY,
    first: str | None = None,
    *,
    must_fix: int = 0,
    advice: int = 0,
    unjudged: int = 0,
    printer: str = "quay",
    released_by: str | None = None,
    report: Path | None = None,
) -> JobNotice:
    return JobNotice(
        job=JobId("20260102-030405-0001"),
        printer=printer,
        product=None,
        name=name,
        summary=Summary(verdict, must_fix, advice, unjudged, first, "flyer-offset-coated"),
        artwork=Path("/studio/quay/outbox") / name,
        report=report,
        at=datetime(2026, 1, 2, 3, 4, 5, tzinfo=UTC),
        released_by=released_by,
    )


def broken(name: str) -> JobNotice:
    return notice(name, Verdict.NEEDS_FIXING, NO_BLEED, must_fix=1)


class Screen:
    """A sender that keeps what it was given; `free` holds it up, as a slow server would."""

    def __init__(self, *, free: bool = True) -> None:
        self.shown: list[tuple[Announcement, int]] = []
        self.free = threading.Event()
        self.changed = threading.Semaphore(0)
        if free:
            self.free.set()

    def show(self, announcement: Announcement, replaces: int) -> int:
        self.free.wait(PATIENCE_S)
        self.shown.append((announcement, replaces))
        self.changed.release()
        return replaces or 40 + len(self.shown)

    def wait(self) -> None:
        assert self.changed.acquire(timeout=PATIENCE_S)


# What is said.


def test_one_file_is_named_with_its_verdict_and_its_first_finding() -> None:
    report = Path("/studio/quay/needs-fixing/flyer.pdf.report.html")

    said = announce(
        [notice("flyer.pdf", Verdict.NEEDS_FIXING, NO_BLEED, must_fix=2, advice=1, report=report)]
    )

    assert said.title == "flyer.pdf needs fixing"
    assert said.lines == (NO_BLEED, "For quay; 3 findings in the report")
    assert said.verdict is Verdict.NEEDS_FIXING
    assert said.link == report


def test_a_ready_file_without_findings_has_nothing_more_to_say() -> None:
    said = announce([notice("flyer.pdf")])

    assert (said.title, said.lines, said.verdict) == ("flyer.pdf is ready", ("For quay",), Verdict.READY)


def test_what_could_not_be_judged_is_said_where_there_is_no_finding() -> None:
    said = announce([notice("flyer.pdf", Verdict.NEEDS_FIXING, unjudged=1)])

    assert said.lines == ("Something could not be judged; the report says what and why.", "For quay")


def test_a_released_file_is_not_called_broken() -> None:
    job = notice("flyer.pdf", Verdict.NEEDS_FIXING, NO_BLEED, must_fix=1, released_by="R. Vale")

    said = announce([job])

    assert said.title == "flyer.pdf was released"
    assert said.lines == (NO_BLEED, "For quay, released by R. Vale")
    assert said.verdict is Verdict.READY
    assert announce([job, notice("a.pdf")]).title == "1 ready, 1 released"


@pytest.mark.parametrize(
    ("ready", "fixing", "title"),
    [
        (7, 2, "7 ready, 2 need fixing"),
        (1, 1, "1 ready, 1 needs fixing"),
        (3, 0, "3 ready"),
        (0, 2, "2 need fixing"),
    ],
)
def test_several_files_are_counted(ready: int, fixing: int, title: str) -> None:
    jobs = [notice(f"r{n}.pdf") for n in range(ready)] + [broken(f"f{n}.pdf") for n in range(fixing)]

    said = announce(jobs)

    assert said.title == title
    assert said.verdict is (Verdict.NEEDS_FIXING if fixing else Verdict.READY)


def test_of_several_files_the_first_few_are_named_and_the_broken_ones_first() -> None:
    jobs = [notice(f"r{n}.pdf", printer="harbour") for n in range(5)] + [broken("f.pdf")]

    said = announce(jobs)

    assert said.lines == (
        "Needs fixing: f.pdf",
        "Ready: r0.pdf, r1.pdf, r2.pdf and 2 more",
        "For harbour, quay",
    )
    assert said.link is None


def test_names_cannot_forge_a_line_or_turn_the_text_around() -> None:
    said = announce([notice("fly\ner\u202egpj.exe\udcff", Verdict.NEEDS_FIXING, "a\nb\x00", must_fix=1)])

    assert said.title == "fly\\ner\\u202egpj.exe\\xff needs fixing"
    assert said.lines[0] == "a\\nb\\x00"


def test_a_long_name_keeps_its_beginning_and_its_ending() -> None:
    said = announce([notice("a" * 240 + "_final.pdf")])

    name = said.title.removesuffix(" is ready")
    assert len(name) == 60
    assert name.startswith("aaaa")
    assert name.endswith("\u2026aaaaaaaaaa_final.pdf")


# What belongs to one notification.


def test_a_notice_is_due_after_the_gathering_time_however_many_follow() -> None:
    gathering = Gathering(gather_s=4)
    gathering.add(notice("a.pdf"), 100)
    gathering.add(notice("b.pdf"), 103)

    assert gathering.due == 104
    assert gathering.take().title == "2 ready"
    assert gathering.due is None


def test_what_comes_later_in_a_burst_is_added_to_the_same_notification() -> None:
    gathering = Gathering(gather_s=4)
    gathering.add(notice("a.pdf"), 100)
    gathering.take()
    gathering.number = 41

    gathering.add(broken("b.pdf"), 110)

    assert gathering.due == 114
    assert gathering.number == 41
    assert gathering.take().title == "1 ready, 1 needs fixing"


def test_after_a_pause_a_new_notification_begins() -> None:
    gathering = Gathering(gather_s=4)
    gathering.add(notice("a.pdf"), 100)
    gathering.take()
    gathering.number = 41

    gathering.add(broken("b.pdf"), 116)

    assert gathering.number == 0
    assert gathering.take().title == "b.pdf needs fixing"


def test_a_shop_that_is_never_idle_gets_a_new_notification_after_five_minutes() -> None:
    gathering = Gathering(gather_s=4)
    titles = []
    for second in range(0, 420, 10):
        gathering.add(notice(f"{second}.pdf"), second)
        titles.append(gathering.take().title)

    assert titles[30] == "31 ready"  # at 300 s
    assert titles[31] == "310.pdf is ready"
    assert titles[-1] == "11 ready"


# The thread.


def test_a_notice_is_shown() -> None:
    screen = Screen()
    notices = Notices(NoticeSettings(desktop=True, gather_s=0), screen)

    notices.tell(notice("flyer.pdf"))
    screen.wait()

    assert [said.title for said, _ in screen.shown] == ["flyer.pdf is ready"]
    notices.close()


def test_a_burst_replaces_its_own_notification() -> None:
    screen = Screen()
    notices = Notices(NoticeSettings(desktop=True, gather_s=0), screen)
    notices.tell(notice("a.pdf"))
    screen.wait()
    notices.tell(broken("b.pdf"))
    screen.wait()

    assert [(said.title, replaces) for said, replaces in screen.shown] == [
        ("a.pdf is ready", 0),
        ("1 ready, 1 needs fixing", 41),
    ]
    notices.close()


def test_telling_never_waits_for_a_slow_server() -> None:
    screen = Screen(free=False)
    notices = Notices(NoticeSettings(desktop=True, gather_s=0), screen)
    began = time.monotonic()
    for number in range(5000):
        notices.tell(notice(f"{number}.pdf"))

    assert time.monotonic() - began < 2
    assert screen.shown == []
    screen.free.set()
    notices.close()
    assert screen.shown[-1][0].title == "5000 ready"
    assert len(screen.shown) <= 2


def test_closing_tells_what_was_still_gathered() -> None:
    screen = Screen()
    notices = Notices(NoticeSettings(desktop=True, gather_s=3600), screen)
    notices.tell(notice("a.pdf"))

    notices.close()

    assert [said.title for said, _ in screen.shown] == ["a.pdf is ready"]


def test_nothing_is_told_where_the_studio_wants_no_notices() -> None:
    screen = Screen()
    notices = Notices(NoticeSettings(desktop=False, gather_s=0), screen)
    notices.tell(notice("a.pdf"))

    notices.close()

    assert screen.shown == []


def test_what_lies_still_is_told_in_a_notification_of_its_own() -> None:
    screen = Screen()
    notices = Notices(NoticeSettings(desktop=True, gather_s=0), screen)
    notices.tell_held([HeldNotice("quay", "cards", "set of cards", "a folder; drop the files themselves")])
    screen.wait()
    notices.tell(notice("a.pdf"))
    notices.close()

    (held, first), (ready, second) = screen.shown
    assert held.title == "set of cards needs your attention"
    assert held.lines == ("set of cards: a folder; drop the files themselves", "For quay/cards")
    assert (ready.title, first, second) == ("a.pdf is ready", 0, 0)


def test_many_things_that_lie_still_are_one_notification() -> None:
    held = [HeldNotice("quay", None, f"{number}.pdf", "not whole yet") for number in range(40)]
    said = announce_held(held)
    assert said.title == "40 things need your attention"
    assert said.lines[0] == "0.pdf: not whole yet"
    assert said.lines[3:] == ("and 37 more: 'hotfolder status' shows them all", "For quay")


def test_an_inbox_that_is_away_is_told_as_such() -> None:
    said = announce_held([HeldNotice("quay", None, "", "cannot be opened")])
    assert (said.title, said.lines) == (
        "An inbox is not available",
        ("The inbox: cannot be opened", "For quay"),
    )


@pytest.mark.filterwarnings("ignore::pytest.PytestUnhandledThreadExceptionWarning")
def test_a_fault_costs_one_notification_and_not_all_that_follow() -> None:
    class Faulty(Screen):
        def show(self, announcement: Announcement, replaces: int) -> int:
            number = super().show(announcement, replaces)
            if len(self.shown) == 1:
                raise ZeroDivisionError
            return number

    screen = Faulty()
    notices = Notices(NoticeSettings(desktop=True, gather_s=0), screen)
    notices.tell(notice("a.pdf"))
    assert notices._thread is not None
    notices._thread.join(PATIENCE_S)
    notices.tell(notice("b.pdf"))
    notices.close()

    assert screen.shown[-1][0].title == "2 ready"
