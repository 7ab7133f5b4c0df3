"""Which colour spaces a level takes: those of the press, and those with a profile, by its output intent."""

from collections.abc import Iterator
from typing import Final

from hotfolder.checks.pdf.pdfx.requirement import Breach, NotJudged, Requirement, Subject
from hotfolder.checks.pdf.pdfx.requirements.colour.naming import inks_name, space_name
from hotfolder.checks.pdf.pdfx.requirements.colour.painted import called, each_space, faulty
from hotfolder.checks.pdf.pdfx.sources import SERIES
from hotfolder.checks.shared.pdfx_levels import ALL, X1A, X4, Level
from hotfolder.checks.shared.printing_conditions import conditions_in
from hotfolder.model.colour import ColourKind
from hotfolder.model.inventory.colour import ColourFacts, SpaceTree
from hotfolder.model.marks import Mark

_TABLE: Final = "ConTeXt's lpdf-fmt.lua, which lists the kinds of colour that each level takes"

DEVICES: Final = frozenset({"DeviceGray", "DeviceRGB", "DeviceCMYK"})
INDEPENDENT: Final = frozenset({"CalGray", "CalRGB", "Lab", "ICCBased"})
_OF_INKS: Final = frozenset({"Separation", "DeviceN"})
_PRESS: Final = frozenset({"DeviceGray", "DeviceCMYK"})

# The device spaces that an output condition of each model has (its black is a grey); the names are those of
# profiles' data colour spaces (ICC.1, 7.2.6).
_MODELS: Final = {
    "CMYK": frozenset({"DeviceGray", "DeviceCMYK"}),
    "GRAY": frozenset({"DeviceGray"}),
    "RGB": frozenset({"DeviceRGB"}),
}
# Registered, and made of more than four inks.
_MORE_INKS: Final = "FOGRA55"


def output_model(colour: ColourFacts) -> str | None:
    """`CMYK`, `GRAY` or `RGB`: what the output intent prints with; None where that is not known.

    Where the intent has no profile, its registered condition tells: all that are known here are of CMYK.
    """
    if colour.output_space is not None:
        return colour.output_space if colour.output_space in _MODELS else None
    conditions = conditions_in(colour.output_condition or "")
    return "CMYK" if conditions and _MORE_INKS not in conditions else None


def model_unknown(colour: ColourFacts) -> NotJudged:
    """Why colours cannot be held against the output intent."""
    if colour.output_condition is None:
        return NotJudged("there is no output intent that colours could be held against")
    return NotJudged("the output intent does not tell what the press prints with: CMYK, grey or RGB")


def stands_alone(tree: SpaceTree, model: str) -> bool:
    """Whether it is a device space that the press does not have, and that nothing stands in for.

    A device space that is said to stand in for itself tells no more than itself.
    """
    meant = tree if tree.default is None else tree.default
    return meant.family in DEVICES and meant.family not in _MODELS[model]


def _rgb(tree: SpaceTree) -> str | None:
    named = tree.named_colours
    return "in RGB (DeviceRGB)" if named.family == "DeviceRGB" else None


def _independent(tree: SpaceTree) -> str | None:
    named = tree.named_colours
    return f"in {space_name(named)}" if named.family in INDEPENDENT else None


def _by_default(tree: SpaceTree) -> str | None:
    named = tree.named_colours
    default = named.default
    if named.family not in _PRESS or default is None or default.family not in INDEPENDENT:
        return None
    key = named.family.replace("Device", "Default")
    return f"in {space_name(named)} that becomes {space_name(default)} by {key}"


def _alternate(tree: SpaceTree, level: Level, model: str | None) -> str | None:
    for part in tree.chain():
        described = part.alternate
        if part.family not in _OF_INKS or described is None or not described.family:
            continue
        if level in X1A:
            taken = described.family in _PRESS
        elif described.family in INDEPENDENT:
            taken = True
        else:
            alone = model is not None and stands_alone(described, model)
            taken = described.family in DEVICES and not alone
        if not taken:
            return f"in {inks_name(part.inks)}, described in {space_name(described)}"
    return None


def _alternates(subject: Subject, level: Level) -> Iterator[Breach | NotJudged]:
    model = output_model(subject.inventory.colour)
    yield from faulty(subject, lambda tree: _alternate(tree, level, model))
    if level not in X1A and model is None and _has_device_alternate(subject):
        yield model_unknown(subject.inventory.colour)


def _has_device_alternate(subject: Subject) -> bool:
    return any(
        part.alternate is not None and part.alternate.family in DEVICES
        for used in subject.inventory.colour.spaces
        for part in used.tree.parts()
    )


def _device_colours(subject: Subject, level: Level) -> Iterator[Breach | NotJudged]:
    colour = subject.inventory.colour
    model = output_model(colour)
    if level in X1A and model != "GRAY":
        return  # RGB is no colour of that level, whatever the press prints with
    if model is None:
        if any(used.tree.named_colours.family in DEVICES for used in colour.spaces):
            yield model_unknown(colour)
        return
    press = {"CMYK": "CMYK", "GRAY": "grey", "RGB": "RGB"}[model]

    def alone(tree: SpaceTree) -> str | None:
        named = tree.named_colours
        if not stands_alone(named, model) or (level in X1A and named.family == "DeviceRGB"):
            return None
        return f"in {space_name(named)} without a profile ({named.family}) for a press that prints {press}"

    yield from faulty(subject, alone)
    yield from _jpx_colours(subject, model, press)


def _jpx_colours(subject: Subject, model: str, press: str) -> Iterator[Breach]:
    """JPEG 2000 pictures that say themselves that they are CMYK, which is that of the press."""
    if "DeviceCMYK" in _MODELS[model]:
        return
    for page in subject.pages:
        for mark in page.known_marks:
            if mark.on_paper and _family(mark) == "JPX CMYK":
                yield Breach(f"{called(mark)} in CMYK for a press that prints {press}", page, (mark.box,))


def _family(mark: Mark) -> str:
    return mark.image.colour.family if mark.image is not None and mark.image.colour is not None else ""


def _jpx_unknown(subject: Subject, _level: Level) -> Iterator[Breach]:
    for page in subject.pages:
        for mark in page.known_marks:
            image, colour = mark.image, mark.image.colour if mark.image is not None else None
            if image is None or colour is None or not mark.on_paper or colour.family != "unknown":
                continue
            if "JPXDecode" in image.filters and colour.kind is ColourKind.UNKNOWN:
                yield Breach(
                    f"{called(mark)} (JPEG 2000) does not say in which colours it is", page, (mark.box,)
                )


def _single_ink(tree: SpaceTree, level: Level, model: str | None) -> str | None:
    for part in tree.chain():
        mix = f"in {inks_name(part.inks)}"
        for _, ink in part.colorants:
            fault = _alternate(ink, level, model)
            if fault is not None:
                return f"{mix}, one of them {fault}"
        process = part.process
        if process is None:
            continue
        alone = model is not None and stands_alone(process, model)
        if alone or (level in X1A and process.family not in _PRESS):
            return f"{mix}, the process inks among them described in {space_name(process)}"
    return None


def _single_inks(subject: Subject, level: Level) -> Iterator[Breach]:
    model = output_model(subject.inventory.colour)
    yield from faulty(subject, lambda tree: _single_ink(tree, level, model))


TAKEN_SPACES: Final = (
    Requirement(
        id="rgb-colour",
        wants="takes only CMYK, grey and spot inks",
        levels=X1A,
        why="Somebody else has to turn RGB into inks, and the result may not be what you see.",
        remedy="Convert RGB to CMYK with the profile of the printing condition, in your design program or on"
        " export, and check the result.",
        source=f"{SERIES}; {_TABLE}; OpenPDF's PdfXConformanceImp.java",
        judge=each_space(_rgb),
        of_content=True,
    ),
    Requirement(
        id="device-independent-colour",
        wants="takes only CMYK, grey and spot inks, without profiles of their own",
        levels=X1A,
        why="Colours with a profile are converted on the way to the plate, and may come out otherwise than"
        " you proofed them.",
        remedy="Convert these colours to the CMYK of the printing condition on export, and leave out the"
        " profiles of single pictures and colours.",
        source=f"{SERIES}; {_TABLE}",
        judge=each_space(_independent),
        of_content=True,
    ),
    Requirement(
        id="default-colour-space",
        wants="takes CMYK and grey as the press has them, and nothing that stands in for them",
        levels=X1A,
        why="A default space gives all of the CMYK or grey a profile, by which it is converted again.",
        remedy="Export again with CMYK and grey left as they are (no profile for them, 'preserve numbers').",
        source=f"ISO 32000-2, 8.6.5.6 for what default spaces do; {SERIES} for what the level takes",
        judge=each_space(_by_default),
        of_content=True,
    ),
    Requirement(
        id="device-colour",
        wants="takes colours without a profile only in what the press prints with, by the output intent",
        levels=ALL,
        unconfirmed=X1A,
        why="Without a profile nobody knows which colour is meant.",
        remedy="Convert these colours to those of the printing condition, or export them with their profile.",
        source=f"{SERIES}; PDFlib's tutorial, table 10.2; for PDF/X-4 Qt's qpdfoutputintent.cpp; that it"
        " holds of CMYK in PDF/X-1a for a press of grey is concluded",
        judge=_device_colours,
        of_content=True,
    ),
    Requirement(
        id="spot-alternate",
        wants="takes spot inks that are described in a colour which it takes by itself",
        levels=ALL,
        why="Where the ink is not on the press, it is mixed by that description.",
        remedy="Give the spot colour a definition in CMYK in your swatches, and export again.",
        source=f"{SERIES}; Ghostscript's documentation of pdfwrite, which converts others for PDF/X; for"
        " PDF/X-4 its gdevpdfg.c, and Qt's qpdfoutputintent.cpp, by which all colours are those of the"
        " profile; ISO 32000-2, 8.6.6.4 for what may describe an ink at all",
        judge=_alternates,
        of_content=True,
    ),
    Requirement(
        id="ink-description",
        wants="takes mixes of inks whose single inks are described in colours that it takes by itself",
        levels=ALL,
        unconfirmed=ALL,
        why="A program that prints the inks one by one goes by these descriptions.",
        remedy="Give the spot colours a definition in CMYK in your swatches, and export again.",
        source="the rule for the alternate space of inks, taken to hold for the spaces of a DeviceN's single"
        " inks (ISO 32000-2, 8.6.6.5) as well; from memory",
        judge=_single_inks,
        of_content=True,
    ),
    Requirement(
        id="jpx-colour",
        wants="wants pictures in JPEG 2000 that say in which colours they are",
        levels=X4,
        unconfirmed=X4,
        why="Each program guesses for itself.",
        remedy="Save the picture again with a colour profile, or place it in another format.",
        source="ISO 32000-2, 7.4.9 for where the colours of such a picture are told; the rest from memory",
        judge=_jpx_unknown,
        of_content=True,
    ),
)
