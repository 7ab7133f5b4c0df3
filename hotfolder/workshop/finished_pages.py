"""Hands the inks of pages from the process that draws them to the one that waits for it, page by page.

What ends the drawing of a page then takes nothing from those before it.
"""

import contextlib
import pickle
import tempfile
from collections.abc import Iterator
from dataclasses import replace
from pathlib import Path
from typing import Final

from hotfolder.model.artwork import Artwork
from hotfolder.model.facts import Unmeasured
from hotfolder.model.inks import PageInk
from hotfolder.model.marks import Mark
from hotfolder.model.pages import Page

# What a record that breaks off, or a file that may not grow any further, makes `pickle` raise.
_BROKEN_OFF: Final = (EOFError, OSError, ValueError, pickle.PickleError)

# The number of a page, its ink, and those of its marks that its plates told more of, by their order.
_Record = tuple[int, PageInk | Unmeasured, dict[int, Mark]]


class FinishedPages:
    """A file without a name, in `folder`, that a forked process writes and this one reads.

    artwork: as it is before its pages are drawn, in both of them.
    """

    def __init__(self, artwork: Artwork, folder: Path) -> None:
        self._artwork = artwork
        self._before = {page.number: page for page in artwork.known_pages}
        self._file = tempfile.TemporaryFile(dir=folder)  # noqa: SIM115 - closed by `close`

    def close(self) -> None:
        """Gives up the file."""
        self._file.close()

    def add(self, page: Page) -> None:
        """Hands over a page with its ink, or with the reason why it has none.

        One that finds no room is not handed over.
        """
        before = self._before[page.number].marks
        changed: dict[int, Mark] = {}
        if not isinstance(page.marks, Unmeasured) and not isinstance(before, Unmeasured):
            pairs = zip(before, page.marks, strict=True)
            changed = {order: mark for order, (old, mark) in enumerate(pairs) if mark is not old}
        record: _Record = (page.number, page.ink, changed)
        with contextlib.suppress(OSError):
            pickle.dump(record, self._file, pickle.HIGHEST_PROTOCOL)
            self._file.flush()

    def taken_over(self) -> Artwork:
        """The artwork with all that was handed over."""
        if isinstance(self._artwork.pages, Unmeasured):
            return self._artwork
        pages = dict(self._before)
        for number, ink, changed in self._records():
            page = pages[number]
            if changed and not isinstance(page.marks, Unmeasured):
                marks = tuple(changed.get(order, mark) for order, mark in enumerate(page.marks))
                page = replace(page, marks=marks)
            pages[number] = replace(page, ink=ink)
        return replace(self._artwork, pages=tuple(pages.values()))

    def _records(self) -> Iterator[_Record]:
        """What is whole in the file."""
        self._file.seek(0)
        with contextlib.suppress(*_BROKEN_OFF):
            while True:
                yield pickle.load(self._file)  # noqa: S301 - written by this program, with the same rights
