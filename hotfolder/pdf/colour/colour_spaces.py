"""Reads colour spaces (ISO 32000-2, 8.6) into facts.

Junk gives a space of kind UNKNOWN, never an exception.
"""

from collections.abc import Callable
from typing import Final

from hotfolder.colour.icc import ProfileFacts, read_profile
from hotfolder.model.colour import PROCESS_INKS, Colour, ColourKind, ColourSpace
from hotfolder.pdf.language.short_names import full_colour_space
from hotfolder.pdf.objects.limits import COLOUR_COMPONENTS, COLOUR_SPACE_NESTING, PROFILE_BYTES
from hotfolder.pdf.objects.reading import entry, identity, item, items, name, whole
from hotfolder.pdf.objects.resources import Resources
from hotfolder.pdf.objects.streams import bounded_bytes

DEVICE_GREY: Final = ColourSpace("DeviceGray", ColourKind.GREY, 1)
DEVICE_RGB: Final = ColourSpace("DeviceRGB", ColourKind.RGB, 3)
DEVICE_CMYK: Final = ColourSpace("DeviceCMYK", ColourKind.CMYK, 4)
PATTERN: Final = ColourSpace("Pattern", ColourKind.PATTERN, 0)
UNKNOWN: Final = ColourSpace("unknown", ColourKind.UNKNOWN, 0)

DEVICES: Final = {each.family: each for each in (DEVICE_GREY, DEVICE_RGB, DEVICE_CMYK)}

# Data colour spaces of ICC profiles (ISO 15076-1, 7.2.6) that PDF allows (8.6.5.5, table 65).
_ICC_KINDS: Final = {
    "GRAY": (ColourKind.GREY, 1),
    "RGB": (ColourKind.RGB, 3),
    "Lab": (ColourKind.LAB, 3),
    "CMYK": (ColourKind.CMYK, 4),
}
_KIND_OF_COUNT: Final = {1: ColourKind.GREY, 3: ColourKind.RGB, 4: ColourKind.CMYK}

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

    def space(self, value: object, depth: int) -> ColourSpace:
        if not depth:
            return UNKNOWN
        single = name(value)
        if single is not None:
            return self._named(single, depth)
        family = name(item(value, 0)) or ""
        read = _FAMILIES.get(full_colour_space(family))
        # A device space may stand alone in an array; so may a pattern.
        return read(self, value, depth) if read is not None else self._named(family, depth)

    def _named(self, given: str, depth: int) -> ColourSpace:
        full = full_colour_space(given)
        if full in DEVICES:
            default = self._resources.default_space(full)
            # What stands for a device space is read without resources, or it could stand for itself.
            return self._without_resources(default, depth) if default is not None else DEVICES[full]
        if full == "Pattern":
            return PATTERN
        found = self._resources.find("ColorSpace", given) if given else None
        return self.space(found, depth - 1) if found is not None else UNKNOWN

    def cal_grey(self, _value: object, _depth: int) -> ColourSpace:
        return ColourSpace("CalGray", ColourKind.GREY, 1)

    def cal_rgb(self, _value: object, _depth: int) -> ColourSpace:
        return ColourSpace("CalRGB", ColourKind.RGB, 3)

    def lab(self, _value: object, _depth: int) -> ColourSpace:
        return ColourSpace("Lab", ColourKind.LAB, 3)

    def icc_based(self, value: object, depth: int) -> ColourSpace:
        stream = item(value, 1)
        count = whole(entry(stream, "/N"))
        profile = self._profile(stream)
        kind, components = _ICC_KINDS.get(profile.space if profile else "", (ColourKind.UNKNOWN, 0))
        if count in _KIND_OF_COUNT and components != count:
            # No profile, or one that is not for this many components: readers then go by N.
            kind, components = _KIND_OF_COUNT[count], count
        elif components != count:
            alternate = self.space(entry(stream, "/Alternate"), depth - 1)
            kind, components = alternate.kind, alternate.components
        return ColourSpace("ICCBased", kind, components, profile=(profile.name or None) if profile else None)

    def indexed(self, value: object, depth: int) -> ColourSpace:
        base = self.space(item(value, 1), depth - 1)
        return ColourSpace("Indexed", base.kind, 1, inks=base.inks, base=base)

    def pattern(self, value: object, depth: int) -> ColourSpace:
        if item(value, 1) is None:
            return PATTERN
        base = self.space(item(value, 1), depth - 1)
        return ColourSpace("Pattern", ColourKind.PATTERN, base.components, inks=base.inks, base=base)

    def separation(self, value: object, depth: int) -> ColourSpace:
        inks = tuple(each for each in (name(item(value, 1)),) if each is not None)
        kind = _kind_of_inks(inks, PROCESS_INKS)
        alternate = self._alternate(value, depth)
        tint = self._full_tint(item(value, 3)) if kind is ColourKind.SPOT else ()
        full = tint if len(tint) == alternate.components else ()
        return ColourSpace("Separation", kind, 1, inks, alternate, full_tint=full)

    def device_n(self, value: object, depth: int) -> ColourSpace:
        found = (name(each) for each in items(item(value, 1), COLOUR_COMPONENTS))
        inks = tuple(each for each in found if each is not None)
        process = (*PROCESS_INKS, *self._process_components(item(value, 4), depth))
        return ColourSpace(
            "DeviceN", _kind_of_inks(inks, process), len(inks), inks, self._alternate(value, depth)
        )

    def _alternate(self, value: object, depth: int) -> ColourSpace:
        # Default colour spaces do not stand for alternates: the tint transform was made for the device.
        return self._without_resources(item(value, 2), depth)

    def _without_resources(self, value: object, depth: int) -> ColourSpace:
        return _SpaceReading(NO_RESOURCES, self._profiles, self._full_tint).space(value, depth - 1)

    def _profile(self, stream: object) -> ProfileFacts | None:
        key = identity(stream) or ""
        if key not in self._profiles:
            data = bounded_bytes(stream, PROFILE_BYTES)
            self._profiles[key] = read_profile(data) if data is not None else None
        return self._profiles[key]

    def _process_components(self, attributes: object, depth: int) -> tuple[str, ...]:
        """Components that an NChannel space calls process inks by other names (8.6.6.5, table 72)."""
        process = entry(attributes, "/Process")
        if self.space(entry(process, "/ColorSpace"), depth - 1).kind is not ColourKind.CMYK:
            return ()
        found = (name(each) for each in items(entry(process, "/Components"), COLOUR_COMPONENTS))
        return tuple(each for each in found if each is not None)


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


_FAMILIES: Final[dict[str, Callable[[_SpaceReading, object, int], ColourSpace]]] = {
    "CalGray": _SpaceReading.cal_grey,
    "CalRGB": _SpaceReading.cal_rgb,
    "Lab": _SpaceReading.lab,
    "ICCBased": _SpaceReading.icc_based,
    "Indexed": _SpaceReading.indexed,
    "Pattern": _SpaceReading.pattern,
    "Separation": _SpaceReading.separation,
    "DeviceN": _SpaceReading.device_n,
}
