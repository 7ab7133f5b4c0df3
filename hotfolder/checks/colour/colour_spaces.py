"""Colour spaces: everything is in colours that the printer takes.

Why: a press prints inks; a colour made for a screen has to be turned into inks by somebody, and the result
    depends on who does it and how.
On paper: other colours than expected, mostly duller; black text made of four inks.
Not flagged: spot colours, which the rule about spot colours judges; registration colour and paint on
    no plate; paper white, which prints nothing; marks outside trim and bleed, on hidden layers, clipped
    away or wholly covered; colour spaces that are named but not used.
Source: the printer's own specification; ISO 32000-2, 8.6 for what a colour space is.
"""

from collections.abc import Iterator, Mapping
from dataclasses import dataclass, field
from typing import ClassVar, Final

from hotfolder.checks.shared.marks.on_product import on_product
from hotfolder.checks.shared.needed_facts import NeededFacts
from hotfolder.checks.shared.occurrences import Occurrences
from hotfolder.checks.shared.settings import NamedFigures
from hotfolder.model.artwork import Artwork
from hotfolder.model.colour import ColourKind, ColourSpace
from hotfolder.model.facts import Unmeasured
from hotfolder.model.findings import Finding, Severity, Unjudged
from hotfolder.model.geometry import Box
from hotfolder.model.marks import MarkKind
from hotfolder.model.pages import Page
from hotfolder.model.ruleset import Rule
from hotfolder.wording.lists import listed, shortened
from hotfolder.wording.shown import shown_name

ID: Final = "colour-spaces"

# Judged by another rule, or no colour. A pattern that brings its own colours is told by the marks of
# its cell, which are marks of the page like any others.
_ELSEWHERE: Final = frozenset({ColourKind.SPOT, ColourKind.REGISTRATION, ColourKind.NONE, ColourKind.PATTERN})
_CALLED: Final = {
    MarkKind.TEXT: "text",
    MarkKind.PATH: "shapes",
    MarkKind.IMAGE: "pictures",
    MarkKind.SHADING: "gradients",
}
_KIND_CALLED: Final = {ColourKind.GREY: "grey (black ink only)"}


class ColourSpacesSettings(NamedFigures):
    """allowed: kinds of colour that are taken, of `grey`, `CMYK`, `RGB` and `Lab`.

    in_pictures: those that pictures may have, where they may have others than text, areas and gradients.
    """

    needs: ClassVar[tuple[str, ...]] = ("allowed",)
    codes: ClassVar[Mapping[str, Severity]] = {"forbidden": Severity.MUST_FIX}

    allowed: tuple[ColourKind, ...] = ()
    in_pictures: tuple[ColourKind, ...] | None = None

    def taken(self, mark: MarkKind) -> tuple[ColourKind, ...]:
        """The kinds of colour that a mark of this kind may have."""
        pictures = self.in_pictures
        return pictures if mark is MarkKind.IMAGE and pictures is not None else self.allowed


@dataclass(slots=True)
class _Forbidden:
    """Where one kind of colour is used that is not taken, in what marks and under what names."""

    places: Occurrences = field(default_factory=Occurrences)
    marks: dict[MarkKind, None] = field(default_factory=dict)
    names: dict[str, None] = field(default_factory=dict)


def check(artwork: Artwork, settings: ColourSpacesSettings) -> Iterator[Finding | Unjudged]:
    """Paint in colours that are not taken, one finding for each kind of colour."""
    facts = NeededFacts(ID, settings)
    forbidden: dict[tuple[ColourKind, tuple[ColourKind, ...]], _Forbidden] = {}
    for page in facts.pages(artwork):
        for space, mark, box in _used(page, facts):
            kind = _kind(space)
            taken = settings.taken(mark)
            if kind is ColourKind.UNKNOWN:
                named = shown_name(str(space)) or "unnamed"
                facts.note("what colours are made of is not known", named, page)
            elif kind not in taken and kind not in _ELSEWHERE:
                uses = forbidden.setdefault((kind, taken), _Forbidden())
                uses.places.add(page, *(() if box is None else (box,)))
                uses.marks[mark] = None
                uses.names[shown_name(str(space))] = None
    for (kind, taken), uses in forbidden.items():
        yield uses.places.located(_finding(kind, taken, uses, settings))
    yield from facts.unjudged()


def _used(page: Page, facts: NeededFacts) -> Iterator[tuple[ColourSpace, MarkKind, Box | None]]:
    """The colour spaces of what shows, each with the kind of mark and its place."""
    if page.raster is not None and isinstance(page.marks, Unmeasured):
        # The colours of a picture are known even where its size is not.
        yield page.raster.colour, MarkKind.IMAGE, None
        return
    for mark, visible in on_product(page, facts.marks(page) or ()):
        if not mark.white:
            for colour in mark.colours():
                yield colour.space, mark.kind, visible


def _finding(
    kind: ColourKind, taken: tuple[ColourKind, ...], uses: _Forbidden, settings: ColourSpacesSettings
) -> Finding:
    wanted = listed((_KIND_CALLED.get(each, each.value) for each in taken), "or")
    text = MarkKind.TEXT in uses.marks and kind is ColourKind.RGB
    names = [name for name in uses.names if name != kind.value]
    named = f" ({shortened(names)})" if names else ""
    return Finding(
        rule=ID,
        code="forbidden",
        severity=settings.severity_of("forbidden"),
        message=f"{listed(_CALLED[mark] for mark in uses.marks)} in {kind.value}{named};"
        f" {wanted} is wanted. These colours have to be converted to inks, and may print differently from"
        " what you see" + ("; black text among them would become a mix of four inks." if text else "."),
        remedy=f"Convert these colours to {wanted} with the printer's colour profile, in your design "
        "program or on export, and check the result.",
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
