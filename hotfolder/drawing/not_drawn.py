"""The exceptions by which drawing says that something cannot be drawn as plates."""

from typing import Final

_TOO_HEAVY: Final = "not drawn: too heavy, it takes more processor time than there is for it"


class NotDrawn(Exception):  # noqa: N818 - reads as the fact it states
    """Something on a page cannot be drawn as inks; the reason is in words for people."""

    def __init__(self, reason: str) -> None:
        super().__init__(reason)
        self.reason = reason


class TimeIsUp(NotDrawn):
    """Drawing a page took longer than it may."""

    def __init__(self) -> None:
        super().__init__(_TOO_HEAVY)
