"""Judges artwork by a rule set: every rule is kept, broken, or told as not judged."""

import logging

from hotfolder.checks.causes import one_for_each_cause
from hotfolder.model.artwork import Artwork
from hotfolder.model.findings import Finding, Judgement, Severity, Unjudged
from hotfolder.model.ruleset import AppliedRule, RuleSet, RuleSettings
from hotfolder.wording.importance import in_telling_order

logger = logging.getLogger(__name__)


def judge(artwork: Artwork, ruleset: RuleSet) -> Judgement:
    """What all rules of `ruleset` say about `artwork`; what must be fixed comes first.

    A rule is passed where it says nothing. What a rule set switches off is not told. A rule that
    the printer has to be asked about first, and one whose check broke down, are not judged. What one
    finding says already in other words goes with it (see `causes`).
    """
    findings: list[Finding] = []
    unjudged: list[Unjudged] = []
    passed: list[str] = []
    for applied in ruleset.rules:
        results = [item for item in _results(applied, artwork) if item.severity is not Severity.OFF]
        findings.extend(item for item in results if isinstance(item, Finding))
        unjudged.extend(item for item in results if isinstance(item, Unjudged))
        if not results:
            passed.append(applied.rule.id)
    return Judgement(one_for_each_cause(in_telling_order(findings)), tuple(unjudged), tuple(passed))


def _results(applied: AppliedRule[RuleSettings], artwork: Artwork) -> list[Finding | Unjudged]:
    rule = applied.rule
    if applied.settings.ask:
        return [Unjudged(rule.id, Severity.ADVICE, f"to be asked of the printer: {rule.question}")]
    results: list[Finding | Unjudged] = []
    try:
        results.extend(applied.judge(artwork))
    # The loop over checks: one that breaks down is our fault, not the artwork's, and is never a pass.
    except Exception as trouble:
        logger.exception("rule=%s could not be checked", rule.id)
        reason = f"this check failed because of a bug in hotfolder ({type(trouble).__name__})"
        results.append(Unjudged(rule.id, applied.settings.gravest, reason))
    return results
