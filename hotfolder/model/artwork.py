"""The facts of a piece of artwork: what is in the file, whatever anyone thinks of it.

Everything in this package is frozen, and nothing in it judges. Lengths are points (1/72 in) in the
page's unrotated user space after `UserUnit`; y grows upwards.
"""

from dataclasses import dataclass

from hotfolder.model.colour import PROCESS_INKS, ColourSpace, inks_of
from hotfolder.model.document import Font, PdfFacts
from hotfolder.model.facts import FileFacts, Problem, Unmeasured
from hotfolder.model.marks import MarkKind
from hotfolder.model.pages import Page


@dataclass(frozen=True, slots=True)
class SpaceUse:
    """A colour space and the kinds of marks that are painted in it."""

    space: ColourSpace
    used_by: tuple[MarkKind, ...]


@dataclass(frozen=True, slots=True)
class Artwork:
    """All facts of one file.

    pages: `Unmeasured` where the file could not be opened. press: the name of the printing condition
    for which its plates were drawn; None where they were drawn for none.
    """

    file: FileFacts
    pages: tuple[Page, ...] | Unmeasured
    fonts: tuple[Font, ...] = ()
    pdf: PdfFacts | None = None
    problems: tuple[Problem, ...] = ()
    press: str | None = None

    @property
    def known_pages(self) -> tuple[Page, ...]:
        """The pages, none where they are unmeasured."""
        return () if isinstance(self.pages, Unmeasured) else self.pages

    def colour_spaces(self) -> tuple[SpaceUse, ...]:
        """The spaces of all marks that are on paper, in the order of their first use."""
        uses: dict[ColourSpace, list[MarkKind]] = {}
        for page in self.known_pages:
            if page.raster is not None and not page.known_marks:
                uses.setdefault(page.raster.colour, []).append(MarkKind.IMAGE)
            for mark in page.known_marks:
                if not mark.on_paper:
                    continue
                for colour in mark.colours():
                    kinds = uses.setdefault(colour.space, [])
                    if mark.kind not in kinds:
                        kinds.append(mark.kind)
        return tuple(SpaceUse(space, tuple(kinds)) for space, kinds in uses.items())

    def inks(self) -> tuple[str, ...]:
        """Names of the inks that the marks ask for: process inks of CMYK and grey spaces, spot inks by name.

        RGB and Lab colours name no ink: what they become is decided by a press profile.
        """
        names: dict[str, None] = {}
        for use in self.colour_spaces():
            for name in inks_of(use.space):
                names[name] = None
        process = [name for name in PROCESS_INKS if name in names]
        return tuple(process) + tuple(sorted(name for name in names if name not in PROCESS_INKS))
