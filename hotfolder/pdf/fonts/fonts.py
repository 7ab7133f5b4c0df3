"""Reads fonts: the facts for the report, and the metrics that place text (ISO 32000-2, 9.5 to 9.8).

Metrics come from the font dictionary and its descriptor, as the standard wants it. Where the ink of a
glyph lies is read from the font program, once text on paper shows the glyph. Malformed entries give the
standard's defaults, never an exception.
"""

import re
from collections.abc import Callable, Iterable
from dataclasses import dataclass, field, replace
from functools import partial
from typing import Final

import pikepdf

from hotfolder.model.document import Font
from hotfolder.pdf.fonts.blanks import blank_codes
from hotfolder.pdf.fonts.cid_widths import CidWidths, read_cid_widths
from hotfolder.pdf.fonts.cmaps import CMap, read_cmap
from hotfolder.pdf.fonts.core_fonts import CoreFont, core_font
from hotfolder.pdf.fonts.encodings import STANDARD, Encoding, read_encoding, rests_on_program
from hotfolder.pdf.fonts.programs.font_programs import open_font
from hotfolder.pdf.fonts.shown_glyphs import ShownGlyphs
from hotfolder.pdf.fonts.unicode_text import named_texts, read_unicode_map, text_of_name
from hotfolder.pdf.objects.reading import (
    entry,
    fingerprint,
    identity,
    item,
    items,
    name,
    number,
    numbers,
    text,
    whole,
)

Matrix = tuple[float, float, float, float, float, float]

_SUBSET: Final = re.compile(r"[A-Z]{6}\+")  # 9.9.2
_GLYPH_SPACE: Final[Matrix] = (0.001, 0.0, 0.0, 0.001, 0.0, 0.0)
# Extents where a file gives none; the same ones that poppler assumes, so that text boxes can be compared.
_DEFAULT_ASCENT_EM: Final = 0.95
_DEFAULT_DESCENT_EM: Final = -0.35
_GUESSED_WIDTH_EM: Final = 0.5  # about the mean of Latin letters
_SYMBOLIC: Final = 4  # FontDescriptor Flags, table 121
_LONGEST_EXTENT_EM: Final = 3.0  # descriptors with 32767 and the like are met; no letter is that tall


@dataclass(frozen=True, slots=True)
class Glyph:
    """One glyph of a shown string.

    code: the character code as a number. width_em: horizontal displacement; in a vertical font
    `advance_em` (down is negative) moves the text instead, and `origin_em` is where the glyph's
    vertical origin lies, seen from its horizontal one. is_word_space: word spacing applies, as
    the code is the single byte 32 (9.3.3). cid: by which the glyph is looked up in the font program; the code
    itself in a simple font, None where the CID of a code is not known. is_blank: it is a space. text: its
    text by the PDF, without the font program; empty where that is not known.
    """

    code: int
    width_em: float
    cid: int | None = None
    is_word_space: bool = False
    advance_em: float = 0.0
    origin_em: tuple[float, float] = (0.0, 0.0)
    is_blank: bool = False
    text: str = ""


@dataclass(frozen=True, slots=True)
class Type3:
    """What a Type 3 font paints with: content streams by code (9.6.4)."""

    matrix: Matrix
    procedures: dict[int, pikepdf.Stream]
    resources: pikepdf.Dictionary | None


@dataclass(frozen=True, slots=True, kw_only=True)
class FontMetrics:
    """A font as the interpreter needs it.

    facts: as the font's dictionary has them. ascent_em, descent_em: extents above and below the
    baseline (descent is negative). vertical: text runs downwards. type3: set for Type 3 fonts only.
    shown: those of its glyphs that text on paper shows.
    """

    facts: Font
    ascent_em: float
    descent_em: float
    shown: ShownGlyphs
    vertical: bool = False
    type3: Type3 | None = None
    _cmap: CMap | None = None  # None: a simple font, one byte a code
    _glyph: Callable[[bytes], Glyph]
    _own_text: Callable[[int], str] | None = None  # where codes may be left to the program's encoding
    _known: dict[bytes | int, Glyph] = field(default_factory=dict)

    def text(self, glyph: Glyph) -> str:
        """The text of a glyph on paper: by the PDF, else by the font program; empty where neither tells."""
        return glyph.text or (self._own_text(glyph.code) if self._own_text is not None else "")

    def decode(self, data: bytes) -> list[Glyph]:
        """The glyphs that showing `data` would paint, in order."""
        known, look_up = self._known, self._look_up
        codes: Iterable[bytes | int] = data if self._cmap is None else self._cmap.cut(data)
        return [known.get(code) or look_up(code) for code in codes]

    def _look_up(self, code: bytes | int) -> Glyph:
        glyph = self._known[code] = self._glyph(code if isinstance(code, bytes) else bytes([code]))
        return glyph


class FontReader:
    """Reads each font of a document once."""

    def __init__(self) -> None:
        self._read: dict[str, FontMetrics] = {}
        self._by_name: dict[str, list[ShownGlyphs]] = {}

    def read(self, font: object) -> FontMetrics:
        """The metrics of a font dictionary; defaults where `font` is none."""
        key = fingerprint(font)
        metrics = self._read.get(key)
        if metrics is None:
            metrics = self._read[key] = _read_font(font)
            self._by_name.setdefault(_key(metrics.facts), []).append(metrics.shown)
        return metrics

    def as_shown(self, font: Font) -> Font:
        """A font's facts, with what is known by now from its glyphs that text on paper shows."""
        shown = self._by_name.get(_key(font), [])
        return replace(
            font,
            missing_glyphs=sum(len(each.missing) for each in shown),
            widths_differ=any(each.widths_differ for each in shown),
            bitmap=any(each.bitmap for each in shown),
            damaged=any(each.damaged for each in shown),
            unread=next((each.unread for each in shown if each.unread), ""),
        )


def _key(font: Font) -> str:
    return font.object or font.name


def _read_font(font: object) -> FontMetrics:
    match name(entry(font, "/Subtype")):
        case "Type0":
            return _composite(font)
        case "Type3":
            return _type3(font)
        case _:
            return _simple(font)


def _simple(font: object) -> FontMetrics:
    descriptor = entry(font, "/FontDescriptor")
    facts = _facts(font, font, descriptor)
    standard = core_font(facts.name)
    widths = _widths(font)
    encoding = _encoding(font, standard)
    mapped = read_unicode_map(font)
    given = entry(font, "/Encoding")
    by_program = facts.embedded and rests_on_program(given)
    named = named_texts(read_encoding(given, {}) if by_program else encoding)
    blanks, texts = blank_codes(font, mapped), named | mapped
    shown = _shown(facts, font, font, blanks)
    missing = number(entry(descriptor, "/MissingWidth"))
    # Without any widths, which only the standard fonts may leave out, there is nothing to go by.
    otherwise = _GUESSED_WIDTH_EM if missing is None and not widths else (missing or 0.0) / 1000

    def glyph(code: bytes) -> Glyph:
        value = code[0]
        width = widths.get(value)
        if width is None and standard is not None and not widths:
            width = standard.widths.get(encoding.get(value, ""))
        return Glyph(
            value,
            otherwise if width is None else width,
            value,
            is_word_space=value == 32,
            is_blank=value in blanks,
            text=texts.get(value, ""),
        )

    # Readers that have no program of a standard font's use its own extents, whatever the descriptor says.
    fallback = standard if facts.program is None else None
    ascent, descent = _extents(descriptor, fallback)
    return FontMetrics(
        facts=facts,
        ascent_em=ascent,
        descent_em=descent,
        shown=shown,
        _own_text=_OwnText(shown, standard=not _is_symbolic(descriptor)).of if by_program else None,
        _glyph=glyph,
    )


class _OwnText:
    """The text of codes by the encoding of the font program, read once for each code.

    standard: StandardEncoding stands in for a program that cannot be read.
    """

    def __init__(self, shown: ShownGlyphs, *, standard: bool) -> None:
        self._shown = shown
        self._standard = standard
        self._known: dict[int, str] = {}

    def of(self, code: int) -> str:
        meaning = self._known.get(code)
        if meaning is None:
            meaning = self._shown.meaning(code)
            if meaning is None:
                meaning = text_of_name(STANDARD.get(code, "")) if self._standard else ""
            self._known[code] = meaning
        return meaning


def _is_symbolic(descriptor: object) -> bool:
    return bool((whole(entry(descriptor, "/Flags")) or 0) & _SYMBOLIC)


def _shown(facts: Font, font: object, descendant: object, blanks: frozenset[int]) -> ShownGlyphs:
    return ShownGlyphs(partial(open_font, font, descendant) if facts.embedded else None, blanks)


def _encoding(font: object, standard: CoreFont | None) -> Encoding:
    built_in = standard.encoding if standard is not None and standard.encoding is not None else STANDARD
    return read_encoding(entry(font, "/Encoding"), built_in)


def _composite(font: object) -> FontMetrics:
    descendant = item(entry(font, "/DescendantFonts"), 0)
    descriptor = entry(descendant, "/FontDescriptor")
    cmap = read_cmap(entry(font, "/Encoding"))
    widths: CidWidths = read_cid_widths(descendant)
    one_byte_space = any(space.holds(b" ") for space in cmap.spaces)

    texts = read_unicode_map(font)
    blanks = blank_codes(font, texts) | cmap.blanks

    def glyph(code: bytes) -> Glyph:
        value, cid = int.from_bytes(code), cmap.cid(code)
        advance, origin = widths.vertical(cid)
        width = widths.given(cid)
        if width is None:
            width = _GUESSED_WIDTH_EM if cmap.is_half_width(code) else widths.default_width
        return Glyph(
            value,
            width,
            None if cmap.predefined is not None else cid,
            is_word_space=one_byte_space and code == b" ",
            advance_em=advance,
            origin_em=origin,
            is_blank=value in blanks,
            text=texts.get(value) or cmap.text(code),
        )

    ascent, descent = _extents(descriptor, None)
    facts = _facts(font, descendant, descriptor)
    return FontMetrics(
        facts=facts,
        ascent_em=ascent,
        descent_em=descent,
        shown=_shown(facts, font, descendant, blanks),
        vertical=cmap.vertical,
        _cmap=cmap,
        _glyph=glyph,
    )


def _type3(font: object) -> FontMetrics:
    given = numbers(entry(font, "/FontMatrix"), 6)
    a, b, c, d, e, f = given or _GLYPH_SPACE
    widths = {code: 1000 * width * a for code, width in _widths(font).items()}
    streams = entry(font, "/CharProcs")
    procedures = {}
    encoding = read_encoding(entry(font, "/Encoding"), {})
    for code, glyph_name in encoding.items():
        procedure = entry(streams, f"/{glyph_name}")
        if isinstance(procedure, pikepdf.Stream):
            procedures[code] = procedure
    resources = entry(font, "/Resources")
    type3 = Type3(
        (a, b, c, d, e, f), procedures, resources if isinstance(resources, pikepdf.Dictionary) else None
    )
    facts = Font(
        name=_name(font, None, entry(font, "/FontDescriptor")) or "Type 3",
        type="Type3",
        program="CharProcs" if isinstance(streams, pikepdf.Dictionary) else None,
        subset=False,
        object=identity(font),
    )
    box = numbers(entry(font, "/FontBBox"), 4) or (0.0, 0.0, 0.0, 0.0)
    bottom, top = sorted((box[1] * d, box[3] * d))
    if not 0 < top - bottom < _LONGEST_EXTENT_EM:
        bottom, top = _DEFAULT_DESCENT_EM, _DEFAULT_ASCENT_EM

    mapped = read_unicode_map(font)
    blanks, texts = blank_codes(font, mapped), named_texts(encoding) | mapped

    def glyph(code: bytes) -> Glyph:
        value = code[0]
        return Glyph(
            value,
            widths.get(value, 0.0),
            is_word_space=value == 32,
            is_blank=value in blanks,
            text=texts.get(value, ""),
        )

    return FontMetrics(
        facts=facts,
        ascent_em=top,
        descent_em=bottom,
        shown=ShownGlyphs(None, blanks),
        type3=type3,
        _glyph=glyph,
    )


def _widths(font: object) -> dict[int, float]:
    """Widths by code in em (Type 3: thousandths of its glyph space); what is no number is left out."""
    first = whole(entry(font, "/FirstChar")) or 0
    numbered = enumerate(items(entry(font, "/Widths"), 256), first)
    widths = ((code, number(value)) for code, value in numbered)
    return {code: width / 1000 for code, width in widths if width is not None and 0 <= code <= 255}


def _extents(descriptor: object, standard: CoreFont | None) -> tuple[float, float]:
    """Ascent and descent in em. Their signs are ignored, since producers get them wrong."""
    if standard is not None:
        return standard.ascent_em, standard.descent_em
    ascent = abs(number(entry(descriptor, "/Ascent")) or 0.0) / 1000
    descent = abs(number(entry(descriptor, "/Descent")) or 0.0) / 1000
    return (
        ascent if 0 < ascent < _LONGEST_EXTENT_EM else _DEFAULT_ASCENT_EM,
        -descent if 0 < descent < _LONGEST_EXTENT_EM else _DEFAULT_DESCENT_EM,
    )


def _facts(font: object, descendant: object, descriptor: object) -> Font:
    font_name = _name(font, descendant, descriptor) or "unnamed"
    return Font(
        name=font_name,
        type=name(entry(descendant, "/Subtype")) or name(entry(font, "/Subtype")) or "unknown",
        program=_program(descriptor),
        subset=_SUBSET.match(font_name) is not None,
        object=identity(font),
    )


def _name(font: object, descendant: object, descriptor: object) -> str | None:
    candidates = (
        entry(font, "/BaseFont"), entry(descendant, "/BaseFont"),
        entry(descriptor, "/FontName"), entry(font, "/Name"),
    )  # fmt: skip
    # Some producers write the name as a string; it is as good for people.
    return next((words for each in candidates if (words := name(each) or text(each))), None)


def _program(descriptor: object) -> str | None:
    """How the font's program is embedded; None where it is not, or where its stream is empty (9.9)."""
    for key in ("/FontFile", "/FontFile2", "/FontFile3"):
        stream = entry(descriptor, key)
        if isinstance(stream, pikepdf.Stream) and whole(entry(stream, "/Length")) != 0:
            return key[1:] if key != "/FontFile3" else name(entry(stream, "/Subtype")) or "FontFile3"
    return None
