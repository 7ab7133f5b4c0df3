"""Whether a studio's folders can do their work: apart from each other, and one rename from inbox to work.

Two names may be one folder: by a symbolic link, a mount, a bind mount, or a file system that
ignores case. So folders are compared as the system knows them (device and inode), never by
their paths, and whether a claim can be a rename is tried, never concluded: bind mounts of one
device share its number, and a rename between them is refused all the same.
"""

from collections.abc import Iterator
from pathlib import Path

from hotfolder.config.studio import MARKER, Printer, Studio
from hotfolder.errors import ConfigError, ConfigTrouble, StorageError
from hotfolder.store.moves import reaches_by_rename, status_of
from hotfolder.store.refusals import why
from hotfolder.wording.shown import shown_name

Identity = tuple[int, int]  # device and inode


def check_layout(studio: Studio) -> tuple[str, ...]:
    """See that the folders that are there can do their work; ConfigError tells every mistake.

    A folder that is missing, or an inbox without its marker, may be a share that is not mounted: it is
    passed over, and to be looked at again when it comes back. So is a printer whose folders the system
    refuses to let us try: a sentence about each is returned, and the others go on.
    """
    refused: list[str] = []
    troubles = (*_entangled(studio, refused), *_not_claimable(studio, refused))
    if troubles:
        raise ConfigError(troubles)
    return tuple(refused)


def inboxes_of(printer: Printer) -> tuple[Path, ...]:
    """The printer's inbox and those of its products."""
    return (printer.inbox, *(printer.inbox_of(product) for product in printer.products))


def _entangled(studio: Studio, refused: list[str]) -> Iterator[ConfigTrouble]:
    """Inboxes that are another folder of the studio, hold one, or lie in one."""
    folders = {}
    for path in _all_folders(studio):
        try:
            if path.is_dir():
                folders[path] = _lineage(path)
        except OSError as error:
            refused.append(f"'{shown_name(str(path))}' cannot be looked at: {why(error, path)}")
    for printer in studio.printers:
        own = set(inboxes_of(printer))
        for inbox in own & folders.keys():
            # A product's inbox lies in its printer's, and every inbox lies in its printer's folder.
            expected = own | {printer.folder, studio.root}
            for other in folders.keys() - {inbox}:
                said = _relation(folders[inbox], folders[other], nested_is_fine=other in expected)
                if said is not None:
                    problem = f"the inbox {inbox} {said} the folder {other}"
                    remedy = "Files would be taken again and again: give each a folder of its own."
                    yield studio.written.trouble(("printers", printer.name), problem, remedy)


def _all_folders(studio: Studio) -> Iterator[Path]:
    yield from (studio.root, studio.audit, studio.hidden, studio.state)
    for printer in studio.printers:
        yield from (printer.folder, printer.outbox, printer.needs_fixing, printer.work)
        yield from inboxes_of(printer)


def _lineage(path: Path) -> tuple[Identity, ...]:
    """The folder itself and all that it lies in, as the system knows them, links resolved."""
    real = path.resolve()
    return tuple(_identity(folder) for folder in (real, *real.parents))


def _identity(path: Path) -> Identity:
    status = path.stat()
    return status.st_dev, status.st_ino


def _relation(
    inbox: tuple[Identity, ...], other: tuple[Identity, ...], *, nested_is_fine: bool
) -> str | None:
    """What an inbox has to do with another folder that it should not; None where they are apart."""
    if inbox[0] == other[0]:
        return "is the same as"
    if nested_is_fine:
        return None
    if other[0] in inbox:
        return "lies in"
    if inbox[0] in other:
        return "contains"
    return None


def _not_claimable(studio: Studio, refused: list[str]) -> Iterator[ConfigTrouble]:
    """Inboxes from which a claim cannot be one rename."""
    for printer in studio.printers:
        for inbox in inboxes_of(printer):
            try:
                here = status_of(inbox / MARKER) is not None and status_of(printer.work) is not None
                reaches = not here or reaches_by_rename(inbox, printer.work)
            except StorageError as error:
                refused.append(f"{shown_name(printer.name)}: files cannot be taken now: {error}")
                continue
            if not reaches:
                problem = f"{inbox} and {printer.work} lie on different file systems"
                remedy = f"Mount the share at {printer.folder} or above, so that both lie on it."
                yield studio.written.trouble(("printers", printer.name), problem, remedy)
