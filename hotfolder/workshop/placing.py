"""Placing: the size of raster pages, and the trim of PDF pages that declare none.

A step between measuring and judging. It knows the product's sizes and gives an `Artwork`
whose pages have the size that is meant, or say why that cannot be told. The facts of the
header stay as they were.

A raster page whose declared size fits a size of the product, with or without bleed, has that
size. Headers often say 72 ppi and mean nothing: where such a one fits none, the shape of the
picture decides, if it fits one size only. A resolution that people choose on purpose outweighs
the shape: an A5 picture at 300 ppi is no poster at 150. A PDF page without a trim has the size
that its media box, or its visible area, leaves room for, with the same room on every side.
"""

from collections.abc import Callable, Sequence
from dataclasses import dataclass, replace
from typing import Final

from hotfolder.model.artwork import Artwork
from hotfolder.model.facts import Unmeasured
from hotfolder.model.geometry import Box
from hotfolder.model.marks import Mark
from hotfolder.model.pages import Page, PageBoxes, Trim, TrimOrigin
from hotfolder.model.raster import RasterFacts, raster_mark
from hotfolder.model.ruleset import Product
from hotfolder.units import Length, LengthUnit, Size, mm_to_pt, plain

# How far a page may be off a canvas in width and in height, both sides taken together. Programs
# round A4 to 595 x 842 pt, which is 0.1 mm off; half a millimetre is common practice.
TOLERANCE_PT: Final = mm_to_pt(0.5)

# Figures are in floating point: what differs by less is equal.
_ROUNDING_PT: Final = 1e-6

# Declared resolutions that are believed where no product says otherwise. Below stand those that
# cameras and screens write without meaning it (72, 96); above, none that anybody exposes a
# plate with (common practice).
_LEAST_BELIEVED_PPI: Final = 100.0
_MOST_BELIEVED_PPI: Final = 5080.0

# Programs round a resolution to whole pixels an inch or a centimetre, 1 % at most where it is 100 ppi.
_SAME_PPI: Final = 0.01

# Room around a finished size that is the same on every side: bleed of another printer's width, or bleed and
# crop marks. Less is a page of the wrong size, more is a sheet of its own (common practice).
_LEAST_ROOM_PT: Final = mm_to_pt(1)
_MOST_ROOM_PT: Final = mm_to_pt(15)
_MOST_BLEED_PT: Final = mm_to_pt(10)


@dataclass(frozen=True, slots=True)
class Canvas:
    """A size of the product as a file may be laid out for it: with bleed around it, or without."""

    size: Size
    bleed_pt: float

    @property
    def whole(self) -> Size:
        """The size with its bleed."""
        return self.size.grown(self.bleed_pt)

    @property
    def sides(self) -> tuple[float, float]:
        """Shorter and longer side of the finished size: the same for both ways of turning it."""
        return min(self.size.width, self.size.height), max(self.size.width, self.size.height)

    def __str__(self) -> str:
        if not self.bleed_pt:
            return f"{self.size.name or self.size} without bleed"
        room = Length(self.bleed_pt, self.size.unit)
        around = "bleed" if self.bleed_pt <= _MOST_BLEED_PT else "around it"
        return f"{self.size.name or self.size} with {room} {around} ({self.whole})"


def place(artwork: Artwork, product: Product) -> Artwork:
    """`artwork` with the sizes that follow from `product`; pages that declare their trim stay as they are."""
    if isinstance(artwork.pages, Unmeasured):
        return artwork
    canvases = _canvases(product)
    pages = tuple(_placed(page, canvases, any_size=product.any_size) for page in artwork.pages)
    return replace(artwork, pages=pages)


def _canvases(product: Product) -> tuple[Canvas, ...]:
    """Each size with and without bleed, upright and turned; equal ones once."""
    canvases: dict[tuple[float, float, float], Canvas] = {}
    for size in product.sizes:
        for turned in (size, size.turned()):
            for bleed in (product.bleed_pt, 0.0):
                canvases.setdefault((turned.width, turned.height, bleed), Canvas(turned, bleed))
    return tuple(canvases.values())


def _placed(page: Page, canvases: Sequence[Canvas], *, any_size: bool) -> Page:
    if page.raster is not None and not canvases:
        return _without_product(page, page.raster, page.boxes.media, any_size=any_size)
    if page.raster is not None:
        return _placed_raster(page, page.raster, canvases)
    if isinstance(page.trim, Unmeasured) and page.boxes.media is not None:
        return replace(page, trim=_inferred(page.boxes.media, page.boxes.crop, canvases))
    return page


# Raster pages


def _placed_raster(page: Page, raster: RasterFacts, canvases: Sequence[Canvas]) -> Page:
    declared = page.boxes.media
    header = "The header declares no resolution"
    if declared is not None:
        size = Size(declared.width, declared.height, unit=canvases[0].size.unit)
        declares = f"The header says {_ppi_words(raster.x_ppi, raster.y_ppi)}"
        header = f"{declares} ({size}), which is none of this printer's sizes"
        near = _nearest(canvases, _off(declared), raster)
        if not near and _is_believed(raster):
            near = _with_room(canvases, declared)
        if len(near) == 1:
            return _laid(page, raster, near[0], f"{declares}, which makes the picture {near[0]}.")
        if near:
            return _unplaced(page, f"{declares} ({size}), which may be {_either(near)}")
    if _is_believed(raster):
        # Its own word on its size counts, but for what rounding does to it.
        canvases = [canvas for canvas in canvases if _has_declared_ppi(raster, canvas)]
    fitting = _fitting(canvases, lambda whole: _misfit(raster, whole), raster)
    near = _nearest(canvases, lambda whole: _misfit(raster, whole), raster)
    if len({canvas.sides for canvas in fitting}) == 1 and len(near) == 1:
        effective = _mark_of(raster, near[0]).image
        ppi = _ppi_words(effective.x_ppi, effective.y_ppi) if effective else ""
        return _laid(
            page, raster, near[0], f"{header}; by its shape the picture is {near[0]}, so it has {ppi}."
        )
    if fitting:
        return _unplaced(page, f"{header}; by its shape the picture may be {_either(fitting)}")
    if _is_believed(raster):
        return replace(page, trim=Unmeasured("trim", header))
    return _unplaced(page, f"{header}; the shape of the picture is not that of {_offered(canvases)}")


def _without_product(page: Page, raster: RasterFacts, declared: Box | None, *, any_size: bool) -> Page:
    """No size is asked for: the declared one counts, where the resolution is one that people choose."""
    if declared is None:
        return _unplaced(page, "The header declares no resolution, and no size is asked for")
    declared_ppi = _ppi_words(raster.x_ppi, raster.y_ppi)
    size = Size(declared.width, declared.height)
    if any_size or _is_believed(raster):
        note = f"No size is asked for; the header says {declared_ppi}, which makes the picture {size}."
        return replace(page, trim=Trim(declared, TrimOrigin.CANVAS, note))
    return _unplaced(
        page,
        f"The header says {declared_ppi} ({size}), which many programs write without meaning it, "
        "and no size is asked for",
    )


def _is_believed(raster: RasterFacts) -> bool:
    """Whether the declared resolution is one that people choose."""
    figures = (raster.x_ppi or 0.0, raster.y_ppi or 0.0)
    return all(_LEAST_BELIEVED_PPI <= ppi <= _MOST_BELIEVED_PPI for ppi in figures)


def _has_declared_ppi(raster: RasterFacts, canvas: Canvas) -> bool:
    """Whether the picture has the resolution that its header declares when it fills `canvas`."""
    laid = _mark_of(raster, canvas).image
    pairs = [] if laid is None else [(laid.x_ppi, raster.x_ppi), (laid.y_ppi, raster.y_ppi)]
    return all(declared is not None and abs(ppi / declared - 1) <= _SAME_PPI for ppi, declared in pairs)


def _laid(page: Page, raster: RasterFacts, canvas: Canvas, note: str) -> Page:
    """The page with its picture laid over the whole canvas."""
    mark = _mark_of(raster, canvas)
    trim = Trim(mark.box.grown(-canvas.bleed_pt), TrimOrigin.CANVAS, note)
    return replace(page, boxes=PageBoxes(media=mark.box), trim=trim, marks=(mark,))


def _mark_of(raster: RasterFacts, canvas: Canvas) -> Mark:
    return raster_mark(raster, Box(0.0, 0.0, canvas.whole.width, canvas.whole.height))


def _unplaced(page: Page, reason: str) -> Page:
    """A page whose size cannot be told: a resolution concluded from the header would be a guess."""
    return replace(page, trim=Unmeasured("trim", reason), marks=Unmeasured("marks", reason))


def _misfit(raster: RasterFacts, whole: Size) -> float:
    """How far the picture is off `whole` at the scale that suits both axes best, in points.

    That scale makes it too wide by as much as it is too low: the sum of both sides agrees.
    Pixels that the header declares as oblong count as such.
    """
    width, height = _turned(
        raster, raster.width_px / (raster.x_ppi or 1), raster.height_px / (raster.y_ppi or 1)
    )
    scale = (whole.width + whole.height) / (width + height)
    return abs(width * scale - whole.width)


def _half_pixel(raster: RasterFacts, whole: Size) -> float:
    """Half a pixel of the picture laid over `whole`, in points, along its coarser axis."""
    across, down = raster.turned_px
    return max(whole.width / across, whole.height / down) / 2


def _turned(raster: RasterFacts, first: float, second: float) -> tuple[float, float]:
    """Two figures along the picture's stored axes, as it is meant to be seen."""
    return (second, first) if raster.orientation in {5, 6, 7, 8} else (first, second)


# PDF pages


def _inferred(media: Box, crop: Box | None, canvases: Sequence[Canvas]) -> Trim | Unmeasured:
    """The trim that the media box has room for; the visible area counts where it is another one."""
    areas = [media]
    visible = crop.cut_by(media) if crop is not None else None
    if visible is not None and not _same(visible, media):
        areas.append(visible)
    trims: list[Trim] = []
    for area in areas:
        near = _nearest(canvases, _off(area)) or _with_room(canvases, area)
        if len(near) > 1:
            return Unmeasured("trim", f"{_page_words(areas, near)}, which may be {_either(near)}")
        trims += [_centred(area, canvas, areas) for canvas in near]
    if not trims:
        reason = f"which is not {_offered(canvases)}" if canvases else "and no size is asked for"
        return Unmeasured("trim", f"{_page_words(areas, canvases)}, {reason}")
    if not all(_same(trim.box, trims[0].box) for trim in trims):
        return Unmeasured("trim", f"{_page_words(areas, canvases)}: each fits another size")
    return trims[0]


def _centred(area: Box, canvas: Canvas, areas: Sequence[Box]) -> Trim:
    x, y = (area.x0 + area.x1) / 2, (area.y0 + area.y1) / 2
    size = canvas.size
    box = Box(x - size.width / 2, y - size.height / 2, x + size.width / 2, y + size.height / 2)
    note = f"{_page_words(areas, [canvas])}, which is {canvas}. It is taken as that, centred."
    return Trim(box, TrimOrigin.INFERRED, note)


def _same(one: Box, other: Box) -> bool:
    return one.holds(other, TOLERANCE_PT) and other.holds(one, TOLERANCE_PT)


def _page_words(areas: Sequence[Box], canvases: Sequence[Canvas]) -> str:
    unit = canvases[0].size.unit if canvases else LengthUnit.MM
    sizes = [str(Size(area.width, area.height, unit=unit)) for area in areas]
    seen = f", its visible area {sizes[1]}" if len(sizes) > 1 else ""
    return f"No trim box says where to cut; the page measures {sizes[0]}{seen}"


# Both


def _off(area: Box) -> Callable[[Size], float]:
    """How far a canvas is off `area`: the larger difference of width and height, in points."""
    return lambda whole: whole.distance(area.width, area.height)


def _fitting(
    canvases: Sequence[Canvas], distance: Callable[[Size], float], raster: RasterFacts | None = None
) -> list[Canvas]:
    """The canvases that are near enough, within half a pixel of a raster page where that is more."""
    return [
        canvas
        for canvas in canvases
        if distance(canvas.whole)
        <= max(TOLERANCE_PT, _half_pixel(raster, canvas.whole) if raster is not None else 0.0) + _ROUNDING_PT
    ]


def _nearest(
    canvases: Sequence[Canvas], distance: Callable[[Size], float], raster: RasterFacts | None = None
) -> list[Canvas]:
    """The canvas that fits best: none where none fits, several where they are equally near."""
    fitting = _fitting(canvases, distance, raster)
    least = min((distance(canvas.whole) for canvas in fitting), default=0.0)
    return [canvas for canvas in fitting if distance(canvas.whole) <= least + _ROUNDING_PT]


def _with_room(canvases: Sequence[Canvas], area: Box) -> list[Canvas]:
    """The sizes of the product that `area` is, with room of another width than the product's bleed around."""
    fitting: dict[tuple[float, float], Canvas] = {}
    for size in (canvas.size for canvas in canvases):
        room = (area.width - size.width + area.height - size.height) / 4
        off = size.grown(room).distance(area.width, area.height)
        if _LEAST_ROOM_PT - _ROUNDING_PT <= room <= _MOST_ROOM_PT + _ROUNDING_PT and off <= TOLERANCE_PT / 2:
            fitting[size.width, size.height] = Canvas(size, room)
    return list(fitting.values())


def _offered(canvases: Sequence[Canvas]) -> str:
    """The product's sizes in words, each once and not turned."""
    sizes = {canvas.sides: canvas.size.name or str(canvas.size) for canvas in reversed(canvases)}
    bleed = max(canvas.bleed_pt for canvas in canvases)
    words = f", with or without {Length(bleed, canvases[0].size.unit)} bleed" if bleed else ""
    return _joined(list(sizes.values())[::-1]) + words


def _either(canvases: Sequence[Canvas]) -> str:
    """The canvases in words."""
    return _joined([str(canvas) for canvas in canvases])


def _joined(names: list[str]) -> str:
    return names[0] if len(names) == 1 else f"{', '.join(names[:-1])} or {names[-1]}"


def _ppi_words(x_ppi: float | None, y_ppi: float | None) -> str:
    x, y = (plain(ppi or 0.0, 0) for ppi in (x_ppi, y_ppi))
    return f"{x} ppi" if x == y else f"{x} x {y} ppi"
