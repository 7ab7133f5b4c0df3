"""PDF/X claim: the file claims a PDF/X level that the printer takes, and nothing in it contradicts that.

Why: PDF/X is an agreement that lets a file be printed without further questions: what it forbids is what goes
    wrong at the press. A file that only claims it is worse than one that does not.
On paper: missing fonts, shifted colours, vanished transparency: whatever the level would have ruled out.
Not flagged: raster files, for which there is no such level; the level written in both places; a conformance
    beside any other level than that of X-1a:2001, where it means nothing; a list of layers with none in it;
    what is told in full by another rule. A page of an X-1a or X-3 file that is a transparency group, with
    nothing transparent on it, is told as advice only: it prints alike.
Source: ISO 15930-1:2001, -3:2002, -4:2003, -6:2003, -7:2010 for the levels and how they are written.
    That X-4 forbids transfer functions, OPI and PostScript, and asks for a file identifier, is from memory.
    Groups came with PDF 1.4 (ISO 32000-2), X-1a:2001 and X-3:2002 build on PDF 1.3; whether those of 2003
    forbid them for pages, as they do for forms, could not be verified.
    That nothing contradicts a claim is no proof that the file keeps it in all respects.
"""

from collections.abc import Iterator, Mapping
from typing import ClassVar, Final, Self

from pydantic import model_validator

from hotfolder.checks.shared.needed_facts import NeededFacts
from hotfolder.checks.shared.pdfx_levels import (
    LEVELS,
    badly_written,
    contradictions,
    is_level,
    level_name,
    needless_groups,
)
from hotfolder.checks.shared.settings import NamedFigures
from hotfolder.model.artwork import Artwork
from hotfolder.model.document import PdfFacts, PdfxClaim
from hotfolder.model.findings import Finding, Severity, Unjudged
from hotfolder.model.ruleset import Rule
from hotfolder.wording.lists import listed
from hotfolder.wording.pages import pages_words
from hotfolder.wording.shown import shown_name

ID: Final = "pdfx-claim"
_STANDARD: Final = "ISO 15930 (PDF/X)"


class PdfxClaimSettings(NamedFigures):
    """accepted: the levels that are taken, such as `PDF/X-1a:2001` or `PDF/X-4`."""

    needs: ClassVar[tuple[str, ...]] = ("accepted",)
    codes: ClassVar[Mapping[str, Severity]] = {
        "absent": Severity.MUST_FIX,
        "other": Severity.MUST_FIX,
        "wrong-identifier": Severity.MUST_FIX,
        "contradiction": Severity.MUST_FIX,
        "untrue": Severity.MUST_FIX,
        "page-group": Severity.ADVICE,
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
    """A claim that is absent, is for another level, is badly written or is contradicted by the file."""
    facts = NeededFacts(ID, settings)
    pdf = facts.pdf(artwork)
    yield from facts.unjudged()
    if pdf is None:
        return
    wanted = listed(settings.accepted, "or")
    claim = pdf.pdfx
    if claim is None:
        yield Finding(
            rule=ID,
            code="absent",
            severity=settings.severity_of("absent"),
            message="The file does not say that it is PDF/X, which is asked for here. Without it, somebody"
            " has to check fonts, colours and transparency by hand, and they may not print as you see them.",
            remedy=f"Export the artwork as {wanted}.",
            measured="no PDF/X",
            required=wanted,
            standard=_STANDARD,
        )
        return
    yield from _claimed(claim, settings, wanted)
    yield from _kept(claim, artwork, pdf, settings)


def _claimed(claim: PdfxClaim, settings: PdfxClaimSettings, wanted: str) -> Iterator[Finding]:
    name = shown_name(level_name(claim.name))
    two = claim.other is not None and level_name(claim.other) not in {level_name(claim.level), claim.name}
    if is_level(claim.level) and name not in settings.accepted:
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
    wrong = badly_written(claim)
    # Where another level stands in the other place, that is told instead.
    if wrong is not None and (is_level(claim.level) or not two):
        yield Finding(
            rule=ID,
            code="wrong-identifier",
            severity=settings.severity_of("wrong-identifier"),
            message=f"The file says that it is {name}, but not in the words of the standard: {wrong}."
            " Programs that go by the standard do not see that it is PDF/X.",
            remedy=f"Export the artwork as {wanted} again, with a program that writes the level as the"
            " standard asks.",
            measured=shown_name(claim.level),
            required=wanted,
            standard=_STANDARD,
        )
    if two:
        yield Finding(
            rule=ID,
            code="contradiction",
            severity=settings.severity_of("contradiction"),
            message="The file names its PDF/X level in two places, and they differ:"
            f" {shown_name(claim.level)} and {shown_name(claim.other or '')}. Which one is believed depends"
            " on the program.",
            remedy=f"Export the artwork as {wanted} from the original, not from a file that was PDF/X"
            " already.",
            measured=f"{shown_name(claim.level)} and {shown_name(claim.other or '')}",
            required="one level",
            standard=_STANDARD,
        )


def _kept(
    claim: PdfxClaim, artwork: Artwork, pdf: PdfFacts, settings: PdfxClaimSettings
) -> Iterator[Finding | Unjudged]:
    name = level_name(claim.name)
    contrary = list(contradictions(name, artwork, pdf)) if is_level(claim.level) else []
    if contrary:
        faults = [each.what for each in contrary]
        told_by = tuple(each.told_by for each in contrary)
        yield Finding(
            rule=ID,
            code="untrue",
            severity=settings.severity_of("untrue"),
            message=f"The file says that it is {shown_name(name)}, but is not: {listed(faults)}. A printer"
            " who relies on that may print something other than you see.",
            remedy=f"Export the artwork as {shown_name(name)} again, from the original and with nothing"
            " changed afterwards.",
            measured=listed(faults),
            required=shown_name(name),
            standard=_STANDARD,
            told_by=told_by if all(told_by) else (),
        )
    groups = needless_groups(name, artwork)
    if groups:
        many = len(groups) > 1
        yield Finding(
            rule=ID,
            code="page-group",
            severity=settings.severity_of("page-group"),
            message=f"The file says that it is {shown_name(name)}, a level without transparency, yet"
            f" {'pages are' if many else 'a page is'} marked as {'groups' if many else 'a group'} for it"
            f" ({pages_words(groups)}). Nothing there is transparent, so it prints as you see it, but some"
            " programs refuse such a file.",
            remedy=f"Export the artwork as {shown_name(name)} from the original, rather than through a"
            " conversion that adds such groups.",
            measured=f"transparency groups ({pages_words(groups)})",
            required=shown_name(name),
            standard=_STANDARD,
        )
    facts = NeededFacts(ID, settings)
    for page in facts.pages(artwork):
        facts.marks(page)
    yield from facts.unjudged()


RULE = Rule(
    id=ID,
    title="PDF/X claim",
    settings=PdfxClaimSettings,
    check=check,
    question="Which PDF/X levels do you take?",
    since="0.1",
)
