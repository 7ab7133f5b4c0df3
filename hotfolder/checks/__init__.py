"""The checks: one small module each, and the register that names them all."""

from typing import Any, Final

from hotfolder.checks import (
    annotations,
    black_text,
    blank_pages,
    bleed,
    colour_spaces,
    encryption,
    file_name,
    file_size,
    file_type,
    fonts,
    fonts_embedded,
    image_resolution,
    image_weight,
    jpeg_quality,
    layers,
    line_width,
    marks_near_trim,
    output_intent,
    outside_bleed,
    page_boxes,
    page_count,
    pdfx_claim,
    picture_file,
    printers_marks,
    readable,
    registration_colour,
    safe_margin,
    small_text,
    spot_colours,
    transparency,
    trim_size,
    white_overprint,
)
from hotfolder.ruleset import Rule

# Each rule has settings of its own; what they have in common is RuleSettings.
CHECKS: Final[tuple[Rule[Any], ...]] = (
    annotations.RULE,
    black_text.RULE,
    blank_pages.RULE,
    bleed.RULE,
    colour_spaces.RULE,
    encryption.RULE,
    file_name.RULE,
    file_size.RULE,
    file_type.RULE,
    fonts.RULE,
    fonts_embedded.RULE,
    image_resolution.RULE,
    image_weight.RULE,
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
    transparency.RULE,
    trim_size.RULE,
    white_overprint.RULE,
)

# What this version does not measure yet, told in every report so that silence is not taken for a pass.
NOT_MEASURED: Final[tuple[tuple[str, str], ...]] = (
    ("total ink", "How much ink lies on one spot (total area coverage) is not measured."),
    (
        "pixels",
        "Colours inside pictures are not looked at: ink limits, registration colour, thin lines in pixels.",
    ),
    ("blends", "What colours become where they are blended, fade or shine through is not worked out."),
    (
        "appearance",
        "Whether a picture looks right, and text inside pictures or turned into outlines, is not judged.",
    ),
)


def rule_by_id(rule_id: str) -> Rule[Any]:
    """The rule with this id; KeyError where there is none."""
    return {rule.id: rule for rule in CHECKS}[rule_id]
