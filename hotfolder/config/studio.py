"""The studio file, `hotfolder.toml`: which printers a studio has, and how the daemon works for it.

`load_studio` reads it and touches nothing. Rule sets stay names here: `rulebook.binding`
loads them, and `store.layout` checks the folders themselves.
"""

from collections.abc import Callable, Iterator, Mapping, Sequence
from dataclasses import dataclass, field
from pathlib import Path
from typing import Annotated, Final, Literal

from pydantic import BaseModel, BeforeValidator, ConfigDict, Field, ValidationError

from hotfolder.config.names import same_name_key
from hotfolder.config.tomlfile import KeyPath, TomlFile, read_toml
from hotfolder.config.troubles import troubles_of
from hotfolder.errors import ConfigError, ConfigTrouble
from hotfolder.units import parse_bytes, parse_seconds

STUDIO_FILE: Final = "hotfolder.toml"
MARKER: Final = ".hotfolder-inbox"
"""Name of the small file that `init` lays into each inbox: without it an inbox is not there, never empty."""
DELIVERY_MARKER: Final = ".hotfolder-delivery"
"""Name of the small file by which a delivery folder is known; `store.delivery_folders` says how."""
WORK: Final = ".work"
"""Name of the folder in each printer's folder that jobs lie in from claim to delivery."""

# Folders of the studio itself, which no printer may have the name of.
RESERVED: Final = ("audit", "rules", ".hotfolder", STUDIO_FILE)

_SECONDS_PER_BYTE: Final = 2e-6  # 2 s for each MB above the half of the time that any file gets

ReportsPlace = Literal["beside", "folder"]


@dataclass(frozen=True, slots=True)
class ProductFolder:
    """A subfolder of an inbox that stands for a product with a rule set of its own."""

    name: str
    rules: str


@dataclass(frozen=True, slots=True)
class Printer:
    """A printer's folders and its rule set.

    name: the folder's. title: as people read it. rules: a rule set's name or path, as written.
    reports: whether sidecars of ready files lie `beside` them or in a `folder` of their own,
    for machines that eat every file that they see.
    """

    name: str
    title: str
    folder: Path
    rules: str
    products: tuple[ProductFolder, ...] = ()
    reports: ReportsPlace = "beside"

    @property
    def inbox(self) -> Path:
        """Where designers drop files."""
        return self.folder / "inbox"

    @property
    def outbox(self) -> Path:
        """Where files lie that are ready for the printer."""
        return self.folder / "outbox"

    @property
    def needs_fixing(self) -> Path:
        """Where files go back to their designers, with sidecars beside them."""
        return self.folder / "needs-fixing"

    @property
    def work(self) -> Path:
        """Where jobs lie till they end: on the inbox's own file system, so that a claim is one rename."""
        return self.folder / WORK

    @property
    def ready_sidecars(self) -> Path:
        """Where the sidecars of ready files go."""
        return self.outbox / "reports" if self.reports == "folder" else self.outbox

    def inbox_of(self, product: ProductFolder) -> Path:
        """Where designers drop files of `product`."""
        return self.inbox / product.name


@dataclass(frozen=True, slots=True)
class ChildLimits:
    """What the child process of one job may use.

    seconds: the longest time of the processor for any file; `seconds_for` says how much of it a file gets.
    memory_bytes: what it may fill with data. file_bytes: the largest file that the child may write.
    artwork_bytes: the largest artwork that is copied and examined.
    """

    seconds: float = 120.0
    memory_bytes: int = 1_000_000_000
    open_files: int = 256
    file_bytes: int = 1_000_000_000
    artwork_bytes: int = 4_000_000_000

    def seconds_for(self, size: int) -> float:
        """How many seconds of the processor the examination of a file of `size` bytes may take.

        Half of the time there is, and more by its size. A file of a few bytes that takes a minute is no
        artwork, and the others wait meanwhile; a heavy one gets all of it.
        """
        return min(self.seconds, self.seconds / 2 + _SECONDS_PER_BYTE * size)


@dataclass(frozen=True, slots=True)
class Timing:
    """The daemon's spans of time.

    scan_s: between two scans of an inbox. quiet_s: how long a file must not have changed
    before it is taken. empty_s: the same for a file of zero bytes.
    unreadable_s: how long a file that may not be read is waited for, since programs that copy often
    grant rights last. unfinished_s: how long one that does not end as its format ends is waited for before
    it is judged as damaged. keep_s: how long a claimed file is kept after its delivery, and compared again,
    where nobody can know whether it is still being written. stop_s: how long the jobs that are worked on
    may go on when the daemon is told to stop.
    """

    scan_s: float = 2.0
    quiet_s: float = 5.0
    empty_s: float = 600.0
    unreadable_s: float = 60.0
    unfinished_s: float = 120.0
    keep_s: float = 900.0
    stop_s: float = 20.0


@dataclass(frozen=True, slots=True)
class NoticeSettings:
    """Notifications on the daemon's own desktop, and how long several are gathered into one."""

    desktop: bool = True
    gather_s: float = 4.0


@dataclass(frozen=True, slots=True)
class Studio:
    """A studio as its file describes it.

    state: where the daemon's own index lies. written: the file as it was read, for mistakes that only come to
    light later and are told by its lines.
    """

    root: Path
    name: str
    printers: tuple[Printer, ...]
    limits: ChildLimits
    timing: Timing
    notices: NoticeSettings
    state: Path
    written: TomlFile = field(repr=False, compare=False)

    @property
    def file(self) -> Path:
        """The studio file."""
        return self.root / STUDIO_FILE

    @property
    def audit(self) -> Path:
        """Where the audit log of each job lies."""
        return self.root / "audit"

    @property
    def hidden(self) -> Path:
        """The daemon's own folder in the studio."""
        return self.root / ".hotfolder"

    @property
    def lock_file(self) -> Path:
        """The lock that one daemon holds; always in the studio, wherever `state` lies."""
        return self.hidden / "lock"

    def printer(self, name: str) -> Printer:
        """The printer called `name`. KeyError where there is none."""
        for printer in self.printers:
            if printer.name == name:
                return printer
        raise KeyError(name)


def load_studio(root: Path) -> Studio:
    """The studio in the folder `root`. ConfigError tells every mistake of its file at once."""
    root = root.absolute()
    path = root / STUDIO_FILE
    if root.is_dir() and not path.exists():
        problem = "this folder is not a studio: it has no hotfolder.toml"
        remedy = "Set one up with 'hotfolder init', or name another folder."
        raise ConfigError((ConfigTrouble(root, None, "", problem, remedy),))
    file = read_toml(path)
    try:
        tables = _StudioFile.model_validate(file.data)
    except ValidationError as error:
        troubles = troubles_of(error, _StudioFile, file.data, file.trouble) + tuple(_trouble_with_names(file))
        raise ConfigError(tuple(sorted(troubles, key=lambda trouble: trouble.line or 0))) from None
    troubles = tuple(_trouble_with_names(file))
    if troubles:
        raise ConfigError(troubles)
    return tables.as_studio(root, file)


def _parsed(parse: Callable[[str], float]) -> BeforeValidator:
    def read(value: object) -> float:
        return parse(value if isinstance(value, str) else str(value))

    return BeforeValidator(read)


_LIMITS: Final = ChildLimits()
_TIMING: Final = Timing()
_NOTICES: Final = NoticeSettings()

_Seconds = Annotated[float, _parsed(parse_seconds), Field(gt=0)]
_Bytes = Annotated[int, _parsed(parse_bytes), Field(gt=0)]
_Text = Annotated[str, Field(min_length=1)]


class _TableModel(BaseModel):
    model_config = ConfigDict(frozen=True, extra="forbid", strict=True)


class _StudioTable(_TableModel):
    name: _Text = "Studio"
    state: _Text | None = None


class _ProductTable(_TableModel):
    rules: Annotated[str, Field(min_length=1, examples=['"office-pdf"'])]


class _PrinterTable(_TableModel):
    title: _Text | None = None
    rules: Annotated[str, Field(min_length=1, examples=['"office-pdf"'])]
    reports: ReportsPlace = "beside"
    products: Mapping[str, _ProductTable] = {}

    def printer(self, root: Path, name: str) -> Printer:
        return Printer(
            name=name,
            title=self.title or name,
            folder=root / name,
            rules=self.rules,
            products=tuple(ProductFolder(key, table.rules) for key, table in self.products.items()),
            reports=self.reports,
        )


class _TimingTable(_TableModel):
    scan: _Seconds = _TIMING.scan_s
    quiet: _Seconds = _TIMING.quiet_s
    empty: _Seconds = _TIMING.empty_s
    unreadable: _Seconds = _TIMING.unreadable_s
    unfinished: _Seconds = _TIMING.unfinished_s
    keep: _Seconds = _TIMING.keep_s
    stop: _Seconds = _TIMING.stop_s


class _LimitsTable(_TableModel):
    time: _Seconds = _LIMITS.seconds
    memory: _Bytes = _LIMITS.memory_bytes
    open_files: Annotated[int, Field(ge=32)] = _LIMITS.open_files
    file_size: _Bytes = _LIMITS.file_bytes
    artwork_size: _Bytes = _LIMITS.artwork_bytes


class _NoticesTable(_TableModel):
    desktop: bool = _NOTICES.desktop
    gather: _Seconds = _NOTICES.gather_s


class _StudioFile(_TableModel):
    studio: _StudioTable = _StudioTable()
    printers: Mapping[str, _PrinterTable] = {}
    timing: _TimingTable = _TimingTable()
    limits: _LimitsTable = _LimitsTable()
    notices: _NoticesTable = _NoticesTable()

    def as_studio(self, root: Path, file: TomlFile) -> Studio:
        """The same as the rest of the program knows it. file: where the tables were read from."""
        state = self.studio.state
        return Studio(
            root=root,
            name=self.studio.name,
            printers=tuple(table.printer(root, name) for name, table in self.printers.items()),
            limits=ChildLimits(
                self.limits.time,
                self.limits.memory,
                self.limits.open_files,
                self.limits.file_size,
                self.limits.artwork_size,
            ),
            timing=Timing(
                self.timing.scan,
                self.timing.quiet,
                self.timing.empty,
                self.timing.unreadable,
                self.timing.unfinished,
                self.timing.keep,
                self.timing.stop,
            ),
            notices=NoticeSettings(self.notices.desktop, self.notices.gather),
            state=root / ".hotfolder" if state is None else root / Path(state).expanduser(),
            written=file,
        )


def _trouble_with_names(file: TomlFile) -> Iterator[ConfigTrouble]:
    """Names of printers and products that cannot be folders, or that a shared folder would mix up."""
    printers = file.data.get("printers")
    if not isinstance(printers, Mapping):
        return
    yield from _trouble_among(file, ("printers",), list(printers), RESERVED)
    for name, table in printers.items():
        products = table.get("products") if isinstance(table, Mapping) else None
        if isinstance(products, Mapping):
            yield from _trouble_among(file, ("printers", name, "products"), list(products), ())


def _trouble_among(
    file: TomlFile, table: KeyPath, names: Sequence[str], reserved: Sequence[str]
) -> Iterator[ConfigTrouble]:
    seen: dict[str, str] = {}
    for name in names:
        problem = name_problem(name, reserved)
        same = seen.setdefault(same_name_key(name), name)
        if problem is not None:
            yield file.trouble((*table, name), problem, "Choose another name; it is also the folder's.")
        elif same != name:
            problem = f"'{name}' and '{same}' are the same folder where case is ignored"
            yield file.trouble((*table, name), problem, "Let the names differ by more than that.")


def name_problem(name: str, reserved: Sequence[str] = RESERVED) -> str | None:
    """Why `name` cannot be a printer's or a product's folder; None where it can.

    The characters are those that SMB and Windows refuse too, for a studio's folders are shared
    (common practice; the list is in Microsoft's 'Naming Files, Paths, and Namespaces').
    """
    wrong = next((letter for letter in name if letter in '/\\:*?"<>|' or not letter.isprintable()), None)
    if not name:
        return "the name is empty"
    if wrong is not None:
        return f"{wrong!r} cannot be part of the name of a shared folder"
    if name[0] in ".~-" or name != name.strip() or name[-1] == ".":
        return f"'{name}' cannot be a folder's name here: it begins or ends with a dot, a space, '~' or '-'"
    if same_name_key(name) in {same_name_key(taken) for taken in reserved}:
        return f"'{name}' is the name of a folder that the studio itself uses"
    if len(name.encode()) > 100:
        return f"the name has {len(name.encode())} bytes; a folder that others lie in should have at most 100"
    return None
