"""Reports that `check` leaves in a folder of somebody's choice; never over anything that is there."""

from itertools import count
from pathlib import Path
from typing import Final

from hotfolder.children.result_files import REPORT_HTML, REPORT_JSON
from hotfolder.delivery.names import LONGEST_NAME_BYTES, numbered
from hotfolder.delivery.sidecars import read_report
from hotfolder.errors import StorageError
from hotfolder.store.lay import lay_text
from hotfolder.store.moves import remove, status_of

_ENDINGS: Final = ((REPORT_HTML, ".html"), (REPORT_JSON, ".json"))
_ROOM_BYTES: Final = LONGEST_NAME_BYTES - len(".report (9999).html")


def lay_reports(folder: Path, name: str, child_folder: Path) -> tuple[Path, ...]:
    """Lay what a child left in `child_folder` on the file `name` into `folder`; the paths, the page first.

    `flyer.pdf.report.html` and `.json`; where one of them is there, both get a number:
    `flyer.pdf.report (2).html`. StorageError where the system refuses.
    """
    texts = [
        (ending, read_report(child_folder / source).decode("utf-8"))
        for source, ending in _ENDINGS
        if status_of(child_folder / source) is not None
    ]
    stem = numbered(name, 1, _ROOM_BYTES)
    for number in count(1):
        more = "" if number == 1 else f" ({number})"
        paths = [folder / f"{stem}.report{more}{ending}" for ending, _ in texts]
        if any(status_of(path) is not None for path in paths):
            continue
        laid: list[Path] = []
        for path, (_, text) in zip(paths, texts, strict=True):
            if not lay_text(path, text):  # taken meanwhile
                break
            laid.append(path)
        else:
            return tuple(laid)
        for path in laid:
            remove(path)
    raise StorageError(f"no name is free for a report in '{folder}'")  # the numbers do not end
