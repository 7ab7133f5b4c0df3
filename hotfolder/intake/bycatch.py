"""Names in an inbox that are no artwork: they are left where they are.

Two kinds: what systems lay beside files (thumbnails, resource forks, folder settings), and names
that programs use while a file is still being written. A suffix alone decides nothing: a resource
fork of `flyer.pdf` is called `._flyer.pdf`. All comparing is without regard to case.
"""

import re
from typing import Final

_EXACT: Final = {
    "thumbs.db": "a thumbnail cache",
    "ehthumbs.db": "a thumbnail cache",
    "desktop.ini": "folder settings",
    "icon\r": "a folder icon",
    "@eadir": "a storage server's index",
    "#recycle": "a storage server's waste bin",
    "$recycle.bin": "a waste bin",
    "system volume information": "a system folder",
    "lost+found": "a file system's own folder",
    "network trash folder": "a waste bin",
    "temporary items": "a system folder",
    "theft prevention": "a system folder",
}

# Suffixes of files in transfer or in the making: browsers, copying programs, sync clients, editors.
_UNFINISHED: Final = (
    ".part", ".partial", ".filepart", ".crdownload", ".download", ".opdownload", ".tmp", ".temp",
    ".swp", ".swx", ".lock", ".lck", ".idlk", ".bak~", ".!ut", ".aria2", ".unfinished", ".writing",
)  # fmt: skip

# `.flyer.pdf.Xa81bZ` (a copying program) is caught by the dot; `sb-1a2b3c4d-Xyz123` is a safe-save copy.
_SAFE_SAVE: Final = re.compile(r".*\.sb-[0-9a-f]{8}-[0-9a-z]{6}", re.IGNORECASE)

JOB_TICKET_SUFFIX: Final = ".job.toml"


def why_left_alone(name: str) -> str | None:
    """Why an entry of this name is no job, in a few words; None where it may be one."""
    lower = name.casefold()
    if lower in _EXACT:
        return _EXACT[lower]
    kinds = (
        (name.startswith("._"), "a resource fork"),
        (name.startswith("."), "a hidden file"),
        (name.startswith("~") or name.endswith("~"), "a program's working copy"),
        (lower.endswith(JOB_TICKET_SUFFIX), "a job ticket, kept for the file it belongs to"),
        (lower.endswith(_UNFINISHED) or bool(_SAFE_SAVE.fullmatch(name)), "a file still being written"),
    )
    return next((why for fits, why in kinds if fits), None)
