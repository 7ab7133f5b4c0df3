"""The studio of the demonstration: its file, two rule sets of its own, its folders. All invented."""

import contextlib
from pathlib import Path
from typing import Final

from hotfolder.commands.init import init_studio
from hotfolder.config.studio import STUDIO_FILE, Studio
from hotfolder.demo.artwork.pieces import BANNERS, CARDS, COPIES, OFFSET
from hotfolder.errors import UsageError
from hotfolder.store.lay import lay_folder, lay_text
from hotfolder.store.refusals import refusals

FOLDER: Final = "hotfolder-demo"
_MOST_TRIED: Final = 1000

_STUDIO: Final = f"""\
# The studio of the demonstration: a small theatre festival and its three printers, all invented.
# 'hotfolder init' lays a file that explains every setting; this one holds only what differs.

[studio]
name = "Lampfall, nine nights of small theatre"

# Much quicker than a studio needs, so that nobody waits for the demonstration.
[timing]
scan = "200 ms"
quiet = "700 ms"
unfinished = "3 s"

[notices]
desktop = true
gather = "4 s"

[printers.{OFFSET}]
title = "Gullwick Offset"
rules = "flyer-offset-coated"

[printers.{OFFSET}.products.{CARDS}]
rules = "business-card"

[printers.{COPIES}]
title = "Marrowby Copy House"
rules = "marrowby-leaflets"  # rules/marrowby-leaflets.toml, beside this file

[printers.{BANNERS}]
title = "Broadsail Banners"
rules = "broadsail-posters"
reports = "folder"  # this printer's machine eats every file in the outbox
"""

_OWN_RULES: Final = {
    "marrowby-leaflets": """\
title = "Marrowby Copy House, leaflets"
source = "their price list, and a call (both invented)"
checked = 2026-09-01
extends = "digital-short-run"

[trim-size]
sizes = ["DL", "A5"]

[page-count]
pages = [2]

[output-intent]
ask = true  # the price list does not say: not judged, and listed as a question for the printer
""",
    "broadsail-posters": """\
title = "Broadsail Banners, posters"
source = "their upload page (invented)"
checked = 2026-09-01
extends = "large-format-outdoor"

[trim-size]
sizes = ["A2", "A1", "A0"]

[bleed]
ask = false  # the shipped set leaves it open; this printer says it
wanted = "5 mm"
""",
}


def demo_folder(wanted: Path | None) -> Path:
    """The empty folder for the demonstration, made where it is missing: `wanted`, or a new one here.

    UsageError where `wanted` is not empty: nothing of anybody's is overwritten. StorageError where
    the system refuses.
    """
    if wanted is None:
        return _new_folder_here()
    folder = wanted.absolute()
    with refusals("looking into", folder):
        if not lay_folder(folder) and any(folder.iterdir()):
            raise UsageError(f"'{wanted}' is not empty; name a new folder: nothing there is overwritten")
    return folder


def _new_folder_here() -> Path:
    for number in range(1, _MOST_TRIED):
        folder = Path.cwd() / (FOLDER if number == 1 else f"{FOLDER}-{number}")
        with refusals("making", folder), contextlib.suppress(FileExistsError):
            folder.mkdir()
            return folder
    raise UsageError(f"{_MOST_TRIED} folders called '{FOLDER}' are here already; name another one")


def lay_demo_studio(folder: Path) -> Studio:
    """Lay the studio into the empty `folder`."""
    lay_text(folder / STUDIO_FILE, _STUDIO)
    lay_folder(folder / "rules")
    for name, text in _OWN_RULES.items():
        lay_text(folder / "rules" / f"{name}.toml", text)
    return init_studio(folder, ()).studio
