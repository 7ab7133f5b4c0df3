"""The cases of all topics."""

from typing import Final

from tests.checks.pdf.pdfx.cases import completeness, filters, identification, structure
from tests.checks.pdf.pdfx.cases.case import Case

CASES: Final[tuple[Case, ...]] = (
    *structure.CASES,
    *completeness.CASES,
    *filters.CASES,
    *identification.CASES,
)
