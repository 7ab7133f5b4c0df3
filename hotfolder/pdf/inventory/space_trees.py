"""Reads colour spaces with all that they are built on (ISO 32000-2, 8.6)."""

import hashlib
from dataclasses import replace
from typing import Final

import pikepdf

from hotfolder.colour.icc import read_profile
from hotfolder.model.inventory.colour import (
    ColourTable,
    SpaceProfile,
    SpaceTree,
    SpaceTrouble,
    TintTransform,
)
from hotfolder.pdf.colour.written_spaces import (
    ICC_COMPONENTS,
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
from hotfolder.pdf.inventory.beginnings import beginning_of
from hotfolder.pdf.objects.limits import COLOUR_SPACE_NESTING, PROFILE_BYTES
from hotfolder.pdf.objects.reading import entry, identity, item, name, numbers, whole
from hotfolder.pdf.objects.resources import Resources
from hotfolder.pdf.objects.streams import bounded_bytes

_HEADER_BYTES: Final = 128  # of an ICC profile (ICC.1:2022, 7.2)
_FUNCTIONS: Final = 8  # functions within stitching functions

# The spaces of single inks are read to this depth, and none within them: a DeviceN whose inks were DeviceN
# spaces again, and so on, would be more than can be read.
_WITHIN_COLORANTS: Final = COLOUR_SPACE_NESTING // 2


class SpaceTrees:
    """Reads the colour spaces of one document; each profile is read once.

    output: the profile of its output intent, a stream; None where it has none in the file. checksum: that of
    an output profile that lies outside of the file; empty for none.
    """

    def __init__(self, output: object = None, checksum: bytes = b"") -> None:
        self._output = output
        self._checksum = checksum
        self._profiles: dict[str, SpaceProfile] = {}
        self._known: dict[str, SpaceTree] = {}

    def read(self, value: object, resources: Resources) -> SpaceTree:
        """The space that a name or an array stands for, looked up in `resources` where it is a name."""
        written = written_space(value, resources)
        meaning = written.meaning  # pages of a book have the same few spaces
        if not meaning:
            return _named(self._tree(written, COLOUR_SPACE_NESTING), value)
        if meaning not in self._known:
            self._known[meaning] = self._tree(written, COLOUR_SPACE_NESTING)
        return self._known[meaning]

    def _tree(self, written: WrittenSpace, depth: int) -> SpaceTree:  # noqa: PLR0911 - one a family
        match written:
            case UnknownSpace(called, endless):
                trouble = SpaceTrouble.ENDLESS if endless else SpaceTrouble.NO_SPACE
                return SpaceTree("", trouble=trouble, name=called)
            case DeviceSpace() as device:
                # One of another number of components is not allowed (8.6.5.6), and not used.
                used = device.meant
                default = self._tree(used, depth - 1) if used is not device else None
                return SpaceTree(device.family, device.components, default=default)
            case CalibratedSpace() as calibrated:
                white = numbers(entry(calibrated.parameters, "/WhitePoint"), 3)
                number = identity(calibrated.array)
                return SpaceTree(calibrated.family, calibrated.components, object=number, white=white)
            case IccSpace() as profiled:
                profile = self._profile(profiled, depth)
                number = identity(profiled.array)
                return SpaceTree("ICCBased", profile.stated, object=number, profile=profile)
            case IndexedSpace() as indexed:
                table = ColourTable(indexed.top, len(indexed.table_bytes()))
                base = self._tree(indexed.base, depth - 1)
                return SpaceTree("Indexed", 1, object=identity(indexed.array), base=base, table=table)
            case PatternSpace() as pattern:
                beneath = self._tree(pattern.base, depth - 1) if pattern.base is not None else None
                number = identity(pattern.array)
                return SpaceTree("Pattern", pattern.components, object=number, base=beneath)
            case InkSpace() as inks:
                return self._of_inks(inks, depth)

    def _of_inks(self, written: InkSpace, depth: int) -> SpaceTree:
        named = written.process_space
        return SpaceTree(
            family=written.family,
            components=1 if written.family == "Separation" else _length(item(written.array, 1)),
            object=identity(written.array),
            inks=written.inks,
            nameless=None in written.names,
            alternate=self._tree(written.alternate, depth - 1),
            process=self._tree(named, depth - 1) if named is not None else None,
            process_inks=len(written.process_inks),
            colorants=self._colorants(written, depth),
            tint=_tint(written.tint),
        )

    def _colorants(self, written: InkSpace, depth: int) -> tuple[tuple[str, SpaceTree], ...]:
        if depth <= _WITHIN_COLORANTS:
            return ()
        colorants = written.colorants()
        return tuple((ink, self._tree(space, _WITHIN_COLORANTS)) for ink, space in colorants.items())

    def _profile(self, written: IccSpace, depth: int) -> SpaceProfile:
        key = identity(written.stream)
        if key is None or key not in self._profiles:
            profile = self._read_profile(written, depth)
            if key is None:
                return profile
            self._profiles[key] = profile
        return self._profiles[key]

    def _read_profile(self, written: IccSpace, depth: int) -> SpaceProfile:
        named = written.alternate
        alternate = self._tree(named, depth - 1) if named is not None else None
        ranges = entry(written.stream, "/Range")
        count = _length(ranges) if ranges is not None else None
        header = beginning_of(written.stream, _HEADER_BYTES)
        facts = read_profile(header) if header is not None else None
        if header is None or facts is None:
            return SpaceProfile(written.components, alternate=alternate, range_numbers=count)
        return SpaceProfile(
            stated=written.components,
            readable=True,
            version=(header[8], header[9] >> 4),
            space=facts.space,
            device_class=facts.device_class,
            components=ICC_COMPONENTS.get(facts.space),
            alternate=alternate,
            range_numbers=count,
            is_output=self._is_output(written.stream, header),
        )

    def _is_output(self, stream: object, header: bytes) -> bool:
        """Whether a profile is that of the output intent; only one with the same header is compared whole."""
        if self._output is None:
            return self._has_checksum(stream, header)
        if identity(stream) is not None and identity(stream) == identity(self._output):
            return True
        if beginning_of(self._output, _HEADER_BYTES) != header:
            return False
        data = bounded_bytes(stream, PROFILE_BYTES)
        return data is not None and data == bounded_bytes(self._output, PROFILE_BYTES)

    def _has_checksum(self, stream: object, header: bytes) -> bool:
        if not self._checksum or header[16:20] != b"CMYK":
            return False  # only the press's own colours are asked after
        data = bounded_bytes(stream, PROFILE_BYTES) or b""
        return hashlib.md5(data, usedforsecurity=False).digest() == self._checksum


def _named(tree: SpaceTree, value: object) -> SpaceTree:
    """What is no space, told apart from a name that the resources do not have."""
    missing = tree.trouble is SpaceTrouble.NO_SPACE and tree.name and tree.name == name(value)
    return replace(tree, trouble=SpaceTrouble.MISSING) if missing else tree


def _tint(value: object) -> TintTransform:
    if whole(entry(value, "/FunctionType")) not in {0, 2, 3, 4}:
        return TintTransform(is_function=False)
    domain = _length(entry(value, "/Domain"))
    return TintTransform(
        is_function=True,
        inputs=domain // 2 if domain else None,
        outputs=_outputs(value, _FUNCTIONS),
    )


def _outputs(function: object, depth: int) -> int | None:
    """How many numbers a function gives, by its entries (7.10); None where they do not tell."""
    output = _length(entry(function, "/Range"))
    if output:
        return output // 2
    match whole(entry(function, "/FunctionType")):
        case 2:
            # Both are [0] and [1] where they are left out.
            return max(_length(entry(function, "/C0")) or 1, _length(entry(function, "/C1")) or 1)
        case 3 if depth:
            return _outputs(item(entry(function, "/Functions"), 0), depth - 1)
        case _:
            return None


def _length(value: object) -> int | None:
    """How many things an array holds; None for anything else."""
    return len(value) if isinstance(value, pikepdf.Array) else None
