"""`hotfolder init`: lays a studio, or adds to one what it lacks; it never alters what is there."""

import shlex
import tomllib
import uuid
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from pathlib import Path
from typing import Final

from hotfolder.commands.studio_text import INBOX_MARKER, OWN_RULES_README, printer_text, studio_text
from hotfolder.config.names import same_name_key
from hotfolder.config.studio import MARKER, STUDIO_FILE, Printer, Studio, load_studio, name_problem
from hotfolder.errors import ShareAwayError, StorageError, UsageError
from hotfolder.rulebook import load_rule_set
from hotfolder.store.delivery_folders import DeliveryFolders
from hotfolder.store.lay import append_text, lay_folder, lay_text
from hotfolder.store.refusals import refusals

# What a studio starts with where nobody names a printer: the set that asks for the least.
FIRST_PRINTER: Final = ("first-printer", "office-pdf")


_AWAY: Final = (
    "left {name} alone: its folders were made before and are gone; if they are on a network share, mount "
    "it; to make them again, first remove {record}"
)


@dataclass(frozen=True, slots=True)
class InitReport:
    """What `init` did. made: folders and files, in order. added: printers new to the studio file.

    kept: sentences about printers that were left as they are although something was asked or missing.
    """

    studio: Studio
    made: tuple[Path, ...]
    added: tuple[str, ...]
    kept: tuple[str, ...]

    def lines(self) -> Iterator[str]:
        """The report as a terminal shows it."""
        root = self.studio.root
        changed = self.made or self.added or self.kept
        yield f"In {root}:" if changed else f"The studio in {root} is complete; nothing had to be added."
        for path in self.made:
            shown = path.relative_to(root) if path.is_relative_to(root) and path != root else path
            yield f"  made {shown}{'/' if path.is_dir() else ''}"
        for name in self.added:
            printer = self.studio.printer(name)
            yield f"  added the printer {name}: its rule set is {printer.rules}"
        yield from (f"  {sentence}" for sentence in self.kept)
        yield f"Start it with: hotfolder run {shlex.quote(str(root))}"


def init_studio(folder: Path, printers: Sequence[tuple[str, str]]) -> InitReport:
    """Lays a studio in `folder` with `printers` (name, rule set), or adds what is missing there.

    Lines of an existing studio file are never altered: printers that it does not have are
    written at its end, a printer that it has stays as it is.

    Raises UsageError for names that will not do, ConfigError where a rule set or the studio
    file is wrong, all before anything is made; StorageError where the system refuses.
    """
    root = folder.absolute()
    known = load_studio(root).printers if (root / STUDIO_FILE).exists() else None
    wanted = tuple(printers) if printers or known is not None else (FIRST_PRINTER,)
    _check_names(wanted)
    fresh, kept = _sorted_out(wanted, known or ())
    fresh = tuple((name, _found_rules(rules, root)) for name, rules in fresh)
    addition = "".join(printer_text(name, rules) for name, rules in fresh)
    if known is not None:
        _check_addition(root / STUDIO_FILE, addition)

    made = [*_lay_root(root)]
    if known is None:
        lay_text(root / STUDIO_FILE, studio_text(root.name, fresh))
        made.append(root / STUDIO_FILE)
    elif fresh:
        append_text(root / STUDIO_FILE, addition)
    studio = load_studio(root)
    made += _lay_studio(studio)
    folders = DeliveryFolders(studio.hidden)
    for printer in studio.printers:
        try:
            if _is_away(studio, printer):
                kept += (_AWAY.format(name=printer.name, record=_record(studio, printer)),)
                continue
            made += _lay_printer(studio, printer)
            laid, shares_away = _lay_delivery_folders(printer, folders)
        except StorageError as error:  # the other printers' folders may lie elsewhere
            kept += (f"not touched: {printer.name}: {error}",)
            continue
        made += laid
        kept += shares_away
    return InitReport(studio, tuple(made), tuple(name for name, _ in fresh), kept)


def _check_names(printers: Sequence[tuple[str, str]]) -> None:
    seen: dict[str, str] = {}
    for name, rules in printers:
        problem = name_problem(name)
        if problem is None and seen.setdefault(same_name_key(name), name) != name:
            problem = f"'{name}' and '{seen[same_name_key(name)]}' are the same folder where case is ignored"
        if problem is None and not rules.isprintable():
            problem = f"the rule set of '{name}' has characters that cannot be written"
        if problem is not None:
            message = f"printer {name!r}: {problem}"
            raise UsageError(message)


def _sorted_out(
    wanted: Sequence[tuple[str, str]], known: Sequence[Printer]
) -> tuple[tuple[tuple[str, str], ...], tuple[str, ...]]:
    """Printers that are new, and a sentence about each that stays as it is although other was asked."""
    present = {same_name_key(printer.name): printer for printer in known}
    fresh: dict[str, str] = {}
    kept: list[str] = []
    for name, rules in wanted:
        printer = present.get(same_name_key(name))
        if printer is None:
            if fresh.setdefault(name, rules) != rules:
                message = f"printer '{name}': two rule sets are given, {fresh[name]} and {rules}"
                raise UsageError(message)
        elif (printer.name, printer.rules) != (name, rules):
            kept.append(
                f"kept the printer {printer.name} with {printer.rules}, as the studio file has it "
                f"(not {name} with {rules}); change it there"
            )
    return tuple(fresh.items()), tuple(kept)


def _found_rules(rules: str, root: Path) -> str:
    """`rules` as the studio file should say it, tried by loading it.

    A path counts from the studio's folder there, but from the working folder in a shell.
    """
    if rules.endswith(".toml") and not (root / rules).exists() and Path(rules).exists():
        rules = str(Path(rules).absolute())
    load_rule_set(rules, root)
    return rules


def _check_addition(file: Path, addition: str) -> None:
    """UsageError where tables at the end of the file would break it: `printers = {...}` in one line does."""
    try:
        tomllib.loads(file.read_text("utf-8-sig") + "\n" + addition)
    except tomllib.TOMLDecodeError:
        message = (
            f"{file}: the printers' tables cannot be written at its end; add them there by hand:\n{addition}"
        )
        raise UsageError(message) from None


def _lay_root(root: Path) -> Iterator[Path]:
    missing = [path for path in (root, *root.parents) if not path.exists()]
    yield from (path for path in reversed(missing) if lay_folder(path))


def _lay_studio(studio: Studio) -> Iterator[Path]:
    own_rules = studio.root / "rules"
    for folder, mode in ((studio.audit, 0o777), (studio.hidden, 0o700), (own_rules, 0o777)):
        if lay_folder(folder, mode):
            yield folder
    if studio.state != studio.hidden and lay_folder(studio.state, 0o700):
        yield studio.state
    if lay_text(own_rules / "README.md", OWN_RULES_README):
        yield own_rules / "README.md"


def _lay_printer(studio: Studio, printer: Printer) -> Iterator[Path]:
    inboxes = (printer.inbox, *(printer.inbox_of(product) for product in printer.products))
    yield from (path for path in (printer.folder, *inboxes, printer.work) if lay_folder(path))
    for inbox in inboxes:
        if lay_text(inbox / MARKER, INBOX_MARKER.format(id=uuid.uuid4().hex)):
            yield inbox / MARKER
    lay_folder(studio.hidden / "laid", 0o700)
    lay_text(_record(studio, printer), "The folders of this printer were made once.\n")


def _lay_delivery_folders(
    printer: Printer, folders: DeliveryFolders
) -> tuple[tuple[Path, ...], tuple[str, ...]]:
    """What was made of outbox and needs-fixing, and a sentence about each whose share is away."""
    made: list[Path] = []
    kept: list[str] = []
    for folder in (printer.outbox, printer.needs_fixing):
        try:
            made += folders.ready(printer, folder)
        except ShareAwayError as away:
            kept.append(f"not touched: {away}")
    return tuple(made), tuple(kept)


def _others(printer: Printer) -> tuple[Path, ...]:
    return (printer.outbox, printer.needs_fixing, printer.work)


def _record(studio: Studio, printer: Printer) -> Path:
    return studio.hidden / "laid" / printer.name


def _is_away(studio: Studio, printer: Printer) -> bool:
    """Whether the printer's folders were laid once and are all gone, as where a share is not mounted.

    Laid anew into the empty mount point they would look like an inbox that nobody uses.
    """
    with refusals("looking at", printer.folder):
        gone = not any(path.exists() for path in (printer.inbox, *_others(printer)))
    return gone and _record(studio, printer).exists()
