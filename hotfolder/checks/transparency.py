"""Transparency: everything in the file is opaque, where the printer wants that.

Why: old programs at the press cannot print transparency and have to flatten it there, with results
    that nobody has seen before.
On paper: white boxes around shadows, hairlines through pictures, text that turns bolder, spot colours
    that go wrong.
Not flagged: full opacity; the blend modes Normal and Compatible; pictures cut out by hard masks or by
    a colour; transparency of marks outside trim and bleed, on hidden layers or clipped away.
Source: ISO 15930-4:2003 and -6:2003 (PDF/X-1a and X-3) forbid it; ISO 32000-2, 11 for what it is.
"""

from collections.abc import Iterator, Mapping
from typing import ClassVar, Final

from hotfolder.artwork import Artwork, Box, Mark, Masking, Page
from hotfolder.checks.paint import gathered, on_product
from hotfolder.checks.pdfx_levels import PLAIN_BLENDS
from hotfolder.checks.telling import counted
from hotfolder.checks.unknown import Unknowns
from hotfolder.findings import Finding, Severity, Unjudged
from hotfolder.ruleset import Rule, RuleSettings

ID: Final = "transparency"
_STANDARD: Final = "ISO 15930-4:2003, ISO 15930-6:2003"

_SAID: Final = {
    "opacity": "let through what lies beneath (opacity under 100 %)",
    "blend-mode": "blend with what lies beneath (a blend mode such as multiply)",
    "soft-mask": "fade out by a soft mask",
    "image-soft-mask": "are pictures that fade out by a soft mask",
    "group": "stand in a transparency group",
}


class TransparencySettings(RuleSettings):
    """No figures: this rule stands in rule sets of printers that want none."""

    codes: ClassVar[Mapping[str, Severity]] = {
        "opacity": Severity.MUST_FIX,
        "blend-mode": Severity.MUST_FIX,
        "soft-mask": Severity.MUST_FIX,
        "image-soft-mask": Severity.MUST_FIX,
        "group": Severity.ADVICE,
        "alpha": Severity.MUST_FIX,
    }


def check(artwork: Artwork, settings: TransparencySettings) -> Iterator[Finding | Unjudged]:
    """Marks that are not opaque, by page and cause."""
    unknowns = Unknowns(ID, settings)
    for page in unknowns.pages(artwork):
        if page.raster is not None:
            if page.raster.alpha:
                yield _alpha(page, settings)
            continue
        found: dict[str, list[Box]] = {}
        for mark, visible in on_product(page, unknowns.marks(page) or ()):
            for code in _causes(mark):
                found.setdefault(code, []).append(visible)
        for code, boxes in found.items():
            yield Finding(
                rule=ID,
                code=code,
                severity=settings.severity_of(code),
                message=f"Page {page.number}: {counted(len(boxes), 'thing')} on the page {_SAID[code]}."
                " Flattening at the press may leave white boxes, hairlines or bolder text.",
                remedy="Export with transparency flattened (at high resolution), and look at the result.",
                page=page.number,
                boxes=gathered(boxes),
                measured=code.replace("-", " "),
                required="opaque",
                standard=_STANDARD,
            )
    yield from unknowns.told()


def _causes(mark: Mark) -> Iterator[str]:
    state = mark.state
    filled, stroked = mark.fill is not None, mark.stroke is not None
    if (filled and state.fill_opacity < 1) or (stroked and state.stroke_opacity < 1):
        yield "opacity"
    if state.blend_mode not in PLAIN_BLENDS:
        yield "blend-mode"
    if state.soft_mask:
        yield "soft-mask"
    if mark.image is not None and mark.image.masking is Masking.SOFT:
        yield "image-soft-mask"
    if state.group:
        yield "group"


def _alpha(page: Page, settings: TransparencySettings) -> Finding:
    return Finding(
        rule=ID,
        code="alpha",
        severity=settings.severity_of("alpha"),
        message="The picture has transparent parts (an alpha channel). What is printed there is left to the"
        " program that places it: white, black, or what lies beneath.",
        remedy="Save the picture without transparency, on a white ground or on the one that is meant.",
        page=page.number,
        measured="alpha channel",
        required="opaque",
    )


RULE = Rule(
    id=ID,
    title="Transparency",
    settings=TransparencySettings,
    check=check,
    question="Do you take live transparency, or must it be flattened?",
    since="0.1",
)
