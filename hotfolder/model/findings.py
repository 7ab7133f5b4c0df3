"""What the checks say, and the verdict that follows from it."""

from collections.abc import Sequence
from dataclasses import dataclass
from enum import StrEnum

from hotfolder.model.geometry import Box


class Severity(StrEnum):
    """How much a finding weighs. OFF only stands in settings: such a finding is not told."""

    MUST_FIX = "must-fix"
    ADVICE = "advice"
    OFF = "off"

    @property
    def words(self) -> str:
        """The severity as people read it."""
        return {Severity.MUST_FIX: "must fix", Severity.ADVICE: "advice", Severity.OFF: "off"}[self]


class Verdict(StrEnum):
    """Whether a file may go to the printer."""

    READY = "ready"
    NEEDS_FIXING = "needs-fixing"

    @property
    def words(self) -> str:
        """The verdict as people read it."""
        return {Verdict.READY: "ready", Verdict.NEEDS_FIXING: "needs fixing"}[self]


@dataclass(frozen=True, slots=True)
class Quantity:
    """One or more numbers with their unit: 0 mm; 148 x 210 mm; 2 pages."""

    values: tuple[float, ...]
    unit: str

    @classmethod
    def of(cls, *values: float, unit: str) -> "Quantity":
        """The quantity of `values`, in `unit`."""
        return cls(values, unit)


@dataclass(frozen=True, slots=True)
class Place:
    """Where on one page: boxes in points, unrotated user space; none where only the page is known."""

    page: int
    boxes: tuple[Box, ...] = ()


@dataclass(frozen=True, slots=True)
class Finding:
    """A rule that the artwork breaks.

    code: what is wrong, within the rule; programs may rely on it, not on the wording.
    page: 1-based, None for the file as a whole. boxes: points, unrotated user space of `page`.
    further: the same cause on later pages.
    measured, required: what was found and what is wanted; words where it is no number.
    message: what is wrong and what it would do on paper. remedy: how to put it right in any
    design program. standard: the clause that asks for it, if one does.
    told_by: what says all of it already, where it is told: for each part of it, names of findings
    (`rule.code`) of which one is enough. follows: findings of other rules with this one's cause, which
    putting this one right puts right as well.
    """

    rule: str
    code: str
    severity: Severity
    message: str
    remedy: str
    page: int | None = None
    boxes: tuple[Box, ...] = ()
    measured: Quantity | str | None = None
    required: Quantity | str | None = None
    standard: str | None = None
    further: tuple[Place, ...] = ()
    told_by: tuple[frozenset[str], ...] = ()
    follows: tuple["Finding", ...] = ()

    @property
    def name(self) -> str:
        """What it is called across all rules: `bleed.not-drawn`."""
        return f"{self.rule}.{self.code}"

    @property
    def places(self) -> tuple[Place, ...]:
        """All places of the cause, page by page; none where it concerns the file as a whole."""
        return () if self.page is None else (Place(self.page, self.boxes), *self.further)


@dataclass(frozen=True, slots=True)
class Unjudged:
    """A rule that could not be judged, the weight that it has, and why; never a pass.

    cause: what lies beneath, in the same words for each rule that it leaves open; empty where the reason is
    all there is to say.
    """

    rule: str
    severity: Severity
    reason: str
    page: int | None = None
    cause: str = ""


@dataclass(frozen=True, slots=True)
class OpenCause:
    """One cause for which rules could not be judged, as it is told to people: once.

    reason: in the words of the first of the gravest. severity: that of the gravest. rules: their ids, the
    gravest first.
    """

    reason: str
    severity: Severity
    page: int | None
    rules: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class Change:
    """Something that was altered in a print-ready copy, in words."""

    rule: str
    what: str


@dataclass(frozen=True, slots=True)
class Judgement:
    """What all the rules of a rule set say about one file. passed: ids of the rules that are kept."""

    findings: tuple[Finding, ...]
    unjudged: tuple[Unjudged, ...]
    passed: tuple[str, ...]

    @property
    def open_causes(self) -> tuple[OpenCause, ...]:
        """Why rules could not be judged: each cause once, those of rules that must be kept first."""
        groups: dict[tuple[str, int | None], list[Unjudged]] = {}
        for item in sorted(self.unjudged, key=lambda item: item.severity is not Severity.MUST_FIX):
            groups.setdefault((item.cause or item.reason, item.page), []).append(item)
        return tuple(
            OpenCause(
                items[0].reason,
                items[0].severity,
                items[0].page,
                tuple(dict.fromkeys(item.rule for item in items)),
            )
            for items in groups.values()
        )

    @property
    def verdict(self) -> Verdict:
        """Ready where nothing that must be fixed was found or left unjudged."""
        items: Sequence[Finding | Unjudged] = (*self.findings, *self.unjudged)
        blocked = any(item.severity is Severity.MUST_FIX for item in items)
        return Verdict.NEEDS_FIXING if blocked else Verdict.READY
