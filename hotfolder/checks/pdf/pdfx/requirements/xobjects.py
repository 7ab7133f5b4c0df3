"""Requirements on pictures, forms and code that pages draw by name."""

from collections.abc import Callable, Iterator
from typing import Final

from hotfolder.checks.pdf.pdfx.requirement import Breach, NotJudged, Requirement, Subject
from hotfolder.checks.pdf.pdfx.requirements.graphics_state import POSTSCRIPT_OPERATOR
from hotfolder.checks.pdf.pdfx.sources import SERIES
from hotfolder.checks.pdf.pdfx.used_places import (
    by_object,
    image_object,
    in_object,
    on_pages,
    pages_of,
    source_object,
)
from hotfolder.checks.shared.pdfx_levels import ALL, X4, Level
from hotfolder.model.inventory.xobjects import DrawnForm, DrawnImage, JpxData
from hotfolder.wording.lists import counted, listed

_COMPLETE: Final = "ISO 15930-1, -3, -4, -6 and -7 are standards of complete exchange, by their titles"

_EARLY_BITS: Final = 8
_JPX_CHANNELS: Final = frozenset({1, 3, 4})
_MOST_JPX_BITS: Final = 38  # ISO/IEC 15444-1, A.5.1


def _postscript(subject: Subject, _level: Level) -> Iterator[Breach]:
    inventory = subject.inventory
    what = "code for PostScript devices"
    things = [(f"{what}{in_object(each.object)}", each.pages) for each in inventory.xobjects.code]
    operators = [each for each in inventory.stray_operators if each.spelling == POSTSCRIPT_OPERATOR]
    things += [(f"{what} (instruction {POSTSCRIPT_OPERATOR})", each.pages) for each in operators]
    yield from on_pages(subject, things)
    yield from _forms(subject, what, lambda form: form.postscript)


def _reference(subject: Subject, _level: Level) -> Iterator[Breach]:
    yield from _forms(subject, "a page of another file that is referred to", lambda form: form.reference)


def _opi(subject: Subject, _level: Level) -> Iterator[Breach]:
    what = "a picture that stands in for another (OPI)"
    yield from _images(subject, lambda image: what if image.opi else "")
    yield from _forms(subject, "a drawing that stands in for a picture (OPI)", lambda form: form.opi)


def _alternate(subject: Subject, _level: Level) -> Iterator[Breach]:
    what = "a picture in whose place another one is to be printed"
    yield from _images(subject, lambda image: what if image.printed_alternate else "")


def _image_depth(subject: Subject, _level: Level) -> Iterator[Breach]:
    yield from _images(subject, _depth_words)


def _depth_words(image: DrawnImage) -> str:
    deep = image.bits is not None and image.bits > _EARLY_BITS
    return f"a picture of {image.bits} bits a channel" if deep else ""


def _jpx_channels(subject: Subject, _level: Level) -> Iterator[Breach | NotJudged]:
    yield from _unread_jpx(subject, lambda jpx: jpx.colour_channels is None)
    yield from _images(subject, _channel_words)


def _channel_words(image: DrawnImage) -> str:
    channels = image.jpx.colour_channels if image.jpx is not None else None
    if channels is None or channels in _JPX_CHANNELS:
        return ""
    return f"a JPEG 2000 picture of {counted(channels, 'colour channel')}"


def _jpx_depth(subject: Subject, _level: Level) -> Iterator[Breach | NotJudged]:
    yield from _unread_jpx(subject, lambda jpx: not jpx.depths)
    yield from _images(subject, _jpx_depth_words)


def _jpx_depth_words(image: DrawnImage) -> str:
    depths = sorted(set(image.jpx.depths)) if image.jpx is not None else []
    if len(depths) < 2 and all(depth <= _MOST_JPX_BITS for depth in depths):
        return ""
    return f"a JPEG 2000 picture of {listed(map(str, depths))} bits a channel"


def _unread_jpx(subject: Subject, unread: Callable[[JpxData], bool]) -> Iterator[NotJudged]:
    for image in subject.inventory.xobjects.images:
        if image.jpx is not None and unread(image.jpx):
            reason = f"what a JPEG 2000 picture{in_object(image.object)} is made of could not be read"
            yield from (NotJudged(reason, page) for page in pages_of(subject, image.pages))


def _forms(subject: Subject, what: str, guilty: Callable[[DrawnForm], bool]) -> Iterator[Breach]:
    forms = [each for each in subject.inventory.xobjects.forms if guilty(each)]
    things = [(f"{what}{in_object(each.object)}", each.object, each.pages) for each in forms]
    yield from by_object(subject, things, source_object)


def _images(subject: Subject, words: Callable[[DrawnImage], str]) -> Iterator[Breach]:
    """The images that `words` has something to say of; it gives an empty text for all others."""
    told = [(words(each), each) for each in subject.inventory.xobjects.images]
    things = [(f"{what}{in_object(each.object)}", each.object, each.pages) for what, each in told if what]
    yield from by_object(subject, things, image_object)


XOBJECTS: Final = (
    Requirement(
        id="postscript",
        wants="takes no PostScript code",
        levels=ALL,
        why="Only some presses run it; on all others what it paints is missing.",
        remedy="Place what is painted there as a PDF or as a picture, and export again.",
        source=f"{SERIES}; Ghostscript's gs_pdfwr.ps, by which PDF/X does not let it in; Apache FOP's"
        " PDFProfile.java, of PDF/X-3:2003 and PDF/X-4",
        judge=_postscript,
        of_content=True,
    ),
    Requirement(
        id="reference-xobject",
        wants="takes no pages of other files that are referred to and not included (Ref)",
        levels=ALL,
        why="The other file is not at the printer, who gets a rough picture in its place, or nothing.",
        remedy="Place the other file so that it is included, and export again.",
        source="implementers' notes on PDF/X-2 (Antenna House, 2006), which allows them; the manual of"
        " LaTeX's package pdfx 1.6, by which it takes a level with a g in its name, as PDF/X-5g;"
        f" {_COMPLETE}",
        judge=_reference,
        of_content=True,
    ),
    Requirement(
        id="opi",
        wants="takes no pictures that stand in for others (OPI)",
        levels=ALL,
        why="The fine picture is not in the file, and the coarse one in its place is what gets printed.",
        remedy="Export again with the fine pictures included, and OPI switched off.",
        source="notes on PDF/X of a developer (aznote.jakou.com); ConTeXt's lpdf-fmt.lua, which allows OPI"
        f" from PDF/X-5g on; {_COMPLETE}",
        judge=_opi,
        of_content=True,
    ),
    Requirement(
        id="alternate-for-printing",
        wants="takes no alternate pictures that are to be printed in place of the picture itself",
        levels=ALL,
        unconfirmed=ALL,
        why="Which of the two is printed depends on the program, and a proof on screen shows the other one.",
        remedy="Place the picture that is to be printed, without the other one, and export again.",
        source=f"{SERIES}; no second source; for PDF/X-4 from memory",
        judge=_alternate,
        of_content=True,
    ),
    Requirement(
        id="image-depth",
        wants="takes pictures of at most 8 bits a channel",
        levels=ALL - X4,
        why="Sixteen bits came with PDF 1.5: programs of this level may refuse the file, or print noise.",
        remedy="Convert the picture to 8 bits a channel, place it again and export.",
        source="ISO 32000-1, 8.9.5, table 89: 16 bits came with PDF 1.5, which these levels do not build on",
        judge=_image_depth,
        of_content=True,
    ),
    Requirement(
        id="jpx-channels",
        wants="takes JPEG 2000 pictures of 1, 3 or 4 colour channels",
        levels=X4,
        unconfirmed=X4,
        why="What the further channels mean is not agreed, so the colours depend on the program.",
        remedy="Save the picture in grey, RGB or CMYK, or compress it as JPEG or ZIP, and export again.",
        source="from memory",
        judge=_jpx_channels,
        of_content=True,
    ),
    Requirement(
        id="jpx-depth",
        wants=f"takes JPEG 2000 pictures of up to {_MOST_JPX_BITS} bits a channel, as many for each",
        levels=X4,
        unconfirmed=X4,
        why="Programs at the printer may not read such a picture, and leave it out.",
        remedy="Save the picture with 8 bits a channel, place it again and export.",
        source="from memory; ISO/IEC 15444-1, A.5.1, for the bits",
        judge=_jpx_depth,
        of_content=True,
    ),
)
