"""The texts that `init` lays into a studio."""

from collections.abc import Sequence
from typing import Final

from hotfolder.config.studio import ChildLimits, NoticeSettings, Timing
from hotfolder.config.tomlfile import key_text, quoted
from hotfolder.units import plain

INBOX_MARKER: Final = """\
This folder is an inbox: hotfolder takes every file that is dropped here.
Leave this file where it is. A folder without it counts as a network share that is not mounted.
id: {id}
"""

OWN_RULES_README: Final = """\
# Rule sets of this studio

A file `NAME.toml` here is a rule set that the studio file can name; it replaces a built-in one of the
same name. Write down what a printer's own specification says that the built-in set does not:

    title = "Quay Print Works, flyers"
    source = "data sheet of the printer, page 2"
    checked = 2026-11-25
    extends = "flyer-offset-coated"

    [bleed]
    wanted = "2 mm"

`hotfolder rules` lists the built-in sets and every rule, `hotfolder rules show NAME` what a set asks for,
`hotfolder rules explain RULE` why a printer cares and which settings the rule has.
"""

_STUDIO: Final = """\
# The studio file of hotfolder. Every printer has a table below; after a change, restart the daemon.
# Lines that begin with '#' are explanations and defaults; remove the '#' to change one.

[studio]
name = {name}
# state = "/var/lib/hotfolder"  # where the daemon keeps its index; by default in .hotfolder in this folder

# Spans of time: "500 ms", "2 s", "10 min".
[timing]
# scan = "{scan} s"  # between two looks into an inbox
# quiet = "{quiet} s"  # how long a file must stay unchanged before it is taken
# empty = "{empty} min"  # the same for a file of zero bytes
# unreadable = "{unreadable} s"  # how long to wait for a file that hotfolder has no right to read
# unfinished = "{unfinished} min"  # the same for one that is not complete yet, as its format tells
# keep = "{keep} min"  # how long a delivered file is compared again where its writer cannot be seen (a share)
# stop = "{stop} s"  # how long a running job may go on when the daemon is told to stop

# What the examination of one file may use; a file that needs more is sent back with that word.
[limits]
# time = "{time} s"  # at most; a small file gets half of it
# memory = "{memory} GB"
# open_files = {open_files}
# file_size = "{file_size} GB"  # the largest file that the examination may write
# artwork_size = "{artwork_size} GB"  # a larger artwork is sent back unexamined, and not copied

# Notifications on the desktop of the machine where the daemon runs. In a studio that several
# people share, switch them off and let each run: hotfolder tell STUDIO
[notices]
# desktop = true
# gather = "{gather} s"  # how long several are gathered into one

# Printers. The table's name is the folder's; designers drop files into NAME/inbox.
#
# [printers.quay]
# title = "Quay Print Works"
# rules = "flyer-offset-coated"  # a rule set's name, or the path of a .toml file from this folder
# reports = "beside"             # or "folder": reports of ready files go to outbox/reports/, for
#                                # a machine that takes every file in the outbox
#
# [printers.quay.products.cards]  # files dropped into quay/inbox/cards follow this rule set
# rules = "business-card"
"""


def studio_text(folder_name: str, printers: Sequence[tuple[str, str]]) -> str:
    """A commented studio file with `printers` (name, rule set)."""
    name = folder_name if folder_name and folder_name.isprintable() else "Studio"
    timing, limits, notices = Timing(), ChildLimits(), NoticeSettings()
    head = _STUDIO.format(
        name=quoted(name),
        scan=plain(timing.scan_s, 1),
        quiet=plain(timing.quiet_s, 1),
        empty=plain(timing.empty_s / 60, 1),
        unreadable=plain(timing.unreadable_s, 1),
        unfinished=plain(timing.unfinished_s / 60, 1),
        keep=plain(timing.keep_s / 60, 1),
        stop=plain(timing.stop_s, 1),
        time=plain(limits.seconds, 1),
        memory=plain(limits.memory_bytes / 1e9, 3),
        open_files=limits.open_files,
        file_size=plain(limits.file_bytes / 1e9, 3),
        artwork_size=plain(limits.artwork_bytes / 1e9, 3),
        gather=plain(notices.gather_s, 1),
    )
    return head + "".join(printer_text(*printer) for printer in printers)


def printer_text(name: str, rules: str) -> str:
    """The table of one printer, as it is written at the end of a studio file."""
    return f"\n[printers.{key_text(name)}]\nrules = {quoted(rules)}\n"
