"""Colour spaces: paint is made of colours that the printer takes.

Why: a press prints inks; a colour made for a screen has to be turned into inks by somebody, and who
    does it, and how, decides what it looks like.
On paper: other colours than expected, mostly duller; black text made of four inks.
Not flagged: spot colours, which the rule about spot colours judges; registration colour and paint on
    no plate; paper white, which prints nothing; marks outside trim and bleed, on hidden layers or
    clipped away; colour spaces that are named but not used.
Source: the printer's own wish; ISO 32000-2, 8.6 for what a colour space is.
"""

from collections.abc import Iterator, Mapping
from typing import ClassVar, Final, TypeAlias

from hotfolder.artwork import Artwork, Box, ColourKind, ColourSpace, Mark, MarkKind, Page, Unmeasured
from hotfolder.checks.paint import gathered, on_product
from hotfolder.checks.settings import NamedFigures
from hotfolder.checks.telling import listed
from hotfolder.checks.unknown import Unknowns
from hotfolder.findings import Finding, Severity, Unjudged
from hotfolder.ruleset import Rule
from hotfolder.shown import shown_name

ID: Final = "colour-spaces"

# Judged by another rule, or no colour. A pattern that brings its own colours is told by the marks of
# its cell, which are marks of the page like any others.
_ELSEWHERE: Final = frozenset({ColourKind.SPOT, ColourKind.REGISTRATION, ColourKind.NONE, ColourKind.PATTERN})
_CALLED: Final = {
    MarkKind.TEXT: "text",
    MarkKind.PATH: "areas or lines",
    MarkKind.IMAGE: "pictures",
    MarkKind.SHADING: "gradients",
}
_KIND_CALLED: Final = {ColourKind.GREY: "grey (black ink only)"}


# The spaces in use, each with its marks: their kind, and where they are if that is known.
_Uses: TypeAlias = dict[ColourSpace, list[tuple[MarkKind, Box | None]]]


class ColourSpacesSettings(NamedFigures):
    """allowed: kinds of colour that are taken, of `grey`, `CMYK`, `RGB` and `Lab`."""

    needs: ClassVar[tuple[str, ...]] = ("allowed",)
    codes: ClassVar[Mapping[str, Severity]] = {"forbidden": Severity.MUST_FIX}

    allowed: tuple[ColourKind, ...] = ()


def check(artwork: Artwork, settings: ColourSpacesSettings) -> Iterator[Finding | Unjudged]:
    """Paint in colours that are not taken, by page and kind of colour."""
    unknowns = Unknowns(ID, settings)
    for page in unknowns.pages(artwork):
        if page.raster is not None and isinstance(page.marks, Unmeasured):
            # The colours of a picture are known even where its size is not.
            used: _Uses = {page.raster.colour: [(MarkKind.IMAGE, None)]}
            yield from _judged(page, used, settings, unknowns)
            continue
        marks = unknowns.marks(page)
        if marks is not None:
            yield from _judged(page, _used(page, marks), settings, unknowns)
    yield from unknowns.told()


def _used(page: Page, marks: tuple[Mark, ...]) -> _Uses:
    found: _Uses = {}
    for mark, visible in on_product(page, marks):
        if not mark.white:
            for colour in mark.colours():
                found.setdefault(colour.space, []).append((mark.kind, visible))
    return found


def _judged(page: Page, used: _Uses, settings: ColourSpacesSettings, unknowns: Unknowns) -> Iterator[Finding]:
    forbidden: dict[ColourKind, _Uses] = {}
    for space, marks in used.items():
        kind = _kind(space)
        if kind is ColourKind.UNKNOWN:
            unknowns.note("what colours are made of is not known", shown_name(str(space)) or "unnamed", page)
        elif kind not in settings.allowed and kind not in _ELSEWHERE:
            forbidden.setdefault(kind, {})[space] = marks
    wanted = listed((_KIND_CALLED.get(each, each.value) for each in settings.allowed), "or")
    for kind, spaces in forbidden.items():
        marks = [mark for each in spaces.values() for mark in each]
        kinds = listed(dict.fromkeys(_CALLED[mark_kind] for mark_kind, _ in marks))
        names = listed(dict.fromkeys(shown_name(str(space)) for space in spaces))
        yield Finding(
            rule=ID,
            code="forbidden",
            severity=settings.severity_of("forbidden"),
            message=f"Page {page.number}: {kinds} in {kind.value} ({names}); {wanted} is wanted. Somebody has"
            " to turn these colours into inks, and they may print otherwise than you see them.",
            remedy=f"Turn these colours into {wanted} with the printer's colour profile, in the program or on"
            " export, and look at the result.",
            page=page.number,
            boxes=gathered(box for _, box in marks if box is not None),
            measured=kind.value,
            required=wanted,
        )


def _kind(space: ColourSpace) -> ColourKind:
    """What the colours are made of; a pattern's colour space is the one beneath it."""
    if space.kind is ColourKind.PATTERN and space.base is not None:
        return _kind(space.base)
    return space.kind


RULE = Rule(
    id=ID,
    title="Colour spaces",
    settings=ColourSpacesSettings,
    check=check,
    question="Which colours do you take: CMYK, grey, RGB, Lab?",
    since="0.1",
)
