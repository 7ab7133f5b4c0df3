"""Files that are put together in a way that a level does not take."""

from typing import Final

import pikepdf

from tests.checks.pdf.pdfx.cases.case import Case


def _nothing(_pdf: pikepdf.Pdf) -> None:
    """Leaves the file as it is: the bytes are changed afterwards."""


def _no_id(data: bytes) -> bytes:
    return data.replace(b"/ID [", b"/XX [")


CASES: Final = (Case("file-identifier", "no ID", _nothing, afterwards=_no_id),)
