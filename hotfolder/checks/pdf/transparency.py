"""Transparency: everything in the file is opaque, where the printer wants that.

Why: old programs at the press cannot print transparency and have to flatten it there, with results
    that nobody has seen before.
On paper: white boxes around shadows, hairlines through pictures, text that turns bolder, spot colours
    that go wrong.
Not flagged: full opacity; the blend modes Normal and Compatible; pictures cut out by hard masks or by
    a colour; transparency of marks outside trim and bleed, on hidden layers, clipped away or wholly
    covered; transparent parts of picture files, which the rule about picture files judges.
Source: ISO 15930-4:2003 and -6:2003 (PDF/X-1a and X-3) forbid it; ISO 32000-2, 11 for what it is.
"""

from collections.abc import Iterator, Mapping
from typing import ClassVar, Final

from hotfolder.checks.shared.marks.on_product import on_product
from hotfolder.checks.shared.needed_facts import NeededFacts
from hotfolder.checks.shared.occurrences import Occurrences
from hotfolder.model.artwork import Artwork
from hotfolder.model.findings import Finding, Severity, Unjudged
from hotfolder.model.marks import PLAIN_BLENDS, Mark, Masking
from hotfolder.model.ruleset import Rule, RuleSettings
from hotfolder.wording.lists import counted, listed
from hotfolder.wording.shown import shown_name

ID: Final = "transparency"
_STANDARD: Final = "ISO 15930-4:2003, ISO 15930-6:2003"

# What one thing does, and what several do.
_WHAT: Final = {
    "opacity": (
        "lets through what lies beneath (opacity under 100 %)",
        "let through what lies beneath (opacity under 100 %)",
    ),
    "blend-mode": (
        "blends with what lies beneath (blend mode)",
        "blend with what lies beneath (blend modes)",
    ),
    "soft-mask": ("fades out by a soft mask", "fade out by soft masks"),
    "image-soft-mask": (
        "is a picture that fades out (soft mask)",
        "are pictures that fade out (soft masks)",
    ),
    "overprint": (
        "overprints where other things are transparent",
        "overprint where other things are transparent",
    ),
    "group": ("stands in a transparency group", "stand in transparency groups"),
}
_FLATTENING: Final = "Flattening at the press may leave white boxes, hairlines or bolder text."
_ON_PAPER: Final = {
    "overprint": "Programs treat overprint inside a transparency group differently.",
}
_FLATTEN: Final = "Export with transparency flattened (at high resolution), and check the result."
_REMEDY: Final = {
    "overprint": "Switch overprint off there, or flatten the transparency, and check the result with "
    "overprint preview on.",
}


class TransparencySettings(RuleSettings):
    """No figures: this rule stands in rule sets of printers that want none."""

    codes: ClassVar[Mapping[str, Severity]] = {
        "opacity": Severity.MUST_FIX,
        "blend-mode": Severity.MUST_FIX,
        "soft-mask": Severity.MUST_FIX,
        "image-soft-mask": Severity.MUST_FIX,
        "overprint": Severity.ADVICE,
        "group": Severity.ADVICE,
    }


def check(artwork: Artwork, settings: TransparencySettings) -> Iterator[Finding | Unjudged]:
    """Marks that are not opaque, by cause."""
    facts = NeededFacts(ID, settings)
    by_code = {code: Occurrences() for code in settings.codes}
    blends: dict[str, None] = {}
    for page in facts.pages(artwork):
        if page.raster is not None:
            continue
        for mark, visible in on_product(page, facts.marks(page) or ()):
            for code in _causes(mark):
                by_code[code].add(page, visible)
            if mark.state.blend_mode not in PLAIN_BLENDS:
                blends[shown_name(mark.state.blend_mode)] = None
    for code, places in by_code.items():
        if places:
            kinds = f" ({listed(blends)})" if code == "blend-mode" else ""
            yield places.located(
                Finding(
                    rule=ID,
                    code=code,
                    severity=settings.severity_of(code),
                    message=f"{counted(places.count, 'thing')} {_WHAT[code][places.count > 1]}{kinds}."
                    f" {_ON_PAPER.get(code, _FLATTENING)}",
                    remedy=_REMEDY.get(code, _FLATTEN),
                    measured=code.replace("-", " "),
                    required="knocks out or overprints alone" if code == "overprint" else "opaque",
                    standard=_STANDARD,
                )
            )
    yield from facts.unjudged()


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
        overprints = (filled and state.overprint_fill) or (stroked and state.overprint_stroke)
        yield "overprint" if overprints else "group"


RULE = Rule(
    id=ID,
    title="Transparency",
    settings=TransparencySettings,
    check=check,
    question="Do you take live transparency, or must it be flattened?",
    since="0.1",
)
