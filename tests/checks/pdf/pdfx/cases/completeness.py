"""Files that lack data of their own, or carry other files."""

from typing import Final

import pikepdf
from pikepdf import Array, Dictionary, Name, String

from hotfolder.checks.shared.pdfx_levels import ALL, X4
from tests.checks.pdf.pdfx.cases.case import Case
from tests.checks.pdf.pdfx.cases.filters import unused_stream


def _data_elsewhere(pdf: pikepdf.Pdf) -> None:
    stream = unused_stream(pdf)
    stream.F = String("data.bin")


def _filter_elsewhere(pdf: pikepdf.Pdf) -> None:
    unused_stream(pdf).FFilter = Name.FlateDecode


def _attached(pdf: pikepdf.Pdf) -> Dictionary:
    specification = pikepdf.AttachedFileSpec(pdf, b"words", filename="notes.txt", mime_type="text/plain")
    return specification.obj


def _attached_to_the_file(pdf: pikepdf.Pdf) -> None:
    names = Array([String("notes.txt"), _attached(pdf)])
    pdf.Root.Names = Dictionary(EmbeddedFiles=Dictionary(Names=names))


def _associated(pdf: pikepdf.Pdf) -> None:
    pdf.Root.AF = Array([_attached(pdf)])


def _refers(pdf: pikepdf.Pdf) -> None:
    pdf.Root.PieceInfo = Dictionary(Maker=Dictionary(Type=Name.Filespec, F=String("picture.tif")))


def _portfolio(pdf: pikepdf.Pdf) -> None:
    pdf.Root.Collection = Dictionary(View=Name.D)


CASES: Final = (
    Case("data-outside", "data in another file", _data_elsewhere),
    Case("data-outside", "a filter for another file", _filter_elsewhere),
    Case("file-reference", "an attached file", _attached_to_the_file, levels=ALL - X4),
    Case("file-reference", "an associated file", _associated, levels=ALL - X4),
    Case("file-reference", "a file on a disk", _refers, levels=ALL - X4),
    Case("embedded-file", "an attached file", _attached_to_the_file, levels=X4),
    Case("embedded-file", "an associated file", _associated, levels=X4),
    Case("collection", "a portfolio", _portfolio),
)
