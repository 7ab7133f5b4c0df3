"""The pages on which we and tiffsep differ by more than is allowed, and the reason of each."""

from enum import StrEnum
from typing import Final


class Difference(StrEnum):
    """A reason. None may stand for a fault of ours that a reader of the facts would not be told of."""


# By the file's name in the comparison and the page.
DIFFERENCES: Final[dict[tuple[str, int], Difference]] = {}
