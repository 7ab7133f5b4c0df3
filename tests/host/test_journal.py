# The log in its three forms: for the journal, for a terminal, and for a file.
#
# Checked against: sd-daemon(3) for the priorities, systemd.exec(5) for JOURNAL_STREAM.
import io
import logging
import os
import re
import subprocess
import sys
import threading
from collections.abc import Iterator
from pathlib import Path
from typing import TextIO

import pytest
from rich.console import Console

from hotfolder.host.journal import OURS, Repeats, is_journal, set_up_logging

logger = logging.getLogger("hotfolder.test")


@pytest.fixture(autouse=True)
def _logging_as_it_was() -> Iterator[None]:
    root, ours = logging.getLogger(), logging.getLogger(OURS)
    before = root.level, ours.level, sys.excepthook, threading.excepthook
    yield
    root.level, ours.level, sys.excepthook, threading.excepthook = before
    for handler in root.handlers[:]:
        if handler.get_name() == OURS:
            root.removeHandler(handler)


def journal_of(path: Path, monkeypatch: pytest.MonkeyPatch) -> TextIO:
    """A stream that is the journal, as systemd says it: by device and inode."""
    stream = path.open("w")
    state = os.fstat(stream.fileno())
    monkeypatch.setenv("JOURNAL_STREAM", f"{state.st_dev}:{state.st_ino}")
    return stream


def test_the_journal_gets_a_priority_on_every_line_and_no_times(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    with journal_of(tmp_path / "journal", monkeypatch) as stream:
        set_up_logging(verbose=True, stream=stream)
        logger.debug("how")
        logger.info("job=%s verdict=ready", "1")
        logger.warning("look at this")
        logger.error("this could not be done")
        logger.critical("this is the end")

    assert (tmp_path / "journal").read_text().splitlines() == [
        "<7>how",
        "<6>job=1 verdict=ready",
        "<4>look at this",
        "<3>this could not be done",
        "<2>this is the end",
    ]


def test_every_line_of_a_traceback_has_its_priority(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    with journal_of(tmp_path / "journal", monkeypatch) as stream:
        set_up_logging(verbose=False, stream=stream)
        fault = ValueError("fly\ner\x1b[31m.pdf")
        logger.error("fault with %s", "fly\ner.pdf", exc_info=(ValueError, fault, fault.__traceback__))

    lines = (tmp_path / "journal").read_text().splitlines()
    assert lines == ["<3>fault with fly\\ner.pdf", "<3>ValueError: fly", "<3>er\\x1b[31m.pdf"]


def test_a_detail_follows_on_lines_of_its_own(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    with journal_of(tmp_path / "journal", monkeypatch) as stream:
        set_up_logging(verbose=False, stream=stream)
        logger.warning("the child died", extra={"detail": "one\ntwo\x1b[31m\n"})

    assert (tmp_path / "journal").read_text() == "<4>the child died\n<4>one\n<4>two\\x1b[31m\n"


def test_a_stream_that_is_not_the_journal_is_told_apart(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    with journal_of(tmp_path / "journal", monkeypatch) as journal, (tmp_path / "other").open("w") as other:
        assert is_journal(journal)
        assert not is_journal(other)
        assert not is_journal(io.StringIO())
        set_up_logging(verbose=False, stream=other)
        logger.info("a job")

    assert not is_journal(journal)  # it is closed
    assert re.fullmatch(
        r"\d{4}-\d\d-\d\d \d\d:\d\d:\d\d,\d{3} INFO    a job\n", (tmp_path / "other").read_text()
    )


def test_a_name_cannot_forge_a_line_in_any_form(tmp_path: Path) -> None:
    logging.getLogger().handlers.clear()  # pytest's own would keep the name as it is
    with (tmp_path / "log").open("w") as stream:
        set_up_logging(verbose=False, stream=stream)
        logger.info("file=%s", "a\nb\u202e\udcff.pdf")
    terminal = io.StringIO()
    set_up_logging(verbose=False, console=Console(file=terminal, force_terminal=True, width=200))
    logger.info("file=%s", "[red]a\nb\x1b]0;x\x07.pdf")

    assert (tmp_path / "log").read_text().endswith("file=a\\nb\\u202e\\xff.pdf\n")
    plain = re.sub(r"\x1b\[[0-9;]*m", "", terminal.getvalue())
    assert "file=[red]a\\nb\\x1b]0;x\\x07.pdf" in plain


def test_what_others_have_to_say_is_heard_from_warning_on(tmp_path: Path) -> None:
    with (tmp_path / "log").open("w") as stream:
        set_up_logging(verbose=True, stream=stream)
        logging.getLogger("elsewhere").info("chatter")
        logging.getLogger("elsewhere").warning("trouble")

    assert (tmp_path / "log").read_text().count("\n") == 1


def test_setting_up_again_doubles_no_line(tmp_path: Path) -> None:
    with (tmp_path / "log").open("w") as stream:
        set_up_logging(verbose=True, stream=stream)
        set_up_logging(verbose=False, stream=stream)
        logger.info("once")
        logger.debug("not asked for")

    assert (tmp_path / "log").read_text().count("\n") == 1


def told(repeats: Repeats, level: int, message: str, *arguments: object) -> str | None:
    record = logging.LogRecord("hotfolder.test", level, __file__, 1, message, arguments, None)
    return record.getMessage() if repeats.filter(record) else None


def test_a_repeated_trouble_is_told_once_then_counted() -> None:
    now = 0.0
    repeats = Repeats(lambda: now)

    first = [told(repeats, logging.WARNING, "share %s is away", "quay") for _ in range(4)]
    now = 599.0
    before = told(repeats, logging.WARNING, "share %s is away", "quay")
    now = 600.0
    after = told(repeats, logging.WARNING, "share %s is away", "quay")
    now = 601.0
    again = told(repeats, logging.WARNING, "share %s is away", "quay")

    assert first == ["share quay is away", None, None, None]
    assert (before, again) == (None, None)
    assert after == "share quay is away (and 4 times more since it was last told)"


def test_different_troubles_and_plain_news_are_all_told() -> None:
    repeats = Repeats(lambda: 0.0)
    for _ in range(2):
        assert told(repeats, logging.INFO, "a job") == "a job"
    assert told(repeats, logging.WARNING, "share %s is away", "quay") is not None
    assert told(repeats, logging.WARNING, "share %s is away", "harbour") is not None
    assert told(repeats, logging.ERROR, "share %s is away", "quay") is not None
    assert told(repeats, logging.WARNING, "100 %") == "100 %"


def test_the_same_words_with_another_fault_are_another_trouble() -> None:
    repeats = Repeats(lambda: 0.0)

    def record_of(error: Exception) -> logging.LogRecord:
        return logging.LogRecord("x", logging.ERROR, __file__, 1, "fault", (), (type(error), error, None))

    assert repeats.filter(record_of(ValueError("a")))
    assert repeats.filter(record_of(ValueError("b")))
    assert not repeats.filter(record_of(ValueError("a")))


def test_troubles_are_forgotten_when_there_are_too_many() -> None:
    repeats = Repeats(lambda: 0.0)
    for number in range(3000):
        told(repeats, logging.WARNING, "trouble %d", number)

    assert len(repeats._told) == 1000
    assert told(repeats, logging.WARNING, "trouble 0") is not None
    assert told(repeats, logging.WARNING, "trouble 2999") is None


CRASH = """
import os, sys, threading
from hotfolder.host.journal import set_up_logging
state = os.fstat(2)
os.environ["JOURNAL_STREAM"] = f"{state.st_dev}:{state.st_ino}"
set_up_logging(False)
def fail(): raise ZeroDivisionError("in a thread")
thread = threading.Thread(target=fail, name="scan-quay")
thread.start(); thread.join()
raise ZeroDivisionError("in main")
"""


def test_a_crash_reaches_the_journal_as_one() -> None:
    run = subprocess.run(
        [sys.executable, "-c", CRASH], capture_output=True, text=True, timeout=60, check=False
    )

    lines = run.stderr.splitlines()
    assert run.returncode == 1
    assert {line[:3] for line in lines} == {"<2>"}
    assert "<2>thread scan-quay ended by a fault of our own" in lines
    assert "<2>ZeroDivisionError: in a thread" in lines
    assert "<2>ZeroDivisionError: in main" in lines
