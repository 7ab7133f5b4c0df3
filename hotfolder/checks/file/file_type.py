"""File type: the printer takes this kind of file.

Why: a press works from the file formats that its own programs read; a format is told by the
    content, not by the ending of the name, since programs are misled by a wrong one.
On paper: nothing at all; the job comes back days later, or somebody converts it without asking.
Not flagged: an ending in capitals; `.jpg` for `.jpeg` and `.tif` for `.tiff`.
Source: common practice.
"""

from collections.abc import Iterator, Mapping
from pathlib import PurePath
from typing import ClassVar, Final

from hotfolder.checks.shared.settings import NamedFigures
from hotfolder.model.artwork import Artwork
from hotfolder.model.facts import Format
from hotfolder.model.findings import Finding, Severity, Unjudged
from hotfolder.model.ruleset import Rule
from hotfolder.wording.lists import listed

ID: Final = "file-type"

_CALLED: Final = {
    Format.PDF: "PDF",
    Format.JPEG: "JPEG",
    Format.TIFF: "TIFF",
    Format.PNG: "PNG",
    Format.PSD: "PSD (layered picture)",
}
_ENDINGS: Final = {
    Format.PDF: (".pdf",),
    Format.JPEG: (".jpg", ".jpeg", ".jpe"),
    Format.TIFF: (".tif", ".tiff"),
    Format.PNG: (".png",),
    Format.PSD: (".psd", ".psb"),
}


class FileTypeSettings(NamedFigures):
    """accept: the formats that are taken. refused_because: a sentence told with every format that is not."""

    needs: ClassVar[tuple[str, ...]] = ("accept",)
    codes: ClassVar[Mapping[str, Severity]] = {
        "unknown": Severity.MUST_FIX,
        "refused": Severity.MUST_FIX,
        "ending": Severity.ADVICE,
    }

    accept: tuple[Format, ...] = ()
    refused_because: str = ""


def check(artwork: Artwork, settings: FileTypeSettings) -> Iterator[Finding | Unjudged]:
    """A file that is none of the accepted formats, or is named as another one."""
    format_ = artwork.file.format
    wanted = listed((_CALLED[each] for each in settings.accept), "or")
    if format_ is None:
        what = (
            "The file is empty (0 bytes)."
            if artwork.file.bytes == 0
            else "This is not a kind of file that can be checked, whatever its name says."
        )
        yield Finding(
            rule=ID,
            code="unknown",
            severity=settings.severity_of("unknown"),
            message=f"{what} This inbox takes {wanted}. It could not be printed.",
            remedy=f"Export the artwork as {wanted}, open it to see that it is whole, and drop it here "
            "again.",
            measured="empty" if artwork.file.bytes == 0 else "unknown",
            required=wanted,
        )
    elif format_ not in settings.accept:
        because = f" {settings.refused_because}" if settings.refused_because else ""
        yield Finding(
            rule=ID,
            code="refused",
            severity=settings.severity_of("refused"),
            message=f"The file is a {_CALLED[format_]}; this inbox takes {wanted}.{because}",
            remedy=f"Export the artwork as {wanted} from the program it was made in.",
            measured=_CALLED[format_],
            required=wanted,
        )
    elif PurePath(artwork.file.name).suffix.lower() not in _ENDINGS[format_]:
        yield Finding(
            rule=ID,
            code="ending",
            severity=settings.severity_of("ending"),
            message=f"The file is a {_CALLED[format_]}, but its name does not end in {_ENDINGS[format_][0]}."
            " Programs that go by the ending will not open it, or will misread it.",
            remedy=f"Rename the file so that it ends in {_ENDINGS[format_][0]}.",
            measured=PurePath(artwork.file.name).suffix or "no ending",
            required=listed(_ENDINGS[format_], "or"),
        )


RULE = Rule(
    id=ID,
    title="File type",
    settings=FileTypeSettings,
    check=check,
    question="Which file formats do you take for this product?",
    since="0.1",
)
