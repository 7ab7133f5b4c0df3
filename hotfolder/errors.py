"""Every exception that hotfolder raises on purpose.

The name of each ends in `Error`. For people, who are shown its text as it stands:

HotfolderError
├── ConfigError               the studio file or a rule set is wrong: file, line, key, what would do
├── UsageError                the command was called in a way that cannot work
├── StorageError              disk full, no permission, a share broken off: the job waits and is tried again
│   ├── ShareAwayError        a share is not mounted, or another one is in its place
│   └── NameTakenError        a final name exists already; nothing was overwritten
├── StudioBusyError           another daemon holds this studio
├── MissingColourEngineError  no colours can be converted with what is installed
└── DaemonStoppingError       the daemon is stopping; the job stays in work for the next start

For the code that called, which goes on without what it asked for:

NoSuchRuleSetError            no file is meant by a rule set's name; `rulebook` makes a ConfigError of it
NotDrawnError                 something on a page cannot be drawn as plates
└── TimeIsUpError             drawing the page took longer than it may
UnusableProfileError          a colour profile cannot be used for what was asked (a ValueError)
CutShortError                 a picture file ends before what it promises
UnreadableXmpError            a file's XMP metadata cannot be parsed
LimitReachedError             one of our own limits ends the reading of a page
FontFaultError                an embedded font, or a glyph of it, is of a kind that is not read here
├── DamagedFontError          it is of a kind that is read, and damaged
│   └── NoFontError           what is embedded as a font is none
└── FontLimitError            it asks for more work than our own limits allow

What a single module raises for itself alone stands in that module, with a `_` before its name. What is wrong
with a piece of artwork is never an exception beyond the code that reads it: it travels as a `Problem`, a
`Finding` or an `Unjudged`.
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


class ShareAwayError(StorageError):
    """A folder's share is not mounted, or another one is in its place: nothing was laid there."""


class NameTakenError(StorageError):
    """The final name exists already; nothing was overwritten."""


class StudioBusyError(HotfolderError):
    """Another daemon holds this studio."""

    exit_code = 2


class MissingColourEngineError(HotfolderError):
    """The installed Pillow does not bring the littleCMS that colours are converted with."""

    def __init__(self, why: str) -> None:
        super().__init__(
            f"colours cannot be converted for a press: {why}; "
            "reinstall Pillow as its project publishes it: pip install --force-reinstall pillow"
        )


class DaemonStoppingError(HotfolderError):
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


class NoSuchRuleSetError(Exception):
    """No file is meant by a rule set's name: what is wrong, and what would do."""

    def __init__(self, problem: str, remedy: str) -> None:
        super().__init__(problem)
        self.problem = problem
        self.remedy = remedy


class NotDrawnError(Exception):
    """Something on a page cannot be drawn as inks; the reason is in words for people."""

    def __init__(self, reason: str) -> None:
        super().__init__(reason)
        self.reason = reason


class TimeIsUpError(NotDrawnError):
    """Drawing a page took longer than it may."""

    def __init__(self) -> None:
        super().__init__(_TOO_HEAVY)


class UnusableProfileError(ValueError):
    """A colour profile that cannot be read, or cannot be used for what was asked."""


class CutShortError(Exception):
    """A picture file ends before what is asked for."""


class UnreadableXmpError(Exception):
    """The bytes are no XML, or XML of a kind that is refused."""


class LimitReachedError(Exception):
    """One of our own limits ends the reading of a page; what was read until then stands."""


class FontFaultError(Exception):
    """A font program, or a glyph of it, is of a kind that is not read here."""


class DamagedFontError(FontFaultError):
    """A font program of a kind that is read here is cut short, or holds what makes no sense."""


class NoFontError(DamagedFontError):
    """What is embedded as a font program is none: nothing that a reader knows, or data that do not unpack."""


class FontLimitError(FontFaultError):
    """A font program asks for more work than one of our own limits allows."""
