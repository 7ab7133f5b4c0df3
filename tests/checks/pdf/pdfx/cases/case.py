"""A file that breaks one requirement of a level and keeps all others."""

from collections.abc import Callable
from dataclasses import dataclass

import pikepdf

from hotfolder.checks.shared.pdfx_levels import ALL, Level
from tests.checks.pdf.pdfx.bases import base, saved


def _untouched(data: bytes) -> bytes:
    return data


@dataclass(frozen=True, slots=True)
class Case:
    """One way to break a requirement.

    breaks: the requirement's id. name: what is done, in a few words. edit: does it to a file that keeps the
    level. levels: those that it breaks. also: other requirements that break with it by necessity, each with
    its reason in the comment beside. afterwards: does the rest to the bytes.
    """

    breaks: str
    name: str
    edit: Callable[[pikepdf.Pdf], None]
    levels: frozenset[Level] = ALL
    also: frozenset[str] = frozenset()
    afterwards: Callable[[bytes], bytes] = _untouched

    def file(self, level: Level) -> bytes:
        """The bytes of the file for `level`."""
        pdf = base(level)
        self.edit(pdf)
        return self.afterwards(saved(pdf, level))
