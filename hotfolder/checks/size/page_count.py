"""Page count: the file has as many pages as the product has printed sides.

Why: a flyer has one or two sides, a stitched brochure is made of folded sheets of four pages; a file with any
    other number of pages cannot be laid out on the sheet without asking.
On paper: a blank back, a page left out, or a blank page at the end of a brochure.
Not flagged: which page is the cover; whether pages are blank.
Source: common practice; a folded sheet has four pages.
"""

from collections.abc import Iterator, Mapping
from typing import ClassVar, Final, Self

from pydantic import Field, model_validator

from hotfolder.checks.shared.needed_facts import NeededFacts
from hotfolder.model.artwork import Artwork
from hotfolder.model.findings import Finding, Quantity, Severity, Unjudged
from hotfolder.model.ruleset import Rule, RuleSettings
from hotfolder.wording.lists import counted, listed

ID: Final = "page-count"


class PageCountSettings(RuleSettings):
    """How many pages the product may have.

    pages: the numbers of pages that will do; where many will do, fewest, most and multiple_of instead.
    """

    codes: ClassVar[Mapping[str, Severity]] = {
        "wrong": Severity.MUST_FIX,
        "too-few": Severity.MUST_FIX,
        "too-many": Severity.MUST_FIX,
        "multiple": Severity.MUST_FIX,
    }

    pages: tuple[int, ...] = ()
    fewest: int | None = Field(default=None, ge=1)
    most: int | None = Field(default=None, ge=1)
    multiple_of: int | None = Field(default=None, ge=1)

    @model_validator(mode="after")
    def _some_count_is_named(self) -> Self:
        bounds = {"fewest", "most", "multiple_of"} & self.model_fields_set
        if self.pages and bounds:
            message = f"name either pages or {min(bounds)}, not both"
            raise ValueError(message)
        if not self.pages and not bounds and self.apply and not self.ask:
            message = "pages: missing; name the counts that will do, such as [1, 2], or fewest and most"
            raise ValueError(message)
        if self.most is not None and self.most < (self.fewest or 1):
            message = f"most ({self.most}) is less than fewest ({self.fewest})"
            raise ValueError(message)
        return self


def check(artwork: Artwork, settings: PageCountSettings) -> Iterator[Finding | Unjudged]:
    """A page count that is not among those wanted."""
    facts = NeededFacts(ID, settings)
    pages = facts.pages(artwork)
    yield from facts.unjudged()
    # A file without a page is the business of the rule about reading.
    if pages:
        yield from _counted(len(pages), settings)


def _counted(count: int, settings: PageCountSettings) -> Iterator[Finding]:
    has = f"The file has {counted(count, 'page')}"
    if settings.pages:
        if count not in settings.pages:
            wanted = listed((str(number) for number in sorted(settings.pages)), "or")
            pages = "page" if settings.pages == (1,) else "pages"
            yield _finding(
                settings, "wrong", count, settings.pages,
                f"{has}; this product has {wanted} {pages}. A side would stay blank or be left out.",
                f"Export the artwork with {wanted} {pages}, in the order in which they are printed.",
            )  # fmt: skip
        return
    sheets, least = settings.multiple_of or 1, settings.fewest or 1
    fewest = least + -least % sheets
    most = settings.most - settings.most % sheets if settings.most is not None else None
    # A count that is beyond a bound is told by that alone: the next multiple may lie beyond it as well.
    if count < least:
        yield _finding(
            settings, "too-few", count, (fewest,),
            f"{has}; this product has at least {fewest}. Pages would stay blank.",
            f"Export all pages into one file, at least {fewest}.",
        )  # fmt: skip
    elif most is not None and settings.most is not None and count > settings.most:
        yield _finding(
            settings, "too-many", count, (most,),
            f"{has}; this product has {most} at most. Pages would be left out.",
            f"Export {most} pages at most, or order a product with more pages.",
        )  # fmt: skip
    elif count % sheets:
        below, above = count - count % sheets, count + sheets - count % sheets
        kept = [number for number in (above, below) if fewest <= number <= (most or above)]
        fitting = kept or [above]
        yield _finding(
            settings, "multiple", count, tuple(fitting[:1]),
            f"{has}; this product is made of sheets that carry {sheets} pages each, and {count}"
            f" is not a multiple of {sheets}. Blank pages would have to be added.",
            f"Add or take out pages until there are {listed((str(number) for number in fitting), 'or')}"
            "; a page that should stay blank has to be in the file too.",
        )  # fmt: skip


def _finding(
    settings: PageCountSettings, code: str, count: int, wanted: tuple[int, ...], message: str, remedy: str
) -> Finding:
    return Finding(
        rule=ID,
        code=code,
        severity=settings.severity_of(code),
        message=message,
        remedy=remedy,
        measured=Quantity.of(count, unit="pages"),
        required=Quantity(tuple(float(number) for number in wanted), "pages"),
    )


RULE = Rule(
    id=ID,
    title="Page count",
    settings=PageCountSettings,
    check=check,
    question="How many pages may the file have for this product?",
    since="0.1",
)
