"""The cases of all topics."""

from typing import Final

from tests.checks.pdf.pdfx.cases import (
    actions,
    annotations,
    colour,
    colour_profiles,
    completeness,
    document_information,
    filters,
    fonts,
    graphics_state,
    identification,
    layers,
    output_intent,
    output_profile,
    page_boxes,
    resources,
    structure,
    transparency,
    xobjects,
)
from tests.checks.pdf.pdfx.cases.case import Case

CASES: Final[tuple[Case, ...]] = (
    *structure.CASES,
    *completeness.CASES,
    *filters.CASES,
    *output_intent.CASES,
    *output_profile.CASES,
    *identification.CASES,
    *document_information.CASES,
    *page_boxes.CASES,
    *layers.CASES,
    *annotations.CASES,
    *actions.CASES,
    *fonts.CASES,
    *resources.CASES,
    *colour.CASES,
    *colour_profiles.CASES,
    *transparency.CASES,
    *graphics_state.CASES,
    *xobjects.CASES,
)
