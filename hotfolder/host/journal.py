"""Logging: one line a record, in the form that the reader of our stderr wants.

Under systemd's journal each line carries its priority as `<N>` and no time (sd-daemon(3): the
journal adds the time itself, and takes a line without prefix for `info`). On a terminal rich
shows it. Anywhere else a line has its time and level in front. A repeated trouble is told once,
then counted. What is logged are names and numbers, never the text of an artwork.
"""

import logging
import os
import sys
import threading
import time
from collections import OrderedDict
from collections.abc import Callable, Mapping
from types import TracebackType
from typing import Final, TextIO

from rich.console import Console
from rich.logging import RichHandler

from hotfolder.wording.shown import shown_name

OURS: Final = "hotfolder"
_AGAIN_S: Final = 600.0  # a trouble that lasts is told again after this time, with its count
_REMEMBERED: Final = 1000  # different troubles; the ones longest unheard of are forgotten

# syslog(3) priorities as sd-daemon(3) lists them.
_PRIORITIES: Final = (
    (logging.CRITICAL, 2),
    (logging.ERROR, 3),
    (logging.WARNING, 4),
    (logging.INFO, 6),
)
_DEBUG_PRIORITY: Final = 7

_ExcInfo = tuple[type[BaseException], BaseException, TracebackType | None] | tuple[None, None, None]

logger = logging.getLogger(__name__)


def set_up_logging(verbose: bool, console: Console | None = None, stream: TextIO | None = None) -> None:  # noqa: FBT001 - the command's own switch
    """Send the log to `stream` (stderr if None), replacing what was set up before.

    verbose: DEBUG, which says how, beside INFO, which says what. console: where rich shows the
    log if it is a terminal. Other libraries are heard from WARNING on.
    """
    handler = _handler(console, stream if stream is not None else sys.stderr)
    handler.addFilter(Repeats())
    root = logging.getLogger()
    for former in root.handlers[:]:
        if former.get_name() == OURS:
            root.removeHandler(former)
    handler.set_name(OURS)
    root.addHandler(handler)
    root.setLevel(logging.WARNING)
    logging.getLogger(OURS).setLevel(logging.DEBUG if verbose else logging.INFO)
    # Without these a crash would reach the journal as many lines of mere information.
    sys.excepthook = _log_crash
    threading.excepthook = _log_thread_crash


def is_journal(stream: TextIO, environ: Mapping[str, str] = os.environ) -> bool:
    """Whether `stream` goes to the journal: its device and inode are those of JOURNAL_STREAM.

    The variable alone proves nothing, since children inherit it with stderr sent elsewhere.
    Source: systemd.exec(5), JOURNAL_STREAM.
    """
    wanted = environ.get("JOURNAL_STREAM")
    if not wanted:
        return False
    try:
        state = os.fstat(stream.fileno())
    except (OSError, ValueError):  # closed, or no file at all
        return False
    return wanted == f"{state.st_dev}:{state.st_ino}"


def _handler(console: Console | None, stream: TextIO) -> logging.Handler:
    if is_journal(stream):
        handler: logging.Handler = logging.StreamHandler(stream)
        handler.setFormatter(JournalLines())
    elif console is not None and console.is_terminal:
        handler = RichHandler(console=console, show_path=False, markup=False, log_time_format="[%X]")
        handler.setFormatter(SafeLines("%(message)s"))
    else:
        handler = logging.StreamHandler(stream)
        handler.setFormatter(SafeLines("%(asctime)s %(levelname)-7s %(message)s"))
    return handler


class SafeLines(logging.Formatter):
    """One line a message, whatever file names are in it; a traceback follows on lines of its own.

    So does a text of several lines that is given as `extra={"detail": text}`.
    """

    def format(self, record: logging.LogRecord) -> str:
        """The record as safe lines."""
        record.exc_text = None  # another handler may have left its own, unsafe form here
        detail = str(getattr(record, "detail", "")).strip("\n")
        return "\n".join([super().format(record), *map(shown_name, detail.split("\n") if detail else [])])

    def formatMessage(self, record: logging.LogRecord) -> str:  # noqa: N802 - logging's name
        """The record's line, with everything escaped that could forge another or steer a terminal."""
        record.message = shown_name(record.message)
        return super().formatMessage(record)

    def formatException(self, ei: _ExcInfo) -> str:  # noqa: N802 - logging's name
        """The traceback, line by line as safe as the message."""
        return "\n".join(map(shown_name, super().formatException(ei).split("\n")))


class JournalLines(SafeLines):
    """Every line of a record with its priority, so that `journalctl -p err` finds all of them."""

    def __init__(self) -> None:
        super().__init__("%(message)s")

    def format(self, record: logging.LogRecord) -> str:
        """The record as lines for the journal."""
        prefix = f"<{_priority(record.levelno)}>"
        return "\n".join(prefix + line for line in super().format(record).split("\n"))


def _priority(level: int) -> int:
    return next((priority for floor, priority in _PRIORITIES if level >= floor), _DEBUG_PRIORITY)


class Repeats(logging.Filter):
    """Tells a repeated trouble once, then counts it.

    A trouble is a record from WARNING on; the same one has the same words and the same exception.
    While it lasts it is told again every ten minutes, with how often it came since.
    """

    def __init__(self, clock: Callable[[], float] = time.monotonic) -> None:
        super().__init__()
        self._clock = clock
        self._lock = threading.Lock()
        self._told: OrderedDict[tuple[str, int, str, str], tuple[float, int]] = OrderedDict()

    def filter(self, record: logging.LogRecord) -> bool:
        """Whether to tell the record, which may get a count; False if it was told already."""
        if record.levelno < logging.WARNING:
            return True
        message = record.getMessage()
        exception = repr(record.exc_info[1]) if record.exc_info else ""
        key = (record.name, record.levelno, message, exception)
        now = self._clock()
        with self._lock:
            told_s, unsaid = self._told.pop(key, (None, 0))
            is_due = told_s is None or now - told_s >= _AGAIN_S
            self._told[key] = (now, 0) if is_due or told_s is None else (told_s, unsaid + 1)
            if len(self._told) > _REMEMBERED:
                self._told.popitem(last=False)
        if is_due and unsaid:
            record.msg = f"{message} (and {unsaid} times more since it was last told)"
            record.args = ()
        return is_due


def _log_crash(kind: type[BaseException], error: BaseException, traceback: TracebackType | None) -> None:
    if issubclass(kind, KeyboardInterrupt):
        sys.__excepthook__(kind, error, traceback)
        return
    logger.critical("hotfolder ended by a fault of its own", exc_info=(kind, error, traceback))


def _log_thread_crash(crash: threading.ExceptHookArgs) -> None:
    if crash.exc_value is None or isinstance(crash.exc_value, SystemExit):
        return
    name = crash.thread.name if crash.thread is not None else "unnamed"
    logger.critical(
        "thread %s ended by a fault of our own",
        name,
        exc_info=(crash.exc_type, crash.exc_value, crash.exc_traceback),
    )
