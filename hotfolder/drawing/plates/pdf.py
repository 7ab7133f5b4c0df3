"""A PDF's pages as the inks that they lay down: rewritten, drawn in a few passes, taken apart into plates."""

import math
from collections.abc import Iterator, Sequence
from contextlib import ExitStack
from dataclasses import replace
from pathlib import Path
from types import TracebackType
from typing import Final, Self

import numpy as np
import pikepdf

from hotfolder.colour.conversions import conversions_for
from hotfolder.drawing.grid.reducing import Smaller, block_means, reduced
from hotfolder.drawing.images.images import PlateImages
from hotfolder.drawing.plates.closely import CLOSE_PX_PER_MM, LIGHT, LIGHT_PAGES, ClosePlace, draw_closely
from hotfolder.drawing.plates.drawings import PageDrawings
from hotfolder.drawing.plates.frames import Laid, lay_frame
from hotfolder.drawing.plates.letters_in_doubt import LettersInDoubt
from hotfolder.drawing.rewriting.context import Budget, PageSummary, RewriteContext
from hotfolder.drawing.rewriting.names import ResourceNames
from hotfolder.drawing.rewriting.page import RewrittenPage, rewrite_page
from hotfolder.drawing.rewriting.passes import Pass, in_order, plan
from hotfolder.drawing.rewriting.resources.type3_fonts import ANOTHER_FONT
from hotfolder.drawing.spaces.reader import PaintSpaces
from hotfolder.drawing.spaces.view import View
from hotfolder.errors import NotDrawnError
from hotfolder.model.artwork import Artwork
from hotfolder.model.colour import PROCESS_INKS
from hotfolder.model.doubts import APART, IN_INKS, IN_SCREEN_COLOURS, OF_MASKS, TRANSFER
from hotfolder.model.facts import Problem, ProblemKind, Unmeasured
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
_STRIP_PX: Final = 1 << 20  # that become inks at once

_FINE_PIXELS: Final = 24_000_000  # of a page that is drawn finer: 72 MB
_CLOSER: Final = 3  # times as fine at least, for drawing closely to be of use

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
        self._light_pages = 0  # of which places were drawn closely

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
            drawings = PageDrawings(passes, rewritten.script, context, fine, page.user_unit)
            return self._plates(page, laid, context.summary, drawings, context)
        finally:
            context.drop()

    def _plates(
        self,
        page: Page,
        laid: Laid,
        summary: PageSummary,
        drawings: PageDrawings,
        context: RewriteContext,
    ) -> PagePlates:
        inks: dict[str, Bytes] = {}
        screen: Bytes | None = None
        for each, picture in drawings.whole():
            if not each.tells_inks:
                screen = picture
                continue
            if each.plates:
                inks.update(_plates(each, picture))
            else:
                screen, process = self._separated(picture, laid.frame)
                inks.update(process)
        most = self._draw_closely(inks, page, laid.frame, drawings)
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
            most_1mm2=most,
        )

    def _draw_closely(
        self, inks: dict[str, Bytes], page: Page, frame: PlateFrame, drawings: PageDrawings
    ) -> float | None:
        """Makes the plates exact where the most ink may lie, and gives what lies there (`most_1mm2`).

        None where they are drawn finely anyway, or cannot be.
        """
        finer = CLOSE_PX_PER_MM // drawings.laid.frame.px_per_mm
        if finer < _CLOSER or not drawings.can_be_drawn_closely:
            return None
        finer *= drawings.laid.frame.px_per_mm // frame.px_per_mm

        def drawn(touched: Sequence[str], places: Sequence[ClosePlace]) -> list[dict[str, Bytes]]:
            close = [place.in_frame(frame, finer) for place in places]
            wanted = set(touched)
            passes = [each for each in drawings.passes if each == _BLENDED or wanted & set(each.plates)]
            plates: list[dict[str, Bytes]] = [{} for _ in places]
            for each, pictures in drawings.closely(passes, close):
                for place, kept, picture in zip(places, plates, pictures, strict=True):
                    on_frame = place.in_frame(frame)
                    if each.plates:
                        kept.update(_plates(each, block_means(picture, finer)))
                    else:
                        kept.update(self._separated(picture, on_frame)[1])
            return plates

        most = draw_closely(inks, frame, page, drawn, if_light=self._light_pages < LIGHT_PAGES)
        if most is not None and most < LIGHT:
            self._light_pages += 1
        return most

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


def _plates(each: Pass, picture: Bytes) -> dict[str, Bytes]:
    """The plates in a pass's channels, 255 full ink."""
    return {
        ink: np.subtract(255, picture[:, :, channel], dtype=np.uint8)
        for channel, ink in enumerate(each.plates)
    }
