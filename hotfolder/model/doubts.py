"""What is drawn otherwise than the file may mean it, so that more or less ink may lie there."""

from typing import Final

KNOCKOUT: Final = (
    "Parts of a knockout group that can be seen through are drawn as if they lay over one another."
)
KNOCKOUT_IN_MASK: Final = (
    "Parts of a knockout group in a soft mask that can be seen through are drawn as if they lay over one "
    "another."
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
PATTERN_IN_TYPE_3: Final = (
    "Letters of a Type 3 font that a pattern or gradient fills are drawn in one colour, or not at all."
)
OUTLINE_BY_PATTERN: Final = (
    "The outline of letters that a pattern or gradient draws is drawn opaque, and no thinner than a pixel."
)
PATTERN_UNDER_MASK: Final = (
    "Letters that a pattern or gradient fills under a soft mask are drawn paler than they are."
)

# Those that count in a mask, whose greys are blended as such and have no inks, and how they are told then.
OF_MASKS: Final = {KNOCKOUT: KNOCKOUT_IN_MASK, NOT_ISOLATED: NOT_ISOLATED}
