"""A line on the terminal that says what is being done, and for how long, to somebody who waits for it.

It stands on stderr, comes after two seconds, and is gone when the work is done. Off a terminal there is none.
"""

import threading
import time
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from typing import Final

from rich.console import Console
from rich.live import Live
from rich.text import Text

AFTER_S: Final = 2.0
_TICK_S: Final = 0.5
_MARGIN: Final = 1


@contextmanager
def waiting(
    doing: str,
    console: Console | None = None,
    after_s: float = AFTER_S,
    clock: Callable[[], float] = time.monotonic,
) -> Iterator[None]:
    """While this lasts, and once it has lasted for `after_s`, say what is `doing` and for how long."""
    console = console or Console(stderr=True, highlight=False)
    if not console.is_terminal:
        yield
        return
    done = threading.Event()
    teller = threading.Thread(
        target=_tell, args=(doing, console, after_s, clock, done), name="waiting", daemon=True
    )
    teller.start()
    try:
        yield
    finally:
        done.set()
        teller.join()


def _tell(
    doing: str, console: Console, after_s: float, clock: Callable[[], float], done: threading.Event
) -> None:
    began_s = clock()
    if done.wait(after_s):
        return
    with Live(console=console, transient=True, auto_refresh=False) as live:
        while True:
            live.update(_line(doing, clock() - began_s, console.width), refresh=True)
            if done.wait(_TICK_S):
                return


def _line(doing: str, seconds: float, width: int) -> Text:
    """`Measuring flyer.pdf ... 12 s`, cut before the seconds where the terminal is too narrow for it."""
    ending = f" ... {seconds:.0f} s"
    line = Text(doing, no_wrap=True)
    line.truncate(max(1, width - len(ending) - _MARGIN), overflow="ellipsis")
    return line.append(ending)
