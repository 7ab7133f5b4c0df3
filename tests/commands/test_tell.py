# `tell`: what is read of a studio that another machine works on, and what is said of it.
import logging
import signal
import subprocess
import sys
import threading
from collections.abc import Callable
from datetime import UTC, datetime
from pathlib import Path

import pytest

from hotfolder.commands.tell import NewLines, follow, notice_of, tell_studio
from hotfolder.config.studio import Studio, load_studio
from hotfolder.desk.studio_view import InboxEntry, StudioView, write_view
from hotfolder.errors import UsageError
from hotfolder.model.findings import Verdict
from hotfolder.model.jobs import HeldNotice, JobId, JobNotice, Summary
from hotfolder.store.audit_log.audit import AuditLog, name_fields
from hotfolder.store.audit_log.chained import Json

AT = datetime(2026, 1, 2, 3, 4, 5, tzinfo=UTC)
PATIENCE_S = 20.0


@pytest.fixture
def studio(tmp_path: Path) -> Studio:
    root = tmp_path / "studio"
    root.mkdir()
    (root / "hotfolder.toml").write_text(
        '[printers.quay]\nrules = "office-pdf"\n[printers.harbour]\nrules = "office-pdf"\n'
    )
    return load_studio(root)


@pytest.fixture
def audit(studio: Studio) -> AuditLog:
    return AuditLog(studio.audit, lambda: AT)


def closed(name: str = "flyer.pdf", printer: str = "quay", **more: Json) -> dict[str, Json]:
    """What a job is closed with in the studio's chain."""
    return {
        "printer": printer, "product": None, **name_fields(name), "verdict": "ready",
        "must_fix": 0, "advice": 0, "unjudged": 0, "first": None,
        "folder": "outbox", **name_fields(name, "delivered"),
        "reports": "outbox", "report_json": f"{name}.report.json",
        **name_fields(f"{name}.report.html", "report_html"), **more,
    }  # fmt: skip


def close(audit: AuditLog, number: int, content: dict[str, Json]) -> None:
    audit.close(JobId(f"20260102-030405-{number:04}"), content, "closed", 0)


class Visit(threading.Event):
    """Follows a studio a number of polls; before each, something happens."""

    def __init__(self, *happenings: Callable[[], object]) -> None:
        super().__init__()
        self._happenings = iter(happenings)
        self.told: list[JobNotice] = []

    def is_set(self) -> bool:
        try:
            next(self._happenings)()
        except StopIteration:
            return True
        return False

    def wait(self, timeout: float | None = None) -> bool:
        assert timeout == 3
        return False

    def follow(self, studio: Studio, printer: str | None = None) -> list[str]:
        follow(studio, printer, self.told.append, self, 3)
        return [notice.name for notice in self.told]


def nothing() -> None:
    pass


def test_only_what_comes_after_the_start_is_told(studio: Studio, audit: AuditLog) -> None:
    close(audit, 1, closed("before.pdf"))

    def two_at_once() -> None:
        close(audit, 3, closed("b.pdf"))
        close(audit, 4, closed("c.pdf"))

    visit = Visit(nothing, nothing, lambda: close(audit, 2, closed("a.pdf")), two_at_once, nothing)

    assert visit.follow(studio) == ["a.pdf", "b.pdf", "c.pdf"]


def test_the_first_job_of_a_fresh_studio_is_told(studio: Studio, audit: AuditLog) -> None:
    assert Visit(nothing, lambda: close(audit, 1, closed("a.pdf")), nothing).follow(studio) == ["a.pdf"]


def test_other_printers_jobs_can_be_left_out(studio: Studio, audit: AuditLog) -> None:
    visit = Visit(
        nothing,
        lambda: close(audit, 1, closed("a.pdf", "quay")),
        lambda: close(audit, 2, closed("b.pdf", "harbour")),
    )

    assert visit.follow(studio, "harbour") == ["b.pdf"]


def test_the_notice_has_what_the_record_says_and_paths_of_this_machine(
    studio: Studio, audit: AuditLog
) -> None:
    content = closed(
        verdict="needs-fixing", must_fix=2, advice=3, unjudged=1, first="Bleed: 0 mm at the top.",
        product="cards", folder="needs-fixing", reports="needs-fixing", previous_job="20260101-000000-0009",
    )  # fmt: skip
    visit = Visit(nothing, lambda: close(audit, 1, content))
    visit.follow(studio)

    folder = studio.root / "quay" / "needs-fixing"
    assert visit.told == [
        JobNotice(
            job=JobId("20260102-030405-0001"),
            printer="quay",
            product="cards",
            name="flyer.pdf",
            summary=Summary(Verdict.NEEDS_FIXING, 2, 3, 1, "Bleed: 0 mm at the top.", ""),
            artwork=folder / "flyer.pdf",
            report=folder / "flyer.pdf.report.html",
            at=AT,
            previous_job=JobId("20260101-000000-0009"),
        )
    ]


def test_a_release_is_told_with_its_name(studio: Studio) -> None:
    line = {**closed(released_by="R. Vale"), "at": AT.isoformat()}

    notice = notice_of(studio, line)

    assert notice is not None
    assert notice.released_by == "R. Vale"


def test_a_name_that_is_no_utf8_comes_through(studio: Studio, audit: AuditLog) -> None:
    name = b"caf\xe9.pdf".decode("utf-8", "surrogateescape")

    assert Visit(nothing, lambda: close(audit, 1, closed(name))).follow(studio) == [name]


@pytest.mark.parametrize(
    "line",
    [
        {"event": "torn-line", "at": AT.isoformat()},
        {**closed(verdict=None), "at": AT.isoformat()},
        {**closed(), "at": "yesterday"},
    ],
)
def test_a_line_that_says_nothing_of_a_verdict_is_passed_over(line: dict[str, Json], studio: Studio) -> None:
    assert notice_of(studio, line) is None


def test_a_file_whose_bytes_of_a_name_are_damaged_is_told_by_its_text(studio: Studio) -> None:
    notice = notice_of(studio, {**closed(), "at": AT.isoformat(), "name_hex": "not hexadecimal"})
    assert notice is not None
    assert notice.name == "flyer.pdf"


def test_a_share_that_goes_away_is_waited_for_and_that_is_said_once(
    studio: Studio, audit: AuditLog, tmp_path: Path, caplog: pytest.LogCaptureFixture
) -> None:
    caplog.set_level(logging.INFO)
    close(audit, 1, closed("before.pdf"))
    elsewhere = tmp_path / "unplugged"

    def come_back() -> None:
        elsewhere.rename(studio.root)
        close(audit, 2, closed("meanwhile.pdf"))

    told = Visit(
        nothing,
        lambda: studio.root.rename(elsewhere),
        nothing,
        come_back,
        lambda: close(audit, 3, closed("later.pdf")),
    ).follow(studio)

    assert told == ["meanwhile.pdf", "later.pdf"]
    levels = [record.levelname for record in caplog.records if "cannot be reached" in record.getMessage()]
    assert levels == ["WARNING"]
    assert [record.getMessage() for record in caplog.records].count("the studio is back") == 1


def test_a_share_that_is_away_at_the_start_is_waited_for(
    studio: Studio, audit: AuditLog, tmp_path: Path
) -> None:
    close(audit, 1, closed("before.pdf"))
    elsewhere = tmp_path / "unplugged"
    studio.root.rename(elsewhere)

    told = Visit(
        nothing,
        lambda: elsewhere.rename(studio.root),
        lambda: close(audit, 2, closed("later.pdf")),
    ).follow(studio)

    assert told == ["later.pdf"]


@pytest.mark.parametrize("jobs_of_the_other", [1, 6])
def test_a_record_that_was_replaced_is_followed_from_its_end(
    jobs_of_the_other: int, studio: Studio, audit: AuditLog
) -> None:
    for number in range(3):
        close(audit, number, closed("before.pdf"))
    chain = studio.audit / "chain.jsonl"

    def replace() -> None:
        # Another record, shorter or longer than the one that was read.
        for path in studio.audit.rglob("*.jsonl"):
            path.unlink()
        for number in range(jobs_of_the_other):
            close(audit, 100 + number, closed("restored.pdf"))
        assert chain.exists()

    told = Visit(nothing, replace, lambda: close(audit, 200, closed("later.pdf")), nothing).follow(studio)

    assert told == ["later.pdf"]


def test_a_line_is_taken_when_it_is_whole_and_only_once(studio: Studio, audit: AuditLog) -> None:
    close(audit, 1, closed("before.pdf"))
    chain = studio.audit / "chain.jsonl"
    whole = chain.read_bytes()
    lines = NewLines(chain)
    lines.read(may_be_missing=False)
    close(audit, 2, closed("a.pdf"))
    grown = chain.read_bytes()

    counts = []
    for length in range(len(whole), len(grown) + 1):
        chain.write_bytes(grown[:length])
        counts.append(len(lines.read(may_be_missing=False)))

    assert counts == [0] * (len(counts) - 1) + [1]


def test_a_long_record_is_not_read_from_its_beginning(studio: Studio, audit: AuditLog) -> None:
    for number in range(200):
        close(audit, number, closed("before.pdf"))
    chain = studio.audit / "chain.jsonl"
    assert chain.stat().st_size > 65536
    lines = NewLines(chain)
    assert lines.read(may_be_missing=False) == []
    close(audit, 999, closed("a.pdf"))

    (line,) = lines.read(may_be_missing=False)

    assert line["name"] == "a.pdf"
    assert lines.read(may_be_missing=False) == []


def test_nothing_is_written(studio: Studio, audit: AuditLog) -> None:
    close(audit, 1, closed("before.pdf"))
    before = {path: path.stat().st_mtime_ns for path in studio.root.rglob("*")}

    Visit(nothing, nothing, nothing).follow(studio)

    assert {path: path.stat().st_mtime_ns for path in studio.root.rglob("*")} == before


def test_an_unknown_printer_is_told_with_the_nearest_one(studio: Studio) -> None:
    with pytest.raises(UsageError, match="quay"):
        tell_studio(studio.root, "quai")


@pytest.mark.parametrize("number", [signal.SIGINT, signal.SIGTERM])
def test_it_ends_in_order_when_asked_to(number: signal.Signals, studio: Studio) -> None:
    command = [sys.executable, "-m", "hotfolder", "tell", str(studio.root)]
    with subprocess.Popen(command, stderr=subprocess.PIPE, text=True) as tell:
        assert tell.stderr is not None
        lines: list[str] = []
        reader = threading.Thread(target=lambda: lines.append(tell.stderr.readline()), daemon=True)  # type: ignore[union-attr]  # asserted above
        reader.start()
        reader.join(PATIENCE_S)
        tell.send_signal(number)
        status = tell.wait(PATIENCE_S)

    assert "watching the jobs of Studio from now on" in lines[0]
    assert status == 0


def test_a_dropped_folder_that_the_daemon_saw_is_told_here(studio: Studio) -> None:
    held: list[HeldNotice] = []
    folder = InboxEntry("quay", None, "posters", "a folder, not a product of this printer")
    other = InboxEntry("harbour", None, "cards", "a folder, not a product of this printer")
    studio.hidden.mkdir()
    view = StudioView(datetime.now(UTC).isoformat(), 1, "server", (), (folder, other), (), ())

    visit = Visit(lambda: write_view(studio.hidden, view), nothing)
    follow(studio, "quay", visit.told.append, visit, 3, held.extend)

    assert held == [HeldNotice("quay", None, "posters", folder.why)]


def test_a_view_that_cannot_be_read_is_passed_over(studio: Studio) -> None:
    held: list[HeldNotice] = []
    (studio.hidden / "view.json").mkdir(parents=True)
    visit = Visit(nothing, nothing)
    follow(studio, None, visit.told.append, visit, 3, held.extend)
    assert held == []
