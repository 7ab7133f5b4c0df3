"""A PDF's pages as the inks that they lay down: rewritten, drawn in a few passes, taken apart into plates."""

import math
from collections.abc import Iterable, Iterator
from contextlib import ExitStack
from dataclasses import replace
from pathlib import Path
from types import TracebackType
from typing import Final, Self

import numpy as np
import pikepdf
from pikepdf import Array, Dictionary, Name

from hotfolder.colour.conversions import conversions_for
from hotfolder.drawing.grid.reducing import Smaller, reduced
from hotfolder.drawing.images.images import PlateImages
from hotfolder.drawing.plates.frames import Laid, lay_frame
from hotfolder.drawing.plates.letters_in_doubt import LettersInDoubt
from hotfolder.drawing.plates.renderer import PlateRenderer
from hotfolder.drawing.rewriting.context import Budget, PageSummary, RewriteContext
from hotfolder.drawing.rewriting.names import ResourceNames
from hotfolder.drawing.rewriting.page import RewrittenPage, rewrite_page
from hotfolder.drawing.rewriting.passes import Pass, in_order, plan
from hotfolder.drawing.rewriting.resources.type3_fonts import ANOTHER_FONT
from hotfolder.drawing.rewriting.script import Script
from hotfolder.drawing.spaces.reader import PaintSpaces
from hotfolder.drawing.spaces.view import View
from hotfolder.errors import NotDrawnError
from hotfolder.model.artwork import Artwork
from hotfolder.model.colour import PROCESS_INKS
from hotfolder.model.doubts import APART, IN_INKS, IN_SCREEN_COLOURS, OF_MASKS, TRANSFER
from hotfolder.model.facts import Problem, ProblemKind, Unmeasured
from hotfolder.model.geometry import Box
from hotfolder.model.inks import Doubt
from hotfolder.model.marks import MarkKind
from hotfolder.model.pages import Page
from hotfolder.model.plates import Bytes, PagePlates, PlateFrame
from hotfolder.model.press import Press
from hotfolder.pdf.document.document import opened
from hotfolder.pdf.document.optional_content import Layers
from hotfolder.pdf.document.page_tree import PageTree
from hotfolder.pdf.objects.reading import READING_ERRORS

_WHAT: Final = "ink"
_SCREEN: Final = Pass(View.screen())
_BLENDED: Final = Pass(View.blended())
# Passes are written into one document, which holds their pictures; for larger drawings one by one.
_SMALL_PX: Final = 2_000_000

_STRIP_PX: Final = 1 << 20  # that become inks at once

_FINE_PIXELS: Final = 24_000_000  # of a page that is drawn finer: 72 MB
_FINE_ENOUGH: Final = 6  # pixels a millimetre: for letters with hard edges to be as heavy as they are

_HAIR: Final = 1e-3  # what is less of a pixel is rounding

_ERRORS: Final = (*READING_ERRORS, MemoryError)
_TOO_HEAVY: Final = "not drawn: too heavy, it takes more memory than there is for it"

# Problems of these kinds mean that something on the page is not known: so would its plates be. Our limits of
# measuring are others than those of drawing. Where they keep to a part of the page, all else is known.
_HOLES: Final = frozenset({ProblemKind.UNREADABLE, ProblemKind.UNSUPPORTED})


class PdfPlates:
    """The plates of the PDF at `path`; a context manager.

    artwork: its facts, with trims. press: None, or one without a profile, for pages all of whose colours are
    the press's own; others are then `Unmeasured`. until: the processor time of this process at which
    the page in hand is given up. OSError from opening the file propagates.
    """

    def __init__(self, path: Path, artwork: Artwork, press: Press | None, until: float = math.inf) -> None:
        self._path = path
        self._pages = {page.number: page for page in artwork.known_pages}
        self._holes = tuple(problem for problem in artwork.problems if problem.kind in _HOLES)
        self._letters = LettersInDoubt(artwork)
        self._press, self._until = press, until
        self._stack = ExitStack()
        self._document: _Document | None = None

    def __enter__(self) -> Self:
        document = self._stack.enter_context(opened(self._path))
        if document.pdf is not None:
            self._document = _Document(document.pdf, self._press, self._letters, self._until)
        return self

    def __exit__(
        self, kind: type[BaseException] | None, error: BaseException | None, trace: TracebackType | None
    ) -> None:
        self._document = None
        self._stack.__exit__(kind, error, trace)

    def draw(self, page_number: int, frame: PlateFrame | None = None) -> PagePlates | Unmeasured:
        """The plates of a page, counted from 1; `Unmeasured` with the reason where they cannot be known.

        frame: what of it to draw, and how finely, where that is not to be the whole sheet as usual.
        """
        page = self._pages.get(page_number)
        if self._document is None or page is None:
            return Unmeasured(_WHAT, "the file could not be opened, or has no such page")
        hole = self._hole(page)
        if hole is not None:
            return Unmeasured(_WHAT, hole)
        laid = lay_frame(page)
        if isinstance(laid, Unmeasured):
            return laid
        try:
            drawn = self._document.draw(page, laid if frame is None else replace(laid, frame=frame))
            return self._with_holes(drawn)
        except NotDrawnError as reason:
            return Unmeasured(_WHAT, reason.reason)
        except _ERRORS as trouble:
            too_heavy = isinstance(trouble, MemoryError)
            return Unmeasured(_WHAT, _TOO_HEAVY if too_heavy else f"the page could not be read ({trouble})")

    def _hole(self, page: Page) -> str | None:
        """Why the plates of a page would lack something, as far as measuring has met a problem on it."""
        return next((each.what for each in self._holes_of(page.number) if each.box is None), None)

    def _holes_of(self, page_number: int) -> Iterator[Problem]:
        place = f"pages[{page_number}]."
        return (each for each in self._holes if each.where.startswith(place))

    def _with_holes(self, plates: PagePlates) -> PagePlates:
        """The plates, with the parts of the page of which something is left out."""
        left_out = [
            Doubt(f"{each.what[:1].upper()}{each.what[1:]}.", place, undrawn=True)
            for each in self._holes_of(plates.page)
            if each.box is not None and (place := plates.sheet.cut_by(each.box)) is not None
        ]
        reasons = (*plates.approximate, *(each.reason for each in left_out))
        return replace(plates, approximate=tuple(dict.fromkeys(reasons)), doubts=(*plates.doubts, *left_out))


class _Document:
    """An open document, with what its pages share."""

    def __init__(self, pdf: pikepdf.Pdf, press: Press | None, letters: LettersInDoubt, until: float) -> None:
        self._pdf = pdf
        self._letters = letters
        self._until = until
        self._tree = PageTree(pdf)
        self._conversions = conversions_for(press)
        self._spaces = PaintSpaces(pdf, self._conversions)
        self._images = PlateImages(self._spaces)
        self._layers = Layers(pdf)

    def draw(self, page: Page, laid: Laid) -> PagePlates:
        """The plates of one page; NotDrawnError where they cannot be."""
        if page.number > len(self._tree.pages):
            raise NotDrawnError("the file has no such page")
        plates = self._drawn_at(page, laid, 1)
        return plates if isinstance(plates, PagePlates) else self._settled(page, laid, plates)

    def _settled(self, page: Page, laid: Laid, finer: int) -> PagePlates:
        plates = self._drawn_at(page, laid, finer)
        if not isinstance(plates, PagePlates):
            raise NotDrawnError("the page is another one each time that it is read")
        return plates

    def _drawn_at(self, page: Page, laid: Laid, finer: int) -> PagePlates | int:
        """The plates, drawn so many times finer; or how much finer they have to be drawn."""
        fine = replace(laid, frame=laid.frame.finer(finer))
        budget = Budget(self._until)
        context = self._context(fine, budget, self._context(fine, budget, None))
        try:
            rewritten = rewrite_page(self._tree.pages[page.number - 1], page.user_unit, laid.sheet, context)
            passes = _passes(rewritten, context.summary, press_at_hand=self._conversions is not None)
            wanted = _finer(laid.frame) if passes == [_BLENDED] else 1
            if wanted != finer:
                return wanted
            pictures = _drawn(passes, rewritten.script, context, fine, page.user_unit)
            return self._plates(page, laid, context.summary, zip(passes, pictures, strict=True), context)
        finally:
            context.drop()

    def _plates(
        self,
        page: Page,
        laid: Laid,
        summary: PageSummary,
        pictures: Iterable[tuple[Pass, Bytes]],
        context: RewriteContext,
    ) -> PagePlates:
        inks: dict[str, Bytes] = {}
        screen: Bytes | None = None
        for each, picture in pictures:
            if each == _BLENDED:
                screen, process = self._separated(picture, laid.frame)
                inks.update(process)
            elif not each.plates:
                screen = picture
            else:
                inks.update(_plates(each, picture))
        inked = [ink for ink in inks if inks[ink].any()]
        if not inked and summary.warned_of(ANOTHER_FONT) and _shows_text(page):
            raise NotDrawnError(
                "its letters are of a font that is not in the file, and no other one has them"
            )
        masks = context.for_masks.summary
        reasons = [*laid.approximate, *summary.approximate, *masks.approximate]
        summary.doubts |= {(OF_MASKS[why], box): None for why, box in masks.doubts if why in OF_MASKS}
        reasons += [reason for reason, _ in summary.doubts]
        return PagePlates(
            page=page.number,
            sheet=laid.sheet,
            frame=laid.frame,
            inks={ink: inks[ink] for ink in in_order(inked)},
            looks={ink: look for ink, look in summary.looks.items() if ink in inked},
            screen=screen,
            approximate=tuple(dict.fromkeys(reasons)),
            doubts=_doubts(summary, laid, page, self._letters),
        )

    def _separated(self, picture: Bytes, frame: PlateFrame) -> tuple[Bytes, dict[str, Bytes]]:
        """A picture that was blended in sRGB, and its process plates, 255 full ink, on the frame.

        Pixels become ink before they are made larger: half of black is not the ink of a grey.
        """
        if self._conversions is None:
            raise NotDrawnError("what is blended in screen colours becomes inks only by a press's profile")
        finer = picture.shape[0] // frame.height_px
        screen = np.empty((frame.height_px, frame.width_px, 3), np.uint8)
        plates = {ink: np.empty(screen.shape[:2], np.uint8) for ink in PROCESS_INKS}
        step = max(1, _STRIP_PX // (frame.width_px * finer**2))
        for top in range(0, frame.height_px, step):
            rows = slice(top, min(top + step, frame.height_px))
            part = picture[rows.start * finer : rows.stop * finer]
            screen[rows] = reduced(part, Smaller(finer, finer))
            inks = reduced(self._conversions.to_press(part), Smaller(finer, finer))
            for place, ink in enumerate(PROCESS_INKS):
                plates[ink][rows] = inks[..., place]
        return screen, plates

    def _context(self, laid: Laid, budget: Budget, masks: RewriteContext | None) -> RewriteContext:
        return RewriteContext(
            ResourceNames(self._pdf),
            self._spaces,
            self._images,
            self._layers,
            laid.frame,
            budget,
            PageSummary(),
            masks,
        )


def _finer(frame: PlateFrame) -> int:
    """How much finer a page is drawn whose pixels become ink one by one."""
    pixels = frame.width_px * frame.height_px
    return next((finer for finer in (4, 3, 2) if pixels * finer**2 <= _FINE_PIXELS), 1)


def _passes(rewritten: RewrittenPage, summary: PageSummary, *, press_at_hand: bool) -> list[Pass]:
    """The drawings that a page takes.

    Where something shines through on a page that is blended in screen colours, every colour on it becomes one
    of these before it becomes ink (11.4.7): black text then comes out in four inks. With inks that have names
    of their own, which are blended by themselves (11.7.3), it is drawn colour by colour, blended in inks.
    """
    through_colours = summary.transparent and rewritten.in_colours and press_at_hand
    if through_colours and not summary.named:
        summary.dismiss(IN_SCREEN_COLOURS)
        if summary.toned:
            summary.doubt(TRANSFER)
        return [_BLENDED]
    summary.dismiss(IN_INKS)
    inks = set(summary.named_inks)
    if through_colours and inks & set(PROCESS_INKS):
        inks |= set(PROCESS_INKS)
    if summary.toned and summary.transparent:
        summary.doubt(TRANSFER)
    if summary.transparent and rewritten.in_colours:
        summary.doubt(IN_SCREEN_COLOURS)
    planned = plan(inks, summary.overprinting(), summary.blend_modes, through_colours=through_colours)
    if planned.mixed_apart:
        summary.doubt(APART)
    return [*planned.passes, *([_SCREEN] if summary.foreign or through_colours else [])]


def _shows_text(page: Page) -> bool:
    """Whether letters are seen on a page that are not white, by what was measured."""
    return any(
        mark.kind is MarkKind.TEXT and mark.shows and mark.visible is not None and not mark.white
        for mark in page.known_marks
    )


def _doubts(summary: PageSummary, laid: Laid, page: Page, letters: LettersInDoubt) -> tuple[Doubt, ...]:
    """Where on the sheet other ink may lie than is drawn."""
    placed = (
        (reason, place)
        for reason, box in summary.doubts
        for place in ((box,) if box is not None else letters.places(page, reason) or (laid.sheet,))
    )
    on_sheet = ((reason, laid.sheet.cut_by(place)) for reason, place in placed)
    return tuple(Doubt(reason, place) for reason, place in on_sheet if place is not None)


def _drawn(
    passes: list[Pass], script: Script, context: RewriteContext, laid: Laid, user_unit: float
) -> Iterator[Bytes]:
    """The picture of each pass.

    Where the page is laid back as it was before, that is drawn first, from the first place to the last.
    """
    laid_back = context.laid_back
    for number in range(laid_back.count):
        laid_back.until = number
        for each, picture in zip(passes, _pictures(passes, script, context, laid, user_unit), strict=True):
            laid_back.before[number, each] = picture
    laid_back.until = None
    for picture in _pictures(passes, script, context, laid, user_unit):
        _fade_at_edges(picture, laid)
        yield picture


def _pictures(
    passes: list[Pass], script: Script, context: RewriteContext, laid: Laid, user_unit: float
) -> Iterator[Bytes]:
    """The picture of each pass as the renderer gives it."""
    together = len(passes) if laid.frame.width_px * laid.frame.height_px <= _SMALL_PX else 1
    for start in range(0, len(passes), together or 1):
        batch = passes[start : start + together]
        with _written(batch, script, context, laid, user_unit) as renderer:
            for index, each in enumerate(batch):
                # The grey of a half covered pixel is other inks than half of a black letter's: where pixels
                # become inks one by one, and many of them one of the plates', letters have hard edges.
                hard = each == _BLENDED and laid.frame.px_per_mm >= _FINE_ENOUGH
                yield renderer.drawn(index, grey=len(each.plates) == 1, hard_text=hard)


def _written(
    passes: list[Pass], script: Script, context: RewriteContext, laid: Laid, user_unit: float
) -> PlateRenderer:
    """A document with the page in each of several passes."""
    with pikepdf.new() as document:
        for each in passes:
            making = context.names.made(each)
            page = Dictionary(
                Type=Name.Page,
                MediaBox=_frame_box(laid.frame.box, user_unit),
                Resources=making.resources,
                Contents=making.stream(script.written(each)),
            )
            document.pages.append(pikepdf.Page(context.pdf.make_indirect(page)))
        renderer = PlateRenderer(document, laid.frame, context.budget.until)
    context.drop_pictures()
    return renderer


def _fade_at_edges(picture: Bytes, laid: Laid) -> None:
    """Makes pixels that lie only partly on the sheet as pale as that: the renderer cuts at whole pixels."""
    frame, sheet = laid.frame, laid.sheet
    places = [(x - frame.left) / frame.pixel_pt for x in (sheet.x0, sheet.x1)]
    places += [(frame.top - y) / frame.pixel_pt for y in (sheet.y1, sheet.y0)]
    for number, place in enumerate(places):
        at = math.floor(place)
        share = place - at if number % 2 else 1 - (place - at)
        lines = picture[:, at : at + 1] if number < 2 else picture[at : at + 1]
        if _HAIR < share < 1 - _HAIR:
            lines[...] = 255 - (255 - lines) * share


def _frame_box(box: Box, user_unit: float) -> Array:
    return Array([each / user_unit for each in (box.x0, box.y0, box.x1, box.y1)])


def _plates(each: Pass, picture: Bytes) -> dict[str, Bytes]:
    """The plates in a pass's channels, 255 full ink."""
    return {
        ink: np.subtract(255, picture[:, :, channel], dtype=np.uint8)
        for channel, ink in enumerate(each.plates)
    }
