"""Requirements on fonts: that they are in the file, whole, and as the file says that they are."""

from collections.abc import Callable, Iterator, Mapping
from typing import Final, TypeAlias

from hotfolder.checks.pdf.pdfx.requirement import Breach, Judging, NotJudged, Requirement, Subject
from hotfolder.checks.pdf.pdfx.sources import SERIES
from hotfolder.checks.shared.pdfx_levels import ALL, X1A, X3, Level
from hotfolder.model.document import Font
from hotfolder.model.geometry import Box
from hotfolder.model.inventory.fonts import FontEntries, ProgramKind
from hotfolder.wording.lists import counted
from hotfolder.wording.shown import plain_font_name, shown_name

_EMBED: Final = (
    "Export again with all fonts embedded; if a font's licence forbids that, convert its text to outlines."
)
_AGAIN: Final = "Install the original font, and export again from the program the text was set in."

# What is wrong with a font that prints, as it goes on after its name; None where nothing is.
FontFault: TypeAlias = Callable[[Font, FontEntries], str | None]

# ISO 32000-2, 9.9, table 124: which fonts bring their program by which entry, and what that program is.
_BY_FILE: Final = {
    "FontFile": ({"Type1", "MMType1"}, {ProgramKind.TYPE1}),
    "FontFile2": ({"TrueType", "CIDFontType2"}, {ProgramKind.TRUETYPE}),
    "Type1C": ({"Type1", "MMType1"}, {ProgramKind.CFF}),
    "CIDFontType0C": ({"CIDFontType0"}, {ProgramKind.CFF}),
    "OpenType": (
        {"TrueType", "CIDFontType2", "Type1", "CIDFontType0"},
        {ProgramKind.TRUETYPE, ProgramKind.OPENTYPE_CFF},
    ),
}

# ISO 32000-2, 9.7.5.2, table 116, each for horizontal and vertical text where the table has both.
_BOTH_WAYS: Final = (
    "GB-EUC", "GBpc-EUC", "GBK-EUC", "GBKp-EUC", "GBK2K", "UniGB-UCS2", "UniGB-UTF16", "B5pc", "HKscs-B5",
    "ETen-B5", "ETenms-B5", "CNS-EUC", "UniCNS-UCS2", "UniCNS-UTF16", "90ms-RKSJ", "90msp-RKSJ", "Add-RKSJ",
    "EUC", "Ext-RKSJ", "UniJIS-UCS2", "UniJIS-UCS2-HW", "UniJIS-UTF16", "KSC-EUC", "KSCms-UHC",
    "KSCms-UHC-HW", "UniKS-UCS2", "UniKS-UTF16", "Identity",
)  # fmt: skip
_PREDEFINED: Final = frozenset(
    {f"{cmap}-{way}" for cmap in _BOTH_WAYS for way in "HV"}
    | {"83pv-RKSJ-H", "90pv-RKSJ-H", "KSCpc-EUC-H", "H", "V"}
)
# The same table says which of them came with which version of PDF.
_SINCE: Final = {"UTF16": (1, 5), "GBK2K": (1, 4), "GBKp": (1, 4), "HKscs": (1, 4)}
_RESTRICTED: Final = 0x0002  # OpenType 1.9, OS/2, fsType: not to be embedded
_OTHER_LICENCES: Final = 0x000C  # printing and editing: the least restrictive of several bits counts


def _text_in(subject: Subject, font: Font, *, invisible: bool = False) -> Iterator[tuple[int, list[Box]]]:
    """The pages with text in a font, and where it is on paper; `invisible` text is none that is painted."""
    for index, page in enumerate(subject.pages):
        boxes = [
            mark.visible
            for mark in page.known_marks
            if mark.text is not None
            and mark.text.font == font.name
            and mark.visible is not None
            and (mark.text.invisible if invisible else mark.on_paper or mark.text.clips)
        ]
        if boxes:
            yield index, boxes


def _written(subject: Subject) -> dict[str, FontEntries]:
    return {each.object or each.name: each for each in subject.inventory.fonts}


def _entries_of(font: Font, written: Mapping[str, FontEntries]) -> FontEntries:
    """The entries of a font; those that a font without any has, where nothing chooses it by its own."""
    return written.get(font.object or font.name) or FontEntries(font.name, font.object, font.type)


def _breaches(
    subject: Subject, font: Font, entries: FontEntries, what: str, *, invisible: bool = False
) -> Iterator[Breach]:
    """`what` on each page with text in the font; another font of that name may be used on others."""
    everywhere = _text_in(subject, font, invisible=invisible)
    places = [
        (index, boxes)
        for index, boxes in everywhere
        if not entries.pages or subject.pages[index].number in entries.pages
    ]
    if not places and not invisible:
        yield Breach(what)  # in a soft mask, which leaves no marks
    for index, boxes in places:
        yield Breach(what, subject.pages[index], tuple(boxes))


def _each_font(fault: FontFault) -> Judging:
    """A judging of all fonts that print, by what is wrong with one."""

    def judge(subject: Subject, _level: Level) -> Iterator[Breach | NotJudged]:
        written = _written(subject)
        for font in subject.artwork.fonts:
            entries = _entries_of(font, written)
            words = fault(font, entries) if font.printed else None
            if words is not None:
                yield from _breaches(subject, font, entries, f"the font {plain_font_name(font)} {words}")

    return judge


def _each_glyph(fault: FontFault) -> Judging:
    """A judging of the glyphs that fonts show; those that could not be looked at are left open."""
    by_font = _each_font(fault)

    def judge(subject: Subject, level: Level) -> Iterator[Breach | NotJudged]:
        yield from by_font(subject, level)
        written = _written(subject)
        for font in subject.artwork.fonts:
            cmap = _entries_of(font, written).cmap
            if not font.printed or not font.embedded:
                continue
            if font.unread:
                yield NotJudged(f"letters of {plain_font_name(font)} could not be looked at: {font.unread}")
            elif cmap and cmap in _PREDEFINED and not cmap.startswith("Identity"):
                name = plain_font_name(font)
                yield NotJudged(
                    f"letters of {name} could not be looked at: the map '{cmap}' is not read here"
                )

    return judge


def _not_embedded(font: Font, _entries: FontEntries) -> str | None:
    return None if font.embedded else "is not in the file"


def _damaged(font: Font, _entries: FontEntries) -> str | None:
    return "is damaged in the file" if font.damaged else None


def _lacks_glyphs(font: Font, _entries: FontEntries) -> str | None:
    if not font.missing_glyphs or font.damaged:
        return None
    return f"lacks {counted(font.missing_glyphs, 'character')} that the text uses"


def _widths(font: Font, _entries: FontEntries) -> str | None:
    differ = font.widths_differ and not font.damaged
    return "has characters of other widths than the file says" if differ else None


def _program_fits(font: Font, entries: FontEntries) -> str | None:
    by = entries.file_subtype if entries.file == "FontFile3" else entries.file
    if not font.embedded or not entries.file or font.damaged:
        return None
    if by not in _BY_FILE:
        return f"brings its program as '{shown_name(by)}'"
    subtypes, kinds = _BY_FILE[by]
    if entries.subtype not in subtypes:
        return f"is of the type '{shown_name(entries.subtype)}' and brings its program as {by}"
    if entries.kind not in {None, ProgramKind.UNKNOWN, *kinds}:
        return f"brings a program of the kind {entries.kind} as {by}"
    return None


def _opentype(font: Font, entries: FontEntries) -> str | None:
    return "is embedded as OpenType" if font.embedded and entries.file_subtype == "OpenType" else None


def _cmaps(subject: Subject, level: Level) -> Iterator[Breach | NotJudged]:
    yield from _each_font(lambda _font, entries: _cmap(entries, level))(subject, level)


def _cmap(entries: FontEntries, level: Level) -> str | None:
    if not entries.composite or entries.cmap == "":
        return None
    if entries.cmap in _PREDEFINED:
        since = next((since for part, since in _SINCE.items() if part in (entries.cmap or "")), (1, 3))
        newer = f"goes by the map '{entries.cmap}', which came with PDF {since[0]}.{since[1]}"
        return newer if since > level.base else None
    if entries.cmap is None:
        return "has no map from codes to characters (CMap)"
    return (
        f"goes by the map '{shown_name(entries.cmap)}', which is neither in the file nor one that PDF names"
    )


def _cid_map(font: Font, entries: FontEntries) -> str | None:
    if not entries.composite or entries.subtype != "CIDFontType2" or not font.embedded:
        return None
    if not entries.cid_map:
        return "does not say which of its glyphs are which characters (CIDToGIDMap)"
    if entries.cid_map_name not in {"", "Identity"}:
        return f"maps its characters to glyphs by '{shown_name(entries.cid_map_name)}'"
    return None


def _licence(font: Font, entries: FontEntries) -> str | None:
    bits = entries.licence
    restricted = bits is not None and bits & _RESTRICTED and not bits & _OTHER_LICENCES
    return "says of itself that it must not be embedded" if font.embedded and restricted else None


def _unseen_text(subject: Subject, _level: Level) -> Iterator[Breach]:
    written = _written(subject)
    for font in subject.artwork.fonts:
        if not font.embedded and not font.printed:
            what = f"invisible text is in the font {plain_font_name(font)}, which is not in the file"
            yield from _breaches(subject, font, _entries_of(font, written), what, invisible=True)
    yield from _blanks(subject)


def _blanks(subject: Subject) -> Iterator[Breach]:
    """Spaces in a font that sets nothing else, each page once."""
    seen = {font.object or font.name for font in subject.artwork.fonts}
    for entries in subject.inventory.fonts:
        if entries.file or entries.subtype == "Type3" or (entries.object or entries.name) in seen:
            continue
        what = f"blanks are set in the font {shown_name(entries.name)}, which is not in the file"
        for page in subject.pages:
            if page.number in entries.blank_pages:
                yield Breach(what, page)


FONTS: Final = (
    Requirement(
        id="font-not-embedded",
        wants="wants every font that prints to be in the file, the standard ones too",
        levels=ALL,
        why="At the press another typeface would take its place, and text may reflow or lose characters.",
        remedy=_EMBED,
        source=f"{SERIES}; ISO 32000-2, 9.9; the manual of LaTeX's package pdfx 1.6; Apache FOP's"
        " PDFProfile.java",
        judge=_each_font(_not_embedded),
        of_content=True,
        told_by=frozenset({"fonts-embedded.not-embedded"}),
    ),
    Requirement(
        id="invisible-font",
        wants="wants fonts to be in the file even if nothing is seen of their text",
        levels=X1A | X3,
        unconfirmed=X1A | X3,
        why="Programs that look for every font stop at it.",
        remedy="Export again with all fonts embedded, or without the invisible text (of a scan, mostly).",
        source=f"{SERIES}, which know no exception for text that nothing is seen of; that it counts is not"
        " certain",
        judge=_unseen_text,
        of_content=True,
    ),
    Requirement(
        id="font-damaged",
        wants="wants fonts that are whole",
        levels=ALL,
        why="At the press another typeface would take its place, and text may reflow or lose characters.",
        remedy="Reinstall the original font, and export again with all fonts embedded.",
        source="ISO 32000-2, 9.9: the font file is a font program",
        judge=_each_glyph(_damaged),
        of_content=True,
        told_by=frozenset({"fonts.damaged"}),
    ),
    Requirement(
        id="glyph-missing",
        wants="wants every character that prints to come from the font in the file",
        levels=ALL,
        unconfirmed=ALL,
        why="Empty boxes, or nothing at all, will print in its place.",
        remedy="Set these characters in a font that has them, and export again with the fonts embedded.",
        source=f"{SERIES}: every glyph that prints comes from an embedded program; no second source that"
        " says it of glyphs and not of fonts; for PDF/X-4 from memory",
        judge=_each_glyph(_lacks_glyphs),
        of_content=True,
        told_by=frozenset({"fonts.signs-missing"}),
    ),
    Requirement(
        id="font-widths",
        wants="wants the widths of characters in the file to be those of the font",
        levels=ALL,
        unconfirmed=ALL,
        why="Letters may drift apart or run into each other.",
        remedy=_AGAIN,
        source="ISO 32000-2, 9.2.4 and 9.7.4.3; that the level asks for it is from memory",
        judge=_each_glyph(_widths),
        of_content=True,
        told_by=frozenset({"fonts.widths-differ"}),
    ),
    Requirement(
        id="font-program-kind",
        wants="wants fonts embedded as what they are",
        levels=ALL,
        why="Programs that go by what the file says cannot use the font, and take another one.",
        remedy=_AGAIN,
        source="ISO 32000-2, 9.9, table 124: which entry holds which program for which type of font",
        judge=_each_font(_program_fits),
        of_content=True,
    ),
    Requirement(
        id="font-opentype",
        wants="wants fonts embedded as Type 1, TrueType or CFF, since OpenType came with PDF 1.6",
        levels=X1A | X3,
        why="A printer's programs of that time do not know it, and take another font.",
        remedy="Export again as the level that is wanted, with compatibility to PDF 1.4 or older.",
        source="ISO 32000-2, 9.9, table 124: FontFile3 with the subtype OpenType is of PDF 1.6",
        judge=_each_font(_opentype),
        of_content=True,
    ),
    Requirement(
        id="font-cmap",
        wants="wants maps from codes to characters that are in the file, or named in PDF itself",
        levels=ALL,
        why="Other characters print, or none.",
        remedy=_AGAIN,
        source="ISO 32000-2, 9.7.5.2, table 116, and 9.7.5.3",
        judge=_cmaps,
        of_content=True,
    ),
    Requirement(
        id="font-glyph-map",
        wants="wants a composite font with TrueType outlines to say which glyph is which character",
        levels=ALL,
        unconfirmed=ALL,
        why="Programs that do not take the plain order for granted print other characters.",
        remedy=_AGAIN,
        source="ISO 32000-2, 9.7.4.2, which asks for it of embedded TrueType, while table 115 takes the plain"
        " order where it is left out",
        judge=_each_font(_cid_map),
        of_content=True,
    ),
    Requirement(
        id="font-licence",
        wants="wants only such fonts embedded as their licence lets be",
        levels=ALL,
        unconfirmed=ALL,
        why="The printer may refuse it.",
        remedy="Use another font, get a licence that allows it, or convert the text to outlines.",
        source=f"{SERIES} for the rule; OpenType 1.9, table OS/2, fsType for the bits",
        judge=_each_font(_licence),
        of_content=True,
    ),
)
