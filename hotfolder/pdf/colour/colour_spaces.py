"""Reads colour spaces (ISO 32000-2, 8.6) into facts.

Junk gives a space of kind UNKNOWN, never an exception.
"""

from collections.abc import Callable
from typing import Final

from hotfolder.colour.icc import ProfileFacts, read_profile
from hotfolder.model.colour import PROCESS_INKS, Colour, ColourKind, ColourSpace
from hotfolder.pdf.colour.written_spaces import (
    DEVICE_OF_COUNT,
    ICC_COMPONENTS,
    CalibratedSpace,
    IccSpace,
    IndexedSpace,
    InkSpace,
    NamedSpace,
    PatternSpace,
    written_space,
)
from hotfolder.pdf.objects.limits import COLOUR_SPACE_NESTING
from hotfolder.pdf.objects.reading import identity
from hotfolder.pdf.objects.resources import Resources

DEVICE_GREY: Final = ColourSpace("DeviceGray", ColourKind.GREY, 1)
DEVICE_RGB: Final = ColourSpace("DeviceRGB", ColourKind.RGB, 3)
DEVICE_CMYK: Final = ColourSpace("DeviceCMYK", ColourKind.CMYK, 4)
PATTERN: Final = ColourSpace("Pattern", ColourKind.PATTERN, 0)
UNKNOWN: Final = ColourSpace("unknown", ColourKind.UNKNOWN, 0)

DEVICES: Final = {each.family: each for each in (DEVICE_GREY, DEVICE_RGB, DEVICE_CMYK)}

_CALIBRATED: Final = {
    "CalGray": ColourSpace("CalGray", ColourKind.GREY, 1),
    "CalRGB": ColourSpace("CalRGB", ColourKind.RGB, 3),
    "Lab": ColourSpace("Lab", ColourKind.LAB, 3),
}

_ICC_KINDS: Final = {
    "GRAY": ColourKind.GREY, "RGB": ColourKind.RGB, "Lab": ColourKind.LAB, "CMYK": ColourKind.CMYK,
}  # fmt: skip

NO_RESOURCES: Final = Resources()

Profiles = dict[str, ProfileFacts | None]


# What a tint transform gives for the full tint of an ink; nothing where that is not known.
FullTint = Callable[[object], tuple[float, ...]]


def not_evaluated(_transform: object) -> tuple[float, ...]:
    """The full tint where nobody evaluates functions."""
    return ()


def read_colour_space(
    value: object,
    resources: Resources = NO_RESOURCES,
    profiles: Profiles | None = None,
    full_tint: FullTint = not_evaluated,
) -> ColourSpace:
    """The colour space that a name or an array stands for, looked up in `resources` where it is a name.

    A device space is what the file has, unless a default colour space stands for it (8.6.5.6).
    Profiles read are kept in `profiles` by object number, so that each is read once.
    """
    reading = _SpaceReading(resources, {} if profiles is None else profiles, full_tint)
    return reading.space(value, COLOUR_SPACE_NESTING)


def initial_colour(space: ColourSpace) -> Colour:
    """The colour that holds after a space was chosen and before a colour is (8.6.8, `CS`)."""
    match space.family:
        case "Separation" | "DeviceN":
            return Colour(space, (1.0,) * space.components)
        case "DeviceCMYK":
            return Colour(space, (0.0, 0.0, 0.0, 1.0))
        case _:
            return Colour(space, (0.0,) * space.components)


def is_white(colour: Colour) -> bool:
    """Whether a colour is known to leave the paper bare.

    Additive spaces at their lightest, and no ink at all in the others. Indexed colours and patterns
    are not looked up: they are not known to be white.
    """
    components = colour.components
    if not components or colour.space.family in {"Indexed", "Pattern"}:
        return False
    match colour.space.kind:
        case ColourKind.CMYK | ColourKind.SPOT | ColourKind.REGISTRATION:
            return max(components) <= 0
        case ColourKind.GREY | ColourKind.RGB:
            return min(components) >= 1
        case ColourKind.LAB:
            return components[0] >= 100 and not any(components[1:])
        case ColourKind.NONE:
            return True
        case _:
            return False


class _SpaceReading:
    """One reading of a colour space; `resources` resolve the names in it."""

    def __init__(self, resources: Resources, profiles: Profiles, full_tint: FullTint) -> None:
        self._resources = resources
        self._profiles = profiles
        self._full_tint = full_tint

    def space(self, value: object, depth: int) -> ColourSpace:  # noqa: PLR0911 - one for each family
        if not depth:
            return UNKNOWN
        match written_space(value):
            case NamedSpace() as written:
                return self._named(written, depth)
            case CalibratedSpace(family):
                return _CALIBRATED[family]
            case IccSpace() as written:
                return self._icc_based(written, depth)
            case IndexedSpace(base):
                space = self.space(base, depth - 1)
                return ColourSpace("Indexed", space.kind, 1, inks=space.inks, base=space)
            case PatternSpace(None):
                return PATTERN
            case PatternSpace(base):
                space = self.space(base, depth - 1)
                return ColourSpace(
                    "Pattern", ColourKind.PATTERN, space.components, inks=space.inks, base=space
                )
            case InkSpace() as written:
                return self._of_inks(written, depth)

    def _named(self, written: NamedSpace, depth: int) -> ColourSpace:
        if written.family in DEVICES:
            default = written.default(self._resources)
            return DEVICES[written.family] if default is None else self._without_resources(default, depth)
        if written.family == "Pattern":
            return PATTERN
        held = written.resource(self._resources)
        return self.space(held, depth - 1) if held is not None else UNKNOWN

    def _icc_based(self, written: IccSpace, depth: int) -> ColourSpace:
        profile, count = self._profile(written), written.components
        data_space = profile.space if profile is not None else ""
        kind = _ICC_KINDS.get(data_space, ColourKind.UNKNOWN)
        components = ICC_COMPONENTS.get(data_space, 0)
        if count is not None and count in DEVICE_OF_COUNT and components != count:
            # No profile, or one that is not for this many components: readers then go by N.
            kind, components = DEVICES[DEVICE_OF_COUNT[count]].kind, count
        elif components != count:
            alternate = self.space(written.alternate, depth - 1)
            kind, components = alternate.kind, alternate.components
        return ColourSpace("ICCBased", kind, components, profile=(profile.name or None) if profile else None)

    def _of_inks(self, written: InkSpace, depth: int) -> ColourSpace:
        alternate = self._without_resources(written.alternate, depth)
        if written.family == "DeviceN":
            process = (*PROCESS_INKS, *self._process_inks(written, depth))
            kind = _kind_of_inks(written.inks, process)
            return ColourSpace("DeviceN", kind, len(written.inks), written.inks, alternate)
        kind = _kind_of_inks(written.inks, PROCESS_INKS)
        tint = self._full_tint(written.tint) if kind is ColourKind.SPOT else ()
        full = tint if len(tint) == alternate.components else ()
        return ColourSpace("Separation", kind, 1, written.inks, alternate, full_tint=full)

    def _without_resources(self, value: object, depth: int) -> ColourSpace:
        return _SpaceReading(NO_RESOURCES, self._profiles, self._full_tint).space(value, depth - 1)

    def _profile(self, written: IccSpace) -> ProfileFacts | None:
        key = identity(written.stream) or ""
        if key not in self._profiles:
            data = written.profile()
            self._profiles[key] = read_profile(data) if data is not None else None
        return self._profiles[key]

    def _process_inks(self, written: InkSpace, depth: int) -> tuple[str, ...]:
        """The names by which an NChannel space calls the inks of the press."""
        if self.space(written.process_space, depth - 1).kind is not ColourKind.CMYK:
            return ()
        return tuple(each for each in written.process_inks if each is not None)


def _kind_of_inks(inks: tuple[str, ...], process: tuple[str, ...]) -> ColourKind:
    """What a press makes of these inks (8.6.6.4, 8.6.6.5)."""
    if not inks:
        return ColourKind.UNKNOWN
    if "All" in inks:
        return ColourKind.REGISTRATION
    printing = [each for each in inks if each != "None"]
    if not printing:
        return ColourKind.NONE
    return ColourKind.CMYK if all(each in process for each in printing) else ColourKind.SPOT
