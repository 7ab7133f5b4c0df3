"""Inventories for files that are made up: each that of a real file which keeps a level of PDF/X."""

import tempfile
from functools import cache
from pathlib import Path

from hotfolder.checks.shared.pdfx_levels import Level
from hotfolder.model.inventory.inventory import Inventory
from tests.checks.pdf.pdfx.bases import base, saved
from tests.checks.pdf.pdfx.judged import measured


@cache
def inventory_of(level: Level) -> Inventory:
    """The inventory of a file that keeps `level`."""
    with tempfile.TemporaryDirectory() as folder:
        artwork = measured(saved(base(level), level), Path(folder))
    assert artwork.pdf is not None
    assert isinstance(artwork.pdf.inventory, Inventory)
    return artwork.pdf.inventory
