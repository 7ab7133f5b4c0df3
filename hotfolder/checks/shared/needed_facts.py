"""The facts that a check needs: known ones are handed out, others are noted and never pass for good."""

from collections.abc import Iterator

from hotfolder.model.artwork import Artwork
from hotfolder.model.document import PdfFacts
from hotfolder.model.facts import Format, Unmeasured
from hotfolder.model.findings import Severity, Unjudged
from hotfolder.model.inks import PageInk
from hotfolder.model.marks import Mark
from hotfolder.model.pages import Page, Trim
from hotfolder.model.ruleset import RuleSettings
from hotfolder.wording.pages import pages_words


class NeededFacts:
    """Hands a check the facts that are known, and keeps account of those that are not.

    A brochure of 64 pages without a trim box is one `Unjudged`, not 64: pages with the same
    reason are told together.
    """

    def __init__(self, rule: str, settings: RuleSettings) -> None:
        self._rule = rule
        self._settings = settings
        self._pages: dict[str, tuple[str, dict[int, None]]] = {}

    def pages(self, artwork: Artwork) -> tuple[Page, ...]:
        """The pages of `artwork`; none, and noted, where they could not be read or there are none."""
        self._note_unread(artwork)
        if artwork.pages == ():
            self.note("there is nothing to judge", "the file holds no page")
        return artwork.known_pages

    def pdf(self, artwork: Artwork) -> PdfFacts | None:
        """What a PDF says as a whole; None for a raster file, and noted where a PDF could not be read.

        Of a file that does not open little is known, and that it says nothing is not known.
        """
        if artwork.file.format not in {Format.PDF, None}:
            return None
        self._note_unread(artwork)
        return None if isinstance(artwork.pages, Unmeasured) else artwork.pdf

    def _note_unread(self, artwork: Artwork) -> None:
        if isinstance(artwork.pages, Unmeasured):
            self.note("the pages could not be read", artwork.pages.reason)

    def trim(self, page: Page) -> Trim | None:
        """The trim of `page`; None, and noted, where it is not known."""
        if isinstance(page.trim, Unmeasured):
            self.note("the finished size is not known", page.trim.reason, page)
            return None
        return page.trim

    def marks(self, page: Page) -> tuple[Mark, ...] | None:
        """The marks of `page`; None, and noted, where they are not known."""
        if isinstance(page.marks, Unmeasured):
            self.note("what is painted is not known", page.marks.reason, page)
            return None
        return page.marks

    def drawn(self, artwork: Artwork) -> Iterator[tuple[Page, tuple[Mark, ...]]]:
        """The pages that are drawn mark by mark, each with its marks, where these are known.

        A picture file is none: it is one picture, whose pixels are not looked at.
        """
        for page in self.pages(artwork):
            marks = self.marks(page) if page.raster is None else None
            if marks is not None:
                yield page, marks

    def ink(self, page: Page) -> PageInk | None:
        """What the plates of `page` carry; None, and noted, where they could not be drawn."""
        if isinstance(page.ink, Unmeasured):
            self.note("how the inks lie on paper is not known", page.ink.reason, page)
            return None
        return page.ink

    def inked(self, artwork: Artwork) -> Iterator[tuple[Page, PageInk]]:
        """The pages whose plates are known, each with what they carry."""
        for page in self.pages(artwork):
            ink = self.ink(page)
            if ink is not None:
                yield page, ink

    def note(self, what: str, reason: str, page: Page | None = None) -> None:
        """Keep account of what is not known and why, on `page` or for the file as a whole.

        One reason that leaves several facts open, as the unknown size of a picture does, is told once.
        """
        sentence = f"{what}: {reason[:1].lower()}{reason[1:]}"
        _, numbers = self._pages.setdefault(reason, (sentence, {}))
        if page is not None:
            numbers[page.number] = None

    def unjudged(self, severity: Severity | None = None) -> Iterator[Unjudged]:
        """What could not be judged, one for each reason, at the gravest weight of the rule if at no other."""
        weight = self._settings.gravest if severity is None else severity
        for cause, (sentence, noted) in self._pages.items():
            numbers = list(noted)
            page = numbers[0] if len(numbers) == 1 else None
            where = f"{pages_words(numbers)}: " if len(numbers) > 1 else ""
            yield Unjudged(self._rule, weight, where + sentence, page, cause=where + cause)
