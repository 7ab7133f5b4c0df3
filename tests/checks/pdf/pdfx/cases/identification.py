"""Files that do not say which level they keep as its standard asks."""

from typing import Final

import pikepdf
from pikepdf import String

from hotfolder.checks.shared.pdfx_levels import ALL, X4, Level
from tests.checks.pdf.pdfx.bases import metadata
from tests.checks.pdf.pdfx.cases.case import Case

X1A_2001: Final = frozenset({Level.X1A_2001})


def _no_label(pdf: pikepdf.Pdf) -> None:
    del pdf.docinfo["/GTS_PDFXVersion"]


def _no_label_in_xmp(pdf: pikepdf.Pdf) -> None:
    data = pdf.Root.Metadata.read_bytes()
    pdf.Root.Metadata.write(data.replace(b"pdfxid:GTS_PDFXVersion", b"pdfxid:Version"))


def _label_in_xmp_alone(pdf: pikepdf.Pdf) -> None:
    written = str(pdf.docinfo.GTS_PDFXVersion).encode()
    del pdf.docinfo["/GTS_PDFXVersion"]
    pdf.Root.Metadata = metadata(pdf, Level.X4)
    data = pdf.Root.Metadata.read_bytes()
    pdf.Root.Metadata.write(data.replace(b">PDF/X-4<", b">" + written + b"<"))


def _two_labels(pdf: pikepdf.Pdf) -> None:
    pdf.docinfo.GTS_PDFXVersion = String("PDF/X-3:2003")


def _another_in_xmp(pdf: pikepdf.Pdf) -> None:
    pdf.Root.Metadata = metadata(pdf, Level.X4)


def _another_in_a_place_for_copies(pdf: pikepdf.Pdf) -> None:
    words = (
        '<pdfx:GTS_PDFXVersion xmlns:pdfx="http://ns.adobe.com/pdfx/1.3/">PDF/X-2:2003</pdfx:GTS_PDFXVersion>'
    )
    if "/Metadata" in pdf.Root:
        data = pdf.Root.Metadata.read_bytes()
        pdf.Root.Metadata.write(data.replace(b"</rdf:Description>", words.encode() + b"</rdf:Description>"))
    else:
        stream = metadata(pdf, Level.X4)
        data = stream.read_bytes()
        start, end = data.index(b"<pdfxid:GTS"), data.index(b"</rdf:Description>")
        stream.write(data[:start] + words.encode() + data[end:])
        pdf.Root.Metadata = stream


def _in_words_of_the_trade(pdf: pikepdf.Pdf) -> None:
    pdf.docinfo.GTS_PDFXVersion = String("PDF/X-1a:2001")


def _without_conformance(pdf: pikepdf.Pdf) -> None:
    del pdf.docinfo["/GTS_PDFXConformance"]


def _with_another_conformance(pdf: pikepdf.Pdf) -> None:
    pdf.docinfo.GTS_PDFXConformance = String("PDF/X-1:2001")


CASES: Final = (
    Case("wrong-identifier", "no level in Info", _no_label, levels=ALL - X4),
    Case("wrong-identifier", "the level in XMP alone", _label_in_xmp_alone, levels=ALL - X4),
    Case("wrong-identifier", "no level in XMP", _no_label_in_xmp, levels=X4),
    Case("wrong-identifier", "the trade's name", _in_words_of_the_trade, levels=X1A_2001),
    Case("wrong-identifier", "no conformance", _without_conformance, levels=X1A_2001),
    Case("wrong-identifier", "another conformance", _with_another_conformance, levels=X1A_2001),
    # XMP goes before Info, so that the label that counts is another one, too
    Case(
        "contradiction",
        "another level in XMP",
        _another_in_xmp,
        ALL - X4,
        also=frozenset({"wrong-identifier"}),
    ),
    Case("contradiction", "another level in Info", _two_labels, levels=X4),
    Case("left-over-label", "another level in a place for copies", _another_in_a_place_for_copies),
)
