"""One cause, one finding: what follows from another finding is told with it, and not beside it."""

from collections.abc import Sequence
from dataclasses import replace

from hotfolder.model.findings import Finding, Severity


def one_for_each_cause(findings: Sequence[Finding]) -> tuple[Finding, ...]:
    """`findings` without those that others tell in full; each of these is put into the first that does.

    A finding only goes with one that weighs as much, so that nothing that must be fixed becomes advice.
    """
    roots = [_root(at, findings) for at in range(len(findings))]
    return tuple(
        replace(finding, follows=tuple(findings[other] for other, root in enumerate(roots) if root == at))
        if at in roots
        else finding
        for at, finding in enumerate(findings)
        if roots[at] is None
    )


def _root(at: int, findings: Sequence[Finding]) -> int | None:
    """The place of the finding that the one at `at` is told with; None where it is told by itself."""
    passed = {at}
    leader = _leader(findings[at], findings)
    while leader is not None:
        if leader in passed:
            return None  # they name each other: rather told twice than not at all
        passed.add(leader)
        further = _leader(findings[leader], findings)
        if further is None:
            return leader
        leader = further
    return None


def _leader(finding: Finding, findings: Sequence[Finding]) -> int | None:
    """The place of the first finding that tells of `finding`; None where others leave a part of it untold."""
    leaders = [_one_of(names, finding, findings) for names in finding.told_by]
    return leaders[0] if leaders and None not in leaders else None


def _one_of(names: frozenset[str], finding: Finding, findings: Sequence[Finding]) -> int | None:
    for at, other in enumerate(findings):
        if other.name in names and other.severity in {Severity.MUST_FIX, finding.severity}:
            return at
    return None
