"""The checks: one small module each, and the register that names them all."""

from typing import Any, Final

from hotfolder.checks.colour import (
    black_and_white,
    black_text,
    colour_shift,
    colour_spaces,
    output_intent,
    registration_colour,
    spot_colours,
    white_overprint,
)
from hotfolder.checks.file import encryption, file_name, file_size, file_type, picture_file, readable
from hotfolder.checks.ink import built_black, inks_used, technical_inks, total_ink, veil
from hotfolder.checks.pdf import annotations, layers, pdfx_claim, transparency
from hotfolder.checks.pictures import image_resolution, image_weight, jpeg_quality
from hotfolder.checks.size import (
    blank_pages,
    bleed,
    marks_near_trim,
    outside_bleed,
    page_boxes,
    page_count,
    printers_marks,
    safe_margin,
    trim_size,
)
from hotfolder.checks.type import fonts, fonts_embedded, line_width, small_text
from hotfolder.model.ruleset import Rule

# Each rule has settings of its own; what they have in common is RuleSettings.
CHECKS: Final[tuple[Rule[Any], ...]] = (
    annotations.RULE,
    black_and_white.RULE,
    black_text.RULE,
    blank_pages.RULE,
    bleed.RULE,
    built_black.RULE,
    colour_shift.RULE,
    colour_spaces.RULE,
    encryption.RULE,
    file_name.RULE,
    file_size.RULE,
    file_type.RULE,
    fonts.RULE,
    fonts_embedded.RULE,
    image_resolution.RULE,
    image_weight.RULE,
    inks_used.RULE,
    jpeg_quality.RULE,
    layers.RULE,
    line_width.RULE,
    marks_near_trim.RULE,
    output_intent.RULE,
    outside_bleed.RULE,
    page_boxes.RULE,
    page_count.RULE,
    pdfx_claim.RULE,
    picture_file.RULE,
    printers_marks.RULE,
    readable.RULE,
    registration_colour.RULE,
    safe_margin.RULE,
    small_text.RULE,
    spot_colours.RULE,
    technical_inks.RULE,
    total_ink.RULE,
    transparency.RULE,
    trim_size.RULE,
    veil.RULE,
    white_overprint.RULE,
)

# What this version does not measure yet, told in every report so that silence is not taken for a pass.
NOT_MEASURED: Final[tuple[tuple[str, str], ...]] = (
    (
        "plates not drawn",
        (
            "Where the inks of a page are not known, the rules about them are not judged, and bleed is"
            " judged by the boxes around what is painted: a round shape counts as the square around it."
        ),
    ),
    (
        "fine things on plates",
        (
            "Lines, text and registration colour inside pictures are not looked at. Where a letter or a"
            " line is blended with a photo or a gradient, its inks are counted by its colour alone."
        ),
    ),
    (
        "appearance",
        "Whether a picture looks right, and text inside pictures or turned into outlines, is not judged.",
    ),
)


def rule_by_id(rule_id: str) -> Rule[Any]:
    """The rule with this id; KeyError where there is none."""
    return {rule.id: rule for rule in CHECKS}[rule_id]
