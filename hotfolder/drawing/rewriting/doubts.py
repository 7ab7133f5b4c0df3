"""What is drawn otherwise than the file may mean it, so that more or less ink may lie there."""

from typing import Final

KNOCKOUT: Final = (
    "Parts of a knockout group that can be seen through are drawn as if they lay over one another."
)
NOT_ISOLATED: Final = (
    "What blends within a group that is itself laid down with opacity, a mask or a blend mode is drawn as if "
    "nothing lay beneath the group."
)
TRANSFER: Final = "A transfer function of the file is left out where something shines through."
IN_SCREEN_COLOURS: Final = "What is blended in screen colours is drawn blended in inks."
IN_INKS: Final = (
    "A group that is blended in inks, on a page that is blended in screen colours, is drawn as the page is."
)
APART: Final = "Colours are mixed by a blend mode between plates that had to be drawn one by one."

OF_MASKS: Final = frozenset({KNOCKOUT, NOT_ISOLATED})  # a mask's greys are blended as such, and have no inks
