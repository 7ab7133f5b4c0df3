"""Requirements on what the file says of its level."""

from collections.abc import Iterator
from typing import Final

from hotfolder.checks.pdf.pdfx.requirement import Breach, Requirement, Subject
from hotfolder.checks.shared.pdfx_levels import ALL, WRITTEN_2001, X4, Level, level_name
from hotfolder.model.document import PdfxClaim
from hotfolder.wording.shown import quoted, shown_name


def label_fault(claim: PdfxClaim, level: Level) -> str | None:
    """What is wrong with the way in which a claim names `level`; None where it is right.

    `PDF/X-1a:2001` in the place of the level is common, but the standard's value there is
    `PDF/X-1:2001`, with the conformance entry beside it. PDF/X-4 is identified by XMP, the
    levels before it by Info.
    """
    written = shown_name(claim.level)
    if level is Level.X1A_2001 and claim.level == level:
        return (
            f"the level is written '{level}', and the standard has '{WRITTEN_2001}' with the conformance"
            " entry beside it"
        )
    if level is Level.X1A_2001 and claim.level == WRITTEN_2001 and claim.conformance != level:
        beside = f"'{shown_name(claim.conformance)}'" if claim.conformance is not None else "nothing"
        return f"{beside} stands beside the level '{WRITTEN_2001}' where the standard has '{level}'"
    if level_name(claim.level) != level:
        return f"the file says that it is '{written}'"
    if level not in X4 and claim.origin == "XMP" and claim.other is None:
        return f"'{written}' stands only in the metadata (XMP), not in the document information"
    if level in X4 and claim.origin == "Info":
        return f"'{written}' stands only in the document information, not in the metadata (XMP)"
    return None


def _label(subject: Subject, level: Level) -> Iterator[Breach]:
    claim = subject.artwork.pdf.pdfx if subject.artwork.pdf is not None else None
    fault = label_fault(claim, level) if claim is not None else "the file does not say that it is PDF/X"
    if fault is None and claim is not None and claim.origin == "Info":
        fault = _odd_text(subject.inventory.identification.info.level)
    if fault is not None:
        yield Breach(fault)


def _odd_text(written: str | None) -> str | None:
    """What is wrong with the level as an entry of the document information, whatever it says."""
    if written is None:
        return "the level is written as a name where the standard has a text (GTS_PDFXVersion)"
    if written != written.strip():
        return f"the level is written with blanks around it: '{shown_name(written)}'"
    return None


def _one_label(subject: Subject, _level: Level) -> Iterator[Breach]:
    claim = subject.artwork.pdf.pdfx if subject.artwork.pdf is not None else None
    if claim is not None and claim.other is not None:
        names = {level_name(claim.other), claim.other}
        if names.isdisjoint({level_name(claim.level), claim.level}):
            yield Breach(
                "the file names its level in two places, and they differ:"
                f" {shown_name(claim.level)} and {shown_name(claim.other)}"
            )


def _no_copy_of_another(subject: Subject, level: Level) -> Iterator[Breach]:
    copied = subject.inventory.identification.metadata.copied_level
    if copied is not None and level_name(copied) != level:
        yield Breach(f"the metadata (XMP) also name {quoted(copied)}, where programs copy other entries to")


IDENTIFICATION: Final = (
    Requirement(
        id="wrong-identifier",
        wants="has to be named in the words of its standard",
        levels=ALL,
        why="Programs that go by the standard do not see that the file is what it is.",
        remedy="Export the artwork again with a program that writes the level as the standard asks.",
        source="implementers' notes on PDF/X-1a and X-3 (Antenna House, 2006); OpenPDF's"
        " PdfXConformanceImp.java and LaTeX's pdfx.sty 1.6, while Ghostscript's PDFX_def.ps and"
        " ConTeXt's lpdf-fmt.lua have PDF/X-1a:2001 for PDF/X-1:2001; for PDF/X-4 and X-4p ConTeXt's"
        " lpdf-fmt.lua and the manual of LaTeX's package hyperxmp, for PDF/X-4 Ghostscript's"
        " gdevpdfe.c and Qt's qpdf.cpp",
        judge=_label,
    ),
    Requirement(
        id="contradiction",
        wants="has to be the only level that the file names",
        levels=ALL,
        why="Which one is believed depends on the program.",
        remedy="Export the artwork from the original, not from a file that was PDF/X already.",
        source="common practice: a file keeps one level",
        judge=_one_label,
    ),
    Requirement(
        id="left-over-label",
        wants="should be the only level that the file names, also in places that identify nothing",
        levels=ALL,
        unconfirmed=ALL,
        why="A program that looks there takes the file for another.",
        remedy="Export the artwork from the original, not from a file that was PDF/X already.",
        source="common practice: programs copy entries of the document information to"
        " http://ns.adobe.com/pdfx/1.3/",
        judge=_no_copy_of_another,
    ),
)
