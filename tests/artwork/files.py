"""Files around pages: what a PDF says as a whole, and artwork that could not be read."""

from dataclasses import replace

from hotfolder.model.artwork import Artwork
from hotfolder.model.document import Font, OutputIntent, PdfFacts, PdfxClaim
from hotfolder.model.facts import FileFacts, Format, Problem, ProblemKind, Unmeasured
from hotfolder.model.pages import Page

A_FILE = FileFacts(name="flyer.pdf", bytes=120_000, sha256="0" * 64, format=Format.PDF)

COATED = OutputIntent(
    subtype="GTS_PDFX",
    identifier="FOGRA51",
    condition="Sheetfed offset on coated paper",
    registry="http://www.color.org",
    info=None,
    profile_name="A coated press",
    profile_space="CMYK",
    profile_class="prtr",
)

X1A_2001 = PdfxClaim("PDF/X-1:2001", "PDF/X-1a:2001", "Info")
X1A_2003 = PdfxClaim("PDF/X-1a:2003", None, "Info")
X3_2003 = PdfxClaim("PDF/X-3:2003", None, "Info")
X4 = PdfxClaim("PDF/X-4", None, "XMP")

A_PDF = PdfFacts(
    version="1.4",
    encryption=None,
    pdfx=None,
    output_intents=(),
    title="Flyer",
    producer="a program",
    creator="another program",
    trapped="False",
    has_id=True,
    created="D:20260101000000Z",
    modified="D:20260101000000Z",
)

EMBEDDED = Font("ABCDEF+Plain-Book", "Type1", "Type1C", subset=True, object="7 0")


def artwork(*pages: Page, pdf: PdfFacts = A_PDF, fonts: tuple[Font, ...] = (EMBEDDED,)) -> Artwork:
    """A PDF file with these pages, which are numbered in their order."""
    numbered = tuple(replace(page, number=number) for number, page in enumerate(pages, start=1))
    return Artwork(A_FILE, numbered, fonts, pdf)


def unreadable(kind: ProblemKind = ProblemKind.UNREADABLE, what: str = "it ends too early") -> Artwork:
    """A PDF file that could not be opened."""
    return Artwork(A_FILE, Unmeasured("pages", what), problems=(Problem("pages", what, kind),))


def named(piece: Artwork, name: str) -> Artwork:
    """The same artwork under another file name."""
    return replace(piece, file=replace(piece.file, name=name))
