# Where each requirement that is must-fix comes from: two public sources that do not go back to each other.
from collections import defaultdict
from typing import Final, NamedTuple

from hotfolder.checks.pdf.pdfx.register import REQUIREMENTS
from hotfolder.checks.shared.pdfx_levels import ALL, X1A, X3, X4, Level


class Confirmed(NamedTuple):
    """A requirement, the levels at which two sources state it, how its `source` names them, what they say."""

    requirement: str
    levels: frozenset[Level]
    first: str
    second: str
    says: str


BEFORE_X4: Final = ALL - X4
ONLY_X4: Final = frozenset({Level.X4})
ONLY_X4P: Final = frozenset({Level.X4P})

NOTES: Final = "Antenna House, 2006"
WRITER: Final = "PDFlib"
DEVELOPER: Final = "aznote.jakou.com"
TITLE: Final = "the title of ISO 15930-7"
TITLES: Final = "the titles of ISO 15930-1"
PDFX_MANUAL: Final = "the manual of LaTeX's package pdfx 1.6"
XMP_MANUAL: Final = "the manual of LaTeX's package hyperxmp"
FOP: Final = "Apache FOP's PDFProfile.java"
OPENPDF: Final = "OpenPDF's PdfXConformanceImp.java"
CONTEXT: Final = "ConTeXt's lpdf-fmt"
DISTILLING: Final = "Ghostscript's documentation of pdfwrite"

CONFIRMED: Final = (
    Confirmed("encrypted", BEFORE_X4, NOTES, DEVELOPER, "no encryption"),
    Confirmed("encrypted", X4, FOP, "Ghostscript's gdevpdf.c", "PDF/X does not allow encrypted files"),
    Confirmed("file-identifier", BEFORE_X4, NOTES, FOP, "ID is required"),
    Confirmed("file-identifier", X4, FOP, "Ghostscript's gdevpdfp.c", "ID may not be left out for PDF/X"),
    Confirmed(
        "data-outside", BEFORE_X4, NOTES, PDFX_MANUAL, "all that prints is within; g: graphics outside"
    ),
    Confirmed("data-outside", X4, TITLE, PDFX_MANUAL, "complete exchange; g in the name: graphics outside"),
    Confirmed("file-reference", BEFORE_X4, NOTES, FOP, "file specifications are forbidden"),
    Confirmed("lzw-filter", X3, NOTES, DEVELOPER, "no LZWDecode"),
    Confirmed(
        "lzw-filter", X1A, DEVELOPER, PDFX_MANUAL, "no LZWDecode; X-3 asks what X-1a asks but for colours"
    ),
    Confirmed("jbig2-filter", X1A, DEVELOPER, PDFX_MANUAL, "no JBIG2Decode; as for X-3"),
    Confirmed(
        "jbig2-filter", X3 - {Level.X3_2003}, NOTES, "ISO 32000-1, table 6", "no JBIG2; came with PDF 1.4"
    ),
    Confirmed("crypt-filter", BEFORE_X4, "ISO 32000-1, table 6", TITLES, "Crypt came with PDF 1.5"),
    Confirmed("crypt-filter", X4, FOP, "Ghostscript's gdevpdf.c", "PDF/X does not allow encrypted files"),
    Confirmed("no-output-intent", ALL, WRITER, "LaTeX's pdfx.sty 1.6", "one of the type GTS_PDFX is needed"),
    Confirmed(
        "profile-reference", ONLY_X4P, TITLE, PDFX_MANUAL, "p in the name: profile supplied from outside"
    ),
    Confirmed("profile-outside", ONLY_X4, TITLE, PDFX_MANUAL, "from outside only where the name has a p"),
    Confirmed("output-profile-missing", BEFORE_X4, NOTES, DISTILLING, "but for a registered condition"),
    Confirmed(
        "output-profile-missing", ONLY_X4, TITLE, PDFX_MANUAL, "only a p in the name lets it be outside"
    ),
    Confirmed("output-profile-space", X1A, WRITER, DISTILLING, "grey or CMYK; RGB is not allowed"),
    Confirmed("output-profile-space", X3 | X4, WRITER, PDFX_MANUAL, "grey, RGB or CMYK; others with X-5n"),
    Confirmed(
        "wrong-identifier", BEFORE_X4, NOTES, "LaTeX's pdfx.sty 1.6", "GTS_PDFXVersion, in these words"
    ),
    Confirmed("wrong-identifier", X4, XMP_MANUAL, CONTEXT, "pdfxid:GTS_PDFXVersion, PDF/X-4 or PDF/X-4p"),
    Confirmed("no-title", BEFORE_X4, NOTES, FOP, "a title is required, and not empty"),
    Confirmed("no-dates", BEFORE_X4, NOTES, DISTILLING, "CreationDate and ModDate are required"),
    Confirmed("trapped", BEFORE_X4, NOTES, FOP, "Trapped is required"),
    Confirmed("trapped", X4, FOP, "WeasyPrint's pdfx.py", "Trapped is required; written for PDF/X alone"),
    Confirmed(
        "no-metadata", X4, "Ghostscript's gdevpdfe.c", XMP_MANUAL, "the level is told in XMP from X-4 on"
    ),
    Confirmed("metadata-unreadable", X4, "Ghostscript's gdevpdfe.c", XMP_MANUAL, "the level is told in XMP"),
    Confirmed("xmp-title", X4, WRITER, FOP, "PDF/X-4 requires the title to be set"),
    Confirmed("trim-box", ALL, WRITER, DISTILLING, "TrimBox or ArtBox on every page"),
    Confirmed("trim-and-art-box", ALL, WRITER, "Ghostscript's gdevpdf.c", "one of them, TrimBox rather"),
    Confirmed("trim-in-bleed", BEFORE_X4, NOTES, "Ghostscript's gdevpdf.c", "TrimBox fits in BleedBox"),
    Confirmed(
        "trim-in-bleed",
        X4,
        "Ghostscript's gdevpdf.c",
        "ISO 32000-2, 14.11.2",
        "a bleed box has the trim in it",
    ),
    Confirmed("crop-box", BEFORE_X4, NOTES, "Ghostscript's gdevpdf.c", "TrimBox fits in CropBox"),
    Confirmed(
        "annotation-on-page", BEFORE_X4, NOTES, "Ghostscript's gdevpdfm.c", "none but TrapNet and PrinterMark"
    ),
    Confirmed("annotation-on-page", X4, FOP, "Qt's qpdf.cpp", "6.17: all outside the bleed box or trim box"),
    Confirmed("traps-untold", BEFORE_X4, NOTES, "table 317", "Trapped is True; False: not trapped"),
    Confirmed("script", BEFORE_X4, NOTES, PDFX_MANUAL, "no JavaScript; PDF/X forbids actions"),
    Confirmed("script", X4, PDFX_MANUAL, FOP, "PDF/X forbids actions; PDF/X-4 does not allow actions"),
    Confirmed("action", BEFORE_X4, NOTES, PDFX_MANUAL, "PDF/X forbids links and other actions"),
    Confirmed("action", X4, PDFX_MANUAL, FOP, "PDF/X forbids actions; PDF/X-4 does not allow actions"),
    Confirmed("font-not-embedded", ALL, PDFX_MANUAL, FOP, "all fonts are embedded"),
    Confirmed("rgb-colour", X1A, NOTES, OPENPDF, "RGB is not allowed"),
    Confirmed("device-independent-colour", X1A, NOTES, CONTEXT, "no CalRGB, Lab or ICCBased"),
    Confirmed("device-colour", X3, NOTES, WRITER, "as the output condition, or with a default space"),
    Confirmed(
        "device-colour", X4, WRITER, "Qt's qpdfoutputintent.cpp", "colours match the output profile's space"
    ),
    Confirmed("spot-alternate", BEFORE_X4, NOTES, DISTILLING, "the alternate space is one that is taken"),
    Confirmed(
        "spot-alternate", X4, "gdevpdfg.c", "Qt's qpdfoutputintent.cpp", "alternates of the process colours"
    ),
    Confirmed("soft-mask", BEFORE_X4, NOTES, CONTEXT, "no SMask; transparency from PDF/X-4 on"),
    Confirmed("image-soft-mask", BEFORE_X4, OPENPDF, CONTEXT, "no SMask in images"),
    Confirmed("opacity", BEFORE_X4, OPENPDF, CONTEXT, "CA and ca are 1"),
    Confirmed("blend-mode", BEFORE_X4, OPENPDF, CONTEXT, "Normal or Compatible"),
    Confirmed("transparency-group", BEFORE_X4, NOTES, CONTEXT, "no group of the type Transparency"),
    Confirmed("transfer-function", BEFORE_X4, NOTES, DISTILLING, "no transfer functions"),
    Confirmed("halftone-phase", BEFORE_X4, NOTES, DISTILLING, "no halftone phases"),
    Confirmed("unknown-operator", BEFORE_X4, NOTES, "ISO 32000-2, annex A", "only operators of that PDF"),
    Confirmed(
        "postscript", BEFORE_X4, NOTES, "Ghostscript's gs_pdfwr.ps", "PDF/X does not let PostScript in"
    ),
    Confirmed(
        "postscript", X4, "Ghostscript's gs_pdfwr.ps", FOP, "PostScript XObjects are prohibited in PDF/X-4"
    ),
    Confirmed("reference-xobject", ALL, NOTES, PDFX_MANUAL, "for X-2; g in the name: graphics outside"),
    Confirmed("opi", ALL, DEVELOPER, CONTEXT, "no OPI; it came with PDF/X-5g"),
)

# What rests on PDF itself, on which all levels build, and on what everybody does.
_OF_PDF: Final = ("ISO 32000-1", "ISO 32000-2", "ICC.1", "Arlington PDF model")
_PRACTICE: Final = "common practice"


def test_a_requirement_is_confirmed_at_exactly_the_levels_at_which_two_sources_state_it() -> None:
    stated: dict[str, list[Level]] = defaultdict(list)
    for row in CONFIRMED:
        stated[row.requirement].extend(row.levels)
    confirmed = {each.id: sorted(each.levels - each.unconfirmed) for each in REQUIREMENTS}
    assert {name: sorted(levels) for name, levels in stated.items()} == {
        name: confirmed.get(name) for name in stated
    }


def test_a_requirement_names_both_of_its_sources() -> None:
    sources = {each.id: each.source for each in REQUIREMENTS}
    for row in CONFIRMED:
        assert row.first != row.second, row
        assert row.first in sources[row.requirement], row
        assert row.second in sources[row.requirement], row


def test_what_no_two_sources_state_is_advice_or_rests_on_pdf_itself() -> None:
    stated = {row.requirement for row in CONFIRMED}
    for each in REQUIREMENTS:
        if each.id not in stated and each.unconfirmed < each.levels:
            assert each.source.startswith((*_OF_PDF, _PRACTICE)), each.id


def test_what_is_from_memory_is_advice() -> None:
    for each in REQUIREMENTS:
        if "from memory" in each.source or "no second source" in each.source:
            assert each.unconfirmed, each.id


def test_a_clause_is_named_at_the_levels_of_its_standard_alone() -> None:
    (annotations,) = [each for each in REQUIREMENTS if each.id == "annotation-on-page"]
    assert annotations.standard_of(Level.X4) == annotations.standard_of(Level.X4P) == "ISO 15930-7, 6.17"
    assert annotations.standard_of(Level.X1A_2001) == "ISO 15930-1:2001"
    (opi,) = [each for each in REQUIREMENTS if each.id == "opi"]
    assert opi.standard_of(Level.X4) == "ISO 15930-7:2010"
