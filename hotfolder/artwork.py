"""The facts of a piece of artwork: what is in the file, whatever anyone thinks of it.

Everything here is frozen, and nothing here judges. Lengths are points (1/72 in) in the
page's unrotated user space after `UserUnit`; y grows upwards. A raster file is a page
with one image, and says in `RasterFacts` what its header declared.
"""

import math
from collections.abc import Iterator
from dataclasses import dataclass
from enum import StrEnum


@dataclass(frozen=True, slots=True)
class Unmeasured:
    """A fact that could not be established, and why; nobody may treat it as good."""

    what: str
    reason: str


class Edge(StrEnum):
    """An edge of a box in unrotated user space."""

    LEFT = "left"
    BOTTOM = "bottom"
    RIGHT = "right"
    TOP = "top"


@dataclass(frozen=True, slots=True)
class Box:
    """An axis-parallel rectangle; x0 <= x1 and y0 <= y1."""

    x0: float
    y0: float
    x1: float
    y1: float

    @classmethod
    def around(cls, points: Iterator[tuple[float, float]] | list[tuple[float, float]]) -> "Box":
        """The smallest box that holds all `points`; ValueError where there are none."""
        found = list(points)
        xs, ys = [x for x, _ in found], [y for _, y in found]
        return cls(min(xs), min(ys), max(xs), max(ys))

    @property
    def width(self) -> float:
        """Extent along x, in points."""
        return self.x1 - self.x0

    @property
    def height(self) -> float:
        """Extent along y, in points."""
        return self.y1 - self.y0

    @property
    def corners(self) -> tuple[tuple[float, float], tuple[float, float]]:
        """The lower left and the upper right corner."""
        return (self.x0, self.y0), (self.x1, self.y1)

    def grown(self, margin: float) -> "Box":
        """The box with `margin` points added on each side; a negative margin shrinks it."""
        return Box(self.x0 - margin, self.y0 - margin, self.x1 + margin, self.y1 + margin)

    def cut_by(self, other: "Box") -> "Box | None":
        """What both boxes cover; None where they do not touch.

        A box without extent (a horizontal rule) that lies in the other is kept.
        """
        cut = (
            max(self.x0, other.x0), max(self.y0, other.y0),
            min(self.x1, other.x1), min(self.y1, other.y1),
        )  # fmt: skip
        return Box(*cut) if cut[0] <= cut[2] and cut[1] <= cut[3] else None

    def holds(self, other: "Box", tolerance: float = 0.0) -> bool:
        """Whether `other` lies in this box, give or take `tolerance` points."""
        return (
            self.x0 - tolerance <= other.x0
            and self.y0 - tolerance <= other.y0
            and self.x1 + tolerance >= other.x1
            and self.y1 + tolerance >= other.y1
        )

    def beyond(self, edge: Edge, other: "Box") -> float:
        """How far this box reaches past `other` at `edge`, in points; negative if it stops short."""
        match edge:
            case Edge.LEFT:
                return other.x0 - self.x0
            case Edge.BOTTOM:
                return other.y0 - self.y0
            case Edge.RIGHT:
                return self.x1 - other.x1
            case Edge.TOP:
                return self.y1 - other.y1

    def across(self, edge: Edge, other: "Box") -> float:
        """How far this box's side at `edge` lies from the opposite side of `other`, in points.

        Outwards; negative where the whole of `other` lies further out.
        """
        match edge:
            case Edge.LEFT:
                return other.x1 - self.x0
            case Edge.BOTTOM:
                return other.y1 - self.y0
            case Edge.RIGHT:
                return self.x1 - other.x0
            case Edge.TOP:
                return self.y1 - other.y0


class Format(StrEnum):
    """A file format, decided by content."""

    PDF = "pdf"
    JPEG = "jpeg"
    TIFF = "tiff"
    PNG = "png"
    PSD = "psd"


class ProblemKind(StrEnum):
    """What kind of trouble reading met."""

    UNREADABLE = "unreadable"  # the file, or a part that paints, could not be read at all
    ENCRYPTED = "encrypted"  # it opens only with a password that we do not have
    DAMAGED = "damaged"  # it was read, after repairs or with parts missing
    LIMIT = "limit"  # reading stopped at one of our own limits
    UNSUPPORTED = "unsupported"  # legal, but not understood by this version
    NOTE = "note"  # odd, and without consequence for what was measured


@dataclass(frozen=True, slots=True)
class Problem:
    """Something that could not be read as it should.

    where: a path of facts that counts from 1 (`pages[2].images` are the pictures of page 2).
    box: the part of that page outside which it makes no difference, in points; None where that is not known.
    """

    where: str
    what: str
    kind: ProblemKind
    box: "Box | None" = None


class ColourKind(StrEnum):
    """What a colour is made of, seen from a press."""

    GREY = "grey"
    CMYK = "CMYK"
    RGB = "RGB"
    LAB = "Lab"
    SPOT = "spot"  # one or more named inks beside the process inks
    REGISTRATION = "registration"  # Separation /All: every plate
    NONE = "none"  # Separation /None: no plate
    PATTERN = "pattern"
    UNKNOWN = "unknown"


PROCESS_INKS = ("Cyan", "Magenta", "Yellow", "Black")

CELL_PT = 72.0 / 25.4  # one millimetre


@dataclass(frozen=True, slots=True)
class ColourSpace:
    """A colour space as the file has it (ISO 32000-2, 8.6).

    family: the standard's name (`DeviceRGB`, `CalGray`, `Lab`, `ICCBased`, `Indexed`,
        `Pattern`, `Separation`, `DeviceN`), or Pillow's mode for raster files (`RGB`, `CMYK`).
    kind: what the colours are made of in the end; an Indexed space has its base's kind,
        an ICCBased one that of its profile, a DeviceN of process inks only is CMYK.
    components: number of components of a colour in it (1 for Indexed).
    inks: the names that Separation and DeviceN spaces give, as they stand in the file,
        with #xx resolved.
    base: Indexed base, Separation and DeviceN alternate, Pattern's underlying space.
    profile: description of the ICC profile, where there is one and it can be read.
    full_tint: how a Separation looks at full strength, as components in `base`, by its tint transform; empty
        where that is not known.
    """

    family: str
    kind: ColourKind
    components: int
    inks: tuple[str, ...] = ()
    base: "ColourSpace | None" = None
    profile: str | None = None
    full_tint: tuple[float, ...] = ()

    def __str__(self) -> str:
        match self.family:
            case "ICCBased":
                return f"ICCBased ({self.profile or self.kind})"
            case "Indexed":
                return f"Indexed ({self.base})"
            case "Separation" | "DeviceN":
                return f"{self.family} ({', '.join(self.inks)})"
            case _:
                return self.family


@dataclass(frozen=True, slots=True)
class Colour:
    """One colour: its space and its components as the file has them; none for patterns."""

    space: ColourSpace
    components: tuple[float, ...] = ()


class MarkKind(StrEnum):
    """What kind of thing a mark is."""

    TEXT = "text"
    PATH = "path"
    IMAGE = "image"
    SHADING = "shading"


class Masking(StrEnum):
    """How an image is masked (ISO 32000-2, 8.9.6 and 11.6.5)."""

    NONE = "none"
    STENCIL = "stencil"  # the image is itself a stencil, painted in the fill colour
    EXPLICIT = "explicit"  # /Mask is an image
    COLOUR_KEY = "colour-key"  # /Mask is a range of colours
    SOFT = "soft"  # /SMask, or opacity inside a JPX file


@dataclass(frozen=True, slots=True)
class ImageFacts:
    """A placed image.

    object: `12 0`; None for an inline image or a raster file.
    bits: per component; None where only the codestream knows.
    colour: None for a stencil.
    x_ppi, y_ppi: effective resolution along the image's own axes, from the whole transform;
        infinite where an axis has no extent on the page.
    mask_width_px, mask_height_px: pixels of an explicit or soft mask, which covers the same place.
    flat: True where all pixels are known to have one colour.
    jpeg_quality: about how well JPEG data keep detail, 1 to 100, by their quantisation tables; None
        where they are none or do not tell.
    """

    object: str | None
    width_px: int
    height_px: int
    bits: int | None
    colour: ColourSpace | None
    filters: tuple[str, ...]
    x_ppi: float
    y_ppi: float
    masking: Masking = Masking.NONE
    mask_width_px: int | None = None
    mask_height_px: int | None = None
    flat: bool = False
    jpeg_quality: int | None = None

    @property
    def line_art(self) -> bool:
        """Whether each pixel is on or off: one bit, one component."""
        return self.bits == 1 and (self.colour is None or self.colour.components == 1)

    @property
    def coarsest_px(self) -> tuple[int, int]:
        """Pixels across and down of what shows: the picture's own, or those of a coarser mask without tones.

        Each pixel of such a mask is whole or nothing, and its steps are seen; a soft mask may be as coarse as
        a shadow is. A finer mask gives the picture no detail.
        """
        if self.masking is not Masking.EXPLICIT:
            return self.width_px, self.height_px
        return (
            min(self.width_px, self.mask_width_px or self.width_px),
            min(self.height_px, self.mask_height_px or self.height_px),
        )


@dataclass(frozen=True, slots=True)
class TextFacts:
    """A run of text shown by one operator.

    size_pt: height of the font's em on the page, after all transforms.
    font: the font's name as in `Font.name`.
    invisible: shown in rendering mode 3 (neither filled nor stroked, ISO 32000-2, 9.3.6),
        or as clip only.
    glyphs: how many glyphs the run shows, spaces included.
    ink: the box around what its glyphs ink, after all transforms and before clipping; letters do not
        fill the box that their font declares for them (`Mark.box`). None where that is not known: the font
        is not embedded or cannot be read, or nothing of the run is on paper.
    visible_ink: what clip and media box leave of `ink`.
    clips: its letters clip what is painted after it (modes 4 to 7).
    words: what it says, its first 60 characters at most; empty where the font does not tell, or where
        nothing of it is on paper.
    """

    size_pt: float
    font: str
    invisible: bool = False
    glyphs: int = 0
    ink: Box | None = None
    visible_ink: Box | None = None
    words: str = ""
    clips: bool = False


@dataclass(frozen=True, slots=True)
class MarkState:
    """The graphics state that decides how a mark lies over others (ISO 32000-2, 8.4 and 11)."""

    overprint_fill: bool = False
    overprint_stroke: bool = False
    overprint_mode: int = 0
    fill_opacity: float = 1.0
    stroke_opacity: float = 1.0
    blend_mode: str = "Normal"
    soft_mask: bool = False
    group: bool = False  # inside a transparency group XObject
    knockout_group: bool = False  # inside one whose parts knock each other out (11.4.6)
    on_screen: bool = False  # inside an isolated one in RGB: its colours become those before they become ink


PLAIN_STATE = MarkState()


@dataclass(frozen=True, slots=True)
class Source:
    """Where in the file a mark comes from.

    operator: the one that paints. object: the one whose stream holds it (`12 0`; None for a
    page's own content, whose streams count as one). index: the operator's number in it, from 0.
    """

    operator: str
    object: str | None = None
    index: int | None = None


@dataclass(frozen=True, slots=True)
class Mark:
    """One painted thing.

    box: after all transforms, stroke width included, before clipping.
    visible: what clip, media box and, as far as their shapes are known, soft masks leave of `box`; None where
        clip or media box leave nothing, or a picture is masked away.
    printed: False where its layer is off in print, or its text is invisible.
    fill, stroke: the colours used; None where the mark is not filled or not stroked.
        For images and shadings `fill` holds the space with no components.
    white: True where paint is known to be paper white in every pixel and knocks out: it is no paint.
    line_width_pt: effective stroke width at its narrowest, in points; 0 is the device's thinnest line.
    sliver_pt: how wide a filled shape that is a line is at its widest: one of three or four straight,
        slanting sides, or one that is evenly thin all along, up to 1.5 pt: the area of a stroke, a frame
        filled as a ring. None for all others, whose box tells it or which are no lines.
    hollow: the box of the largest hole in a filled path that is one shape with holes, or of paper white laid
        over the middle of a rectangle; None where it has none, or is not known to.
    solid: a part of `visible` that the mark is known to fill wholly and opaquely, so that nothing
        beneath shows there; None where that is not known.
    even: its colour is known to fill all of `visible`, whether it hides what lies beneath or overprints it.
    covered: later marks are known to hide all of it.
    pieces: the boxes of a path's subpaths, before clipping, without any line width; empty where it has fewer
        than two, or so many that they are not kept.
    sides: how many straight or curved sides the areas within a path have together; 0 for what is no path.
    knockout: the number of the outermost knockout group on its page that it is part of; 0 for none, and for
        the page itself where that is one.
    unseen: it leaves no trace on the plates, though nothing covers it: masked away, or blended into nothing.
    repeated: told once for the several places where the same thing is painted (a Type 3 glyph's picture).
    inks: those that carry its shape on paper, lighter or darker than around it, known by the plates for
        small text and thin lines that overprint or are transparent; empty where it leaves no trace. None
        where its colour tells it, or the plates cannot.
    """

    kind: MarkKind
    box: Box
    visible: Box | None
    source: Source
    fill: Colour | None = None
    stroke: Colour | None = None
    state: MarkState = PLAIN_STATE
    printed: bool = True
    white: bool = False
    line_width_pt: float | None = None
    image: ImageFacts | None = None
    text: TextFacts | None = None
    layers: tuple[str, ...] = ()
    solid: Box | None = None
    covered: bool = False
    repeated: bool = False
    inks: tuple[str, ...] | None = None
    unseen: bool = False
    pieces: tuple[Box, ...] = ()
    sides: int = 0
    even: bool = False
    sliver_pt: float | None = None
    hollow: Box | None = None
    knockout: int = 0

    @property
    def on_paper(self) -> bool:
        """Whether the mark is painted on paper: printed, and not clipped away; perhaps beneath others."""
        return self.printed and self.visible is not None

    @property
    def shows(self) -> bool:
        """Whether anything of the mark can be seen on paper: painted there, not covered, and not nothing."""
        return self.lies_open and self.inks != ()

    @property
    def lies_open(self) -> bool:
        """Whether it is painted on paper where nothing hides it, whatever ink that leaves: perhaps none."""
        return self.on_paper and not (self.covered or self.unseen or self.transparent)

    @property
    def transparent(self) -> bool:
        """Whether it is painted with no opacity at all."""
        state = self.state
        if self.kind in {MarkKind.IMAGE, MarkKind.SHADING}:
            return state.fill_opacity <= 0
        filled = self.fill is not None and state.fill_opacity > 0
        stroked = self.stroke is not None and state.stroke_opacity > 0
        return not (filled or stroked) and (self.fill is not None or self.stroke is not None)

    @property
    def frame_pt(self) -> float | None:
        """How wide the widest side of a hollow shape is; None where it is not hollow."""
        box, hole = self.box, self.hollow
        if hole is None:
            return None
        return max(hole.x0 - box.x0, hole.y0 - box.y0, box.x1 - hole.x1, box.y1 - hole.y1)

    def colours(self) -> Iterator[Colour]:
        """The colours that the mark is painted with."""
        if self.fill is not None:
            yield self.fill
        if self.stroke is not None:
            yield self.stroke


@dataclass(frozen=True, slots=True)
class PageBoxes:
    """Page boundaries (ISO 32000-2, 14.11.2): inherited ones included, None where the file has none.

    Corners are put in order. Nothing is clipped to the media box and no default is filled in.
    """

    media: Box | None
    crop: Box | None = None
    bleed: Box | None = None
    trim: Box | None = None
    art: Box | None = None


class TrimOrigin(StrEnum):
    """How the trim of a page is known."""

    TRIM_BOX = "trim-box"
    ART_BOX = "art-box"
    INFERRED = "inferred"  # no box, but the media box is a product size plus bleed
    CANVAS = "canvas"  # a raster file placed at a product's size


@dataclass(frozen=True, slots=True)
class Trim:
    """The finished size of a page: its box, and how that is known.

    note: one sentence for the report where the size was concluded and not declared.
    """

    box: Box
    origin: TrimOrigin
    note: str = ""


@dataclass(frozen=True, slots=True)
class Annotation:
    """An annotation (ISO 32000-2, 12.5).

    prints: by its flags and subtype it would show on paper.
    has_appearance: it brings its own normal appearance.
    """

    subtype: str
    box: Box
    prints: bool
    has_appearance: bool


class ResolutionOrigin(StrEnum):
    """Which part of a raster file's header declared its resolution."""

    JFIF = "JFIF"
    EXIF = "Exif"
    PHOTOSHOP = "image resource"
    TIFF = "TIFF"
    PHYS = "pHYs"


@dataclass(frozen=True, slots=True)
class RasterFacts:
    """What the header of a raster file declares.

    width_px, height_px: as stored; `orientation` (Exif, 1 to 8) is not applied.
    bits: per channel. colour.family is the mode: bitmap, grey, indexed, RGB, CMYK, Lab,
        multichannel, duotone.
    x_ppi, y_ppi: declared resolution; None where none is declared.
    extra_channels: channels beyond those of the colour (alpha, saved selections, spot inks).
    alpha_opaque: the alpha channel is known to let nothing through, by all of its pixels.
    layers: number of layers kept beside the flat picture.
    flat_picture_valid: False where a layered file was saved without a usable flat picture.
    icc_space: colour space signature in the embedded profile (`CMYK`, `RGB`, `GRAY`).
    jpeg_quality: as in `ImageFacts`.
    """

    width_px: int
    height_px: int
    bits: int
    colour: ColourSpace
    x_ppi: float | None
    y_ppi: float | None
    resolution_origin: ResolutionOrigin | None
    compression: str
    orientation: int = 1
    icc_profile: str | None = None
    icc_space: str | None = None
    alpha: bool = False
    extra_channels: int = 0
    layers: int = 0
    flat_picture_valid: bool = True
    pictures: int = 1
    progressive: bool = False
    jpeg_quality: int | None = None
    alpha_opaque: bool = False

    @property
    def turned_px(self) -> tuple[int, int]:
        """Width and height in pixels as the picture is meant to be seen."""
        if self.orientation in {5, 6, 7, 8}:
            return self.height_px, self.width_px
        return self.width_px, self.height_px


@dataclass(frozen=True, slots=True)
class Cells:
    """Squares of one millimetre laid over a page, row by row from its top left corner.

    left, top: that corner, in points of unrotated user space. The grid is laid so that a corner of the
    trim, where there is one, is a corner of a cell.
    """

    left: float
    top: float
    columns: int
    rows: int

    def box(self, column: int, row: int, columns: int = 1, rows: int = 1) -> Box:
        """The place of `columns` x `rows` cells of which the one at `column`, `row` is the top left."""
        x0, y1 = self.left + column * CELL_PT, self.top - row * CELL_PT
        return Box(x0, y1 - rows * CELL_PT, x0 + columns * CELL_PT, y1)


@dataclass(frozen=True, slots=True)
class Plate:
    """What one ink puts on a page's sheet.

    ink: its name as in the file, `Cyan`, `Magenta`, `Yellow`, `Black` for the process inks.
    mean_percent: over the whole sheet (the media box). max_percent: the highest of one pixel.
    coverage: the mean of each cell, a byte each in the order of `Cells`: 0 bare paper, 255 full ink.
    """

    ink: str
    mean_percent: float
    max_percent: float
    coverage: bytes


@dataclass(frozen=True, slots=True)
class EdgePaint:
    """How far paint that touches the trim runs on beyond it, along one edge of it.

    start, step_pt: where the first step begins along the edge (x for the bottom and top edges, y for
        the left and right ones), and how long each step is, in points, from low to high.
    reach_pt: for each step how far beyond the trim paint runs without a gap, 0 or more; None where no
        paint touches the trim from inside. Paint is ink in whatever amount is seen; white is none.
    sheet_pt: how far the sheet itself (the media box) runs beyond the trim; no paint can reach further.
    """

    edge: Edge
    start: float
    step_pt: float
    reach_pt: tuple[float | None, ...]
    sheet_pt: float


@dataclass(frozen=True, slots=True)
class MovedColour:
    """A colour of the page that printing changes much.

    place: where there is most of it. share_percent: of the sheet's area.
    before, after: CIELAB (D50) as meant and as printed. delta_e: their difference in CIEDE2000.
    """

    place: Box
    share_percent: float
    before: tuple[float, float, float]
    after: tuple[float, float, float]
    delta_e: float


@dataclass(frozen=True, slots=True)
class ColourShift:
    """How the colours of a page that are not the press's own move when they are printed.

    over_5_percent and so on: share of the sheet's area whose colour moves by more than 5, 10 and 20
    units of CIEDE2000 (ISO/CIE 11664-6). moved: the colours that move most, worst first.
    """

    over_5_percent: float
    over_10_percent: float
    over_20_percent: float
    moved: tuple[MovedColour, ...] = ()


@dataclass(frozen=True, slots=True)
class HeavyArea:
    """An area with much ink: the smallest box around it, and its own size, which may be less.

    highest_percent: the most ink that a square millimetre in it has.
    """

    box: Box
    mm2: float
    highest_percent: float


@dataclass(frozen=True, slots=True)
class HeavyInk:
    """The areas of trim and bleed with more ink than a figure, all plates together but those of some inks.

    Of an area are the square millimetres whose mean is over `over_percent`, wherever on the page they are
    laid: the parts of them that have so much ink. without: inks that do not count. areas: the largest first.
    """

    over_percent: float
    without: frozenset[str]
    areas: tuple[HeavyArea, ...]


@dataclass(frozen=True, slots=True)
class Doubt:
    """A part of a page whose plates may be other than they were drawn.

    reason: a sentence. box: in points. undrawn: something is left out there, so that any of the process inks
    may lie there; else no other inks than those of the plates. summed: no more of an ink can lie there than
    all marks that are painted there have of it together.
    """

    reason: str
    box: Box
    undrawn: bool = False
    summed: bool = False


@dataclass(frozen=True, slots=True)
class PageInk:
    """The inks of one page as they will lie on paper.

    plates: those that carry ink, process inks first. max_percent, max_1mm2_percent: the highest total of
        all plates, technical inks included, in one pixel and as the mean of a square millimetre anywhere.
    edges: `Unmeasured` where the page has no known trim. shift: None where all colours are the press's own.
    approximate: what the plates show only nearly, a sentence each.
    heavy: areas with much ink, for the figures that were asked for.
    doubts: where more or less ink may lie than the plates show, for one of the reasons in `approximate`.
    """

    cells: Cells
    plates: tuple[Plate, ...]
    max_percent: float
    max_1mm2_percent: float
    edges: tuple[EdgePaint, ...] | Unmeasured
    shift: ColourShift | None = None
    approximate: tuple[str, ...] = ()
    heavy: tuple[HeavyInk, ...] = ()
    doubts: tuple[Doubt, ...] = ()

    def areas_over(self, percent: float, without: frozenset[str]) -> tuple[HeavyArea, ...] | Unmeasured:
        """The areas with more ink than `percent`, the inks `without` not counted; the largest first."""
        if self.max_1mm2_percent <= percent:
            return ()
        for asked in self.heavy:
            if asked.over_percent == percent and asked.without == without:
                return asked.areas
        return Unmeasured("ink", f"areas with more than {percent:g} % of ink were not looked for")


class Construct(StrEnum):
    """What a page draws with that some levels of PDF/X forbid, whatever it looks like.

    In ISO 32000-2: TR, and a TR2 other than `Default`, in 8.4.5; XObjects with OPI; PostScript XObjects
    (8.8.2 of ISO 32000-1); forms that stand for a page of another file (8.10.4); forms that are
    transparency groups, and the page itself being one (11.6.6).
    """

    TRANSFER = "transfer"
    OPI = "opi"
    POSTSCRIPT = "postscript"
    REFERENCE = "reference"
    GROUP = "group"
    PAGE_GROUP = "page-group"


@dataclass(frozen=True, slots=True)
class Page:
    """One page.

    rotate: 0, 90, 180 or 270, clockwise, for display only; boxes and marks are unrotated.
    trim: the finished size; `Unmeasured` where nothing tells it. `measure` fills in what the
        file declares; `placing` may conclude it from the product's sizes.
    marks: in painting order, annotations' appearances last; `Unmeasured` where the page's
        content could not be read, or where a raster file's size is not known.
    blend_space: the space in which what is transparent on the page is blended, where the page names one
        (ISO 32000-2, 11.6.6).
    ink: what its plates carry; known only where they were drawn, for a press.
    constructs: what it draws with that not every level of PDF/X allows.
    mask_pictures: the pictures that groups of soft masks are made up of (ISO 32000-2, 11.6.5.2), each once
        for its group. They paint nothing themselves: they say how much of other marks shows.
    """

    number: int
    rotate: int
    user_unit: float
    boxes: PageBoxes
    trim: Trim | Unmeasured
    marks: tuple[Mark, ...] | Unmeasured
    annotations: tuple[Annotation, ...] = ()
    raster: RasterFacts | None = None
    ink: PageInk | Unmeasured = Unmeasured("ink", "the plates were not drawn")
    blend_space: ColourSpace | None = None
    constructs: frozenset[Construct] = frozenset()
    mask_pictures: tuple[Mark, ...] = ()

    @property
    def known_marks(self) -> tuple[Mark, ...]:
        """The marks, none where they are unmeasured."""
        return () if isinstance(self.marks, Unmeasured) else self.marks

    @property
    def product_area(self) -> Box | None:
        """Trim and declared bleed: what lies outside is cut off. None where the trim is not known."""
        if isinstance(self.trim, Unmeasured):
            return None
        trim, bleed = self.trim.box, self.boxes.bleed
        if bleed is None:
            return trim
        return Box(
            min(trim.x0, bleed.x0), min(trim.y0, bleed.y0), max(trim.x1, bleed.x1), max(trim.y1, bleed.y1)
        )


@dataclass(frozen=True, slots=True)
class Font:
    """A font that a painted run of text uses.

    name: as in the file, subset prefix included. type: the font dictionary's Subtype, for a
    composite font that of its descendant (`CIDFontType0`, `CIDFontType2`).
    program: how its program is embedded (`FontFile`, `FontFile2`, `Type1C`, `CIDFontType0C`,
        `OpenType`; `CharProcs` for Type 3); None where it is not.
    printed: at least one visible, printed run uses it.

    The rest is known of embedded fonts only, from the glyphs that come on paper:
    missing_glyphs: how many codes have no glyph in the program; spaces do not count.
    widths_differ: for one of them at least the file gives another width than the program does (by more
        than a hundredth of the em).
    bitmap: one of them at least is a picture (Type 3).
    damaged: what the file brings as its program is none (other data, or data that cannot be unpacked), is cut
    short, or makes no sense where text on paper uses it.
    unread: why the program, or a part of it, could not be read; what is said above may then fall short.
    """

    name: str
    type: str
    program: str | None
    subset: bool
    object: str | None
    printed: bool = True
    missing_glyphs: int = 0
    widths_differ: bool = False
    bitmap: bool = False
    unread: str = ""
    damaged: bool = False

    @property
    def embedded(self) -> bool:
        """Whether the file brings the font's program."""
        return self.program is not None

    @property
    def type3(self) -> bool:
        """Whether its glyphs are drawings in the file itself, and no font program (ISO 32000-2, 9.6.4)."""
        return self.type == "Type3"


@dataclass(frozen=True, slots=True)
class OutputIntent:
    """An output intent (ISO 32000-2, 14.11.5). profile_space: `CMYK`, `RGB`, `GRAY`; None without profile."""

    subtype: str
    identifier: str | None
    condition: str | None
    registry: str | None
    info: str | None
    profile_name: str | None
    profile_space: str | None
    profile_class: str | None


@dataclass(frozen=True, slots=True)
class PdfxClaim:
    """What the file says about its PDF/X level; nothing here proves that it keeps it.

    level: as written, e.g. `PDF/X-4`, `PDF/X-1:2001`. conformance: Info's
    GTS_PDFXConformance. origin: `XMP` or `Info`. other: the level in the other place, where
    both have one.
    """

    level: str
    conformance: str | None
    origin: str
    other: str | None = None

    @property
    def name(self) -> str:
        """The level by which the trade knows it.

        The level decides. ISO 15930-1 alone has a conformance beside it, which tells X-1a:2001 from
        X-1:2001; in any other file it is left over from a former life and says nothing.
        """
        conforms = (self.level, self.conformance) == ("PDF/X-1:2001", "PDF/X-1a:2001")
        return "PDF/X-1a:2001" if conforms else self.level


@dataclass(frozen=True, slots=True)
class Layer:
    """An optional content group in the default configuration.

    step: the step of processing that it is for, by ISO 19593-1 (`Structural, Cutting`; `Varnish`); empty
    for a layer of the artwork itself.
    """

    name: str
    on_screen: bool
    on_paper: bool
    step: str = ""


@dataclass(frozen=True, slots=True)
class Encryption:
    """How a PDF is encrypted. opened: it could be read with a blank password."""

    opened: bool
    method: str
    printing_allowed: bool | None


@dataclass(frozen=True, slots=True)
class PdfFacts:
    """What a PDF says as a whole.

    version: the higher of header and catalog. trapped: `True`, `False`, `Unknown` or None.
    transparency is told by marks; form_fields counts terminal fields; scripts, attachments and
    xfa tell whether there are any. created, modified: dates as they are written; None where there are none.
    object_streams: objects, or the table of contents, are kept in streams (ISO 32000-2, 7.5.7 and 7.5.8).
    """

    version: str
    encryption: Encryption | None
    pdfx: PdfxClaim | None
    output_intents: tuple[OutputIntent, ...]
    title: str | None
    producer: str | None
    creator: str | None
    trapped: str | None
    has_id: bool
    layers: tuple[Layer, ...] = ()
    form_fields: int = 0
    scripts: int = 0
    attachments: int = 0
    xfa: bool = False
    created: str | None = None
    modified: str | None = None
    object_streams: bool = False


@dataclass(frozen=True, slots=True)
class FileFacts:
    """The file itself. format: by content, None where it is none of those we read."""

    name: str
    bytes: int
    sha256: str
    format: Format | None


@dataclass(frozen=True, slots=True)
class SpaceUse:
    """A colour space and the kinds of marks that are painted in it."""

    space: ColourSpace
    used_by: tuple[MarkKind, ...]


@dataclass(frozen=True, slots=True)
class Artwork:
    """All facts of one file.

    pages: `Unmeasured` where the file could not be opened. press: the name of the printing condition
    for which its plates were drawn; None where they were drawn for none.
    """

    file: FileFacts
    pages: tuple[Page, ...] | Unmeasured
    fonts: tuple[Font, ...] = ()
    pdf: PdfFacts | None = None
    problems: tuple[Problem, ...] = ()
    press: str | None = None

    @property
    def known_pages(self) -> tuple[Page, ...]:
        """The pages, none where they are unmeasured."""
        return () if isinstance(self.pages, Unmeasured) else self.pages

    def colour_spaces(self) -> tuple[SpaceUse, ...]:
        """The spaces of all marks that are on paper, in the order of their first use."""
        uses: dict[ColourSpace, list[MarkKind]] = {}
        for page in self.known_pages:
            if page.raster is not None and not page.known_marks:
                uses.setdefault(page.raster.colour, []).append(MarkKind.IMAGE)
            for mark in page.known_marks:
                if not mark.on_paper:
                    continue
                for colour in mark.colours():
                    kinds = uses.setdefault(colour.space, [])
                    if mark.kind not in kinds:
                        kinds.append(mark.kind)
        return tuple(SpaceUse(space, tuple(kinds)) for space, kinds in uses.items())

    def inks(self) -> tuple[str, ...]:
        """Names of the inks that the marks ask for: process inks of CMYK and grey spaces, spot inks by name.

        RGB and Lab colours name no ink: what they become is decided by a press profile.
        """
        found: dict[str, None] = {}
        for use in self.colour_spaces():
            for name in inks_of(use.space):
                found[name] = None
        process = [name for name in PROCESS_INKS if name in found]
        return tuple(process) + tuple(sorted(name for name in found if name not in PROCESS_INKS))


def inks_of(space: ColourSpace) -> tuple[str, ...]:
    """The inks that colours of this space may put on paper; empty for RGB, Lab and patterns."""
    if space.family in {"Indexed", "Pattern"}:
        return inks_of(space.base) if space.base is not None else ()
    if space.inks:
        return tuple(name for name in space.inks if name not in {"All", "None"})
    match space.kind:
        case ColourKind.CMYK:
            return PROCESS_INKS
        case ColourKind.GREY:
            return ("Black",)
        case _:
            return ()


def effective_ppi(pixels: int, extent_pt: float) -> float:
    """Pixels per inch of `pixels` laid over `extent_pt` points; infinite where there is no extent."""
    return math.inf if extent_pt <= 0 else pixels * 72.0 / extent_pt


def raster_mark(raster: RasterFacts, box: Box) -> Mark:
    """The mark that a raster file's picture makes when it is laid over `box`, the page as it is seen.

    Its resolution is along the picture's own axes, as stored; orientations 5 to 8 turn these.
    """
    turned = raster.orientation in {5, 6, 7, 8}
    across, down = (box.height, box.width) if turned else (box.width, box.height)
    image = ImageFacts(
        object=None,
        width_px=raster.width_px,
        height_px=raster.height_px,
        bits=raster.bits,
        colour=raster.colour,
        filters=(raster.compression,),
        x_ppi=effective_ppi(raster.width_px, across),
        y_ppi=effective_ppi(raster.height_px, down),
        masking=Masking.SOFT if raster.alpha else Masking.NONE,
    )
    return Mark(MarkKind.IMAGE, box, box, Source("picture file"), fill=Colour(raster.colour), image=image)
