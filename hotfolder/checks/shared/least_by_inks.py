"""Figures that depend on how something is printed: in one ink, in several, or left blank in a colour."""

from typing import ClassVar

from hotfolder.checks.shared.marks.ink_count import in_several_inks
from hotfolder.checks.shared.settings import NamedFigures
from hotfolder.model.colour import Colour
from hotfolder.model.marks import Mark
from hotfolder.model.ruleset import LengthSetting
from hotfolder.units import Length

IN_INKS = "-in-inks"
REVERSED = "-reversed"


class LeastByInks(NamedFigures):
    """The least size or width of what is printed in each of these ways.

    Codes that end in `-in-inks` tell of what is in several inks, those in `-reversed` of what is left blank;
    where a rule set names no figure for them, one_ink counts.
    """

    needs: ClassVar[tuple[str, ...]] = ("one_ink",)

    one_ink: LengthSetting = Length.of_mm(0)
    several_inks: LengthSetting | None = None
    reversed: LengthSetting | None = None

    def least(self, code: str) -> Length:
        """The least figure for what `code` tells of."""
        larger = None
        if code.endswith(IN_INKS):
            larger = self.several_inks
        elif code.endswith(REVERSED):
            larger = self.reversed
        return larger or self.one_ink

    def code_of_white(self, mark: Mark, colour: Colour, prefix: str) -> str:
        """The code for a white mark: `thin-reversed` for the prefix `thin`.

        White that lets several inks through is left blank and in several inks: the larger figure counts.
        """
        codes = [prefix + REVERSED]
        if in_several_inks(mark, colour):
            codes.append(prefix + IN_INKS)
        return max(codes, key=lambda code: self.least(code).points)
