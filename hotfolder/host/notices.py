"""Notices: what a person at a desk is told when a job is done, gathered so that nobody is flooded.

A thousand files must not give a thousand pop-ups. The first job of a burst waits a few seconds
for company; what comes later in the same burst is added to the notification that stands already.
Telling never waits and never fails: the files, their reports and the audit log are the true
channel, a notice is only a courtesy.
"""

import threading
import time
from collections.abc import Callable, Sequence
from dataclasses import dataclass
from enum import Enum
from pathlib import Path
from typing import Final, Protocol

from hotfolder.config.studio import NoticeSettings
from hotfolder.model.findings import Verdict
from hotfolder.model.jobs import HeldNotice, JobNotice
from hotfolder.wording.shown import shown_name

_BURST_GAP_S: Final = 15.0  # jobs that end at most so long after one another are one burst
_BURST_S: Final = 300.0  # a shop that is never idle gets a new notification after this time
_NAMES: Final = 3  # more names than this are counted, not listed
_NAME_LENGTH: Final = 60
_LINE_LENGTH: Final = 300
_CLOSE_S: Final = 3.0


@dataclass(frozen=True, slots=True)
class Announcement:
    """One notification in words: plain text, each line safe to show. link: a file to open."""

    title: str
    lines: tuple[str, ...]
    verdict: Verdict
    link: Path | None


class Sender(Protocol):
    """Shows announcements to a person."""

    def show(self, announcement: Announcement, replaces: int) -> int:
        """Show it in the place of notification `replaces` (0: as a new one); return its number.

        Returns 0 where it could not be shown. Never raises, and gives up after a short time.
        """
        ...


def announce(notices: Sequence[JobNotice]) -> Announcement:
    """The announcement of one or more jobs that came to their end."""
    if len(notices) == 1:
        return _announce_one(notices[0])
    groups = {end: [notice for notice in notices if _end_of(notice) is end] for end in _Heading}
    counts = [end.counted(len(group)) for end, group in groups.items() if group]
    # What somebody has to do comes first, the count of what went well leads in the title.
    lines = [
        f"{end.value}: {_names([notice.name for notice in group])}"
        for end, group in reversed(groups.items())
        if group
    ]
    lines.append(f"For {_names(sorted({notice.printer for notice in notices}))}")
    verdict = Verdict.NEEDS_FIXING if groups[_Heading.FIXING] else Verdict.READY
    return Announcement(", ".join(counts), tuple(lines), verdict, None)


def announce_held(held: Sequence[HeldNotice]) -> Announcement:
    """The announcement of things that lie still and need somebody to look."""
    lines = [
        _cut(f"{_brief(notice.name) if notice.name else 'The inbox'}: {shown_name(notice.why)}", _LINE_LENGTH)
        for notice in held[:_NAMES]
    ]
    if len(held) > _NAMES:
        lines.append(f"and {len(held) - _NAMES} more: 'hotfolder status' shows them all")
    places = sorted(
        {f"{notice.printer}/{notice.product}" if notice.product else notice.printer for notice in held}
    )
    lines.append(f"For {_names(places)}")
    need = "needs" if len(held) == 1 else "need"
    things = _brief(held[0].name) if len(held) == 1 and held[0].name else f"{len(held)} things"
    is_inbox = len(held) == 1 and not held[0].name
    title = "An inbox is not available" if is_inbox else f"{things} {need} your attention"
    return Announcement(title, tuple(lines), Verdict.NEEDS_FIXING, None)


class _Heading(Enum):
    """What a job came to, as a list of names is headed."""

    READY = "Ready"
    RELEASED = "Released"
    FIXING = "Needs fixing"

    def counted(self, count: int) -> str:
        if self is _Heading.FIXING:
            return f"{count} {'needs' if count == 1 else 'need'} fixing"
        return f"{count} {self.value.lower()}"


def _end_of(notice: JobNotice) -> _Heading:
    if notice.released_by is not None:
        return _Heading.RELEASED
    return _Heading.READY if notice.summary.verdict is Verdict.READY else _Heading.FIXING


def _announce_one(notice: JobNotice) -> Announcement:
    end = _end_of(notice)
    state = {_Heading.READY: "is ready", _Heading.RELEASED: "was released", _Heading.FIXING: "needs fixing"}[
        end
    ]
    lines = []
    if notice.continues is not None:
        lines.append("It went on changing after it was delivered before: this is the later version.")
    summary = notice.summary
    if summary.first_finding is not None:
        lines.append(_cut(shown_name(summary.first_finding), _LINE_LENGTH))
    elif summary.unjudged:
        lines.append("Something could not be judged; the report says what and why.")
    rest = f"; {summary.findings} findings in the report" if summary.findings > 1 else ""
    by = f", released by {_brief(notice.released_by)}" if notice.released_by is not None else ""
    lines.append(f"For {_brief(notice.printer)}{by}{rest}")
    verdict = Verdict.NEEDS_FIXING if end is _Heading.FIXING else Verdict.READY
    return Announcement(f"{_brief(notice.name)} {state}", tuple(lines), verdict, notice.report)


def _names(names: Sequence[str]) -> str:
    listed = ", ".join(_brief(name) for name in names[:_NAMES])
    rest = len(names) - _NAMES
    return f"{listed} and {rest} more" if rest > 0 else listed


def _brief(name: str) -> str:
    """`name` safe to show, cut in its middle where it is long, for its ending says what it is."""
    name = shown_name(name)
    if len(name) <= _NAME_LENGTH:
        return name
    tail = _NAME_LENGTH // 3
    return f"{name[: _NAME_LENGTH - tail - 1]}\u2026{name[-tail:]}"


def _cut(text: str, length: int) -> str:
    return text if len(text) <= length else f"{text[: length - 1]}\u2026"


class Gathering:
    """Which notices belong to one notification, and when it is due. All times in seconds.

    `number` is that of the notification that stands for the burst in hand, 0 while there is none.
    """

    def __init__(self, gather_s: float) -> None:
        self._gather_s = gather_s
        self._burst: list[JobNotice] = []
        self._began = self._last = 0.0
        self.due: float | None = None
        self.number = 0

    def add(self, notice: JobNotice, now: float) -> None:
        """Take `notice` into the burst, or begin a new one with it."""
        over = now - self._last > _BURST_GAP_S or now - self._began > _BURST_S
        if over and self.due is None:
            self._burst = []
            self._began = now
            self.number = 0
        self._burst.append(notice)
        self._last = now
        if self.due is None:
            self.due = now + self._gather_s

    def take(self) -> Announcement:
        """The announcement of the burst so far; nothing is due after it."""
        self.due = None
        return announce(self._burst)


class Notices:
    """Tells people of finished jobs, from a thread of its own."""

    def __init__(
        self, settings: NoticeSettings, sender: Sender, clock: Callable[[], float] = time.monotonic
    ) -> None:
        self._wanted = settings.desktop
        self._sender = sender
        self._clock = clock
        self._gathering = Gathering(settings.gather_s)
        self._held: list[HeldNotice] = []
        self._changed = threading.Condition()
        self._closing = False
        self._thread: threading.Thread | None = None

    def tell(self, notice: JobNotice) -> None:
        """Have `notice` told soon; returns at once."""
        if not self._wanted:
            return
        with self._changed:
            self._gathering.add(notice, self._clock())
            self._wake()

    def tell_held(self, held: Sequence[HeldNotice]) -> None:
        """Have told what lies still, in one notification of its own; returns at once."""
        if not self._wanted or not held:
            return
        with self._changed:
            self._held += held
            self._wake()

    def _wake(self) -> None:
        # A bug that ended the thread costs one notification, not all that would follow.
        if self._thread is None or not self._thread.is_alive():
            self._thread = threading.Thread(target=self._run, name="notices", daemon=True)
            self._thread.start()
        self._changed.notify()

    def close(self) -> None:
        """Tell what is still being gathered, and end; waits three seconds at most."""
        with self._changed:
            self._closing = True
            self._changed.notify()
            thread = self._thread
        if thread is not None:
            thread.join(_CLOSE_S)

    def _run(self) -> None:
        while True:
            with self._changed:
                while not self._held and not self._is_due():
                    if self._closing and self._gathering.due is None:
                        return
                    due = self._gathering.due
                    self._changed.wait(None if due is None else due - self._clock())
                held, self._held = self._held, []
                if not held:
                    announcement, replaces = self._gathering.take(), self._gathering.number
            if held:
                self._sender.show(announce_held(held), 0)
                continue
            number = self._sender.show(announcement, replaces)
            with self._changed:
                self._gathering.number = number

    def _is_due(self) -> bool:
        due = self._gathering.due
        return due is not None and (self._closing or self._clock() >= due)
