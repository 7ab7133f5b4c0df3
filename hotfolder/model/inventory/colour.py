"""The colour spaces that pages use, each with all that it is built on (ISO 32000-2, 8.6)."""

from collections.abc import Iterator
from dataclasses import dataclass
from enum import StrEnum

from hotfolder.model.colour import ColourSpace


class SpaceTrouble(StrEnum):
    """Why something that stands where a colour space belongs is none.

    MISSING: a name that the resources do not have. NO_SPACE: anything else, such as a number or an array
    that begins with no family. ENDLESS: spaces within spaces beyond all reason, a circle for example.
    """

    MISSING = "missing"
    NO_SPACE = "no-space"
    ENDLESS = "endless"


@dataclass(frozen=True, slots=True)
class SpaceProfile:
    """The ICC profile of a colour space (ISO 32000-2, 8.6.5.5).

    stated: its number of components as the file says (N); None where it does not. readable: it is an ICC
    profile. version (major and minor), space (`CMYK`), device_class (`prtr`): what its header says (ICC.1,
    7.2). components: those of its space; None where PDF has no use for such a space. alternate: the space
    that stands in for it, where one is named. range_numbers: how many numbers its Range has; None without
    one. is_output: it is that of the PDF/X output intent, byte for byte.
    """

    stated: int | None
    readable: bool = False
    version: tuple[int, int] = (0, 0)
    space: str = ""
    device_class: str = ""
    components: int | None = None
    alternate: "SpaceTree | None" = None
    range_numbers: int | None = None
    is_output: bool = False


@dataclass(frozen=True, slots=True)
class TintTransform:
    """The function that turns tints of inks into another colour (ISO 32000-2, 8.6.6.4).

    is_function: something stands there that is one. inputs, outputs: how many numbers it takes and gives;
    None where its entries do not tell.
    """

    is_function: bool
    inputs: int | None = None
    outputs: int | None = None


@dataclass(frozen=True, slots=True)
class ColourTable:
    """The table of an Indexed space (ISO 32000-2, 8.6.6.3).

    top: its greatest index; None for what is no whole number. size_bytes: its length.
    """

    top: int | None
    size_bytes: int


@dataclass(frozen=True, slots=True)
class SpaceTree:
    """A colour space with those that it is built on.

    family: the standard's name; empty where it is no space, and then `trouble` says why. components: of a
    colour in it; None where that is not known. name: as written, of what is missing or no space. object:
    its number (`12 0`). inks: of Separation and DeviceN; nameless: something without a name stands among
    them. base: that of Indexed, and the one beneath Pattern. alternate: the one for devices without the inks.
    default: what stands in for a device space here (8.6.5.6). process: the space of the process inks of a
    DeviceN; process_inks: how many it names. colorants: the single inks of a DeviceN, each with its space
    (table 71). white: the white point of a calibrated space; None where it has none.
    """

    family: str
    components: int | None = None
    trouble: SpaceTrouble | None = None
    name: str = ""
    object: str | None = None
    inks: tuple[str, ...] = ()
    nameless: bool = False
    base: "SpaceTree | None" = None
    alternate: "SpaceTree | None" = None
    default: "SpaceTree | None" = None
    process: "SpaceTree | None" = None
    process_inks: int = 0
    colorants: tuple[tuple[str, "SpaceTree"], ...] = ()
    tint: TintTransform | None = None
    profile: SpaceProfile | None = None
    table: ColourTable | None = None
    white: tuple[float, ...] | None = None

    @property
    def named_colours(self) -> "SpaceTree":
        """The space that colours are named in: this one, or that beneath an Indexed or a Pattern space."""
        return self if self.base is None else self.base.named_colours

    def chain(self) -> Iterator["SpaceTree"]:
        """The space itself, and all that its colours may be turned into on their way to paper."""
        yield self
        for part in (self.base, self.alternate, self.default):
            if part is not None:
                yield from part.chain()

    def parts(self) -> Iterator["SpaceTree"]:
        """The space itself and all that it is built on, the descriptions of single inks included."""
        for part in self.chain():
            yield part
            for inner in (part.process, *(described for _, described in part.colorants)):
                if inner is not None:
                    yield from inner.parts()


@dataclass(frozen=True, slots=True)
class UsedSpace:
    """A colour space that the content of a page chooses, or an image or shading on it has.

    paint: how marks that are painted in it name it. within: the object number of the stream that chooses it;
    None for the page's own. in_mask: that stream is part of a soft mask, which leaves no marks. picture: the
    object number of the image whose space it is; None for one that paints something else.
    """

    tree: SpaceTree
    paint: ColourSpace
    page: int
    within: str | None = None
    in_mask: bool = False
    picture: str | None = None


class GroupKind(StrEnum):
    """What is painted as a group: a page, a form, or a soft mask (ISO 32000-2, 11.6.6, 11.6.5.2)."""

    PAGE = "page"
    FORM = "form"
    MASK = "mask"


@dataclass(frozen=True, slots=True)
class BlendGroup:
    """A transparency group. space: that in which it blends, where it names one. object: the form's."""

    kind: GroupKind
    page: int
    object: str | None
    space: SpaceTree | None
    luminosity: bool = False


@dataclass(frozen=True, slots=True)
class NamedIntent:
    """A rendering intent that is named (ISO 32000-2, 8.6.5.8).

    name: as written; None for what is no name. place: an instruction, a graphics state, or a picture, in
    words. picture: the object number of the picture (`12 0`); None for one without, and for the others.
    """

    name: str | None
    place: str
    page: int
    picture: str | None = None


@dataclass(frozen=True, slots=True)
class ColourFacts:
    """How the pages of a file use colour.

    output_space: that of the profile of its PDF/X output intent, or of the one that is referred to (`CMYK`);
    None where there is none that can be read. output_condition: the identifier of that intent; None without
    an intent. black_points: the pages on which a graphics state says how black points are mapped, a matter of
    PDF 2.0.
    """

    output_space: str | None = None
    output_condition: str | None = None
    spaces: tuple[UsedSpace, ...] = ()
    groups: tuple[BlendGroup, ...] = ()
    intents: tuple[NamedIntent, ...] = ()
    black_points: tuple[int, ...] = ()
