"""Reads how the pages of a file use colour: spaces, groups that blend in one, rendering intents."""

from collections.abc import Iterator, Sequence
from typing import Final

import pikepdf

from hotfolder.colour.icc import read_profile
from hotfolder.model.inventory.colour import BlendGroup, ColourFacts, GroupKind, NamedIntent, UsedSpace
from hotfolder.pdf.colour.colour_spaces import DEVICES
from hotfolder.pdf.content.readers import Readers
from hotfolder.pdf.content.uses import Use, UseKind
from hotfolder.pdf.inventory.space_trees import SpaceTrees
from hotfolder.pdf.objects.document_limits import OUTPUT_INTENTS, OUTPUT_PROFILE_BYTES
from hotfolder.pdf.objects.inheritance import page_value
from hotfolder.pdf.objects.reading import entry, fingerprint, identity, items, name, text
from hotfolder.pdf.objects.resources import Resources
from hotfolder.pdf.objects.streams import bounded_bytes

_DRAWN: Final = frozenset({UseKind.FORM, UseKind.PATTERN})
_PICTURES: Final = frozenset({UseKind.IMAGE, UseKind.INLINE_IMAGE})


def read_colour(
    pdf: pikepdf.Pdf, pages: Sequence[pikepdf.Dictionary], uses: Sequence[Use], readers: Readers
) -> ColourFacts:
    """The facts of colour; nothing is raised for what a file says."""
    intent = _output_intent(pdf)
    profile = entry(intent, "/DestOutputProfile")
    reference = entry(intent, "/DestOutputProfileRef")
    checksum = entry(reference, "/CheckSum")
    trees = SpaceTrees(profile, bytes(checksum) if isinstance(checksum, pikepdf.String) else b"")
    return ColourFacts(
        output_space=_output_space(intent, profile),
        output_condition=text(entry(intent, "/OutputConditionIdentifier")) or "" if intent else None,
        spaces=tuple(_spaces(uses, trees, readers)),
        groups=tuple(_groups(pages, uses, trees)),
        intents=tuple(_intents(uses)),
        black_points=tuple(
            dict.fromkeys(
                use.page
                for use in uses
                if use.kind is UseKind.STATE and entry(use.value, "/UseBlackPtComp") is not None
            )
        ),
    )


def _output_intent(pdf: pikepdf.Pdf) -> object:
    """The first output intent for PDF/X; None where there is none."""
    intents = items(entry(pdf.Root, "/OutputIntents"), OUTPUT_INTENTS)
    return next((each for each in intents if name(entry(each, "/S")) == "GTS_PDFX"), None)


def _output_space(intent: object, profile: object) -> str | None:
    if profile is not None:
        facts = read_profile(bounded_bytes(profile, OUTPUT_PROFILE_BYTES) or b"")
        return facts.space if facts is not None else None
    # The four bytes of the profile's header, where the profile lies outside of the file.
    given = entry(entry(intent, "/DestOutputProfileRef"), "/ProfileCS")
    if not isinstance(given, pikepdf.String):
        return None
    return bytes(given).decode("latin-1").strip() or None


def _spaces(uses: Sequence[Use], trees: SpaceTrees, readers: Readers) -> Iterator[UsedSpace]:
    masks = _in_masks(uses)
    of_pictures = {fingerprint(entry(use.value, "/ColorSpace")) for use in uses if use.kind is UseKind.IMAGE}
    for use in uses:
        picture = None
        match use.kind:
            case UseKind.SPACE:
                value = use.value
                if not isinstance(value, pikepdf.Name) and fingerprint(value) in of_pictures:
                    continue  # operators choose spaces by their names: this one is told with its picture
            case UseKind.DEVICE_COLOUR:
                value = pikepdf.Name(f"/{use.value}")
            case UseKind.IMAGE if entry(use.value, "/ColorSpace") is not None:
                value, picture = entry(use.value, "/ColorSpace"), identity(use.value)
            case _:
                continue
        tree = trees.read(value, use.resources)
        paint = readers.colour_space(value, use.resources)
        if use.kind is UseKind.DEVICE_COLOUR and tree.default is None:
            paint = DEVICES[str(use.value)]
        yield UsedSpace(tree, paint, use.page, use.within, use.within in masks, picture)


def _in_masks(uses: Sequence[Use]) -> frozenset[str]:
    """The streams that are drawn into soft masks, by object number."""
    masks = {identity(entry(use.value, "/G")) for use in uses if use.kind is UseKind.MASK} - {None}
    before = -1
    while masks and len(masks) != before:
        before = len(masks)
        masks |= {identity(use.value) for use in uses if use.kind in _DRAWN and use.within in masks} - {None}
    return frozenset(each for each in masks if each is not None)


def _groups(
    pages: Sequence[pikepdf.Dictionary], uses: Sequence[Use], trees: SpaceTrees
) -> Iterator[BlendGroup]:
    for number, page in enumerate(pages, start=1):
        resources = Resources((page_value(page, "/Resources"),))
        yield from _group(GroupKind.PAGE, number, page, resources, trees)
    for use in uses:
        if use.kind is UseKind.FORM:
            yield from _group(GroupKind.FORM, use.page, use.value, _own(use.value, use.resources), trees)
        elif use.kind is UseKind.MASK:
            form = entry(use.value, "/G")
            luminosity = name(entry(use.value, "/S")) == "Luminosity"
            own = _own(form, use.resources)
            yield from _group(GroupKind.MASK, use.page, form, own, trees, luminosity=luminosity)


def _own(form: object, resources: Resources) -> Resources:
    return resources.within(entry(form, "/Resources"), identity(form))


def _group(
    kind: GroupKind,
    page: int,
    holder: object,
    resources: Resources,
    trees: SpaceTrees,
    *,
    luminosity: bool = False,
) -> Iterator[BlendGroup]:
    group = entry(holder, "/Group")
    if name(entry(group, "/S")) != "Transparency":
        return
    space = entry(group, "/CS")
    tree = trees.read(space, resources) if space is not None else None
    yield BlendGroup(kind, page, identity(holder), tree, luminosity)


def _intents(uses: Sequence[Use]) -> Iterator[NamedIntent]:
    for use in uses:
        if use.kind is UseKind.INTENT:
            yield NamedIntent(name(use.value), "an instruction", use.page)
        elif use.kind is UseKind.STATE:
            given = entry(use.value, "/RI")
            if given is not None:
                yield NamedIntent(name(given), "a graphics state", use.page)
        elif use.kind in _PICTURES:
            given = entry(use.value, "/Intent")
            if given is not None and entry(use.value, "/ImageMask") is not True:
                number = identity(use.value)
                picture = f"picture {number.split()[0]}" if number else "a picture"
                yield NamedIntent(name(given), picture, use.page, number)
