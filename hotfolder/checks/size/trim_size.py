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

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from itertools import groupby
from typing import ClassVar, Final, Self

from pydantic import PrivateAttr

from hotfolder.checks.shared.settings import NamedFigures
from hotfolder.checks.shared.sightings import Sightings
from hotfolder.checks.shared.unknown import Unknowns
from hotfolder.checks.size.likely_size import bled_size, half_of_spread, known_size
from hotfolder.model.artwork import Artwork
from hotfolder.model.facts import Unmeasured
from hotfolder.model.findings import Finding, Severity, Unjudged
from hotfolder.model.geometry import Box
from hotfolder.model.pages import Page, TrimOrigin
from hotfolder.model.ruleset import LengthSetting, Rule, SizeSetting
from hotfolder.units import PAPER_SIZES, Length, Size, mm_to_pt, plain
from hotfolder.wording.sentences import listed, pages_told, size_quantity

ID: Final = "trim-size"

# More room than this around a size is a sheet of its own; as for placing.
_MOST_ROOM: Final = mm_to_pt(15)

_WITH_BOXES: Final = "with trim and bleed included in the file (bleed switched on)"

# A picture of nearly the shape that is wanted: bleed changes it by as much.
_SAME_SHAPE: Final = 0.03

# A picture whose resolution as placed is within this of the declared one was not rescaled: rounding
# to half a millimetre does more on a small card.
_SAME_SCALE: Final = 0.02


@dataclass(frozen=True, slots=True)
class TakenElsewhere:
    """The finished sizes that another inbox of the studio takes, as people find it (`west/inbox`)."""

    inbox: str
    sizes: tuple[Size, ...]


class TrimSizeSettings(NamedFigures):
    """sizes: those that are taken, either way up.

    tolerance: how far a side may be off. told_from: up to how far off it is not even mentioned.
    """

    needs: ClassVar[tuple[str, ...]] = ("sizes",)
    codes: ClassVar[Mapping[str, Severity]] = {
        "unknown": Severity.MUST_FIX,
        "wrong": Severity.MUST_FIX,
        "spread": Severity.MUST_FIX,
        "mixed": Severity.MUST_FIX,
        "off": Severity.ADVICE,
        "turned": Severity.ADVICE,
        "inferred": Severity.ADVICE,
        "placed": Severity.ADVICE,
    }

    sizes: tuple[SizeSetting, ...] = ()
    tolerance: LengthSetting = Length.of_mm(0.5)
    told_from: LengthSetting = Length.of_mm(0.2)
    _elsewhere: tuple[TakenElsewhere, ...] = PrivateAttr(())

    @property
    def elsewhere(self) -> tuple[TakenElsewhere, ...]:
        """What the other inboxes of the studio take."""
        return self._elsewhere

    def knowing(self, elsewhere: tuple[TakenElsewhere, ...]) -> Self:
        """The same settings, which know what the other inboxes of the studio take."""
        known = self.model_copy()
        known._elsewhere = elsewhere  # noqa: SLF001 - a copy of ourselves
        return known


@dataclass(frozen=True, slots=True)
class _Sized:
    """A page, its finished size, the size it comes nearest to and how far it is from that.

    origin: None where the page does not say where it is cut: its size is then that of all that can be seen.
    """

    page: Page
    box: Box
    nearest: Size
    distance: float
    note: str
    origin: TrimOrigin | None

    @property
    def upright(self) -> bool | None:
        """Whether the page is higher than wide as it is shown; None for a square."""
        width, height = self.box.width, self.box.height
        if abs(width - height) < mm_to_pt(1):
            return None
        return (height > width) is (self.page.rotate in {0, 180})


def check(artwork: Artwork, settings: TrimSizeSettings) -> Iterator[Finding | Unjudged]:
    """Pages whose finished size is none of those wanted, is a little off, or had to be concluded."""
    if not settings.sizes:
        return
    unknowns = Unknowns(ID, settings)
    sized: list[_Sized] = []
    whole: list[_Sized] = []
    unknown: dict[str, Sightings] = {}
    for page in unknowns.pages(artwork):
        if not isinstance(page.trim, Unmeasured):
            sized.append(_sized(page, page.trim.box, page.trim.note, page.trim.origin, settings))
        elif (area := _whole(page)) is not None and not _may_be(area, settings):
            whole.append(_sized(page, area, page.trim.reason, None, settings))
        elif page.boxes.media is not None or page.raster is not None:
            unknown.setdefault(page.trim.reason, Sightings()).add(page)
        else:
            unknowns.trim(page)  # a page without any size is the business of the rule about page boxes
    for reason, seen in unknown.items():
        yield seen.told(_unknown(reason, settings, is_picture=_is_picture(artwork)), words_for_place=False)
    for alike in _alike(whole):
        yield _wrong(alike, settings)
    wrong = [each for each in sized if each.distance > settings.tolerance.points]
    kept = [each for each in sized if each.distance <= settings.tolerance.points]
    for alike in _alike(wrong):
        yield _wrong(alike, settings)
    off = [each for each in kept if each.distance > settings.told_from.points]
    for alike in _alike(off):
        yield _off(alike, settings)
    yield from _differing(kept, settings)
    yield from _concluded(sized, settings)
    yield from unknowns.told()


def _whole(page: Page) -> Box | None:
    """All that can be seen of a page; None where its size is not known, as that of many pictures is not."""
    media, crop = page.boxes.media, page.boxes.crop
    if isinstance(page.marks, Unmeasured) and page.raster is not None:
        return None
    return media.cut_by(crop) or media if media is not None and crop is not None else media


def _may_be(area: Box, settings: TrimSizeSettings) -> bool:
    """Whether a page may be one of the sizes wanted: it is that, or has the same room on every side of it."""
    return any(
        -settings.tolerance.points <= room <= _MOST_ROOM
        and size.grown(room).distance(area.width, area.height) <= settings.tolerance.points
        for each in settings.sizes
        for size in (each, each.turned())
        for room in [(area.width - size.width + area.height - size.height) / 4]
    )


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
        remedy = f"Export again {_WITH_BOXES}, at the size that was ordered: {wanted}."
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


def _sized(page: Page, box: Box, note: str, origin: TrimOrigin | None, settings: TrimSizeSettings) -> _Sized:
    ways = [way for size in settings.sizes for way in (size, size.turned())]
    nearest = min(ways, key=lambda way: way.distance(box.width, box.height))
    return _Sized(page, box, nearest, nearest.distance(box.width, box.height), note, origin)


def _alike(pages: Sequence[_Sized]) -> Iterator[list[_Sized]]:
    """The pages in groups of one size, to a tenth of a point."""

    def key(each: _Sized) -> tuple[float, float]:
        return round(each.box.width, 1), round(each.box.height, 1)

    for _, group in groupby(sorted(pages, key=key), key):
        yield list(group)


def _wrong(alike: list[_Sized], settings: TrimSizeSettings) -> Finding:
    first = alike[0]
    width, height = first.box.width, first.box.height
    found = _figures(width, height, first.nearest)
    wanted = listed((str(size) for size in settings.sizes), "or")
    boxes = "" if first.origin is not None else f" {_WITH_BOXES}"
    remedy = f"Set the page size to {first.nearest}, adapt the layout to it and export again{boxes}."
    if first.page.raster is not None:
        remedy = f"Make the picture as large as {first.nearest}, with the bleed around it{_at_ppi(first)}."
    tolerance = settings.tolerance.points
    known = known_size(width, height, tolerance)
    bled = bled_size(settings.sizes, width, height, tolerance)
    spread = half_of_spread(settings.sizes, width, height, tolerance)
    code = "wrong" if spread is None else "spread"
    inbox = _other_inbox(first, settings)
    if inbox:
        remedy = f"{inbox}{remedy[:1].lower()}{remedy[1:]}"
    printed = bled_size(PAPER_SIZES, width, height, tolerance) if first.origin is None else None
    if spread is not None:
        also = f", or {known.name} as a whole" if known is not None else ""
        meant = f"That is two pages of {spread} side by side{also}. {wanted} is expected here."
        remedy = "Export single pages instead of spreads."
    elif known is not None:
        meant = f"This is {known.name}; {wanted} is expected here."
        remedy = _dropped_elsewhere(known, remedy, first, settings)
    elif bled is not None:
        size, added = bled[0], settings.tolerance.like(bled[1])
        meant = (
            f"That is {size} with {added} more on every side: the bleed seems to be part of the page."
            f" {wanted} is expected here, with the bleed outside it."
        )
        remedy = f"Set the page size to {size}, set the bleed to {added}, then export again."
    elif printed is not None:
        size, added = printed[0], settings.tolerance.like(printed[1])
        meant = f"That is {size} with {added} more on every side; {wanted} is expected here."
        remedy = _dropped_elsewhere(size, remedy, first, settings)
    else:
        meant = f"{wanted} is expected here."
    return Finding(
        rule=ID,
        code=code,
        severity=settings.severity_of(code),
        message=f"{_subject(alike)} {found} {_how_known(first)}. {meant} It would be cut in the wrong place"
        " or printed at another size.",
        remedy=remedy,
        page=first.page.number,
        boxes=(first.box,),
        measured=size_quantity(width, height, first.nearest),
        required=size_quantity(first.nearest.width, first.nearest.height, first.nearest),
        standard="ISO 32000-2, 14.11.2",
    )


def _other_inbox(sized: _Sized, settings: TrimSizeSettings) -> str:
    """Where else in the studio such a page is taken, to begin a remedy with; empty for nowhere."""
    width, height, tolerance = sized.box.width, sized.box.height, settings.tolerance.points
    for other in settings.elsewhere:
        for size in other.sizes:
            fits = min(way.distance(width, height) for way in (size, size.turned())) <= tolerance
            bled = sized.origin is None and bled_size((size,), width, height, tolerance) is not None
            if fits or bled:
                return f"Wrong inbox? {size} is taken in {other.inbox}: drop it there. If it belongs here: "
    return ""


def _dropped_elsewhere(size: Size, remedy: str, sized: _Sized, settings: TrimSizeSettings) -> str:
    """The remedy, and before it where the page may belong: the studio's own inbox where one is known."""
    if _other_inbox(sized, settings):
        return remedy
    return f"Drop it where {size.name} is taken, or: {remedy[:1].lower()}{remedy[1:]}"


def _how_known(sized: _Sized) -> str:
    """What the size of a page is the size of."""
    if sized.origin is not None:
        return "after cutting"
    if sized.page.raster is not None:
        return "as its header says"
    return "as a whole, and the file does not say where it is cut"


def _at_ppi(sized: _Sized) -> str:
    """What a picture's pixels come to in the size wanted, where it has about that shape; else nothing."""
    raster, nearest, box = sized.page.raster, sized.nearest, sized.box
    ratio = box.width / box.height * nearest.height / nearest.width
    if raster is None or abs(ratio - 1) > _SAME_SHAPE:
        return ""
    across, _ = raster.turned_px
    return f"; its pixels then come to about {plain(across / nearest.width * 72, 0)} ppi"


def _off(alike: list[_Sized], settings: TrimSizeSettings) -> Finding:
    first = alike[0]
    return Finding(
        rule=ID,
        code="off",
        severity=settings.severity_of("off"),
        message=f"{_subject(alike)} {_figures(first.box.width, first.box.height, first.nearest)} after"
        f" cutting, {settings.tolerance.like(first.distance).finely()} off {first.nearest}. Cutting is"
        " no more exact than that, but the artwork may shift a little.",
        remedy=f"Set the page size to exactly {first.nearest} when you next work on the file.",
        page=first.page.number,
        boxes=(first.box,),
        measured=size_quantity(first.box.width, first.box.height, first.nearest),
        required=size_quantity(first.nearest.width, first.nearest.height, first.nearest),
    )


def _differing(kept: list[_Sized], settings: TrimSizeSettings) -> Iterator[Finding]:
    """Pages that each have a size that is taken, but not the same one, or not the same way up."""
    if not kept:
        return
    first = kept[0]
    other = next((each for each in kept if not _same(each, first, settings)), None)
    if other is not None:
        alike = [each for each in kept if _same(each, other, settings)]
        yield Finding(
            rule=ID,
            code="mixed",
            severity=settings.severity_of("mixed"),
            message=f"The pages differ in size: page {first.page.number} is {first.nearest},"
            f" {_subject(alike)} {other.nearest}. They cannot be printed and cut together.",
            remedy="Give all pages the same size, or send each size as a file of its own.",
            page=other.page.number,
            boxes=(other.box,),
            measured=size_quantity(other.box.width, other.box.height, other.nearest),
            required=size_quantity(first.box.width, first.box.height, first.nearest),
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
            message=f"Page {first.page.number} is {way} and {pages_told(each.page.number for each in turned)}"
            " the other way. Nobody can tell which edges of front and back belong together, and the back"
            " may be printed upside down.",
            remedy="Turn all pages the same way, or tell the printer how the back lies to the front.",
            page=turned[0].page.number,
            boxes=(turned[0].box,),
            measured="landscape" if first.upright else "portrait",
            required=way,
        )


def _concluded(sized: list[_Sized], settings: TrimSizeSettings) -> Iterator[Finding]:
    """Pages whose size nobody declared and that was concluded from other figures."""
    codes = {TrimOrigin.INFERRED: "inferred", TrimOrigin.CANVAS: "placed"}
    remedies = {
        "inferred": f"Export again {_WITH_BOXES}.",
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
                message=f"{_on(alike)} {note[:1].lower()}{note[1:]} If that is wrong, it will be cut in the"
                " wrong place.",
                remedy=remedies[code],
                page=alike[0].page.number,
                boxes=(alike[0].box,),
                measured=size_quantity(alike[0].box.width, alike[0].box.height, alike[0].nearest),
                told_by=(frozenset({"page-boxes.no-trim-box"}),) if code == "inferred" else (),
            )


def _declared(page: Page) -> bool:
    """Whether a raster page has the size that its own header declares."""
    declared = page.raster.x_ppi if page.raster is not None else None
    images = [mark.image for mark in page.known_marks if mark.image is not None]
    return declared is not None and any(abs(image.x_ppi / declared - 1) < _SAME_SCALE for image in images)


def _same(one: _Sized, other: _Sized, settings: TrimSizeSettings) -> bool:
    size = Size(one.box.width, one.box.height)
    return (
        min(
            size.distance(other.box.width, other.box.height),
            size.turned().distance(other.box.width, other.box.height),
        )
        <= 2 * settings.tolerance.points
    )


def _figures(width: float, height: float, like: Size) -> str:
    return str(Size(width, height, "", like.unit))


def _subject(alike: list[_Sized]) -> str:
    told = pages_told(each.page.number for each in alike)
    return f"{told[:1].upper()}{told[1:]} {'is' if len(alike) == 1 else 'are'}"


def _on(alike: list[_Sized]) -> str:
    told = pages_told(each.page.number for each in alike)
    return f"{told[:1].upper()}{told[1:]}:"


RULE = Rule(
    id=ID,
    title="Trim size",
    settings=TrimSizeSettings,
    check=check,
    question="Which finished sizes do you take for this product?",
    since="0.1",
)
