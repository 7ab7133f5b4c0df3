"""The spaces that transparent colours are blended in, and the intents by which colours are converted."""

from collections.abc import Iterator
from typing import Final

from hotfolder.checks.pdf.pdfx.places import places_of
from hotfolder.checks.pdf.pdfx.requirement import Breach, NotJudged, Requirement, Subject
from hotfolder.checks.pdf.pdfx.requirements.colour.naming import space_name
from hotfolder.checks.pdf.pdfx.requirements.colour.taken_spaces import (
    DEVICES,
    model_unknown,
    output_model,
    stands_alone,
)
from hotfolder.checks.shared.pdfx_levels import ALL, X4, Level
from hotfolder.model.inventory.colour import BlendGroup, GroupKind
from hotfolder.wording.shown import shown_name

_BLENDING: Final = frozenset({*DEVICES, "CalGray", "CalRGB", "ICCBased"})
_INTENTS: Final = frozenset({"AbsoluteColorimetric", "RelativeColorimetric", "Saturation", "Perceptual"})


def _called(group: BlendGroup) -> str:
    number = f" (object {group.object.split()[0]})" if group.object else ""
    match group.kind:
        case GroupKind.PAGE:
            return "the page"
        case GroupKind.FORM:
            return f"a group{number}"
        case GroupKind.MASK:
            return f"a soft mask{number}"


def _blend_spaces(subject: Subject, _level: Level) -> Iterator[Breach | NotJudged]:
    colour = subject.inventory.colour
    model = output_model(colour)
    faults = {group: words for group in colour.groups if (words := _blend_fault(group, model)) is not None}
    forms = frozenset(each.object for each in faults if each.kind is GroupKind.FORM and each.object)
    places = places_of(subject, forms)
    pages = {page.number: page for page in subject.pages}
    for group, words in faults.items():
        page = pages.get(group.page)
        boxes = next((boxes for at, boxes in places.get(group.object or "", []) if at is page), ())
        yield Breach(f"{_called(group)} {words}", page, boxes)
    if model is None and any(group.space and group.space.family in DEVICES for group in colour.groups):
        yield model_unknown(colour)


def _blend_fault(group: BlendGroup, model: str | None) -> str | None:
    """What is wrong with the space that a group blends in; None where nothing is."""
    space = group.space
    if space is None:
        return None
    if space.family not in _BLENDING:
        return f"blends in {space_name(space)}"
    if model is not None and stands_alone(space, model):
        return f"blends in {space_name(space)} without a profile ({space.family})"
    return None


def _mask_spaces(subject: Subject, _level: Level) -> Iterator[Breach]:
    pages = {page.number: page for page in subject.pages}
    for group in subject.inventory.colour.groups:
        if group.kind is GroupKind.MASK and group.luminosity and group.space is None:
            what = f"{_called(group)} goes by brightness, and does not say in which colours"
            yield Breach(what, pages.get(group.page))


def _intents(subject: Subject, _level: Level) -> Iterator[Breach]:
    pages = {page.number: page for page in subject.pages}
    odd = [each for each in subject.inventory.colour.intents if each.name not in _INTENTS]
    places = places_of(subject, frozenset(each.picture for each in odd if each.picture is not None))
    for intent in odd:
        named = f"'{shown_name(intent.name)}'" if intent.name is not None else "something else"
        page = pages.get(intent.page)
        boxes = next((boxes for at, boxes in places.get(intent.picture or "", []) if at is page), ())
        yield Breach(f"{intent.place} asks for the rendering intent {named}", page, boxes)


def _black_points(subject: Subject, _level: Level) -> Iterator[Breach]:
    pages = {page.number: page for page in subject.pages}
    for number in subject.inventory.colour.black_points:
        yield Breach("a graphics state says how black points are mapped (UseBlackPtComp)", pages.get(number))


BLENDING: Final = (
    Requirement(
        id="blend-space",
        wants="wants transparency blended in what the press prints with, or in colours with a profile",
        levels=X4,
        unconfirmed=X4,
        why="Colours that are blended as RGB and then turned into inks may come out otherwise than you see.",
        remedy="Set the transparency blend space to CMYK in your design program, and export again.",
        source="PDFlib's tutorial, table 10.2; no second source, and design programs in wide use write"
        " PDF/X-4 otherwise; ISO 32000-2, 11.3.4 and 11.6.6 for the spaces that may blend",
        judge=_blend_spaces,
    ),
    Requirement(
        id="mask-space",
        wants="wants soft masks that go by brightness to say in which colours that is taken",
        levels=X4,
        why="How much shows through then depends on the program.",
        remedy="Flatten the soft shadow or fade that is meant, or export again from your design program.",
        source="ISO 32000-2, 11.6.5.2, table 142: the group of such a mask has the entry CS",
        judge=_mask_spaces,
        of_content=True,
    ),
    Requirement(
        id="rendering-intent",
        wants="wants one of the four rendering intents that PDF names",
        levels=ALL,
        unconfirmed=ALL,
        why="Programs take the colorimetric one instead, which may not be what was meant.",
        remedy="Choose a rendering intent anew where you gave one, and export again.",
        source="ISO 32000-2, 8.6.5.8, table 69; others are allowed there, and replaced",
        judge=_intents,
        of_content=True,
    ),
    Requirement(
        id="black-point",
        wants="wants no black points mapped by the file, which came with PDF 2.0",
        levels=ALL,
        unconfirmed=ALL,
        why="Programs that know it print darker shadows than those that do not.",
        remedy="Export again as the level that is wanted, not as PDF 2.0.",
        source="ISO 32000-2, 8.6.5.9 and table 57; that older levels forbid it is from memory",
        judge=_black_points,
        of_content=True,
    ),
)
