"""Encryption: the file opens for everybody, without a password.

Why: programs at the press open files unattended; nobody is there to type a password, and many of
    them refuse any encrypted file, even one that opens with none.
On paper: nothing; the job stops at the printer's door.
Not flagged: picture files, which cannot be encrypted.
Source: PDF/X (ISO 15930) forbids encryption at every level; ISO 32000-2, 7.6 for what it is.
"""

from collections.abc import Iterator, Mapping
from typing import ClassVar, Final

from hotfolder.checks.shared.needed_facts import NeededFacts
from hotfolder.model.artwork import Artwork
from hotfolder.model.facts import ProblemKind
from hotfolder.model.findings import Finding, Severity, Unjudged
from hotfolder.model.ruleset import Rule, RuleSettings

ID: Final = "encryption"
_LOCKED: Final = "the file opens only with a password"
_REMEDY: Final = "Export the artwork again without security or passwords."


class EncryptionSettings(RuleSettings):
    """allowed: whether an encrypted file is taken that opens without a password and may be printed."""

    codes: ClassVar[Mapping[str, Severity]] = {
        "locked": Severity.MUST_FIX,
        "encrypted": Severity.MUST_FIX,
        "no-printing": Severity.MUST_FIX,
    }

    allowed: bool = False


def check(artwork: Artwork, settings: EncryptionSettings) -> Iterator[Finding | Unjudged]:
    """A file that is locked, that is encrypted where that is not taken, or that forbids printing."""
    locked = [problem.what for problem in artwork.problems if problem.kind is ProblemKind.ENCRYPTED]
    encryption = artwork.pdf.encryption if artwork.pdf is not None else None
    facts = NeededFacts(ID, settings)
    if locked or (encryption is not None and not encryption.opened):
        yield Finding(
            rule=ID,
            code="locked",
            severity=settings.severity_of("locked"),
            message=f"{_capitalised(locked[0] if locked else _LOCKED)}, so it could not be checked or"
            " printed.",
            remedy=_REMEDY,
            measured="locked",
            required="opens for everybody",
        )
    elif encryption is None:
        facts.pdf(artwork)
        yield from facts.unjudged()
    elif not settings.allowed:
        yield Finding(
            rule=ID,
            code="encrypted",
            severity=settings.severity_of("encrypted"),
            message=f"The file is encrypted ({encryption.method}), although it opens without a password."
            " Many printers' programs refuse such files.",
            remedy=_REMEDY,
            measured=f"encrypted ({encryption.method})",
            required="not encrypted",
        )
    elif encryption.printing_allowed is False:
        yield Finding(
            rule=ID,
            code="no-printing",
            severity=settings.severity_of("no-printing"),
            message="The file forbids printing in full quality. Programs that respect this print it coarsely,"
            " or not at all.",
            remedy=_REMEDY,
            measured="printing in full quality forbidden",
            required="printing allowed",
        )


def _capitalised(words: str) -> str:
    return f"{words[:1].upper()}{words[1:]}"


RULE = Rule(
    id=ID,
    title="Encryption",
    settings=EncryptionSettings,
    check=check,
    question="Do you take PDF files that are encrypted but open without a password?",
    since="0.1",
)
