"""File name: every system on the way to the press can handle it.

Why: the file passes through other operating systems, archives, web forms and job systems; long
    names are cut off there, and unusual characters are replaced or refused.
On paper: nothing; the file is lost, mixed up with another, or has to be asked for again.
Not flagged: capitals; digits; what the name says.
Source: common practice; IEEE Std 1003.1 (POSIX), 3.265, portable filename character set (clause
    number from memory): letters A to Z and a to z, digits, full stop, underscore, hyphen, no
    hyphen in front.
"""

from collections.abc import Iterator, Mapping
from string import ascii_letters, digits
from typing import ClassVar, Final

from pydantic import Field

from hotfolder.model.artwork import Artwork
from hotfolder.model.findings import Finding, Quantity, Severity, Unjudged
from hotfolder.model.ruleset import Rule, RuleSettings
from hotfolder.wording.lists import listed
from hotfolder.wording.shown import shown_name

ID: Final = "file-name"


class FileNameSettings(RuleSettings):
    """longest: how many characters a name may have, ending included.

    signs: the characters that are taken beside A to Z, a to z and 0 to 9.
    """

    codes: ClassVar[Mapping[str, Severity]] = {
        "too-long": Severity.ADVICE,
        "characters": Severity.ADVICE,
    }

    longest: int = Field(default=100, ge=1)
    signs: str = "-_."


def check(artwork: Artwork, settings: FileNameSettings) -> Iterator[Finding | Unjudged]:
    """A name that is too long, or has characters that do not travel."""
    name = artwork.file.name
    if len(name) > settings.longest:
        yield Finding(
            rule=ID,
            code="too-long",
            severity=settings.severity_of("too-long"),
            message=f"The file name is {len(name)} characters long; {settings.longest} is the most that "
            "is wanted. A longer name may be cut off on its way to the printer.",
            remedy=f"Shorten the file name to {settings.longest} characters or fewer.",
            measured=Quantity.of(len(name), unit="characters"),
            required=Quantity.of(settings.longest, unit="characters"),
        )
    known = set(ascii_letters + digits + settings.signs)
    odd = list(dict.fromkeys(sign for sign in name if sign not in known))
    if odd or name[:1] in {"-", "."}:
        odd_ones = _odd_words(odd) if odd else f"'{name[:1]}' in front"
        yield Finding(
            rule=ID,
            code="characters",
            severity=settings.severity_of("characters"),
            message=f"The file name has characters that not every system can handle: {odd_ones}. They may be "
            "replaced or refused on the way to the printer.",
            remedy="Use letters without accents, digits, hyphens and underscores, and begin with a letter"
            " or a digit.",
            measured=odd_ones,
            required=f"A to Z, a to z, 0 to 9 and {settings.signs}",
        )


def _odd_words(odd: list[str]) -> str:
    shown = ["a space" if sign == " " else f"'{shown_name(sign)}'" for sign in odd]
    return listed(shown[:6]) if len(shown) <= 6 else f"{', '.join(shown[:6])} and others"


RULE = Rule(
    id=ID,
    title="File name",
    settings=FileNameSettings,
    check=check,
    question="Which characters, and how many, may a file name have?",
    since="0.1",
)
