"""The ICC profiles of colours: what they have to be, and how they have to be put down."""

from collections.abc import Iterator
from typing import Final

from hotfolder.checks.pdf.pdfx.requirement import Breach, Requirement, Subject
from hotfolder.checks.pdf.pdfx.requirements.colour.naming import space_name
from hotfolder.checks.pdf.pdfx.requirements.colour.painted import called, each_space, faulty
from hotfolder.checks.shared.pdfx_levels import X3, X4, Level
from hotfolder.model.colour import Colour, ColourKind
from hotfolder.model.geometry import Box
from hotfolder.model.inventory.colour import SpaceProfile, SpaceTree
from hotfolder.model.marks import Mark, MarkKind
from hotfolder.model.pages import Page
from hotfolder.wording.lists import counted, listed
from hotfolder.wording.shown import shown_name

# ISO 32000-2, 8.6.5.5: input, display, output, colour space.
_CLASSES: Final = frozenset({"scnr", "mntr", "prtr", "spac"})

# The greatest version of profiles by the version of PDF (ISO 32000-1, table 67): version 4 came with PDF 1.5.
_V4_SINCE: Final = (1, 5)
_AGAIN: Final = "Give the picture or colour a sound profile in your design program, and export again."


def _profile(part: SpaceTree) -> SpaceProfile | None:
    """The profile of a space of that family; None where it has none that can be read."""
    return part.profile if part.profile is not None and part.profile.readable else None


def _unreadable(tree: SpaceTree) -> str | None:
    for part in tree.parts():
        if part.profile is not None and not part.profile.readable:
            return f"in {space_name(part)} that cannot be read"
    return None


def _components(tree: SpaceTree) -> str | None:
    for part in tree.parts():
        profile = _profile(part)
        if profile is None or profile.components is None or profile.stated == profile.components:
            continue
        stated = "no number of components" if profile.stated is None else counted(profile.stated, "component")
        return f"in {space_name(part)} that has {profile.components}, where the file says {stated}"
    return None


def _kind(tree: SpaceTree) -> str | None:
    for part in tree.parts():
        profile = _profile(part)
        if profile is None:
            continue
        if profile.device_class not in _CLASSES:
            return f"in {space_name(part)} of the class '{shown_name(profile.device_class)}'"
        if profile.components is None:
            return f"in {space_name(part)} of '{shown_name(profile.space)}'"
    return None


def _version(tree: SpaceTree, greatest: int) -> str | None:
    for part in tree.parts():
        profile = _profile(part)
        if profile is not None and profile.version[0] > greatest:
            major, minor = profile.version
            return f"in {space_name(part)} of version {major}.{minor}"
    return None


def _entries(tree: SpaceTree) -> str | None:
    for part in tree.parts():
        profile = part.profile
        if profile is None or profile.stated is None:
            continue
        count, alternate = profile.stated, profile.alternate
        if alternate is not None and (alternate.components != count or alternate.family == "Pattern"):
            return f"in {space_name(part)} that {space_name(alternate)} is to stand in for"
        if profile.range_numbers is not None and profile.range_numbers != 2 * count:
            return f"in {space_name(part)} with {profile.range_numbers} limits for {2 * count}"
    return None


def _same(tree: SpaceTree) -> str | None:
    for part in tree.parts():
        profile = part.profile
        if profile is not None and profile.is_output and profile.space == "CMYK":
            return f"in {space_name(part)} which is that of the output intent"
    return None


def _versions(subject: Subject, level: Level) -> Iterator[Breach]:
    greatest = 4 if level.base >= _V4_SINCE else 2
    yield from faulty(subject, lambda tree: _version(tree, greatest))


def _overprint_spares(subject: Subject, _level: Level) -> Iterator[Breach]:
    profiled = {
        used.page
        for used in subject.inventory.colour.spaces
        for part in used.tree.parts()
        if part.profile is not None and part.profile.space == "CMYK"
    }
    for page in subject.pages:
        if page.number in profiled:
            yield from _overprinting(page)


def _overprinting(page: Page) -> Iterator[Breach]:
    boxes: dict[str, list[Box]] = {}
    for mark in page.known_marks:
        if mark.on_paper and mark.visible is not None and _overprints_with_profile(mark):
            boxes.setdefault(called(mark), []).append(mark.visible)
    if boxes:
        places = tuple(box for each in boxes.values() for box in each)
        what = "in CMYK with a colour profile overprint by mode 1 (OPM), which is for CMYK without one"
        yield Breach(f"{listed(boxes)} {what}", page, places)


def _overprints_with_profile(mark: Mark) -> bool:
    state = mark.state
    if state.overprint_mode != 1 or mark.kind is MarkKind.IMAGE:
        return False  # the mode is of no effect on pictures (ISO 32000-2, 8.6.7)
    return (state.overprint_fill and _is_profiled(mark.fill)) or (
        state.overprint_stroke and _is_profiled(mark.stroke)
    )


def _is_profiled(colour: Colour | None) -> bool:
    return colour is not None and colour.space.family == "ICCBased" and colour.space.kind is ColourKind.CMYK


PROFILES: Final = (
    Requirement(
        id="profile-unreadable",
        wants="wants colour profiles that can be read",
        levels=X3 | X4,
        why="Without its profile nobody knows which colour is meant.",
        remedy=_AGAIN,
        source="ISO 32000-2, 8.6.5.5: the stream holds an ICC profile; ICC.1, 7.2 for its header",
        judge=each_space(_unreadable),
        of_content=True,
    ),
    Requirement(
        id="profile-components",
        wants="wants colour profiles with as many components as the file says",
        levels=X3 | X4,
        why="Programs then leave the profile out, and take the figures for some other colours.",
        remedy=_AGAIN,
        source="ISO 32000-2, 8.6.5.5, table 65: N is required, and matches the components in the profile",
        judge=each_space(_components),
        of_content=True,
    ),
    Requirement(
        id="profile-kind",
        wants="wants colour profiles of a scanner, a screen, a press or a colour space, in grey, RGB, CMYK"
        " or Lab",
        levels=X3 | X4,
        why="Other profiles do not say which colour is meant.",
        remedy=_AGAIN,
        source="ISO 32000-2, 8.6.5.5: the classes and colour spaces of profiles that PDF takes",
        judge=each_space(_kind),
        of_content=True,
    ),
    Requirement(
        id="profile-version",
        wants="wants colour profiles no newer than the PDF that it builds on: version 2; 4 since PDF 1.5",
        levels=X3 | X4,
        why="A printer's programs of that time do not read newer ones, and take the figures for some other"
        " colours.",
        remedy="Convert the picture or colour to a profile of version 2 (such as the older sRGB), and export"
        " again.",
        source="ISO 32000-1, 8.6.5.5, table 67: the ICC specification that each version of PDF supports",
        judge=_versions,
        of_content=True,
    ),
    Requirement(
        id="profile-entries",
        wants="wants what stands in for a colour profile, and its limits, to have as many components as it",
        levels=X3 | X4,
        why="Programs that cannot use the profile take the figures for some other colours.",
        remedy=_AGAIN,
        source="ISO 32000-2, 8.6.5.5, table 65: Alternate and Range",
        judge=each_space(_entries),
        of_content=True,
    ),
    Requirement(
        id="output-profile-again",
        wants="wants CMYK of the printing condition without a profile",
        levels=X4,
        unconfirmed=X4,
        why="The same figures are written in two ways, and may be converted in one of them.",
        remedy="Export again with CMYK left as it is (no profile for it, 'preserve numbers').",
        source="from memory",
        judge=each_space(_same),
        of_content=True,
    ),
    Requirement(
        id="overprint-with-profile",
        wants="wants overprint by mode 1 only of CMYK without a profile",
        levels=X3 | X4,
        unconfirmed=X3 | X4,
        why="What you see overprinting may knock out what lies beneath: the mode has no effect on colours"
        " with a profile.",
        remedy="Convert what overprints to the CMYK of the printing condition, without a profile.",
        source="ISO 32000-2, 8.6.7: the mode counts for DeviceCMYK alone; that the level forbids it is from"
        " memory",
        judge=_overprint_spares,
        of_content=True,
    ),
)
