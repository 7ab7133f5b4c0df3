"""Trim size: each page is as large as the finished product.

Why: the sheet is cut to the size that was ordered, whatever the file says.
On paper: a page that is too small gets white edges or is enlarged; one that is too large is cut
    into or made smaller.
Not flagged: a page that lies on its side; a page within the tolerance of any of the sizes that are
    taken; differences of 0.2 mm, which rounding makes; a picture file of which only its
    header tells the size; a page without any size, which the rule about page boxes tells.
Source: ISO 216 for the A and B sizes, ISO 32000-2, 14.11.2 for page boundaries; the tolerance is
    common practice, as are sizes that no standard has.
"""

from collections.abc import Iterator
from typing import Final

from hotfolder.checks.shared.needed_facts import NeededFacts
from hotfolder.checks.shared.occurrences import Occurrences
from hotfolder.checks.size.trim_sizes.sized_pages import (
    SizedPage,
    are_of_one_size,
    grouped_by_size,
    may_have_wanted_size,
    on_pages,
    pages_are,
    size_in_unit,
    sized_page,
    visible_area,
)
from hotfolder.checks.size.trim_sizes.trim_settings import ID, WITH_BOXES, TrimSizeSettings
from hotfolder.checks.size.trim_sizes.wrong_size import wrong_size
from hotfolder.model.artwork import Artwork
from hotfolder.model.facts import Unmeasured
from hotfolder.model.findings import Finding, Unjudged
from hotfolder.model.pages import Page, TrimOrigin
from hotfolder.model.ruleset import Rule
from hotfolder.wording.figures import size_quantity
from hotfolder.wording.lists import listed
from hotfolder.wording.pages import pages_words

# A picture whose resolution as placed is within this of the declared one was not rescaled: rounding
# to half a millimetre does more on a small card.
_SAME_SCALE: Final = 0.02


def check(artwork: Artwork, settings: TrimSizeSettings) -> Iterator[Finding | Unjudged]:
    """Pages whose finished size is none of those wanted, is a little off, or had to be concluded."""
    if not settings.sizes:
        return
    facts = NeededFacts(ID, settings)
    sized: list[SizedPage] = []
    whole: list[SizedPage] = []
    unknown: dict[str, Occurrences] = {}
    for page in facts.pages(artwork):
        if not isinstance(page.trim, Unmeasured):
            sized.append(sized_page(page, page.trim.box, page.trim.note, page.trim.origin, settings))
        elif (area := visible_area(page)) is not None and not may_have_wanted_size(area, settings):
            whole.append(sized_page(page, area, page.trim.reason, None, settings))
        elif page.boxes.media is not None or page.raster is not None:
            unknown.setdefault(page.trim.reason, Occurrences()).add(page)
        else:
            facts.trim(page)  # a page without any size is the business of the rule about page boxes
    for reason, places in unknown.items():
        yield places.located(
            _unknown(reason, settings, is_picture=_is_picture(artwork)), words_for_place=False
        )
    for alike in grouped_by_size(whole):
        yield wrong_size(alike, settings)
    wrong = [each for each in sized if each.distance > settings.tolerance.points]
    kept = [each for each in sized if each.distance <= settings.tolerance.points]
    for alike in grouped_by_size(wrong):
        yield wrong_size(alike, settings)
    off = [each for each in kept if each.distance > settings.told_from.points]
    for alike in grouped_by_size(off):
        yield _off(alike, settings)
    yield from _differing(kept, settings)
    yield from _concluded(sized, settings)
    yield from facts.unjudged()


def _is_picture(artwork: Artwork) -> bool:
    return any(page.raster is not None for page in artwork.known_pages)


def _unknown(reason: str, settings: TrimSizeSettings, *, is_picture: bool) -> Finding:
    """What to do where nothing tells how large a page is when it is cut."""
    wanted = listed((str(size) for size in settings.sizes), "or")
    if is_picture:
        remedy = (
            "Save the picture with its printed size and resolution, bleed included;"
            f" {wanted} is expected here."
        )
    else:
        remedy = f"Export again {WITH_BOXES}, at the size that was ordered: {wanted}."
    return Finding(
        rule=ID,
        code="unknown",
        severity=settings.severity_of("unknown"),
        message=f"the finished size is not known. {reason}. The printer would have to guess where to cut.",
        remedy=remedy,
        measured="not known",
        required=wanted,
        standard="ISO 32000-2, 14.11.2" if not is_picture else None,
    )


def _off(alike: list[SizedPage], settings: TrimSizeSettings) -> Finding:
    first = alike[0]
    return Finding(
        rule=ID,
        code="off",
        severity=settings.severity_of("off"),
        message=f"{pages_are(alike)} {size_in_unit(*first.seen, first.nearest)} after"
        f" cutting, {settings.tolerance.like(first.distance).finely()} off {first.nearest}. Cutting is"
        " no more exact than that, but the artwork may shift a little.",
        remedy=f"Set the page size to exactly {first.nearest} when you next work on the file.",
        page=first.page.number,
        boxes=(first.box,),
        measured=size_quantity(*first.seen, first.nearest),
        required=size_quantity(first.nearest.width, first.nearest.height, first.nearest),
    )


def _differing(kept: list[SizedPage], settings: TrimSizeSettings) -> Iterator[Finding]:
    """Pages that each have a size that is taken, but not the same one, or not the same way up."""
    if not kept:
        return
    first = kept[0]
    other = next((each for each in kept if not are_of_one_size(each, first, settings)), None)
    if other is not None:
        alike = [each for each in kept if are_of_one_size(each, other, settings)]
        yield Finding(
            rule=ID,
            code="mixed",
            severity=settings.severity_of("mixed"),
            message=f"The pages differ in size: page {first.page.number} is {first.nearest},"
            f" {pages_are(alike)} {other.nearest}. They cannot be printed and cut together.",
            remedy="Give all pages the same size, or send each size as a file of its own.",
            page=other.page.number,
            boxes=(other.box,),
            measured=size_quantity(*other.seen, other.nearest),
            required=size_quantity(*first.seen, first.nearest),
        )
        return
    turned = [
        each for each in kept if None not in {each.upright, first.upright} and each.upright != first.upright
    ]
    if turned:
        way = "portrait" if first.upright else "landscape"
        yield Finding(
            rule=ID,
            code="turned",
            severity=settings.severity_of("turned"),
            message=f"Page {first.page.number} is {way} and"
            f" {pages_words(each.page.number for each in turned)} the other way. Nobody can tell which"
            " edges of front and back belong together, and the back may be printed upside down.",
            remedy="Turn all pages the same way, or tell the printer how the back lies to the front.",
            page=turned[0].page.number,
            boxes=(turned[0].box,),
            measured="landscape" if first.upright else "portrait",
            required=way,
        )


def _concluded(sized: list[SizedPage], settings: TrimSizeSettings) -> Iterator[Finding]:
    """Pages whose size nobody declared and that was concluded from other figures."""
    codes = {TrimOrigin.INFERRED: "inferred", TrimOrigin.CANVAS: "placed"}
    remedies = {
        "inferred": f"Export again {WITH_BOXES}.",
        "placed": "Save the picture with its printed size and resolution, or ask the printer how large it"
        " will be.",
    }
    for origin, code in codes.items():
        concluded = [
            each for each in sized if each.origin is origin and each.note and not _declared(each.page)
        ]
        for note in dict.fromkeys(each.note for each in concluded):
            alike = [each for each in concluded if each.note == note]
            yield Finding(
                rule=ID,
                code=code,
                severity=settings.severity_of(code),
                message=f"{on_pages(alike)} {note[:1].lower()}{note[1:]} If that is wrong, it will be cut in"
                " the wrong place.",
                remedy=remedies[code],
                page=alike[0].page.number,
                boxes=(alike[0].box,),
                measured=size_quantity(*alike[0].seen, alike[0].nearest),
                told_by=(frozenset({"page-boxes.no-trim-box"}),) if code == "inferred" else (),
            )


def _declared(page: Page) -> bool:
    """Whether a raster page has the size that its own header declares."""
    declared = page.raster.x_ppi if page.raster is not None else None
    images = [mark.image for mark in page.known_marks if mark.image is not None]
    return declared is not None and any(abs(image.x_ppi / declared - 1) < _SAME_SCALE for image in images)


RULE = Rule(
    id=ID,
    title="Trim size",
    settings=TrimSizeSettings,
    check=check,
    question="Which finished sizes do you take for this product?",
    since="0.1",
)
