"""PDF/X claim: the file claims a PDF/X level that the printer takes, and keeps it.

Why: PDF/X is an agreement that lets a file be printed without further questions: what it forbids is what goes
    wrong at the press. A file that only claims it is worse than one that does not.
On paper: missing fonts, shifted colours, vanished transparency: whatever the level would have ruled out.
Not flagged: raster files, for which there is no such level; the level written in both places; a conformance
    beside any other level than that of X-1a:2001, where it means nothing; what lies in the file and is not
    used on any page, unless the standard speaks of the whole file. What a level that the printer does not
    take asks for is told as advice, and so is what is only known from memory.
Source: ISO 15930-1:2001, -3:2002, -4:2003, -6:2003, -7:2010, as far as public sources tell what they ask for;
    docs/pdfx.md lists each requirement with its source and how far it is judged.
"""

from collections.abc import Iterator, Mapping
from typing import ClassVar, Final, Self

from pydantic import model_validator

from hotfolder.checks.pdf.pdfx.findings import default_severity, findings_of
from hotfolder.checks.pdf.pdfx.judging import Conformance, judge_level
from hotfolder.checks.pdf.pdfx.register import JUDGED
from hotfolder.checks.pdf.pdfx.requirement import Subject
from hotfolder.checks.shared.needed_facts import NeededFacts
from hotfolder.checks.shared.pdfx_levels import LEVELS, judged_level, level_name
from hotfolder.checks.shared.settings import NamedFigures
from hotfolder.model.artwork import Artwork
from hotfolder.model.document import PdfFacts, PdfxClaim
from hotfolder.model.facts import Unmeasured
from hotfolder.model.findings import Finding, Severity, Unjudged
from hotfolder.model.ruleset import Rule
from hotfolder.wording.lists import counted, listed, shortened
from hotfolder.wording.shown import shown_name

ID: Final = "pdfx-claim"
_STANDARD: Final = "ISO 15930 (PDF/X)"

# The requirement that is about the label alone: a file may keep a level but for it.
_LABEL: Final = frozenset({"wrong-identifier"})


class PdfxClaimSettings(NamedFigures):
    """accepted: the levels that are taken, such as `PDF/X-1a:2001` or `PDF/X-4`."""

    needs: ClassVar[tuple[str, ...]] = ("accepted",)
    codes: ClassVar[Mapping[str, Severity]] = {
        "absent": Severity.MUST_FIX,
        "other": Severity.MUST_FIX,
        **{requirement.id: default_severity(requirement) for requirement in JUDGED},
    }

    accepted: tuple[str, ...] = ()

    @model_validator(mode="after")
    def _levels_exist(self) -> Self:
        unknown = [level for level in self.accepted if level not in LEVELS]
        if unknown:
            message = f"accepted: '{unknown[0]}' is not a PDF/X level; there are {', '.join(LEVELS)}"
            raise ValueError(message)
        return self


def check(artwork: Artwork, settings: PdfxClaimSettings) -> Iterator[Finding | Unjudged]:
    """A claim that is absent, is for another level, or is not kept."""
    facts = NeededFacts(ID, settings)
    pdf = facts.pdf(artwork)
    yield from facts.unjudged()
    if pdf is None:
        return
    wanted = listed(settings.accepted, "or")
    if pdf.pdfx is None:
        yield _absent(artwork, pdf, settings, wanted)
        return
    yield from _other(pdf.pdfx, settings, wanted)
    yield from _kept(pdf.pdfx, artwork, pdf, settings)


def _absent(artwork: Artwork, pdf: PdfFacts, settings: PdfxClaimSettings, wanted: str) -> Finding:
    nearest = _nearest(artwork, pdf, settings)
    return Finding(
        rule=ID,
        code="absent",
        severity=settings.severity_of("absent"),
        message="The file does not say that it is PDF/X, which is asked for here. Without it, somebody"
        f" has to check fonts, colours and transparency by hand, and they may not print as you see them."
        f"{nearest}",
        remedy=f"Export the artwork as {wanted}.",
        measured="no PDF/X",
        required=wanted,
        standard=_STANDARD,
    )


def _nearest(artwork: Artwork, pdf: PdfFacts, settings: PdfxClaimSettings) -> str:
    """How far the file is from the nearest of the levels that are taken, as a sentence; may be empty."""
    if isinstance(pdf.inventory, Unmeasured):
        return ""
    subject = Subject(artwork, pdf.inventory)
    levels = [level for level in map(judged_level, settings.accepted) if level is not None]
    judged = [judge_level(subject, level) for level in levels]
    if not judged:
        return ""
    nearest = min(judged, key=lambda conformance: len(_missing(conformance)))
    missing = _missing(nearest)
    if missing:
        what = f"{counted(len(missing), 'requirement')} of that ({shortened(missing, 4)})"
        return f" It is nearest to {nearest.level}, and breaks {what}."
    if any(each.requirement.id not in _LABEL for each in nearest.left_open):
        return ""
    return f" It would be {nearest.level} but for that label, as far as that is judged here."


def _missing(conformance: Conformance) -> list[str]:
    """The requirements that are certainly broken, by id, that about the label left out."""
    certain = (each.requirement for each in conformance.broken)
    return [
        each.id for each in certain if each.id not in _LABEL and conformance.level not in each.unconfirmed
    ]


def _other(claim: PdfxClaim, settings: PdfxClaimSettings, wanted: str) -> Iterator[Finding]:
    name = shown_name(level_name(claim.name))
    if level_name(claim.name) not in LEVELS:
        yield Finding(
            rule=ID,
            code="wrong-identifier",
            severity=settings.severity_of("wrong-identifier"),
            message=f"The file says that it is '{name}', and there is no such level of PDF/X."
            " Programs that go by the standard do not see that it is PDF/X.",
            remedy=f"Export the artwork as {wanted} again, with a program that writes the level as the"
            " standard asks.",
            measured=shown_name(claim.level),
            required=wanted,
            standard=_STANDARD,
        )
    elif name not in settings.accepted:
        yield Finding(
            rule=ID,
            code="other",
            severity=settings.severity_of("other"),
            message=f"The file is {name}; {wanted} is wanted. The printer's programs may not read it as"
            " intended.",
            remedy=f"Export the artwork as {wanted}.",
            measured=name,
            required=wanted,
            standard=_STANDARD,
        )


def _kept(
    claim: PdfxClaim, artwork: Artwork, pdf: PdfFacts, settings: PdfxClaimSettings
) -> Iterator[Finding | Unjudged]:
    """Whether the file keeps the level that it claims; what another level than one taken asks is advice."""
    name = level_name(claim.name)
    level = judged_level(name)
    if level is None:
        if name in LEVELS:
            yield Unjudged(ID, Severity.ADVICE, f"whether the file keeps {name} is not judged here")
    elif isinstance(pdf.inventory, Unmeasured):
        reason = f"whether the file keeps {level} is not known: {pdf.inventory.reason}"
        yield Unjudged(ID, settings.gravest if name in settings.accepted else Severity.ADVICE, reason)
    else:
        conformance = judge_level(Subject(artwork, pdf.inventory), level)
        most = Severity.MUST_FIX if name in settings.accepted else Severity.ADVICE
        yield from findings_of(conformance, ID, settings, most)


RULE = Rule(
    id=ID,
    title="PDF/X claim",
    settings=PdfxClaimSettings,
    check=check,
    question="Which PDF/X levels do you take?",
    since="0.1",
)
