"""Colour spaces as a file writes them (ISO 32000-2, 8.6): their families and parameters, not yet made use of.

Facts and the paint of plates are both made of these. Damage is narrowed and limits are kept here, once;
whether a space with such parameters is of use is for those to say who make something of it.
"""

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Final, TypeAlias

import pikepdf

from hotfolder.pdf.language.short_names import full_colour_space
from hotfolder.pdf.objects.limits import COLOUR_COMPONENTS, PROFILE_BYTES
from hotfolder.pdf.objects.reading import entry, item, items, name, numbers, whole
from hotfolder.pdf.objects.resources import Resources
from hotfolder.pdf.objects.streams import bounded_bytes

DEVICE_FAMILIES: Final = frozenset({"DeviceGray", "DeviceRGB", "DeviceCMYK"})

# What stands in for an ICC profile of so many components that cannot be used (8.6.5.5).
DEVICE_OF_COUNT: Final[Mapping[int, str]] = {1: "DeviceGray", 3: "DeviceRGB", 4: "DeviceCMYK"}

# Data colour spaces of ICC profiles (ISO 15076-1, 7.2.6) that PDF allows (8.6.5.5, table 65), and their
# components.
ICC_COMPONENTS: Final[Mapping[str, int]] = {"GRAY": 1, "RGB": 3, "Lab": 3, "CMYK": 4}

_LAB_RANGE: Final = (-100.0, 100.0, -100.0, 100.0)
_TABLE_BYTES: Final = 256 * COLOUR_COMPONENTS


@dataclass(frozen=True, slots=True)
class NamedSpace:
    """A space by its name alone: that of a device, the pattern space, or one among the resources.

    name: as written; a device space, or the pattern space, may also stand alone in an array. family: of what
    the name is, should it be that of a family.
    """

    name: str
    family: str

    def default(self, resources: Resources) -> object:
        """What stands here for a device space (8.6.5.6); None for the device itself, and for other names.

        It is to be read without resources, or it could stand for itself.
        """
        return resources.default_space(self.family) if self.family in DEVICE_FAMILIES else None

    def resource(self, resources: Resources) -> object:
        """The space of that name among the resources; None where there is none."""
        return resources.find("ColorSpace", self.name) if self.name else None


@dataclass(frozen=True, slots=True)
class CalibratedSpace:
    """CalGray, CalRGB or Lab (8.6.5.2 to 8.6.5.4), by its dictionary."""

    family: str
    parameters: object

    @property
    def lab_ranges(self) -> tuple[tuple[float, float], ...]:
        """The least and the greatest L*, a* and b* of a Lab space."""
        least_a, most_a, least_b, most_b = numbers(entry(self.parameters, "/Range"), 4) or _LAB_RANGE
        return (0.0, 100.0), (least_a, max(most_a, least_a)), (least_b, max(most_b, least_b))


@dataclass(frozen=True, slots=True)
class IccSpace:
    """A space by an ICC profile (8.6.5.5). components: as the file says; None where it does not."""

    stream: object
    components: int | None

    @property
    def alternate(self) -> object:
        """The space that stands in for a profile that cannot be used."""
        return entry(self.stream, "/Alternate")

    @property
    def ranges(self) -> tuple[float, ...] | None:
        """The least and the greatest value of three components, one after the other; None without."""
        return numbers(entry(self.stream, "/Range"), 6)

    def profile(self) -> bytes | None:
        """The profile's data; None where they cannot be had."""
        return bounded_bytes(self.stream, PROFILE_BYTES)


@dataclass(frozen=True, slots=True)
class IndexedSpace:
    """A table of colours of another space (8.6.6.3). top: the greatest index; None where it is no number."""

    base: object
    top: int | None
    table: object

    def table_bytes(self) -> bytes:
        """The table, a byte for each component of each colour; empty where it cannot be had."""
        if isinstance(self.table, pikepdf.Stream):
            return bounded_bytes(self.table, _TABLE_BYTES) or b""
        return bytes(self.table)[:_TABLE_BYTES] if isinstance(self.table, pikepdf.String) else b""


@dataclass(frozen=True, slots=True)
class PatternSpace:
    """A pattern space (8.7.3.3). base: the space that patterns without their own colours are painted in."""

    base: object


@dataclass(frozen=True, slots=True)
class InkSpace:
    """Inks by their names: Separation or DeviceN (8.6.6.4, 8.6.6.5).

    inks: those that have a name. nameless: others stand among them, so that it makes no sense.
    alternate, tint: the space, and the function into it, for devices without these inks; default spaces do
    not stand for the alternate, as the function was made for the device. process_space, process_inks: the
    names by which an NChannel space calls the components of that space, in their order (table 72); None for
    one that is no name.
    """

    family: str
    inks: tuple[str, ...]
    nameless: bool
    alternate: object
    tint: object
    process_space: object
    process_inks: tuple[str | None, ...]


ArraySpace: TypeAlias = CalibratedSpace | IccSpace | IndexedSpace | PatternSpace | InkSpace
WrittenSpace: TypeAlias = NamedSpace | ArraySpace


def written_space(value: object) -> WrittenSpace:  # noqa: PLR0911 - one for each family
    """What a name or an array says of a colour space; a `NamedSpace` without name for anything else."""
    single = name(value)
    if single is not None:
        return NamedSpace(single, full_colour_space(single))
    named = name(item(value, 0)) or ""
    family = full_colour_space(named)
    match family:
        case "CalGray" | "CalRGB" | "Lab":
            return CalibratedSpace(family, item(value, 1))
        case "ICCBased":
            stream = item(value, 1)
            return IccSpace(stream, whole(entry(stream, "/N")))
        case "Indexed":
            return IndexedSpace(item(value, 1), whole(item(value, 2)), item(value, 3))
        case "Pattern":
            return PatternSpace(item(value, 1))
        case "Separation":
            return _inks(family, (name(item(value, 1)),), value)
        case "DeviceN":
            return _inks(family, _names(item(value, 1)), value)
        case _:
            return NamedSpace(named, family)


def _inks(family: str, names: tuple[str | None, ...], value: object) -> InkSpace:
    inks = tuple(each for each in names if each is not None)
    process = entry(item(value, 4), "/Process") if family == "DeviceN" else None
    return InkSpace(
        family=family,
        inks=inks,
        nameless=len(inks) < len(names),
        alternate=item(value, 2),
        tint=item(value, 3),
        process_space=entry(process, "/ColorSpace"),
        process_inks=_names(entry(process, "/Components")),
    )


def _names(value: object) -> tuple[str | None, ...]:
    return tuple(name(each) for each in items(value, COLOUR_COMPONENTS))
