"""A page of a PDF, built step by step; places are millimetres from the lower left corner of the trim."""

from dataclasses import dataclass, field, replace

from hotfolder.model.artwork import Artwork
from hotfolder.model.colour import Colour
from hotfolder.model.facts import Unmeasured
from hotfolder.model.geometry import Box
from hotfolder.model.marks import ImageFacts, Mark, MarkKind, MarkState, Source, TextFacts, effective_ppi
from hotfolder.model.pages import Annotation, Page, PageBoxes, Trim, TrimOrigin
from hotfolder.units import Size, mm_to_pt, parse_size
from tests.artwork.colours import BLACK, BLUE, DEVICE_CMYK
from tests.artwork.files import artwork

PLAIN = MarkState()
# Trims of real pages seldom begin at the origin.
_ORIGIN_PT = mm_to_pt(20)


def mm_box(x0: float, y0: float, x1: float, y1: float) -> Box:
    """A box in points from millimetres off the trim's lower left corner."""
    return Box(*(_ORIGIN_PT + mm_to_pt(value) for value in (x0, y0, x1, y1)))


@dataclass(frozen=True)
class Flyer:
    """One page; each method returns a new one with a change."""

    size: Size
    boxes: PageBoxes
    trim: Trim | Unmeasured
    marks: tuple[Mark, ...] = ()
    annotations: tuple[Annotation, ...] = ()
    rotate: int = 0
    user_unit: float = 1.0
    unread: Unmeasured | None = field(default=None)

    @property
    def trim_box(self) -> Box:
        """The finished size, whether the page declares it or not."""
        return Box(_ORIGIN_PT, _ORIGIN_PT, _ORIGIN_PT + self.size.width, _ORIGIN_PT + self.size.height)

    @property
    def width_mm(self) -> float:
        return self.size.width / mm_to_pt(1)

    @property
    def height_mm(self) -> float:
        return self.size.height / mm_to_pt(1)

    def with_bleed_mm(self, bleed: float) -> "Flyer":
        """Media and bleed box that leave this much room on each side."""
        room = self.trim_box.grown(mm_to_pt(bleed))
        return self.with_boxes(replace(self.boxes, media=room, bleed=room))

    def with_boxes(self, boxes: PageBoxes) -> "Flyer":
        """Other boxes; the trim stays what it is."""
        return replace(self, boxes=boxes)

    def with_trim(self, trim: Trim | Unmeasured) -> "Flyer":
        """A trim that is known in another way, or not at all; no box declares it."""
        return replace(self, trim=trim, boxes=replace(self.boxes, trim=None))

    def rotated(self, degrees: int) -> "Flyer":
        """The page turned clockwise for display."""
        return replace(self, rotate=degrees)

    def with_mark(self, mark: Mark) -> "Flyer":
        """One more mark on top."""
        return replace(self, marks=(*self.marks, mark))

    def with_marks(self, *marks: Mark) -> "Flyer":
        """These marks in place of all others."""
        return replace(self, marks=marks)

    def with_background(self, reach_mm: float = 3, colour: Colour = BLUE) -> "Flyer":
        """A coloured area over the whole page that runs on this far beyond the trim."""
        return self.with_area(
            -reach_mm, -reach_mm, self.width_mm + reach_mm, self.height_mm + reach_mm, colour=colour
        )

    def with_area(
        self,
        x0: float,
        y0: float,
        x1: float,
        y1: float,
        *,
        colour: Colour = BLUE,
        state: MarkState = PLAIN,
        white: bool = False,
        printed: bool = True,
    ) -> "Flyer":
        """A filled rectangle, cut by the media box."""
        box = mm_box(x0, y0, x1, y1)
        mark = Mark(
            MarkKind.PATH,
            box,
            self._visible(box),
            Source("f"),
            fill=colour,
            state=state,
            white=white,
            printed=printed,
        )
        return self.with_mark(mark)

    def with_framed_area(
        self, area: tuple[float, float, float, float], frame: tuple[float, float, float, float]
    ) -> "Flyer":
        """A rectangle of which a clip leaves only the part inside `frame`."""
        box = mm_box(*area)
        visible = self._visible(mm_box(*frame))
        return self.with_mark(Mark(MarkKind.PATH, box, visible, Source("f"), fill=BLUE))

    def with_outline(
        self,
        x0: float,
        y0: float,
        x1: float,
        y1: float,
        width_mm: float,
        colour: Colour = BLACK,
        **changes: object,
    ) -> "Flyer":
        """A stroked rectangle or line; `changes` go to the mark."""
        box = mm_box(x0, y0, x1, y1).grown(mm_to_pt(width_mm) / 2)
        mark = Mark(
            MarkKind.PATH,
            box,
            self._visible(box),
            Source("S"),
            stroke=colour,
            line_width_pt=mm_to_pt(width_mm),
        )
        return self.with_mark(replace(mark, **changes))  # type: ignore[arg-type] # a mark's own fields

    def with_text(
        self,
        at_mm: tuple[float, float],
        *,
        width_mm: float = 40,
        size_pt: float = 10,
        colour: Colour = BLACK,
        white: bool = False,
        printed: bool = True,
        font: str = "Plain-Book",
        **changes: object,
    ) -> "Flyer":
        """A line of text whose box begins at `at_mm`; `changes` go to the mark."""
        corner = mm_box(*at_mm, *at_mm)
        box = Box(corner.x0, corner.y0, corner.x0 + mm_to_pt(width_mm), corner.y0 + size_pt)
        mark = Mark(
            MarkKind.TEXT,
            box,
            self._visible(box),
            Source("Tj"),
            fill=colour,
            white=white,
            printed=printed,
            text=TextFacts(size_pt, font, invisible=not printed, glyphs=20),
        )
        return self.with_mark(replace(mark, **changes))  # type: ignore[arg-type] # a mark's own fields

    def with_image(
        self,
        at_mm: tuple[float, float, float, float],
        px: tuple[int, int],
        facts: ImageFacts | None = None,
        **changes: object,
    ) -> "Flyer":
        """A picture of `px` pixels laid over `at_mm`; `changes` go to the mark."""
        box = mm_box(*at_mm)
        image = facts if facts is not None else image_facts(px, at_mm)
        mark = Mark(
            MarkKind.IMAGE,
            box,
            self._visible(box),
            Source("Do", "9 0"),
            fill=Colour(DEVICE_CMYK),
            image=image,
        )
        return self.with_mark(replace(mark, **changes))  # type: ignore[arg-type] # a mark's own fields

    def with_annotation(
        self, subtype: str, at_mm: tuple[float, float, float, float], *, prints: bool
    ) -> "Flyer":
        """An annotation laid over the page."""
        annotation = Annotation(subtype, mm_box(*at_mm), prints, has_appearance=True)
        return replace(self, annotations=(*self.annotations, annotation))

    def unreadable(self, reason: str = "its content ends too early") -> "Flyer":
        """The page with content that could not be read."""
        return replace(self, unread=Unmeasured("marks", reason))

    def page(self) -> Page:
        """The facts of the page."""
        return Page(
            number=1,
            rotate=self.rotate,
            user_unit=self.user_unit,
            boxes=self.boxes,
            trim=self.trim,
            marks=self.unread or self.marks,
            annotations=self.annotations,
        )

    def artwork(self) -> Artwork:
        """A PDF file with this page alone."""
        return artwork(self.page())

    def _visible(self, box: Box) -> Box | None:
        return box if self.boxes.media is None else box.cut_by(self.boxes.media)


def flyer(size: str = "A5") -> Flyer:
    """A bare page of this finished size, with trim box, and bleed and media box of 3 mm."""
    bare = Flyer(parse_size(size), PageBoxes(media=None), Unmeasured("trim", "not laid yet"))
    box = bare.trim_box
    laid = replace(bare, trim=Trim(box, TrimOrigin.TRIM_BOX), boxes=PageBoxes(media=None, trim=box))
    return laid.with_bleed_mm(3)


def image_facts(px: tuple[int, int], at_mm: tuple[float, float, float, float]) -> ImageFacts:
    """A picture of `px` pixels laid upright over `at_mm`."""
    return ImageFacts(
        object="9 0",
        width_px=px[0],
        height_px=px[1],
        bits=8,
        colour=DEVICE_CMYK,
        filters=("DCTDecode",),
        x_ppi=effective_ppi(px[0], mm_to_pt(at_mm[2] - at_mm[0])),
        y_ppi=effective_ppi(px[1], mm_to_pt(at_mm[3] - at_mm[1])),
    )
