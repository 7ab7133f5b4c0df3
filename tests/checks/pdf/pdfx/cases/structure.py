"""Files that are put together in a way that a level does not take."""

from io import BytesIO
from typing import Final

import pikepdf
from pikepdf import Array, Name

from hotfolder.checks.shared.pdfx_levels import ALL, X4
from tests.checks.pdf.pdfx.cases.case import Case


def _nothing(_pdf: pikepdf.Pdf) -> None:
    """Leaves the file as it is: the bytes are changed afterwards."""


def _no_id(data: bytes) -> bytes:
    return data.replace(b"/ID [", b"/XX [")


def _half_an_id(data: bytes) -> bytes:
    start = data.rindex(b"/ID [") + len(b"/ID [")
    middle, end = data.index(b"><", start) + 1, data.index(b"]", start)
    return data[:middle] + b" " * (end - middle) + data[end:]


def _encrypted(data: bytes) -> bytes:
    out = BytesIO()
    with pikepdf.open(BytesIO(data)) as pdf:
        pdf.save(
            out,
            encryption=pikepdf.Encryption(owner="owner", user="", R=2, aes=False, metadata=False),
            force_version=pdf.pdf_version,
            object_stream_mode=pikepdf.ObjectStreamMode.disable,
            fix_metadata_version=False,
            compress_streams=False,
            static_id=True,
        )
    return out.getvalue()


def _packed(data: bytes) -> bytes:
    out = BytesIO()
    with pikepdf.open(BytesIO(data)) as pdf:
        pdf.save(
            out,
            object_stream_mode=pikepdf.ObjectStreamMode.generate,
            fix_metadata_version=False,
            deterministic_id=True,
        )
    # The header stays as it was: the file is of a later version by what it makes use of alone.
    return data[:8] + out.getvalue()[8:]


def _later_header(data: bytes) -> bytes:
    return b"%PDF-1.7" + data[8:]


def _later_catalog(pdf: pikepdf.Pdf) -> None:
    pdf.Root.Version = Name("/1.7")


def _tiny_page(pdf: pikepdf.Pdf) -> None:
    page = pdf.pages[1].obj
    page.MediaBox = Array([0, 0, 2, 460])
    page.BleedBox = page.TrimBox = Array([0, 0, 2, 460])


def _huge_page(pdf: pikepdf.Pdf) -> None:
    pdf.pages[1].obj.MediaBox = Array([0, 0, 340, 14_500])


def _magnified(pdf: pikepdf.Pdf) -> None:
    pdf.pages[1].obj.UserUnit = 10


CASES: Final = (
    Case("file-identifier", "no ID", _nothing, afterwards=_no_id),
    Case("file-identifier", "half an ID", _nothing, afterwards=_half_an_id),
    Case("encrypted", "an empty password", _nothing, afterwards=_encrypted),
    Case("pdf-version", "PDF 1.7 in the header", _nothing, afterwards=_later_header),
    Case("pdf-version", "PDF 1.7 in the catalog", _later_catalog),
    Case("packed-objects", "object streams", _nothing, levels=ALL - X4, afterwards=_packed),
    Case("page-size", "two units wide", _tiny_page),
    Case("page-size", "14,500 units high", _huge_page),
    Case("user-unit", "ten times as large", _magnified, levels=ALL - X4),
)
