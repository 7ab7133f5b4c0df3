# The line for whoever waits: on a terminal, after a while, and gone at the end.

import time
from io import StringIO
from typing import Final

from rich.console import Console

from hotfolder.commands.waiting import waiting

SOON_S: Final = 0.01
CLEARED = "\x1b[2K"


def terminal(width: int = 80) -> tuple[Console, StringIO]:
    out = StringIO()
    return Console(file=out, force_terminal=True, width=width, color_system=None), out


def until_told(out: StringIO) -> None:
    until_s = time.monotonic() + 10
    while " s" not in out.getvalue() and time.monotonic() < until_s:
        time.sleep(SOON_S)


def test_what_lasts_is_told_with_its_seconds_and_cleared_at_the_end() -> None:
    console, out = terminal()
    with waiting(
        "Measuring flyer.pdf", console, SOON_S, clock=iter([0.0, *map(float, range(7, 99))]).__next__
    ):
        until_told(out)
    assert "Measuring flyer.pdf ... 7 s" in out.getvalue()
    assert CLEARED in out.getvalue()


def test_what_is_over_soon_is_not_told() -> None:
    console, out = terminal()
    with waiting("Measuring flyer.pdf", console, 60.0):
        pass
    assert out.getvalue() == ""


def test_nothing_is_told_where_there_is_no_terminal() -> None:
    out = StringIO()
    with waiting("Measuring flyer.pdf", Console(file=out), 0.0):
        time.sleep(5 * SOON_S)
    assert out.getvalue() == ""


def test_a_long_name_is_cut_and_the_seconds_are_not() -> None:
    console, out = terminal(width=30)
    with waiting(
        "Measuring " + "x" * 100, console, SOON_S, clock=iter([0.0, *map(float, range(7, 99))]).__next__
    ):
        until_told(out)
    line = next(part for part in out.getvalue().replace("\x1b", "\n").splitlines() if " s" in part)
    assert line.strip().endswith("… ... 7 s")
