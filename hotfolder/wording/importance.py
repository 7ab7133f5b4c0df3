"""What matters most on paper, and the order in which findings are told: one for every form of a report.

What must be fixed comes first, then page by page, on each page what spoils most on paper first. What concerns
the file as a whole stands before its pages, but for paperwork, which stands after them.

Source: common practice of intake desks: what is looked at first is whether a file opens, then its size and
bleed, then its type and pictures, then its inks, and its papers last.
"""

import math
from collections.abc import Iterable
from typing import Final

from hotfolder.model.findings import Finding, Severity

# By rule id. Nothing else is sure of a file that cannot be read, and nothing can be mended on a wrong size.
_CAUSES: Final = ("measuring", "file-type", "encryption", "readable")
_ON_PAPER: Final = (
    "trim-size",
    "page-count",
    "bleed",
    "safe-margin",
    "fonts-embedded",
    "fonts",
    "white-overprint",
    "image-resolution",
    "total-ink",
    "technical-inks",
    "registration-colour",
    "inks-used",
    "spot-colours",
    "colour-spaces",
    "picture-file",
    "transparency",
    "annotations",
    "layers",
    "line-width",
    "small-text",
    "black-text",
    "built-black",
    "blank-pages",
    "black-and-white",
    "colour-shift",
    "veil",
    "marks-near-trim",
    "printers-marks",
    "outside-bleed",
    "jpeg-quality",
)
_PAPERWORK: Final = ("page-boxes", "pdfx-claim", "output-intent", "image-weight", "file-size", "file-name")

_RANKS: Final = {rule: rank for rank, rule in enumerate((*_CAUSES, *_ON_PAPER, *_PAPERWORK))}
_UNKNOWN: Final = len(_CAUSES) + len(_ON_PAPER) - 0.5  # a rule that no table names: before paperwork

# A page that has no size at all cannot be printed: no matter of papers.
_GRAVER_CODES: Final = {("page-boxes", "no-page-size"): _RANKS["trim-size"] - 0.5}

_SEVERITIES: Final = (Severity.MUST_FIX, Severity.ADVICE, Severity.OFF)


def importance(rule: str, severity: Severity, code: str = "") -> tuple[int, float]:
    """How much something weighs, whatever page it is on; the least comes first."""
    return _SEVERITIES.index(severity), _GRAVER_CODES.get((rule, code), _RANKS.get(rule, _UNKNOWN))


def in_telling_order(findings: Iterable[Finding]) -> tuple[Finding, ...]:
    """`findings` in the order in which every report tells them; equals keep theirs."""
    return tuple(sorted(findings, key=_place))


def _place(finding: Finding) -> tuple[int, bool, float, float]:
    severity, rank = importance(finding.rule, finding.severity, finding.code)
    page = finding.page or (math.inf if finding.rule in _PAPERWORK else 0)
    return severity, finding.rule not in _CAUSES, page, rank
