"""Reports built by hand: an invented flyer with faults, a flyer in order, a file that cannot be read."""

from collections.abc import Iterator
from dataclasses import replace
from datetime import UTC, date, datetime
from pathlib import Path

from hotfolder.model.artwork import Artwork
from hotfolder.model.colour import Colour, ColourKind, ColourSpace
from hotfolder.model.document import Font, OutputIntent, PdfFacts, PdfxClaim
from hotfolder.model.facts import FileFacts, Format, Problem, ProblemKind, Unmeasured
from hotfolder.model.findings import Finding, Judgement, Quantity, Severity, Unjudged
from hotfolder.model.geometry import Box
from hotfolder.model.marks import ImageFacts, Mark, MarkKind, Source, TextFacts
from hotfolder.model.pages import Page, PageBoxes, Trim, TrimOrigin
from hotfolder.model.ruleset import AppliedRule, Product, Rule, RuleSet, RuleSettings
from hotfolder.report.model import Report
from hotfolder.units import PAPER_SIZES, mm_to_pt

MADE_AT = datetime(2026, 3, 3, 14, 5, tzinfo=UTC)

CMYK = ColourSpace("DeviceCMYK", ColourKind.CMYK, 4)
RGB = ColourSpace("DeviceRGB", ColourKind.RGB, 3)
HARBOUR_BLUE = ColourSpace("Separation", ColourKind.SPOT, 1, inks=("Harbour Blue",), base=CMYK)


def mm_box(x0: float, y0: float, x1: float, y1: float) -> Box:
    return Box(mm_to_pt(x0), mm_to_pt(y0), mm_to_pt(x1), mm_to_pt(y1))


A5_SHEET = mm_box(0, 0, 154, 216)
A5_TRIM = mm_box(3, 3, 151, 213)


class _Settings(RuleSettings):
    codes = {"short": Severity.MUST_FIX}  # noqa: RUF012 - a ClassVar by its base


def _no_finding(_artwork: Artwork, _settings: RuleSettings) -> Iterator[Finding | Unjudged]:
    yield from ()


def _rule(rule_id: str, title: str) -> AppliedRule[RuleSettings]:
    rule: Rule[RuleSettings] = Rule(rule_id, title, _Settings, _no_finding, "How much?", "0.1")
    return AppliedRule(rule, _Settings())


RULES = tuple(
    _rule(*pair)
    for pair in (
        ("bleed", "Bleed"),
        ("colour-space", "Colour spaces"),
        ("font-embedding", "Fonts in the file"),
        ("image-resolution", "Resolution of pictures"),
        ("layers", "Layers"),
        ("output-intent", "Output intent"),
        ("page-count", "Number of pages"),
        ("safe-margin", "Text and the trim"),
        ("trim-size", "Finished size"),
    )
)


def rule_set(bleed_mm: float = 3) -> RuleSet:
    return RuleSet(
        name="flyer-offset-coated",
        title="Flyer, offset on coated paper",
        path=Path("flyer-offset-coated.toml"),
        source="common practice of sheetfed offset printers",
        checked=date(2026, 2, 11),
        product=Product((PAPER_SIZES[5],), mm_to_pt(bleed_mm)),
        rules=RULES,
        questions=("How much ink does the stock bear?",),
    )


def text_mark(box: Box, size_pt: float, font: str) -> Mark:
    return Mark(
        MarkKind.TEXT,
        box,
        box,
        Source("Tj", "4 0", 3),
        fill=Colour(CMYK, (0, 0, 0, 1)),
        text=TextFacts(size_pt, font, glyphs=12),
    )


def image_mark(box: Box, width_px: int, height_px: int) -> Mark:
    facts = ImageFacts(
        "12 0",
        width_px,
        height_px,
        8,
        RGB,
        ("DCTDecode",),
        width_px * 72 / box.width,
        height_px * 72 / box.height if box.height else float("inf"),
    )
    return Mark(MarkKind.IMAGE, box, box, Source("Do", "4 0", 1), fill=Colour(RGB), image=facts)


def page(number: int, *marks: Mark, rotate: int = 0, boxes: PageBoxes | None = None) -> Page:
    return Page(
        number,
        rotate,
        1.0,
        boxes or PageBoxes(media=A5_SHEET, trim=A5_TRIM, bleed=A5_SHEET),
        Trim(A5_TRIM, TrimOrigin.TRIM_BOX),
        marks,
    )


def pdf_facts() -> PdfFacts:
    intent = OutputIntent(
        "GTS_PDFX", "FOGRA39", None, "http://www.color.org", None, "Coated sheet", "CMYK", "prtr"
    )
    return PdfFacts(
        version="1.6",
        encryption=None,
        pdfx=PdfxClaim("PDF/X-4", None, "XMP"),
        output_intents=(intent,),
        title=None,
        producer="Page Writer 3",
        creator="Layout Desk 9",
        trapped=None,
        has_id=True,
    )


PHOTO = mm_box(3, 90, 154, 213)
LINE = mm_box(60, 4, 96, 8)


def flyer(name: str = "flyer.pdf") -> Artwork:
    first = page(1, image_mark(PHOTO, 900, 735), text_mark(LINE, 6.5, "ABCDEF+Quay-Regular"))
    second = page(2, text_mark(mm_box(20, 150, 120, 158), 18, "Quay-Bold"))
    return Artwork(
        FileFacts(name, 1_234_567, "ab" * 32, Format.PDF),
        (first, second),
        fonts=(
            Font("ABCDEF+Quay-Regular", "Type1", "Type1C", subset=True, object="7 0"),
            Font("Quay-Bold", "TrueType", None, subset=False, object="8 0"),
        ),
        pdf=pdf_facts(),
        problems=(Problem("pages[1].text", "one line could not be decoded", ProblemKind.NOTE),),
    )


BLEED_FINDING = Finding(
    "bleed",
    "short",
    Severity.MUST_FIX,
    "The photo stops at the cut line at the top. Cutting is never exact, so a white line may show.",
    "Make the photo 3 mm larger at the top and export again with bleed switched on.",
    page=1,
    boxes=(mm_box(3, 213, 154, 216),),
    measured="0 mm at the top",
    required=Quantity.of(3, unit="mm"),
    standard="ISO 15930-7:2010, 6.11",
)
RESOLUTION_FINDING = Finding(
    "image-resolution",
    "below-floor",
    Severity.MUST_FIX,
    "This picture has too few pixels for its size on the page; it will look soft or stepped.",
    "Place a larger original, or show the picture smaller. Raising the number by resampling adds nothing.",
    page=1,
    boxes=(PHOTO,),
    measured=Quantity.of(151.4, unit="ppi"),
    required=Quantity.of(225, unit="ppi"),
)
MARGIN_FINDING = Finding(
    "safe-margin",
    "near",
    Severity.ADVICE,
    "A line of text stands close to the trim; it may look cramped or uneven after cutting.",
    "Move the line at least 2 mm towards the middle of the page.",
    page=1,
    boxes=(LINE,),
    measured=Quantity.of(1, unit="mm"),
    required=Quantity.of(3, unit="mm"),
)
FONT_FINDING = Finding(
    "font-embedding",
    "missing",
    Severity.MUST_FIX,
    "The file does not bring the font Quay-Bold. The printer's machine will set another in its place.",
    "Export again with all fonts embedded, or turn this text into outlines.",
    measured="not in the file",
    required="embedded",
)


def judgement() -> Judgement:
    return Judgement(
        (MARGIN_FINDING, BLEED_FINDING, FONT_FINDING, RESOLUTION_FINDING),
        (Unjudged("layers", Severity.ADVICE, "a layer has no name, so that nobody can tell what it is for"),),
        ("colour-space", "output-intent", "page-count", "trim-size"),
    )


def faulty_report(name: str = "flyer.pdf") -> Report:
    return Report(
        flyer(name),
        rule_set(),
        judgement(),
        MADE_AT,
        not_measured=(("Total ink", "How much ink lies on one spot is not added up yet."),),
        job="2026-03-03-000017",
        previous_job="2026-03-02-000003",
    )


def ready_report() -> Report:
    ready = Judgement((), (), tuple(applied.rule.id for applied in RULES))
    return replace(faulty_report(), judgement=ready, previous_job=None)


def unreadable(reason: str = "the file ends in the middle") -> Artwork:
    return Artwork(
        FileFacts("torn.pdf", 12, "cd" * 32, Format.PDF),
        Unmeasured("pages", reason),
        problems=(Problem("pages", reason, ProblemKind.UNREADABLE),),
    )
