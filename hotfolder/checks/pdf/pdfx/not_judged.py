"""What the standards may ask and is not judged here, so that nobody takes silence for a pass."""

from typing import Final

from hotfolder.checks.pdf.pdfx.requirement import JudgedExtent, Requirement
from hotfolder.checks.shared.pdfx_levels import ALL

NOT_JUDGED: Final = (
    Requirement(
        id="black-generation",
        wants="may take no black generation and no undercolour removal (BG, BG2, UCR, UCR2)",
        levels=ALL,
        unconfirmed=ALL,
        why="They say how a device makes inks of screen colours, which is settled by the output profile.",
        remedy="Export again without them, with colours converted by the printer's profile.",
        source="ISO 32000-1, 8.4.5, for the entries; no source within reach says whether a level bars them",
        judge=None,
        extent=JudgedExtent.NONE,
        limits="Nothing public says which levels bar them.",
    ),
    Requirement(
        id="limits-of-readers",
        wants="builds on a version of PDF whose readers have limits, as of the length of names",
        levels=ALL,
        unconfirmed=ALL,
        why="Older programs may refuse such a file.",
        remedy="Export again with another program.",
        source="ISO 32000-1, annex C.2; that PDF/X asks for them is not known",
        judge=None,
        extent=JudgedExtent.NONE,
        limits="They are limits of programs of that time, not of the format; page sizes alone are judged.",
    ),
)
