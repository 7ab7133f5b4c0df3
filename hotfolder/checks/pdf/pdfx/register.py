"""All requirements of PDF/X, topic by topic."""

from typing import Final

from hotfolder.checks.pdf.pdfx.not_judged import NOT_JUDGED
from hotfolder.checks.pdf.pdfx.requirement import Requirement
from hotfolder.checks.pdf.pdfx.requirements.actions import ACTIONS
from hotfolder.checks.pdf.pdfx.requirements.annotations import ANNOTATIONS
from hotfolder.checks.pdf.pdfx.requirements.colour.blending import BLENDING
from hotfolder.checks.pdf.pdfx.requirements.colour.profiles import PROFILES
from hotfolder.checks.pdf.pdfx.requirements.colour.space_entries import SPACE_ENTRIES
from hotfolder.checks.pdf.pdfx.requirements.colour.taken_spaces import TAKEN_SPACES
from hotfolder.checks.pdf.pdfx.requirements.completeness import COMPLETENESS
from hotfolder.checks.pdf.pdfx.requirements.document_information import DOCUMENT_INFORMATION
from hotfolder.checks.pdf.pdfx.requirements.filters import FILTERS
from hotfolder.checks.pdf.pdfx.requirements.fonts import FONTS
from hotfolder.checks.pdf.pdfx.requirements.graphics_state import GRAPHICS_STATE
from hotfolder.checks.pdf.pdfx.requirements.identification import IDENTIFICATION
from hotfolder.checks.pdf.pdfx.requirements.layers import LAYERS
from hotfolder.checks.pdf.pdfx.requirements.output_intent import OUTPUT_INTENT
from hotfolder.checks.pdf.pdfx.requirements.output_profile import OUTPUT_PROFILE
from hotfolder.checks.pdf.pdfx.requirements.page_boxes import PAGE_BOXES
from hotfolder.checks.pdf.pdfx.requirements.resources import RESOURCES
from hotfolder.checks.pdf.pdfx.requirements.structure import STRUCTURE
from hotfolder.checks.pdf.pdfx.requirements.transparency import TRANSPARENCY
from hotfolder.checks.pdf.pdfx.requirements.xobjects import XOBJECTS

TOPICS: Final[tuple[tuple[str, tuple[Requirement, ...]], ...]] = (
    ("The file as a whole", STRUCTURE),
    ("Completeness", COMPLETENESS),
    ("Compression", FILTERS),
    ("Output intent", OUTPUT_INTENT),
    ("Output profile", OUTPUT_PROFILE),
    ("Which level the file names", IDENTIFICATION),
    ("What the file says of itself", DOCUMENT_INFORMATION),
    ("Page boxes", PAGE_BOXES),
    ("Layers", LAYERS),
    ("Annotations", ANNOTATIONS),
    ("Actions and forms", ACTIONS),
    ("Fonts", FONTS),
    ("Resources", RESOURCES),
    ("Colours", (*TAKEN_SPACES, *PROFILES, *BLENDING, *SPACE_ENTRIES)),
    ("Transparency", TRANSPARENCY),
    ("Graphics state and instructions", GRAPHICS_STATE),
    ("Pictures, forms and code", XOBJECTS),
    ("Not judged", NOT_JUDGED),
)

REQUIREMENTS: Final[tuple[Requirement, ...]] = tuple(each for _, topic in TOPICS for each in topic)

# Those that a file can be found to break.
JUDGED: Final = tuple(each for each in REQUIREMENTS if each.judge is not None)
