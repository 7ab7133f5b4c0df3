"""Short words for what a check said."""

from collections.abc import Iterable, Iterator

from hotfolder.model.artwork import Artwork
from hotfolder.model.facts import Unmeasured
from hotfolder.model.findings import Finding, Quantity, Unjudged

Said = Iterable[Finding | Unjudged]


def findings(said: Said) -> list[Finding]:
    """The findings; nothing may be left unjudged beside them."""
    items = list(said)
    assert [item for item in items if isinstance(item, Unjudged)] == []
    return [item for item in items if isinstance(item, Finding)]


def the_only(said: Said) -> Finding:
    """The only finding."""
    all_findings = findings(said)
    assert [item.code for item in all_findings] == [all_findings[0].code] if all_findings else ["one finding"]
    return all_findings[0]


def codes(said: Said) -> list[str]:
    """The codes of the findings, in their order."""
    return [item.code for item in findings(said)]


def unjudged(said: Said) -> list[Unjudged]:
    """What was left unjudged; nothing may be found beside it."""
    items = list(said)
    assert [item for item in items if isinstance(item, Finding)] == []
    return [item for item in items if isinstance(item, Unjudged)]


def figures(item: Finding) -> tuple[Quantity | str | None, Quantity | str | None]:
    """What was measured, and what is wanted."""
    return item.measured, item.required


def without_pages(piece: Artwork, reason: str = "it ends too early") -> Artwork:
    """The same file where its pages could not be read."""
    return Artwork(piece.file, Unmeasured("pages", reason), (), piece.pdf)


def mm(*values: float) -> Quantity:
    """A quantity in millimetres."""
    return Quantity(values, "mm")


def each(items: Iterable[Finding]) -> Iterator[tuple[str, int | None]]:
    """Code and page of each finding."""
    for item in items:
        yield item.code, item.page
