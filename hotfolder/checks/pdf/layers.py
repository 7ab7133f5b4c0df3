"""Layers: what is seen is what is printed.

Why: layers can be switched on and off after the file was made, and may be on for the screen and off
    for the press; some programs at the press print hidden ones.
On paper: a text in the wrong language, a template, or nothing where something was seen.
Not flagged: files without layers; hidden layers with nothing on them inside the page; layers of a file
    that the rule set takes as they are.
Source: ISO 32000-2, 8.11 (optional content); common practice for raster files.
"""

from collections.abc import Iterator, Mapping
from typing import ClassVar, Final

from hotfolder.checks.shared.marks.on_product import overlaps
from hotfolder.checks.shared.needed_facts import NeededFacts
from hotfolder.checks.shared.occurrences import Occurrences
from hotfolder.model.artwork import Artwork
from hotfolder.model.document import Layer
from hotfolder.model.findings import Finding, Quantity, Severity, Unjudged
from hotfolder.model.pages import Page
from hotfolder.model.ruleset import Rule, RuleSettings
from hotfolder.wording.lists import counted, shortened
from hotfolder.wording.shown import shown_name

ID: Final = "layers"
_STANDARD: Final = "ISO 32000-2, 8.11"
_THEY: Final = ("It does", "They do")


class LayersSettings(RuleSettings):
    """No figures: layers are reported, unless the rule set switches their codes off."""

    codes: ClassVar[Mapping[str, Severity]] = {
        "present": Severity.ADVICE,
        "screen-only": Severity.ADVICE,
        "paper-only": Severity.ADVICE,
        "hidden": Severity.ADVICE,
        "picture-layers": Severity.ADVICE,
        "no-flat-picture": Severity.MUST_FIX,
    }


def check(artwork: Artwork, settings: LayersSettings) -> Iterator[Finding | Unjudged]:
    """Layers of a PDF or a picture, and those that print otherwise than they are seen."""
    for page in artwork.known_pages:
        yield from _picture(page, settings)
    facts = NeededFacts(ID, settings)
    pdf = facts.pdf(artwork)
    yield from facts.unjudged()
    layers = pdf.layers if pdf is not None else ()
    if layers:
        hidden = [layer for layer in layers if not layer.on_paper]
        yield Finding(
            rule=ID,
            code="present",
            severity=settings.severity_of("present"),
            message=f"The file has {counted(len(layers), 'layer')}: {_named(layers)}."
            + (f" Not printed: {_named(hidden)}." if hidden else "")
            + " A program that ignores layers prints all of them.",
            remedy="Flatten the layers, and export only what should print.",
            measured=Quantity.of(len(layers), unit="layers"),
            required=Quantity.of(0, unit="layers"),
            standard=_STANDARD,
        )
    seen_only = [layer for layer in layers if layer.on_screen and not layer.on_paper]
    if seen_only:
        yield Finding(
            rule=ID,
            code="screen-only",
            severity=settings.severity_of("screen-only"),
            message=f"What is on {_named(seen_only)} shows on screen but does not print: it would be "
            "missing on paper.",
            remedy="Make the layer print, or take it out, then export again without layers.",
            measured=_named(seen_only),
            required="printed as seen",
            standard=_STANDARD,
        )
    printed_only = [layer for layer in layers if layer.on_paper and not layer.on_screen]
    if printed_only:
        yield Finding(
            rule=ID,
            code="paper-only",
            severity=settings.severity_of("paper-only"),
            message=f"What is on {_named(printed_only)} is hidden on screen but prints: you may not have "
            "seen it.",
            remedy="Show the layer and look at it, or take it out, then export again without layers.",
            measured=_named(printed_only),
            required="printed as seen",
            standard=_STANDARD,
        )
    yield from _hidden(artwork, layers, settings)


def _hidden(artwork: Artwork, layers: tuple[Layer, ...], settings: LayersSettings) -> Iterator[Finding]:
    """What is drawn in the page on layers that neither show nor print.

    A layer that is on can hide something too, where the file shows it only while the layer is off.
    """
    off = {layer.name for layer in layers if not (layer.on_screen or layer.on_paper)}
    out_of_print = {layer.name for layer in layers if not layer.on_paper}
    places = Occurrences()
    hidden: dict[str, None] = {}
    for page in artwork.known_pages:
        area = page.product_area
        for mark in page.known_marks:
            box, names = mark.visible, off.intersection(mark.layers)
            if out_of_print.isdisjoint(mark.layers) and not (mark.text is not None and mark.text.invisible):
                names = set(mark.layers)
            if mark.printed or box is None or not names or (area is not None and not overlaps(box, area)):
                continue
            places.add(page, box)
            hidden.update(dict.fromkeys(sorted(names)))
    if places:
        yield places.located(
            Finding(
                rule=ID,
                code="hidden",
                severity=settings.severity_of("hidden"),
                message=f"{counted(places.count, 'thing')} on hidden layers"
                f" ({shortened([shown_name(name) for name in hidden])}). {_THEY[places.count > 1]} not print,"
                " but would in a program that ignores layers.",
                remedy="Delete the hidden layers, or show what belongs there, then export again without"
                " layers.",
                measured=Quantity.of(places.count, unit="hidden things"),
                required=Quantity.of(0, unit="hidden things"),
                standard=_STANDARD,
            )
        )


def _picture(page: Page, settings: LayersSettings) -> Iterator[Finding]:
    raster = page.raster
    if raster is None:
        return
    if not raster.flat_picture_valid:
        yield Finding(
            rule=ID,
            code="no-flat-picture",
            severity=settings.severity_of("no-flat-picture"),
            message="The file has its layers but no usable flattened picture of them (composite). Many "
            "programs would print an empty or outdated picture.",
            remedy="Flatten the layers and save again, or save with a flattened picture included.",
            page=page.number,
            measured="no flat picture",
            required="a flat picture",
        )
    if raster.layers:
        yield Finding(
            rule=ID,
            code="picture-layers",
            severity=settings.severity_of("picture-layers"),
            message=f"The picture keeps {counted(raster.layers, 'layer')}. They make it heavier, and a"
            " program may show another combination of them than you see.",
            remedy="Save a flattened copy for printing.",
            page=page.number,
            measured=Quantity.of(raster.layers, unit="layers"),
            required=Quantity.of(0, unit="layers"),
        )


def _named(layers: tuple[Layer, ...] | list[Layer]) -> str:
    return shortened([f"'{shown_name(layer.name)}'" for layer in layers])


RULE = Rule(
    id=ID,
    title="Layers",
    settings=LayersSettings,
    check=check,
    question="Do you take files with layers?",
    since="0.1",
)
