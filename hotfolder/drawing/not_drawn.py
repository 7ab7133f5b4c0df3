"""The one exception by which drawing says that something cannot be drawn as plates."""


class NotDrawn(Exception):  # noqa: N818 - reads as the fact it states
    """Something on a page cannot be drawn as inks; the reason is in words for people."""

    def __init__(self, reason: str) -> None:
        super().__init__(reason)
        self.reason = reason
