"""The cases of all topics."""

from typing import Final

from tests.checks.pdf.pdfx.cases import identification, structure
from tests.checks.pdf.pdfx.cases.case import Case

CASES: Final[tuple[Case, ...]] = (*structure.CASES, *identification.CASES)
