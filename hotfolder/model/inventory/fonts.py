"""How the fonts that pages use are put down: entries, programs and maps (ISO 32000-2, 9.6 to 9.9)."""

from dataclasses import dataclass
from enum import StrEnum


class ProgramKind(StrEnum):
    """What a font program is, by its first bytes."""

    TYPE1 = "Type 1"
    CFF = "CFF"
    TRUETYPE = "TrueType"
    OPENTYPE_CFF = "OpenType with CFF"
    UNKNOWN = "unknown"


@dataclass(frozen=True, slots=True)
class FontEntries:
    """A font as it is written.

    name, object: as in `Font`. subtype: of the font dictionary, for a composite font of its descendant.
    composite: it is a Type 0 font. file: the entry that holds its program (`FontFile`, `FontFile2`,
    `FontFile3`); empty without a program. file_subtype: what FontFile3 says of it. kind: what the program is.
    cmap: the name of a composite font's predefined CMap; empty for an embedded one, and None where neither
    is there. cid_map: a map from CIDs to glyphs is there, the name `Identity` included. cid_map_name: that
    name, or any other that stands there. licence: the bits of the program's own licence to embed it
    (OpenType, OS/2, fsType); None where it has none. pages: those whose content chooses it, by number.
    blank_pages: those of them on which a string of blanks alone is set in it.
    """

    name: str
    object: str | None
    subtype: str
    composite: bool = False
    file: str = ""
    file_subtype: str = ""
    kind: ProgramKind | None = None
    cmap: str | None = None
    cid_map: bool = False
    cid_map_name: str = ""
    licence: int | None = None
    pages: frozenset[int] = frozenset()
    blank_pages: frozenset[int] = frozenset()
