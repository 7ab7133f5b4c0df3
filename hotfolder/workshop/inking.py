"""What a rule set asks of the plates beside the press: the figures of ink that areas are looked for by."""

from hotfolder.checks.ink.total_ink import TotalInkSettings
from hotfolder.checks.shared.plates.technical import counts_as_ink
from hotfolder.measure.inks.ink_areas import InkLimits
from hotfolder.model.artwork import Artwork
from hotfolder.model.ruleset import RuleSet


def ink_limits(artwork: Artwork, rule_set: RuleSet) -> InkLimits | None:
    """The figures that a rule set names for total ink, and which inks count; None where it names none."""
    for applied in rule_set.rules:
        if isinstance(applied.settings, TotalInkSettings) and not applied.settings.ask:
            return InkLimits(applied.settings.figures, counts_as_ink(artwork, applied.settings.technical))
    return None
