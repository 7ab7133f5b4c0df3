"""Every exception that hotfolder raises on purpose.

HotfolderError
├── ConfigError      the studio file or a rule set is wrong: file, line, key, what would do
├── UsageError       the command was called in a way that cannot work
├── StorageError     share away, disk full, no permission: the job waits and is tried again
│   └── NameTaken    a final name exists already; nothing was overwritten
├── StudioBusy       another daemon holds this studio
├── ColourEngineMissing  no colours can be converted with what is installed
└── Interrupted      the daemon is stopping; the job stays in work for the next start

NotDrawn             something on a page cannot be drawn as plates; it never leaves `drawing`
└── TimeIsUp         drawing the page took longer than it may

What is wrong with a piece of artwork is never an exception: it travels as a
`Problem`, a `Finding` or an `Unjudged`.
"""

from dataclasses import dataclass
from pathlib import Path
from typing import Final

_TOO_HEAVY: Final = "not drawn: too heavy, it takes more processor time than there is for it"


class HotfolderError(Exception):
    """An error that a person can act on; its text is shown as it stands."""

    exit_code = 3


class UsageError(HotfolderError):
    """The command was called in a way that cannot work."""

    exit_code = 2


class StorageError(HotfolderError):
    """The file system refused; what was asked for can be tried again later."""


class ShareAway(StorageError):  # noqa: N818 - reads as the fact it states
    """A folder's share is not mounted, or another one is in its place: nothing was laid there."""


class NameTaken(StorageError):  # noqa: N818 - reads as the fact it states
    """The final name exists already; nothing was overwritten."""


class StudioBusy(HotfolderError):  # noqa: N818 - reads as the fact it states
    """Another daemon holds this studio."""

    exit_code = 2


class ColourEngineMissing(HotfolderError):  # noqa: N818 - reads as the fact it states
    """The installed Pillow does not bring the littleCMS that colours are converted with."""

    def __init__(self, why: str) -> None:
        super().__init__(
            f"colours cannot be converted for a press: {why}; "
            "reinstall Pillow as its project publishes it: pip install --force-reinstall pillow"
        )


class Interrupted(HotfolderError):  # noqa: N818 - reads as the fact it states
    """The daemon is stopping; the job stays in work and the next start goes on with it."""


@dataclass(frozen=True)
class ConfigTrouble:
    """One mistake in a TOML file: where it stands and what would do.

    `line` is 1-based; None where the trouble is that something is missing.
    `key` is dotted (`printers.quay.rules`), empty for the file as a whole.
    """

    file: Path
    line: int | None
    key: str
    problem: str
    remedy: str

    def __str__(self) -> str:
        place = f"{self.file}:{self.line}" if self.line is not None else str(self.file)
        key = f" {self.key}:" if self.key else ""
        return f"{place}:{key} {self.problem}. {self.remedy}"


class ConfigError(HotfolderError):
    """One or more mistakes in the studio file or in a rule set."""

    exit_code = 2

    def __init__(self, troubles: tuple[ConfigTrouble, ...]) -> None:
        super().__init__("\n".join(str(trouble) for trouble in troubles))
        self.troubles = troubles


class NotDrawn(Exception):  # noqa: N818 - reads as the fact it states
    """Something on a page cannot be drawn as inks; the reason is in words for people."""

    def __init__(self, reason: str) -> None:
        super().__init__(reason)
        self.reason = reason


class TimeIsUp(NotDrawn):
    """Drawing a page took longer than it may."""

    def __init__(self) -> None:
        super().__init__(_TOO_HEAVY)
