"""What a PDF says as a whole: fonts, layers, output intents, its PDF/X level."""

from dataclasses import dataclass
from typing import Final

from hotfolder.model.facts import Unmeasured
from hotfolder.model.inventory.inventory import Inventory

NO_INVENTORY: Final = Unmeasured("inventory", "the file could not be opened")


@dataclass(frozen=True, slots=True)
class Font:
    """A font that a painted run of text uses.

    name: as in the file, subset prefix included. type: the font dictionary's Subtype, for a
    composite font that of its descendant (`CIDFontType0`, `CIDFontType2`).
    program: how its program is embedded (`FontFile`, `FontFile2`, `Type1C`, `CIDFontType0C`,
        `OpenType`; `CharProcs` for Type 3); None where it is not.
    printed: at least one visible, printed run uses it.

    The rest is known of embedded fonts only, from the glyphs that come on paper:
    missing_glyphs: how many codes have no glyph in the program; spaces do not count.
    widths_differ: for one of them at least the file gives another width than the program does (by more
        than a hundredth of the em).
    bitmap: one of them at least is a picture (Type 3).
    damaged: what the file brings as its program is none (other data, or data that cannot be unpacked), is cut
    short, or makes no sense where text on paper uses it.
    unread: why the program, or a part of it, could not be read; what is said above may then fall short.
    """

    name: str
    type: str
    program: str | None
    subset: bool
    object: str | None
    printed: bool = True
    missing_glyphs: int = 0
    widths_differ: bool = False
    bitmap: bool = False
    unread: str = ""
    damaged: bool = False

    @property
    def embedded(self) -> bool:
        """Whether the file brings the font's program."""
        return self.program is not None

    @property
    def type3(self) -> bool:
        """Whether its glyphs are drawings in the file itself, and no font program (ISO 32000-2, 9.6.4)."""
        return self.type == "Type3"


@dataclass(frozen=True, slots=True)
class OutputIntent:
    """An output intent (ISO 32000-2, 14.11.5). profile_space: `CMYK`, `RGB`, `GRAY`; None without profile."""

    subtype: str
    identifier: str | None
    condition: str | None
    registry: str | None
    info: str | None
    profile_name: str | None
    profile_space: str | None
    profile_class: str | None


@dataclass(frozen=True, slots=True)
class PdfxClaim:
    """What the file says about its PDF/X level; nothing here proves that it keeps it.

    level: as written, e.g. `PDF/X-4`, `PDF/X-1:2001`. conformance: Info's
    GTS_PDFXConformance. origin: `XMP` or `Info`. other: the level in the other place, where
    both have one.
    """

    level: str
    conformance: str | None
    origin: str
    other: str | None = None

    @property
    def name(self) -> str:
        """The level by which the trade knows it.

        The level decides. ISO 15930-1 alone has a conformance beside it, which tells X-1a:2001 from
        X-1:2001; in any other file it is left over from a former life and says nothing.
        """
        conforms = (self.level, self.conformance) == ("PDF/X-1:2001", "PDF/X-1a:2001")
        return "PDF/X-1a:2001" if conforms else self.level


@dataclass(frozen=True, slots=True)
class Layer:
    """An optional content group in the default configuration.

    step: the step of processing that it is for, by ISO 19593-1 (`Structural, Cutting`; `Varnish`); empty
    for a layer of the artwork itself.
    """

    name: str
    on_screen: bool
    on_paper: bool
    step: str = ""


@dataclass(frozen=True, slots=True)
class Encryption:
    """How a PDF is encrypted. opened: it could be read with a blank password."""

    opened: bool
    method: str
    printing_allowed: bool | None


@dataclass(frozen=True, slots=True)
class PdfFacts:
    """What a PDF says as a whole.

    version: the higher of header and catalog. trapped: `True`, `False`, `Unknown` or None.
    transparency is told by marks; form_fields counts terminal fields; scripts, attachments and
    xfa tell whether there are any. created, modified: dates as they are written; None where there are none.
    object_streams: objects, or the table of contents, are kept in streams (ISO 32000-2, 7.5.7 and 7.5.8).
    inventory: `Unmeasured` where the file does not open, or something in it broke the reading of it.
    """

    version: str
    encryption: Encryption | None
    pdfx: PdfxClaim | None
    output_intents: tuple[OutputIntent, ...]
    title: str | None
    producer: str | None
    creator: str | None
    trapped: str | None
    has_id: bool
    layers: tuple[Layer, ...] = ()
    form_fields: int = 0
    scripts: int = 0
    attachments: int = 0
    xfa: bool = False
    created: str | None = None
    modified: str | None = None
    object_streams: bool = False
    inventory: Inventory | Unmeasured = NO_INVENTORY
