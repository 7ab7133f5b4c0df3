"""The checks: one small module each, and the register that names them all."""

from typing import Any, Final

from hotfolder.checks import (
    annotations,
    bleed,
    colour_spaces,
    encryption,
    file_name,
    file_size,
    file_type,
    fonts_embedded,
    image_resolution,
    layers,
    output_intent,
    page_boxes,
    page_count,
    pdfx_claim,
    readable,
    safe_margin,
    spot_colours,
    transparency,
    trim_size,
)
from hotfolder.ruleset import Rule

# Each rule has settings of its own; what they have in common is RuleSettings.
CHECKS: Final[tuple[Rule[Any], ...]] = (
    annotations.RULE,
    bleed.RULE,
    colour_spaces.RULE,
    encryption.RULE,
    file_name.RULE,
    file_size.RULE,
    file_type.RULE,
    fonts_embedded.RULE,
    image_resolution.RULE,
    layers.RULE,
    output_intent.RULE,
    page_boxes.RULE,
    page_count.RULE,
    pdfx_claim.RULE,
    readable.RULE,
    safe_margin.RULE,
    spot_colours.RULE,
    transparency.RULE,
    trim_size.RULE,
)

# What this version does not measure yet, told in every report so that silence is not taken for a pass.
NOT_MEASURED: Final[tuple[tuple[str, str], ...]] = (
    ("total ink", "How much ink lies on one spot (total area coverage) is not measured."),
    ("overprint", "Whether white or coloured marks vanish or mix because they overprint is not judged."),
    ("thin lines", "Lines that are too thin to print, and thin lines in several inks, are not judged."),
    ("small type", "Small type in several inks or reversed out of a picture is not judged."),
    ("rich black", "Black text in four inks, and registration colour inside the trim, are not judged."),
    (
        "appearance",
        "Whether a picture looks right, and text inside pictures or turned into outlines, is not judged.",
    ),
)


def rule_by_id(rule_id: str) -> Rule[Any]:
    """The rule with this id; KeyError where there is none."""
    return {rule.id: rule for rule in CHECKS}[rule_id]
