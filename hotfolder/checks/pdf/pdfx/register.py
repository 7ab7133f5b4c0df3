"""All requirements of PDF/X, topic by topic."""

from typing import Final

from hotfolder.checks.pdf.pdfx.requirement import Requirement
from hotfolder.checks.pdf.pdfx.requirements.completeness import COMPLETENESS
from hotfolder.checks.pdf.pdfx.requirements.filters import FILTERS
from hotfolder.checks.pdf.pdfx.requirements.identification import IDENTIFICATION
from hotfolder.checks.pdf.pdfx.requirements.structure import STRUCTURE

TOPICS: Final[tuple[tuple[str, tuple[Requirement, ...]], ...]] = (
    ("The file as a whole", STRUCTURE),
    ("Completeness", COMPLETENESS),
    ("Compression", FILTERS),
    ("What the file says of itself", IDENTIFICATION),
)

REQUIREMENTS: Final[tuple[Requirement, ...]] = tuple(each for _, topic in TOPICS for each in topic)
