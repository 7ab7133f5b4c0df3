"""What plates and pictures need of a rule set: its figures of ink, its press, the pages that matter."""

from hotfolder.checks.ink.technical_inks import TechnicalInksSettings
from hotfolder.checks.ink.total_ink import TotalInkSettings
from hotfolder.checks.shared.plates.technical import counts_as_ink, technical_inks
from hotfolder.checks.size import bleed
from hotfolder.drawing import ProofRules
from hotfolder.measure.inks.ink_areas import InkLimits
from hotfolder.model.artwork import Artwork
from hotfolder.model.findings import Judgement
from hotfolder.model.ruleset import RuleSet


def ink_limits(artwork: Artwork, rule_set: RuleSet) -> InkLimits | None:
    """The figures that a rule set names for total ink, and which inks count; None where it names none."""
    for applied in rule_set.rules:
        if isinstance(applied.settings, TotalInkSettings) and not applied.settings.ask:
            return InkLimits(applied.settings.figures, counts_as_ink(artwork, applied.settings.technical))
    return None


def proof_rules(artwork: Artwork, rule_set: RuleSet, judgement: Judgement) -> ProofRules:
    """The limits that the pictures show, and the pages that matter most."""
    settings = [applied.settings for applied in rule_set.rules]
    limits = [each.limit for each in settings if isinstance(each, TotalInkSettings) and not each.ask]
    technical = [
        name
        for each in settings
        if isinstance(each, TotalInkSettings | TechnicalInksSettings)
        for name in each.technical
    ]
    return ProofRules(
        press=rule_set.press,
        bleed_pt=rule_set.product.bleed_pt,
        limit_percent=min(limits, default=None),
        left_out=technical_inks(artwork, technical),
        paper_white=rule_set.paper_white,
        finding_pages=_pages(judgement),
        bleed_pages=frozenset(_pages(judgement, bleed.ID)),
    )


def _pages(judgement: Judgement, rule: str | None = None) -> tuple[int, ...]:
    """The pages that findings stand on, those of `rule` where one is named."""
    numbers = {
        place.page
        for finding in judgement.findings
        if rule is None or finding.rule == rule
        for place in finding.places
    }
    return tuple(sorted(numbers))
