"""Requirements on transparency: the levels that build on PDF 1.3 and 1.4 have none, PDF/X-4 has."""

from collections.abc import Iterator
from typing import Final

from hotfolder.checks.pdf.pdfx.requirement import Breach, Requirement, Subject
from hotfolder.checks.pdf.pdfx.used_places import by_object, image_object, in_object, on_pages
from hotfolder.checks.shared.pdfx_levels import ALL, X4, Level
from hotfolder.model.inventory.inventory import Inventory
from hotfolder.model.inventory.states import StateFacts
from hotfolder.model.marks import PLAIN_BLENDS, Mark
from hotfolder.wording.figures import number_words
from hotfolder.wording.shown import shown_name

# ISO 32000-2, 11.3.5, tables 134 and 135; Compatible is an old name of Normal.
_STANDARD_BLENDS: Final = PLAIN_BLENDS | {
    "Multiply", "Screen", "Overlay", "Darken", "Lighten", "ColorDodge", "ColorBurn", "HardLight", "SoftLight",
    "Difference", "Exclusion", "Hue", "Saturation", "Color", "Luminosity",
}  # fmt: skip

_EARLY: Final = ALL - X4
_SOURCE: Final = (
    "implementers' notes on PDF/X-1a and X-3 (Antenna House, 2006); OpenPDF's PdfXConformanceImp.java;"
    " ConTeXt's lpdf-fmt.lua, which allows no transparency before PDF/X-4"
)
_WHY: Final = (
    "Presses that take this level do not know transparency: it may be left out, so that what should shine"
    " through hides what lies beneath, or the file is refused."
)
_REMEDY: Final = (
    "Export with transparency flattened (at high resolution) and check the result, or ask whether the printer"
    " takes PDF/X-4."
)


def _soft_mask(subject: Subject, _level: Level) -> Iterator[Breach]:
    states = subject.inventory.states
    masked = [("something fades out by a soft mask", each.pages) for each in states if each.soft_mask]
    yield from on_pages(subject, masked, lambda mark: mark.state.soft_mask)


def _image_soft_mask(subject: Subject, _level: Level) -> Iterator[Breach]:
    masked = [each for each in subject.inventory.xobjects.images if each.soft_mask]
    things = [
        (f"a picture with a soft mask{in_object(each.object)}", each.object, each.pages) for each in masked
    ]
    yield from by_object(subject, things, image_object)


def _opacity(subject: Subject, _level: Level) -> Iterator[Breach]:
    things = [
        (_opacity_words(opacity), each.pages)
        for each in subject.inventory.states
        for opacity in dict.fromkeys(each.opacities)
        if opacity != 1
    ]
    yield from on_pages(subject, things, _is_lucid)


def _opacity_words(opacity: float | None) -> str:
    return (
        f"an opacity of {number_words(opacity * 100, 2)} %"
        if opacity is not None
        else "an opacity of no figure"
    )


def _is_lucid(mark: Mark) -> bool:
    return mark.state.fill_opacity < 1 or mark.state.stroke_opacity < 1


def _blend_mode(subject: Subject, _level: Level) -> Iterator[Breach]:
    yield from _blends_outside(subject, PLAIN_BLENDS)


def _known_blend_mode(subject: Subject, _level: Level) -> Iterator[Breach]:
    yield from _blends_outside(subject, _STANDARD_BLENDS)


def _blends_outside(subject: Subject, allowed: frozenset[str]) -> Iterator[Breach]:
    things = [
        (f"the blend mode {shown_name(mode)}" if mode else "a blend mode that is no name", each.pages)
        for each in subject.inventory.states
        for mode in dict.fromkeys(each.blend_modes)
        if mode not in allowed
    ]
    yield from on_pages(subject, things, lambda mark: mark.state.blend_mode not in allowed)


def _group(subject: Subject, _level: Level) -> Iterator[Breach]:
    groups = [each for each in subject.inventory.xobjects.forms if each.group]
    things = [(f"a transparency group{in_object(each.object)}", each.pages) for each in groups]
    yield from on_pages(subject, things, lambda mark: mark.state.group)


def _page_group(subject: Subject, _level: Level) -> Iterator[Breach]:
    """Pages that are groups with nothing transparent on them; what is transparent is told by what it is."""
    inventory = subject.inventory
    transparent = _transparent_pages(inventory)
    for page in subject.pages:
        if page.number in inventory.xobjects.group_pages - transparent:
            yield Breach("the page is marked as a transparency group", page)


def _transparent_pages(inventory: Inventory) -> frozenset[int]:
    xobjects = inventory.xobjects
    guilty = [
        *(each.pages for each in inventory.states if _is_transparent(each)),
        *(each.pages for each in xobjects.images if each.soft_mask),
        *(each.pages for each in xobjects.forms if each.group),
    ]
    return frozenset(number for pages in guilty for number in pages)


def _is_transparent(state: StateFacts) -> bool:
    blends = not PLAIN_BLENDS.issuperset(state.blend_modes)
    return state.soft_mask or blends or any(opacity != 1 for opacity in state.opacities)


TRANSPARENCY: Final = (
    Requirement(
        id="soft-mask",
        wants="takes no soft masks",
        levels=_EARLY,
        why=_WHY,
        remedy=_REMEDY,
        source=_SOURCE,
        judge=_soft_mask,
        of_content=True,
        told_by=frozenset({"transparency.soft-mask"}),
    ),
    Requirement(
        id="image-soft-mask",
        wants="takes no pictures with soft masks",
        levels=_EARLY,
        why=_WHY,
        remedy=_REMEDY,
        source=_SOURCE,
        judge=_image_soft_mask,
        of_content=True,
        told_by=frozenset({"transparency.image-soft-mask"}),
    ),
    Requirement(
        id="opacity",
        wants="takes no opacity but 100 %",
        levels=_EARLY,
        why=_WHY,
        remedy=_REMEDY,
        source=_SOURCE,
        judge=_opacity,
        of_content=True,
        told_by=frozenset({"transparency.opacity"}),
    ),
    Requirement(
        id="blend-mode",
        wants="takes no blend mode but Normal",
        levels=_EARLY,
        why=_WHY,
        remedy=_REMEDY,
        source=_SOURCE,
        judge=_blend_mode,
        of_content=True,
        told_by=frozenset({"transparency.blend-mode"}),
    ),
    Requirement(
        id="transparency-group",
        wants="takes no transparency groups",
        levels=_EARLY,
        why=_WHY,
        remedy=_REMEDY,
        source=_SOURCE,
        judge=_group,
        of_content=True,
        told_by=frozenset({"transparency.group", "transparency.overprint"}),
    ),
    Requirement(
        id="page-group",
        wants="has no transparency, and so no pages that are groups for it",
        levels=_EARLY,
        unconfirmed=_EARLY,
        why="Nothing there is transparent, so it prints as you see it, but some programs refuse such a file.",
        remedy="Export the artwork from the original, not through a conversion that adds such groups.",
        source="ISO 32000-2, 11.6.6: groups came with PDF 1.4; that pages must not be groups is not said by"
        " the sources that name forms (Antenna House, 2006)",
        judge=_page_group,
        of_content=True,
    ),
    Requirement(
        id="unknown-blend-mode",
        wants="takes the blend modes of the PDF standard alone",
        levels=X4,
        unconfirmed=X4,
        why="A program that does not know the mode paints without blending, so colours depend on who prints.",
        remedy="Choose another blend mode for the objects, such as Multiply or Screen, and export again.",
        source="ISO 32000-2, 11.3.5 and 11.6.3, for the modes; that PDF/X-4 repeats it is from memory",
        judge=_known_blend_mode,
        of_content=True,
    ),
)
