"""Fonts embedded: every font that prints is in the file.

Why: the press does not have the designer's fonts; a missing one is replaced by whatever there is.
On paper: text in another typeface, with other line breaks, or missing characters.
Not flagged: fonts that are named but not used; fonts of text that does not print (hidden layers,
    invisible text behind scans); text turned into outlines, which needs no font; raster files.
Source: ISO 15930 (PDF/X) asks for every font that prints; ISO 32000-2, 9.9 (clause number from
    memory) for how a font is embedded.
"""

from collections.abc import Iterator, Mapping
from typing import ClassVar, Final

from hotfolder.checks.shared.needed_facts import NeededFacts
from hotfolder.model.artwork import Artwork
from hotfolder.model.findings import Finding, Severity, Unjudged
from hotfolder.model.ruleset import Rule, RuleSettings
from hotfolder.wording.lists import listed
from hotfolder.wording.shown import plain_font_name

ID: Final = "fonts-embedded"


class FontsEmbeddedSettings(RuleSettings):
    """No figures: a font is in the file or it is not."""

    codes: ClassVar[Mapping[str, Severity]] = {"not-embedded": Severity.MUST_FIX}


def check(artwork: Artwork, settings: FontsEmbeddedSettings) -> Iterator[Finding | Unjudged]:
    """The fonts that print and are not in the file, in one finding."""
    facts = NeededFacts(ID, settings)
    for page in facts.pages(artwork):
        if page.raster is None:
            facts.marks(page)
    missing = [font for font in artwork.fonts if font.printed and not font.embedded]
    if missing:
        names = list(dict.fromkeys(plain_font_name(font) for font in missing))
        one = len(names) == 1
        yield Finding(
            rule=ID,
            code="not-embedded",
            severity=settings.severity_of("not-embedded"),
            message=f"{'A font is' if one else f'{len(names)} fonts are'} used but not in the file:"
            f" {listed(names)}. At the press another typeface would take {'its' if one else 'their'} place,"
            " and text may reflow or lose characters.",
            remedy="Export again with all fonts embedded; if a font's licence forbids that, convert its "
            "text to outlines.",
            measured=f"not embedded: {listed(names)}",
            required="all fonts embedded",
            standard="ISO 15930 (PDF/X)",
        )
    yield from facts.unjudged()


RULE = Rule(
    id=ID,
    title="Fonts embedded",
    settings=FontsEmbeddedSettings,
    check=check,
    question="Must all fonts be embedded, or do you take files that rely on yours?",
    since="0.1",
)
