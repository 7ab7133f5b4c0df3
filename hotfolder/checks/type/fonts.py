"""Fonts: the letters in the file are those that were set.

Why: a font whose data are damaged, cut short or wiped out is replaced by another, as if it were not in the
    file; one that lacks a character shows an empty box or nothing for it; one that was put in the place of
    another has other letters; fonts made of pixels are only as fine as the device they were made for.
On paper: text in another typeface, missing characters, ragged letters, or a typewriter face nobody chose.
Not flagged: fonts of text that does not print; damage to letters that no printed text uses; tables that a
    font in a PDF may lack (its names, what systems ask for, maps of characters where the text needs none),
    padding, checksums and wrong lengths; fonts that are not in the file at all, which the rule about embedded
    fonts judges; characters that no printed text uses; outlined letters drawn by the file itself are advice
    only, since they print as well as any; a typewriter face beside which no other is used.
Source: ISO 32000-2, 9.6 and 9.7 (fonts) and 9.6.4 (letters drawn by the file, Type 3); ISO 15930 (PDF/X) asks
    for every character that prints and for widths that agree; that Courier stands in for missing fonts is
    common practice.
"""

from collections.abc import Iterator, Mapping
from dataclasses import replace
from typing import ClassVar, Final

from hotfolder.checks.shared.marks.on_product import on_product
from hotfolder.checks.shared.needed_facts import NeededFacts
from hotfolder.checks.shared.occurrences import Occurrences
from hotfolder.model.artwork import Artwork
from hotfolder.model.document import Font
from hotfolder.model.findings import Finding, Quantity, Severity, Unjudged
from hotfolder.model.ruleset import Rule, RuleSettings
from hotfolder.wording.lists import shortened
from hotfolder.wording.shown import plain_font_name

ID: Final = "fonts"
_STAND_IN: Final = "courier"
_PDFX: Final = "ISO 15930 (PDF/X)"


class FontsSettings(RuleSettings):
    """No figures: what is told of can be switched off code by code."""

    codes: ClassVar[Mapping[str, Severity]] = {
        "damaged": Severity.MUST_FIX,
        "signs-missing": Severity.MUST_FIX,
        "widths-differ": Severity.ADVICE,
        "pixels": Severity.ADVICE,
        "drawn": Severity.ADVICE,
        "stand-in": Severity.ADVICE,
    }


def check(artwork: Artwork, settings: FontsSettings) -> Iterator[Finding | Unjudged]:
    """Fonts that do not print what was set, one finding for each thing that is wrong with them."""
    facts = NeededFacts(ID, settings)
    for page in facts.pages(artwork):
        if page.raster is None:
            facts.marks(page)
    printed = [font for font in artwork.fonts if font.printed]
    others = any(not _is_stand_in(font) for font in printed)
    by_code: dict[str, list[Font]] = {}
    for font in printed:
        for code in _codes(font, others=others):
            by_code.setdefault(code, []).append(font)
    for code in settings.codes:
        if code in by_code:
            yield _located(artwork, by_code[code], _finding(code, by_code[code], settings))
    unread = [font for font in printed if font.unread]
    if unread:
        # Legal programs are met that this version cannot read; that is no reason to hold a file back.
        reason = f"letters of {_named(unread)} could not be looked at: {unread[0].unread}"
        yield Unjudged(ID, Severity.ADVICE, reason)
    yield from facts.unjudged()


def _codes(font: Font, *, others: bool) -> Iterator[str]:
    if font.damaged:
        yield "damaged"
        return  # what else it shows comes of that
    if font.missing_glyphs:
        yield "signs-missing"
    if font.widths_differ:
        yield "widths-differ"
    if font.bitmap:
        yield "pixels"
    elif font.type3:
        yield "drawn"
    if others and _is_stand_in(font):
        yield "stand-in"


def _is_stand_in(font: Font) -> bool:
    return plain_font_name(font).casefold().startswith(_STAND_IN)


def _located(artwork: Artwork, fonts: list[Font], finding: Finding) -> Finding:
    """The finding with the places of the text in these fonts; without, where none shows in the page."""
    names = {font.name for font in fonts}
    places = Occurrences()
    for page in artwork.known_pages:
        for mark, box in on_product(page, page.known_marks):
            if mark.text is not None and mark.text.font in names:
                places.add(page, box)
    if places:
        return places.located(finding)
    message = finding.message
    return replace(finding, message=f"{message[:1].upper()}{message[1:]}")


_MESSAGE: Final = {
    "damaged": "text in fonts that are damaged in the file: {fonts}. In print another typeface would take "
    "their place, and text may reflow or lose characters.",
    "signs-missing": "the font in the file lacks characters that the text uses: {fonts}. Empty boxes, or "
    "nothing at all, will print in their place.",
    "widths-differ": "letters are wider or narrower in the font than the file says: {fonts}. Letters may "
    "drift apart or run into each other.",
    "pixels": "text in letters made of pixels (bitmap fonts): {fonts}. They are only as fine as the "
    "device they were made for, and may look ragged.",
    "drawn": "text in letters that the file draws itself (Type 3 fonts): {fonts}. They print, but "
    "slightly heavier than real fonts at small sizes, and nobody can correct them later.",
    "stand-in": "text in {fonts}, a typewriter face that programs use in place of missing fonts. If "
    "nobody chose it, the wrong letters will print.",
}
_REMEDY: Final = {
    "damaged": "Reinstall the original fonts, and export again with all fonts embedded; if that does not "
    "help, convert the text to outlines.",
    "signs-missing": "Set these characters in a font that has them, and export again with the fonts "
    "embedded.",
    "widths-differ": "Install the original font, and export again from the program the text was set in.",
    "pixels": "Export with outline fonts (Type 1, TrueType or OpenType) instead.",
    "drawn": "Export with real fonts embedded, if your program can; if not, it can stay as it is.",
    "stand-in": "If you chose that typeface, leave it. If not, open the original where its fonts are "
    "installed, and"
    " export again.",
}


def _finding(code: str, fonts: list[Font], settings: FontsSettings) -> Finding:
    missing = sum(font.missing_glyphs for font in fonts)
    return Finding(
        rule=ID,
        code=code,
        severity=settings.severity_of(code),
        message=_MESSAGE[code].format(fonts=_named(fonts)),
        remedy=_REMEDY[code],
        measured=Quantity.of(missing, unit="missing characters")
        if code == "signs-missing"
        else _named(fonts),
        required=Quantity.of(0, unit="missing characters") if code == "signs-missing" else None,
        standard=_PDFX if code in {"signs-missing", "widths-differ"} else None,
    )


def _named(fonts: list[Font]) -> str:
    return shortened(list(dict.fromkeys(plain_font_name(font) for font in fonts)))


RULE = Rule(
    id=ID,
    title="Fonts",
    settings=FontsSettings,
    check=check,
    question="Are there kinds of fonts that you do not take, such as letters made of pixels?",
    since="0.1",
)
