"""Colour spaces and colours as the file names them."""

from dataclasses import dataclass
from enum import StrEnum


class ColourKind(StrEnum):
    """What a colour is made of, seen from a press."""

    GREY = "grey"
    CMYK = "CMYK"
    RGB = "RGB"
    LAB = "Lab"
    SPOT = "spot"  # one or more named inks beside the process inks
    REGISTRATION = "registration"  # Separation /All: every plate
    NONE = "none"  # Separation /None: no plate
    PATTERN = "pattern"
    UNKNOWN = "unknown"


PROCESS_INKS = ("Cyan", "Magenta", "Yellow", "Black")


@dataclass(frozen=True, slots=True)
class ColourSpace:
    """A colour space as the file has it (ISO 32000-2, 8.6).

    family: the standard's name (`DeviceRGB`, `CalGray`, `Lab`, `ICCBased`, `Indexed`,
        `Pattern`, `Separation`, `DeviceN`), or Pillow's mode for raster files (`RGB`, `CMYK`).
    kind: what the colours are made of in the end; an Indexed space has its base's kind,
        an ICCBased one that of its profile, a DeviceN of process inks only is CMYK.
    components: number of components of a colour in it (1 for Indexed).
    inks: the names that Separation and DeviceN spaces give, as they stand in the file,
        with #xx resolved.
    base: Indexed base, Separation and DeviceN alternate, Pattern's underlying space.
    profile: description of the ICC profile, where there is one and it can be read.
    full_tint: how a Separation looks at full strength, as components in `base`, by its tint transform; empty
        where that is not known.
    """

    family: str
    kind: ColourKind
    components: int
    inks: tuple[str, ...] = ()
    base: "ColourSpace | None" = None
    profile: str | None = None
    full_tint: tuple[float, ...] = ()

    def __str__(self) -> str:
        match self.family:
            case "ICCBased":
                return f"ICCBased ({self.profile or self.kind})"
            case "Indexed":
                return f"Indexed ({self.base})"
            case "Separation" | "DeviceN":
                return f"{self.family} ({', '.join(self.inks)})"
            case _:
                return self.family


@dataclass(frozen=True, slots=True)
class Colour:
    """One colour: its space and its components as the file has them; none for patterns."""

    space: ColourSpace
    components: tuple[float, ...] = ()


def inks_of(space: ColourSpace) -> tuple[str, ...]:
    """The inks that colours of this space may put on paper; empty for RGB, Lab and patterns."""
    if space.family in {"Indexed", "Pattern"}:
        return inks_of(space.base) if space.base is not None else ()
    if space.inks:
        return tuple(name for name in space.inks if name not in {"All", "None"})
    match space.kind:
        case ColourKind.CMYK:
            return PROCESS_INKS
        case ColourKind.GREY:
            return ("Black",)
        case _:
            return ()
