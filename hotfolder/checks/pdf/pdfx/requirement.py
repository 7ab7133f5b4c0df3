"""What a requirement of PDF/X is, and what judging one says."""

from collections.abc import Callable, Iterator
from dataclasses import dataclass
from enum import StrEnum
from typing import TypeAlias

from hotfolder.checks.shared.pdfx_levels import Level
from hotfolder.model.artwork import Artwork
from hotfolder.model.geometry import Box
from hotfolder.model.inventory.inventory import Inventory
from hotfolder.model.pages import Page


class JudgedExtent(StrEnum):
    """How far a requirement is judged."""

    FULL = "in full"
    PART = "in part"
    NONE = "not at all"


@dataclass(frozen=True, slots=True)
class Subject:
    """The file that is judged: what is measured of it, and the inventory of what it is made of."""

    artwork: Artwork
    inventory: Inventory

    @property
    def pages(self) -> tuple[Page, ...]:
        """The pages, in order."""
        return self.artwork.known_pages


@dataclass(frozen=True, slots=True)
class Breach:
    """Something that breaks a requirement.

    what: half a sentence that names the thing with its measured figure or name, beginning in lower case:
    `the trim box reaches 2.1 mm beyond the media box`. page: None where it is the file as a whole. boxes:
    where on the page, in points; none where only the page is known.
    """

    what: str
    page: Page | None = None
    boxes: tuple[Box, ...] = ()


@dataclass(frozen=True, slots=True)
class NotJudged:
    """A reason why a requirement cannot be judged in this file; never a pass."""

    reason: str
    page: Page | None = None


Judging: TypeAlias = Callable[[Subject, Level], Iterator[Breach | NotJudged]]


@dataclass(frozen=True, slots=True)
class Requirement:
    """One requirement.

    id: the finding's code, for good. wants: what is asked, as it goes on after the name of a level: `wants a
    trim box or an art box on each page, not both`. levels: those that ask it. unconfirmed: those of them of
    which that is from memory, or could not be confirmed by a second source: breaking it is advice there. why:
    one sentence or two on what goes wrong on paper, or with the printer. remedy: how to put it right in any
    design program. source: what is known about it, by published source. clause: only where a public source
    states it, `ISO 15930-7, 6.17`. extent, limits: how far it is judged, and what is not and why. of_content:
    it is judged by what pages are made of, and is open where a page could not be read. told_by: findings of
    other rules (`rule.code`) that say all of it. judge: None where it is not judged at all.
    """

    id: str
    wants: str
    levels: frozenset[Level]
    why: str
    remedy: str
    source: str
    judge: Judging | None
    unconfirmed: frozenset[Level] = frozenset()
    clause: str = ""
    extent: JudgedExtent = JudgedExtent.FULL
    limits: str = ""
    of_content: bool = False
    told_by: frozenset[str] = frozenset()

    def standard_of(self, level: Level) -> str:
        """The standard that asks for it at a level, and the clause where that is known of this standard."""
        part, _, _ = self.clause.partition(",")
        return self.clause if part and level.standard.startswith(f"{part}:") else level.standard
