"""Makes facts of colour spaces (ISO 32000-2, 8.6).

Junk gives a space of kind UNKNOWN, never an exception.
"""

from collections.abc import Callable
from typing import Final

from hotfolder.colour.icc import ProfileFacts, read_profile
from hotfolder.model.colour import PROCESS_INKS, Colour, ColourKind, ColourSpace
from hotfolder.pdf.colour.written_spaces import (
    DEVICE_OF_COUNT,
    ICC_COMPONENTS,
    NO_RESOURCES,
    CalibratedSpace,
    DeviceSpace,
    IccSpace,
    IndexedSpace,
    InkSpace,
    PatternSpace,
    UnknownSpace,
    WrittenSpace,
    written_space,
)
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
    facts = _SpaceFacts({} if profiles is None else profiles, full_tint)
    return facts.of(written_space(value, resources))


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


class _SpaceFacts:
    """Makes facts of spaces as they are written."""

    def __init__(self, profiles: Profiles, full_tint: FullTint) -> None:
        self._profiles = profiles
        self._full_tint = full_tint

    def of(self, written: WrittenSpace) -> ColourSpace:  # noqa: PLR0911 - one for each family
        match written:
            case UnknownSpace():
                return UNKNOWN
            case DeviceSpace(family=family):
                meant = written.meant
                return DEVICES[family] if meant is written else self.of(meant)
            case CalibratedSpace(family=family):
                return _CALIBRATED[family]
            case IccSpace():
                return self._icc_based(written)
            case IndexedSpace():
                space = self.of(written.base)
                return ColourSpace("Indexed", space.kind, 1, inks=space.inks, base=space)
            case PatternSpace():
                return self._pattern(written)
            case InkSpace():
                return self._of_inks(written)

    def _pattern(self, written: PatternSpace) -> ColourSpace:
        if written.base is None:
            return PATTERN
        space = self.of(written.base)
        return ColourSpace("Pattern", ColourKind.PATTERN, space.components, inks=space.inks, base=space)

    def _icc_based(self, written: IccSpace) -> ColourSpace:
        profile, count = self._profile(written), written.components
        data_space = profile.space if profile is not None else ""
        kind = _ICC_KINDS.get(data_space, ColourKind.UNKNOWN)
        components = ICC_COMPONENTS.get(data_space, 0)
        if count is not None and count in DEVICE_OF_COUNT and components != count:
            # No profile, or one that is not for this many components: readers then go by N.
            kind, components = DEVICES[DEVICE_OF_COUNT[count]].kind, count
        elif components != count:
            alternate = UNKNOWN if written.alternate is None else self.of(written.alternate)
            kind, components = alternate.kind, alternate.components
        return ColourSpace("ICCBased", kind, components, profile=(profile.name or None) if profile else None)

    def _of_inks(self, written: InkSpace) -> ColourSpace:
        alternate, inks = self.of(written.alternate), written.inks
        if written.family == "DeviceN":
            kind = _kind_of_inks(inks, (*PROCESS_INKS, *self._process_inks(written)))
            return ColourSpace("DeviceN", kind, len(inks), inks, alternate)
        kind = _kind_of_inks(inks, PROCESS_INKS)
        tint = self._full_tint(written.tint) if kind is ColourKind.SPOT else ()
        full = tint if len(tint) == alternate.components else ()
        return ColourSpace("Separation", kind, 1, inks, alternate, full_tint=full)

    def _profile(self, written: IccSpace) -> ProfileFacts | None:
        key = written.profile_number or ""
        if key not in self._profiles:
            data = written.profile()
            self._profiles[key] = read_profile(data) if data is not None else None
        return self._profiles[key]

    def _process_inks(self, written: InkSpace) -> tuple[str, ...]:
        """The names by which an NChannel space calls the inks of the press."""
        if written.process_space is None or self.of(written.process_space).kind is not ColourKind.CMYK:
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
