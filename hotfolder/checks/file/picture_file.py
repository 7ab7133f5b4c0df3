"""Picture files: a picture file has a colour mode and a bit depth that print.

Why: a press program takes plain pictures: eight bits a channel, grey, RGB or CMYK, one picture a file,
    with a colour profile that says what its figures mean. What is more than that is converted, refused
    or dropped, each program in its own way.
On paper: other colours than expected, banding, a missing ink, or the wrong one of several pictures.
Not flagged: PDF files; sixteen bits a channel, which are advice only, since they just make the file heavier;
    which modes the printer takes is for the rule about colour spaces; layers are for the rule about layers;
    line art has no profile; an alpha channel that is opaque in every pixel.
Source: TIFF 6.0; common practice.
"""

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from typing import ClassVar, Final

from hotfolder.checks.shared.needed_facts import NeededFacts
from hotfolder.checks.shared.occurrences import Occurrences
from hotfolder.model.artwork import Artwork
from hotfolder.model.findings import Finding, Quantity, Severity, Unjudged
from hotfolder.model.pages import Page
from hotfolder.model.raster import RasterFacts
from hotfolder.model.ruleset import Rule, RuleSettings
from hotfolder.wording.lists import counted
from hotfolder.wording.shown import shown_name

ID: Final = "picture-file"

# Signatures of profiles (ISO 15076-1, 7.2.6) for the modes of pictures.
_SPACES: Final = {
    "grey": "GRAY",
    "duotone": "GRAY",
    "RGB": "RGB",
    "indexed": "RGB",
    "CMYK": "CMYK",
    "Lab": "Lab",
}
_UNPRINTABLE: Final = frozenset({"duotone", "multichannel"})
_USUAL_BITS: Final = 8
_MOST_BITS: Final = 16


class PictureFileSettings(RuleSettings):
    """No figures: what is told of can be switched off code by code."""

    codes: ClassVar[Mapping[str, Severity]] = {
        "mode": Severity.MUST_FIX,
        "palette": Severity.ADVICE,
        "deep": Severity.ADVICE,
        "too-deep": Severity.MUST_FIX,
        "no-profile": Severity.ADVICE,
        "other-profile": Severity.MUST_FIX,
        "alpha": Severity.ADVICE,
        "extra-channels": Severity.ADVICE,
        "several": Severity.ADVICE,
    }


def check(artwork: Artwork, settings: PictureFileSettings) -> Iterator[Finding | Unjudged]:
    """What in a picture file is more, or other, than a press program takes."""
    facts = NeededFacts(ID, settings)
    by_code: dict[str, tuple[Occurrences, RasterFacts]] = {}
    for page in facts.pages(artwork):
        if page.raster is not None:
            for code in _codes(page, page.raster):
                places, _ = by_code.setdefault(code, (Occurrences(), page.raster))
                places.add(page)
    for code in settings.codes:
        if code in by_code:
            places, raster = by_code[code]
            yield places.located(_finding(code, raster, settings))
    yield from facts.unjudged()


def _codes(page: Page, raster: RasterFacts) -> Iterator[str]:
    mode = raster.colour.family
    if mode in _UNPRINTABLE and not raster.colour.inks:
        yield "mode"
    if mode == "indexed":
        yield "palette"
    if raster.bits > _USUAL_BITS:
        yield "too-deep" if raster.bits > _MOST_BITS else "deep"
    expected = _SPACES.get(mode)
    if expected is not None:
        yield from _profile_codes(raster, expected)
    if raster.alpha and not raster.alpha_opaque:
        yield "alpha"
    elif raster.extra_channels > raster.alpha:  # an opaque alpha channel is none to speak of
        yield "extra-channels"
    if raster.pictures > 1 and page.number == 1:
        yield "several"


def _profile_codes(raster: RasterFacts, expected: str) -> Iterator[str]:
    if raster.icc_space is None and raster.icc_profile is None:
        yield "no-profile"
    elif raster.icc_space is not None and raster.icc_space.strip() != expected:
        yield "other-profile"


@dataclass(frozen=True, slots=True)
class _Wording:
    """What a code says; {words} in braces are filled in from the picture."""

    message: str
    remedy: str
    measured: str
    required: str


_WORDINGS: Final = {
    "mode": _Wording(
        "the picture is {mode}: programs do not agree on which inks its channels stand for.",
        "Convert it to grey, RGB or CMYK, whichever the printer takes, and check the result.",
        "{mode}",
        "grey, RGB or CMYK",
    ),
    "palette": _Wording(
        "the picture has a palette of 256 colours at most. Soft transitions show steps.",
        "Use the original, and save it in full colour; converting this one does not bring the colours back.",
        "palette",
        "full colour",
    ),
    "deep": _Wording(
        "the picture has {bits} bits per channel. A press shows eight; the rest only makes the file "
        "heavy, and"
        " some programs refuse it.",
        "Save it with 8 bits per channel, and check the result.",
        "",
        "",
    ),
    "too-deep": _Wording(
        "the picture has {bits} bits per channel. Printers' programs do not take that: it has no fixed "
        "white and black.",
        "Save it with 8 bits per channel, and check the result.",
        "",
        "",
    ),
    "no-profile": _Wording(
        "the picture does not say what its {mode} figures mean (it has no colour profile). How its "
        "colours will look is then left to chance.",
        "Save it with the profile it was made in.",
        "no profile",
        "a profile for {mode}",
    ),
    "other-profile": _Wording(
        "the picture is {mode}, and its colour profile '{profile}' is for {profile_space}. Programs drop the"
        " profile, or refuse the file.",
        "Save it with a profile for {mode}, the one it was made in.",
        "{profile_space}",
        "{mode}",
    ),
    "alpha": _Wording(
        "the picture has transparent parts (an alpha channel). What is printed there is left to the program"
        " that places it: white, black, or what lies beneath.",
        "Save the picture without transparency, on white or on the background that you want.",
        "alpha channel",
        "opaque",
    ),
    "extra-channels": _Wording(
        "the picture has {channels} beside its colours: a saved selection, or an extra ink. Programs"
        " drop them, or take them for transparency.",
        "Save it without them, or ask the printer how to supply an extra ink.",
        "",
        "",
    ),
    "several": _Wording(
        "the file holds {pictures}. Many programs take the first and drop the others without a word.",
        "Save each picture as a file of its own.",
        "",
        "",
    ),
}


def _finding(code: str, raster: RasterFacts, settings: PictureFileSettings) -> Finding:
    words = {
        "mode": raster.colour.family,
        "bits": str(raster.bits),
        "profile": shown_name(raster.icc_profile or "without a name"),
        "profile_space": shown_name((raster.icc_space or "").strip()),
        "channels": counted(raster.extra_channels - raster.alpha_opaque, "channel"),
        "pictures": counted(raster.pictures, "picture"),
    }
    counts = {
        "deep": (raster.bits, _USUAL_BITS, "bits"),
        "too-deep": (raster.bits, _USUAL_BITS, "bits"),
        "extra-channels": (raster.extra_channels - raster.alpha_opaque, 0, "channels"),
        "several": (raster.pictures, 1, "pictures"),
    }
    wording = _WORDINGS[code]
    measured: Quantity | str = wording.measured.format_map(words)
    required: Quantity | str = wording.required.format_map(words)
    if code in counts:
        count, wanted, unit = counts[code]
        measured, required = Quantity.of(count, unit=unit), Quantity.of(wanted, unit=unit)
    return Finding(
        rule=ID,
        code=code,
        severity=settings.severity_of(code),
        message=wording.message.format_map(words),
        remedy=wording.remedy.format_map(words),
        measured=measured,
        required=required,
    )


RULE = Rule(
    id=ID,
    title="Picture files",
    settings=PictureFileSettings,
    check=check,
    question="Which picture files do you take: mode, depth, profile?",
    since="0.1",
)
