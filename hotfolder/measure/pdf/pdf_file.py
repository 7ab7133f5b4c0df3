"""Measures a PDF: opens it, reads what it says as a whole, then page by page."""

import logging
from dataclasses import replace
from pathlib import Path

import pikepdf

from hotfolder.measure.pdf.covering import mark_covered
from hotfolder.measure.pdf.frames import mark_frames
from hotfolder.measure.pdf.pdf_annotations import read_annotations
from hotfolder.model.artwork import Artwork
from hotfolder.model.document import Encryption, Font, PdfFacts
from hotfolder.model.facts import FileFacts, Problem, ProblemKind, Unmeasured
from hotfolder.model.inventory.inventory import Inventory
from hotfolder.model.pages import Page, PageBoxes, Trim, TrimOrigin
from hotfolder.pdf.colour.full_tint import full_tint
from hotfolder.pdf.content.interpret import DocumentBudget, PageMarks, blend_space, interpret_page
from hotfolder.pdf.content.readers import Readers
from hotfolder.pdf.content.uses import Use
from hotfolder.pdf.document.boxes import Geometry, read_geometry
from hotfolder.pdf.document.document import header_version, meaning, opened, read_trailer, warnings_of
from hotfolder.pdf.document.identification import read_identification
from hotfolder.pdf.document.interactive import read_interactive
from hotfolder.pdf.document.optional_content import Layers
from hotfolder.pdf.document.output_intent import read_output_intents
from hotfolder.pdf.document.page_tree import PageTree
from hotfolder.pdf.fonts.fonts import FontReader
from hotfolder.pdf.inventory.inventory import Contents, take_inventory
from hotfolder.pdf.objects.deadline import NO_DEADLINE, Deadline
from hotfolder.pdf.objects.document_limits import MARKS, OPERATORS

logger = logging.getLogger(__name__)


def measure_pdf(path: Path, file: FileFacts, deadline: Deadline = NO_DEADLINE) -> Artwork:
    """All facts of the PDF at `path`. OSError from opening it propagates; nothing else is raised.

    deadline: when its pages are read no further, which is told as a limit.
    """
    with opened(path) as document:
        if document.pdf is not None:
            return _Measuring(document.pdf, file, list(document.problems), deadline).artwork(
                document.encryption
            )
        pages = Unmeasured("pages", document.problems[0].what)
        facts = _sealed(path, document.encryption) if document.encryption is not None else None
        return Artwork(file, pages, pdf=facts, problems=document.problems)


def declared_trim(boxes: PageBoxes) -> Trim | Unmeasured:
    """The finished size that the file declares: its trim box, else its art box (ISO 15930-7, 6.11)."""
    if boxes.trim is not None:
        return Trim(boxes.trim, TrimOrigin.TRIM_BOX)
    if boxes.art is not None:
        return Trim(boxes.art, TrimOrigin.ART_BOX)
    return Unmeasured("trim", "the file has no trim box")


class _Measuring:
    """One document being measured; gathers problems and fonts on its way through the pages."""

    def __init__(
        self, pdf: pikepdf.Pdf, file: FileFacts, problems: list[Problem], deadline: Deadline
    ) -> None:
        self._pdf = pdf
        self._file = file
        self._problems = problems
        self._fonts: dict[str, Font] = {}
        self._uses: list[Use] = []
        self._deadline = deadline
        self._marks_left, self._operators_left = MARKS, OPERATORS
        self._readers = Readers(FontReader(), Layers(pdf), full_tint)

    def artwork(self, encryption: Encryption | None) -> Artwork:
        """The facts of the whole document."""
        tree = PageTree(self._pdf)
        self._problems.extend(tree.problems)
        facts = self._document(tree.pages, encryption)
        pages = tuple(self._page(page, number) for number, page in enumerate(tree.pages, start=1))
        self._tell_mended()
        facts = replace(facts, inventory=self._inventory(tree.pages))
        if not pages and tree.problems:
            # What the file says of its pages is damaged: whether it has any is not known.
            missing = Problem("pages", "no page of the file could be found", ProblemKind.UNREADABLE)
            nothing = Unmeasured("pages", missing.what)
            return Artwork(self._file, nothing, pdf=facts, problems=(*self._problems, missing))
        return Artwork(self._file, pages, tuple(self._fonts.values()), facts, tuple(self._problems))

    def _inventory(self, pages: tuple[pikepdf.Dictionary, ...]) -> Inventory | Unmeasured:
        if self._deadline.is_over():
            return Unmeasured(
                "inventory", f"reading its pages took {self._deadline.seconds:g} s of processor time"
            )
        try:
            return take_inventory(Contents(self._pdf, pages, self._uses, self._readers))
        except (pikepdf.PikepdfError, RecursionError) as error:
            logger.warning("the inventory could not be taken", exc_info=error)
            return Unmeasured("inventory", meaning(error)[1])
        finally:
            # It reads objects that print nothing: what is mended in those is told to nobody.
            warnings_of(self._pdf)

    def _document(self, pages: tuple[pikepdf.Dictionary, ...], encryption: Encryption | None) -> PdfFacts:
        trailer = read_trailer(self._pdf)
        identification = read_identification(self._pdf, self._problems)
        interactive = read_interactive(self._pdf, pages, self._problems)
        return PdfFacts(
            version=trailer.version,
            encryption=encryption,
            pdfx=identification.pdfx,
            output_intents=read_output_intents(self._pdf, self._problems),
            title=identification.title,
            producer=identification.producer,
            creator=identification.creator,
            trapped=identification.trapped,
            has_id=trailer.id_parts == 2,
            layers=self._readers.layers.facts(),
            form_fields=interactive.form_fields,
            scripts=interactive.scripts,
            attachments=interactive.attachments,
            xfa=interactive.xfa,
            created=identification.created,
            modified=identification.modified,
            object_streams=trailer.object_streams,
        )

    def _page(self, page: pikepdf.Dictionary, number: int) -> Page:
        where = f"pages[{number}]"
        geometry = read_geometry(page, where)
        self._problems.extend(geometry.problems)
        annotations = read_annotations(page, geometry.user_unit, where, self._problems)
        painted = self._painted(page, number, geometry)
        return Page(
            number=number,
            rotate=geometry.rotate,
            user_unit=geometry.user_unit,
            boxes=geometry.boxes,
            trim=declared_trim(geometry.boxes),
            marks=painted if isinstance(painted, Unmeasured) else mark_frames(mark_covered(painted.marks)),
            annotations=annotations,
            blend_space=blend_space(page, self._readers),
            sets_transfer=not isinstance(painted, Unmeasured) and painted.sets_transfer,
            mask_pictures=() if isinstance(painted, Unmeasured) else painted.mask_pictures,
        )

    def _painted(self, page: pikepdf.Dictionary, number: int, geometry: Geometry) -> PageMarks | Unmeasured:
        if geometry.boxes.media is None:
            # told with its boxes
            return Unmeasured("marks", "the page does not say how large it is")
        if self._marks_left <= 0:
            what = f"the pages before it hold more than {MARKS:,} painted things; it was not read"
            return self._unread(number, what, ProblemKind.LIMIT)
        if self._operators_left <= 0:
            what = f"the pages before it hold more than {OPERATORS:,} drawing instructions; it was not read"
            return self._unread(number, what, ProblemKind.LIMIT)
        if self._deadline.is_over():
            seconds = self._deadline.seconds
            what = f"reading what comes before it took {seconds:g} s of processor time; it was not read"
            return self._unread(number, what, ProblemKind.LIMIT)
        try:
            page_marks = interpret_page(
                page, number, geometry.user_unit, geometry.boxes.media, self._readers,
                DocumentBudget(self._operators_left, self._marks_left, self._deadline),
            )  # fmt: skip
        except (pikepdf.PikepdfError, RecursionError) as error:
            logger.warning("page %d could not be read", number, exc_info=error)
            return self._unread(number, "the page's content could not be read", meaning(error)[0])
        self._marks_left -= len(page_marks.marks)
        self._operators_left -= page_marks.operators
        self._problems.extend(page_marks.problems)
        self._add_fonts(page_marks.fonts)
        self._uses.extend(page_marks.uses)
        return page_marks

    def _unread(self, number: int, what: str, kind: ProblemKind) -> Unmeasured:
        self._problems.append(Problem(f"pages[{number}].marks", what, kind))
        return Unmeasured("marks", what)

    def _add_fonts(self, fonts: tuple[Font, ...]) -> None:
        """Adds the fonts of a page; one that is printed anywhere is printed.

        What a font's glyphs told counts over all pages so far, so a later page has the last word.
        """
        for font in fonts:
            known = self._fonts.get(font.object or font.name)
            printed = font.printed or (known is not None and known.printed)
            self._fonts[font.object or font.name] = replace(font, printed=printed)

    def _tell_mended(self) -> None:
        """Tells that qpdf mended something on the way, where nothing graver was said of it."""
        count = len(warnings_of(self._pdf))
        graver = {problem.kind for problem in self._problems} & {ProblemKind.DAMAGED, ProblemKind.UNREADABLE}
        if count and not graver:
            what = (
                f"{count} places in the file are not written as they should be; they were mended in reading"
            )
            self._problems.append(Problem("file", what, ProblemKind.DAMAGED))


def _sealed(path: Path, encryption: Encryption) -> PdfFacts:
    """What is known of a file that does not open."""
    return PdfFacts(
        version=header_version(path),
        encryption=encryption,
        pdfx=None,
        output_intents=(),
        title=None,
        producer=None,
        creator=None,
        trapped=None,
        has_id=False,
    )
