"""The levels of PDF/X: their names, their standards, and which of them are judged.

Source: ISO 15930-1, -3, -4, -5, -6, -7, -8 and -9 for the levels and their names. The versions of PDF
that they build on stand in their titles: "(PDF/X-1a) using PDF 1.4", "using PDF 1.6" and so on.
"""

from enum import StrEnum
from typing import Final

from hotfolder.wording.nearest import choose


class Level(StrEnum):
    """A level that is judged, by the name that the trade has for it."""

    X1A_2001 = "PDF/X-1a:2001"
    X1A_2003 = "PDF/X-1a:2003"
    X3_2002 = "PDF/X-3:2002"
    X3_2003 = "PDF/X-3:2003"
    X4 = "PDF/X-4"
    X4P = "PDF/X-4p"

    @property
    def standard(self) -> str:
        """The standard that defines the level."""
        return _STANDARDS[self]

    @property
    def base(self) -> tuple[int, int]:
        """The version of PDF that the level builds on."""
        return _BASES[self]


_STANDARDS: Final = {
    Level.X1A_2001: "ISO 15930-1:2001",
    Level.X1A_2003: "ISO 15930-4:2003",
    Level.X3_2002: "ISO 15930-3:2002",
    Level.X3_2003: "ISO 15930-6:2003",
    Level.X4: "ISO 15930-7:2010",
    Level.X4P: "ISO 15930-7:2010",
}
_BASES: Final = {
    Level.X1A_2001: (1, 3),
    Level.X1A_2003: (1, 4),
    Level.X3_2002: (1, 3),
    Level.X3_2003: (1, 4),
    Level.X4: (1, 6),
    Level.X4P: (1, 6),
}

ALL: Final = frozenset(Level)
X1A: Final = frozenset({Level.X1A_2001, Level.X1A_2003})
X3: Final = frozenset({Level.X3_2002, Level.X3_2003})
X4: Final = frozenset({Level.X4, Level.X4P})
ON_PDF_13: Final = frozenset({Level.X1A_2001, Level.X3_2002})

# Levels that are recognised and not judged.
OTHERS: Final = (
    "PDF/X-2:2003", "PDF/X-5g", "PDF/X-5pg", "PDF/X-5n", "PDF/X-6", "PDF/X-6p", "PDF/X-6n",
)  # fmt: skip
LEVELS: Final = (*(str(level) for level in Level), *OTHERS)

# Levels whose output profile lies outside of the file, by definition.
OUTSIDE_PROFILE: Final = frozenset({"PDF/X-4p", "PDF/X-5pg", "PDF/X-6p", "PDF/X-6n", "PDF/X-5n"})

# ISO 15930-1 writes the level of an X-1a:2001 file as PDF/X-1:2001, with the conformance entry beside it.
WRITTEN_2001: Final = "PDF/X-1:2001"


def level_name(level: str) -> str:
    """The name by which the trade knows a level as files write it."""
    return Level.X1A_2001 if level == WRITTEN_2001 else level


def is_level(level: str) -> bool:
    """Whether there is a level that files write as `level`."""
    return level_name(level) in LEVELS


def level_called(words: str) -> Level:
    """The level that people mean by such words as `X-4` or `pdf/x-1a:2001`. ValueError where it is none."""
    plain = words.strip().upper().removeprefix("PDF/")
    for level in Level:
        if level.upper().removeprefix("PDF/") == plain:
            return level
    if any(name.upper().removeprefix("PDF/") == plain for name in OTHERS):
        raise ValueError(f"PDF/{plain} is recognised and not judged; judged are {', '.join(Level)}")
    raise ValueError(f"there is no PDF/X level '{words}' here. {choose(words, Level)}")


def judged_level(name: str) -> Level | None:
    """The level of that name, where it is one that is judged."""
    return next((level for level in Level if level == name), None)
