"""Colour spaces as a file writes them (ISO 32000-2, 8.6), each with the spaces that it is made of, as a tree.

Facts and the paint of plates are both made of these trees. Here, once, names are looked up, damage is
narrowed and limits are kept; whether a space with such parameters is of use is for those to say who use it.

Every space has a `family`, the number of its `components` (None where that cannot be said), and a `meaning`:
a text that is the same for the same space, and for no other.
"""

from collections.abc import Mapping
from dataclasses import dataclass
from typing import ClassVar, Final, TypeAlias

import pikepdf

from hotfolder.pdf.language.short_names import full_colour_space
from hotfolder.pdf.objects.limits import COLOUR_COMPONENTS, COLOUR_SPACE_NESTING, PROFILE_BYTES
from hotfolder.pdf.objects.reading import (
    entry,
    fingerprint,
    identity,
    item,
    items,
    keys,
    name,
    numbers,
    whole,
)
from hotfolder.pdf.objects.resources import Resources
from hotfolder.pdf.objects.streams import bounded_bytes

# Device spaces (8.6.4) and their components.
DEVICE_COMPONENTS: Final[Mapping[str, int]] = {"DeviceGray": 1, "DeviceRGB": 3, "DeviceCMYK": 4}

# What stands in for an ICC profile of so many components that cannot be used (8.6.5.5).
DEVICE_OF_COUNT: Final[Mapping[int, str]] = {count: family for family, count in DEVICE_COMPONENTS.items()}

# Data colour spaces of ICC profiles (ISO 15076-1, 7.2.6) that PDF allows (8.6.5.5, table 65), and their
# components.
ICC_COMPONENTS: Final[Mapping[str, int]] = {"GRAY": 1, "RGB": 3, "Lab": 3, "CMYK": 4}

NO_RESOURCES: Final = Resources()

_CALIBRATED_COMPONENTS: Final[Mapping[str, int]] = {"CalGray": 1, "CalRGB": 3, "Lab": 3}
_LAB_RANGE: Final = (-100.0, 100.0, -100.0, 100.0)
_TABLE_BYTES: Final = 256 * COLOUR_COMPONENTS


@dataclass(frozen=True, slots=True)
class UnknownSpace:
    """What stands in the place of a space and is none.

    name: one that is neither a family nor among the resources; empty where there is no name at all. endless:
    spaces lie within spaces deeper than `COLOUR_SPACE_NESTING`, or one lies within itself.
    """

    name: str = ""
    endless: bool = False

    family: ClassVar[str] = "unknown"
    components: ClassVar[None] = None
    meaning: ClassVar[str] = ""


@dataclass(frozen=True, slots=True)
class DeviceSpace:
    """DeviceGray, DeviceRGB or DeviceCMYK (8.6.4).

    name: as written, which may be a short one. default: the space that the resources give to stand for it
    (8.6.5.6); None where they give none.
    """

    name: str
    family: str
    default: "WrittenSpace | None" = None

    @property
    def components(self) -> int:
        """One, three or four."""
        return DEVICE_COMPONENTS[self.family]

    @property
    def meant(self) -> "WrittenSpace":
        """The space that counts: the default, unless it is known to have another number of components.

        Such a default is not allowed (8.6.5.6).
        """
        if self.default is None or self.default.components not in {None, self.components}:
            return self
        return self.default

    @property
    def meaning(self) -> str:
        """The family, and what stands for it."""
        return self.family if self.default is None else f"{self.family} {self.default.meaning}"


@dataclass(frozen=True, slots=True)
class _ArraySpace:
    """A space that is written as an array. array: that."""

    array: object

    @property
    def meaning(self) -> str:
        """The number of the array, or the hash of one without a number."""
        return fingerprint(self.array)


@dataclass(frozen=True, slots=True)
class CalibratedSpace(_ArraySpace):
    """CalGray, CalRGB or Lab (8.6.5.2 to 8.6.5.4). parameters: its dictionary."""

    family: str
    parameters: object

    @property
    def components(self) -> int:
        """One or three."""
        return _CALIBRATED_COMPONENTS[self.family]

    @property
    def lab_ranges(self) -> tuple[tuple[float, float], ...]:
        """The least and the greatest L*, a* and b* of a Lab space."""
        least_a, most_a, least_b, most_b = numbers(entry(self.parameters, "/Range"), 4) or _LAB_RANGE
        return (0.0, 100.0), (least_a, max(most_a, least_a)), (least_b, max(most_b, least_b))


@dataclass(frozen=True, slots=True)
class IccSpace(_ArraySpace):
    """A space by an ICC profile (8.6.5.5).

    stream: that of the profile. components: as the file says. alternate: the space that stands in for a
    profile that cannot be used; None where the file names none.
    """

    stream: object
    components: int | None
    alternate: "WrittenSpace | None"

    family: ClassVar[str] = "ICCBased"

    @property
    def profile_number(self) -> str | None:
        """The number of the profile's object, as `12 0`; None where there is no such object."""
        return identity(self.stream)

    @property
    def ranges(self) -> tuple[float, ...] | None:
        """The least and the greatest value of three components, one after the other; None without."""
        return numbers(entry(self.stream, "/Range"), 6)

    def profile(self) -> bytes | None:
        """The profile's data; None where they cannot be had."""
        return bounded_bytes(self.stream, PROFILE_BYTES)


@dataclass(frozen=True, slots=True)
class IndexedSpace(_ArraySpace):
    """A table of colours of another space (8.6.6.3). top: the greatest index; None where it is no number."""

    base: "WrittenSpace"
    top: int | None
    table: object

    family: ClassVar[str] = "Indexed"
    components: ClassVar[int] = 1

    @property
    def meaning(self) -> str:
        """The array, and what its base means among the resources."""
        return f"{self.base.meaning} {fingerprint(self.array)}"

    def table_bytes(self) -> bytes:
        """The table, a byte for each component of each colour; empty where it cannot be had."""
        if isinstance(self.table, pikepdf.Stream):
            return bounded_bytes(self.table, _TABLE_BYTES) or b""
        return bytes(self.table)[:_TABLE_BYTES] if isinstance(self.table, pikepdf.String) else b""


@dataclass(frozen=True, slots=True)
class PatternSpace(_ArraySpace):
    """A pattern space (8.7.3.3). base: that of the colour for patterns without their own; None without."""

    base: "WrittenSpace | None"

    family: ClassVar[str] = "Pattern"

    @property
    def components(self) -> int | None:
        """Those that go before the name of a pattern."""
        return 0 if self.base is None else self.base.components

    @property
    def meaning(self) -> str:
        """The family, or the array and what its base means among the resources."""
        return self.family if self.base is None else f"{self.base.meaning} {fingerprint(self.array)}"


@dataclass(frozen=True, slots=True)
class InkSpace(_ArraySpace):
    """Inks by their names: Separation or DeviceN (8.6.6.4, 8.6.6.5).

    names: of the inks, None for one that is no name. alternate, tint: the space, and the function into it,
    for devices without these inks. attributes: the dictionary of a DeviceN space, where it has one.
    process_space, process_inks: the space whose components are among the inks, and the names that these have
    there, in their order; both by that dictionary.
    """

    family: str
    names: tuple[str | None, ...]
    alternate: "WrittenSpace"
    tint: object
    attributes: object
    process_space: "WrittenSpace | None"
    process_inks: tuple[str | None, ...]

    @property
    def components(self) -> int:
        """One for each ink."""
        return len(self.names)

    @property
    def meaning(self) -> str:
        """The array, and what its alternate means among the resources."""
        return f"{self.alternate.meaning} {fingerprint(self.array)}"

    @property
    def inks(self) -> tuple[str, ...]:
        """The inks that have a name."""
        return tuple(each for each in self.names if each is not None)

    def colorants(self) -> dict[str, "WrittenSpace"]:
        """The Separation spaces that a DeviceN space gives for single inks of it, by their names."""
        spaces = entry(self.attributes, "/Colorants")
        names = keys(spaces, COLOUR_COMPONENTS)
        return {each.removeprefix("/"): written_space(entry(spaces, each)) for each in names}


ArraySpace: TypeAlias = CalibratedSpace | IccSpace | IndexedSpace | PatternSpace | InkSpace
WrittenSpace: TypeAlias = UnknownSpace | DeviceSpace | ArraySpace


def written_space(value: object, resources: Resources = NO_RESOURCES) -> WrittenSpace:
    """The space that a name or an array stands for, its names and defaults looked up in `resources`.

    `UnknownSpace` for anything else, and in any place of the tree where something else stands.
    """
    return _read(value, resources, ())


def _read(  # noqa: PLR0911 - one for each family
    value: object, resources: Resources, above: tuple[str, ...]
) -> WrittenSpace:
    """One space. above: the numbers of those that it lies in, the outermost first; empty for one without."""
    number = identity(value) or ""
    if len(above) == COLOUR_SPACE_NESTING or (number and number in above):
        return UnknownSpace(endless=True)
    within = (*above, number)
    single = name(value)
    if single is not None:
        return _named(single, resources, within)
    written = name(item(value, 0)) or ""
    family = full_colour_space(written)
    match family:
        case "CalGray" | "CalRGB" | "Lab":
            return CalibratedSpace(value, family, item(value, 1))
        case "ICCBased":
            return _icc_based(value, within)
        case "Indexed":
            base = _read(item(value, 1), resources, within)
            return IndexedSpace(value, base, whole(item(value, 2)), item(value, 3))
        case "Pattern":
            return PatternSpace(value, _part(item(value, 1), resources, within))
        case "Separation" | "DeviceN":
            return _of_inks(value, family, resources, within)
        case _:
            return _named(written, resources, within)


def _named(written: str, resources: Resources, within: tuple[str, ...]) -> WrittenSpace:
    """A space by its name alone, which may also stand alone in an array."""
    family = full_colour_space(written)
    if family == "Pattern":
        return PatternSpace(None, None)
    if family != written and resources.find("ColorSpace", written) is not None:
        family = ""  # short names are those of inline images (8.9.7); a resource of that name goes before
    if family in DEVICE_COMPONENTS:
        # What stands for a device space is read without resources, or it could stand for itself.
        default = resources.default_space(family)
        return DeviceSpace(written, family, _part(default, NO_RESOURCES, within))
    held = resources.find("ColorSpace", written) if written else None
    return UnknownSpace(written) if held is None else _read(held, resources, within)


def _part(value: object, resources: Resources, within: tuple[str, ...]) -> WrittenSpace | None:
    """A space that another may do without; None where it does."""
    return None if value is None else _read(value, resources, within)


def _icc_based(array: object, within: tuple[str, ...]) -> IccSpace:
    stream = item(array, 1)
    alternate = _part(entry(stream, "/Alternate"), NO_RESOURCES, within)
    return IccSpace(array, stream, whole(entry(stream, "/N")), alternate)


def _of_inks(array: object, family: str, resources: Resources, within: tuple[str, ...]) -> InkSpace:
    separation = family == "Separation"
    attributes = None if separation else item(array, 4)
    process = entry(attributes, "/Process")
    return InkSpace(
        array=array,
        family=family,
        names=(name(item(array, 1)),) if separation else _names(item(array, 1)),
        # A default space stands for the alternate as well, where that is taken (ISO 32000-2, 8.6.5.6).
        alternate=_read(item(array, 2), resources, within),
        tint=item(array, 3),
        attributes=attributes,
        process_space=_part(entry(process, "/ColorSpace"), NO_RESOURCES, within),
        process_inks=_names(entry(process, "/Components")),
    )


def _names(value: object) -> tuple[str | None, ...]:
    return tuple(name(each) for each in items(value, COLOUR_COMPONENTS))
