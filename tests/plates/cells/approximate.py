"""Cells that we do not draw to within a point; our facts say of each that it is drawn only nearly."""

from typing import Final

_KNOCKOUT: Final = "parts of a knockout group that can be seen through are laid over one another (11.4.6)"

NEARLY: Final[dict[str, str]] = {
    "a knockout group that is isolated": _KNOCKOUT,
    "a knockout group that is not": _KNOCKOUT,
}
