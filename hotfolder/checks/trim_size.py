"""Trim size: each page is as large as the finished product.

Why: the sheet is cut to the size that was ordered, whatever the file says.
On paper: a page that is too small gets white edges or is enlarged; one that is too large is cut
    into or made smaller.
Not flagged: a page that lies on its side; a page within the tolerance of any of the sizes that are
    taken; differences of 0.2 mm, which rounding makes; a picture file that is as large as its header
    says it is.
Source: ISO 216 for the A and B sizes, ISO 32000-2, 14.11.2 for page boundaries; the tolerance is
    common practice, as are sizes that no standard has.
"""

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from itertools import groupby
from typing import ClassVar, Final

from hotfolder.artwork import Artwork, Box, Page, TrimOrigin
from hotfolder.checks.settings import NamedFigures
from hotfolder.checks.telling import listed, pages_told, size_quantity
from hotfolder.checks.unknown import Unknowns
from hotfolder.findings import Finding, Severity, Unjudged
from hotfolder.ruleset import LengthSetting, Rule, SizeSetting
from hotfolder.units import PAPER_SIZES, Length, Size, mm_to_pt

ID: Final = "trim-size"

# A trim box drawn around the bleed, as exporters without a bleed setting make it, is larger by
# the same amount on each side; bleeds are 1 to 10 mm (common practice).
_LEAST_BLEED: Final = mm_to_pt(1)
_LARGEST_BLEED: Final = mm_to_pt(10)

# A picture whose resolution as placed is within this of the declared one was not rescaled: rounding
# to half a millimetre does more on a small card.
_SAME_SCALE: Final = 0.02


class TrimSizeSettings(NamedFigures):
    """sizes: those that are taken, either way up.

    tolerance: how far a side may be off. told_from: how far off it may be without a word.
    """

    needs: ClassVar[tuple[str, ...]] = ("sizes",)
    codes: ClassVar[Mapping[str, Severity]] = {
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


@dataclass(frozen=True, slots=True)
class _Sized:
    """A page, its finished size, the size it comes nearest to and how far it is from that."""

    page: Page
    box: Box
    nearest: Size
    distance: float
    note: str
    origin: TrimOrigin

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
    sized = [
        _sized(page, trim.box, trim.note, trim.origin, settings)
        for page in unknowns.pages(artwork)
        if (trim := unknowns.trim(page)) is not None
    ]
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


def _sized(page: Page, box: Box, note: str, origin: TrimOrigin, settings: TrimSizeSettings) -> _Sized:
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
    remedy = f"Set the page size to {first.nearest}, adapt the layout to it and export again."
    known = _known(width, height, settings)
    bled = _bleed_counted_in(width, height, settings)
    spread = _spread(width, height, settings)
    code = "wrong" if spread is None else "spread"
    if spread is not None:
        also = f", or {known.name} as a whole" if known is not None else ""
        meant = f"That is two pages of {spread} side by side{also}. {wanted} is expected here."
        remedy = "Export single pages instead of spreads."
    elif known is not None:
        meant = f"This is {known.name}; {wanted} is expected here."
        remedy = f"Drop it where {known.name} is taken, or: {remedy[:1].lower()}{remedy[1:]}"
    elif bled is not None:
        added = settings.tolerance.like((width - bled.width) / 2)
        meant = (
            f"That is {bled} with {added} more on every side: the bleed seems to be counted in. {wanted}"
            " is expected here, with the bleed outside of it."
        )
        remedy = f"Set the page size to {bled} and the bleed to {added} beside it, then export again."
    else:
        meant = f"{wanted} is expected here."
    return Finding(
        rule=ID,
        code=code,
        severity=settings.severity_of(code),
        message=f"{_subject(alike)} {found} after cutting. {meant} It would be cut at the wrong place or"
        " printed at another size.",
        remedy=remedy,
        page=first.page.number,
        boxes=(first.box,),
        measured=size_quantity(width, height, first.nearest),
        required=size_quantity(first.nearest.width, first.nearest.height, first.nearest),
        standard="ISO 32000-2, 14.11.2",
    )


def _off(alike: list[_Sized], settings: TrimSizeSettings) -> Finding:
    first = alike[0]
    return Finding(
        rule=ID,
        code="off",
        severity=settings.severity_of("off"),
        message=f"{_subject(alike)} {_figures(first.box.width, first.box.height, first.nearest)} after"
        f" cutting, {settings.tolerance.like(first.distance).finely()} off {first.nearest}. That is within"
        " what cutting can do, and may shift the artwork a little.",
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
            remedy="Give all pages the same size, or hand in each size as a file of its own.",
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
        way = "upright" if first.upright else "lying"
        yield Finding(
            rule=ID,
            code="turned",
            severity=settings.severity_of("turned"),
            message=f"Page {first.page.number} is {way} and {pages_told(each.page.number for each in turned)}"
            " the other way. Which edge of the back meets which of the front is then open, and the back may"
            " be printed upside down.",
            remedy="Turn all pages the same way, or tell the printer which edges meet.",
            page=turned[0].page.number,
            boxes=(turned[0].box,),
            measured="lying" if first.upright else "upright",
            required=way,
        )


def _concluded(sized: list[_Sized], settings: TrimSizeSettings) -> Iterator[Finding]:
    """Pages whose size nobody declared and that was concluded from other figures."""
    codes = {TrimOrigin.INFERRED: "inferred", TrimOrigin.CANVAS: "placed"}
    remedies = {
        "inferred": "Export again with the cut line and the bleed written into the file (bleed switched on).",
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
                message=f"{_on(alike)} {note} If that is not what was meant, it is cut at the wrong place.",
                remedy=remedies[code],
                page=alike[0].page.number,
                boxes=(alike[0].box,),
                measured=size_quantity(alike[0].box.width, alike[0].box.height, alike[0].nearest),
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


def _known(width: float, height: float, settings: TrimSizeSettings) -> Size | None:
    """The named paper size that the page has, either way up."""
    for size in PAPER_SIZES:
        if (
            min(size.distance(width, height), size.turned().distance(width, height))
            <= settings.tolerance.points
        ):
            return size
    return None


def _bleed_counted_in(width: float, height: float, settings: TrimSizeSettings) -> Size | None:
    """The wanted size to which a bleed was added on every side."""
    for size in settings.sizes:
        for way in (size, size.turned()):
            beyond, above = (width - way.width) / 2, (height - way.height) / 2
            if abs(beyond - above) <= settings.tolerance.points and _LEAST_BLEED <= beyond <= _LARGEST_BLEED:
                return way
    return None


def _spread(width: float, height: float, settings: TrimSizeSettings) -> Size | None:
    """The wanted size of which the page holds two, side by side."""
    for size in settings.sizes:
        for way in (size, size.turned()):
            if Size(2 * way.width, way.height).distance(width, height) <= 2 * settings.tolerance.points:
                return way
    return None


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
