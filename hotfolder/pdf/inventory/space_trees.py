"""Reads colour spaces with all that they are built on (ISO 32000-2, 8.6)."""

import hashlib
import zlib
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
    IccSpace,
    IndexedSpace,
    InkSpace,
    NamedSpace,
    PatternSpace,
    written_space,
)
from hotfolder.pdf.objects.limits import COLOUR_COMPONENTS, COLOUR_SPACE_NESTING, PROFILE_BYTES
from hotfolder.pdf.objects.reading import READING_ERRORS, entry, identity, item, keys, numbers, whole
from hotfolder.pdf.objects.resources import Resources
from hotfolder.pdf.objects.streams import bounded_bytes, filters, predictor

_DEVICES: Final = {"DeviceGray": 1, "DeviceRGB": 3, "DeviceCMYK": 4}
_CALIBRATED: Final = {"CalGray": 1, "CalRGB": 3, "Lab": 3}
_NO_RESOURCES: Final = Resources()
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

    def read(self, value: object, resources: Resources) -> SpaceTree:
        """The space that a name or an array stands for, looked up in `resources` where it is a name."""
        return self._space(value, resources, COLOUR_SPACE_NESTING)

    def _space(self, value: object, resources: Resources, depth: int) -> SpaceTree:  # noqa: PLR0911 - one a family
        if not depth:
            return SpaceTree("", trouble=SpaceTrouble.ENDLESS, object=identity(value))
        match written_space(value):
            case NamedSpace() as written:
                return self._named(value, written, resources, depth)
            case CalibratedSpace(family) as written:
                white = numbers(entry(written.parameters, "/WhitePoint"), 3)
                return SpaceTree(family, _CALIBRATED[family], object=identity(value), white=white)
            case IccSpace() as written:
                profile = self._profile(written, resources, depth)
                return SpaceTree("ICCBased", profile.stated, object=identity(value), profile=profile)
            case IndexedSpace() as written:
                table = ColourTable(written.top, len(written.table_bytes()))
                base = self._space(written.base, resources, depth - 1)
                return SpaceTree("Indexed", 1, object=identity(value), base=base, table=table)
            case PatternSpace(None):
                return SpaceTree("Pattern", 0, object=identity(value))
            case PatternSpace(beneath):
                base = self._space(beneath, resources, depth - 1)
                return SpaceTree("Pattern", base.components, object=identity(value), base=base)
            case InkSpace() as written:
                return self._of_inks(value, written, resources, depth)

    def _named(self, value: object, written: NamedSpace, resources: Resources, depth: int) -> SpaceTree:
        if written.family in _DEVICES:
            count = _DEVICES[written.family]
            given = written.default(resources)
            default = self._space(given, _NO_RESOURCES, depth - 1) if given is not None else None
            if default is not None and default.components != count:
                default = None  # not allowed (8.6.5.6), and not used
            return SpaceTree(written.family, count, default=default)
        if written.family == "Pattern":
            return SpaceTree("Pattern", 0)
        held = written.resource(resources)
        if held is not None:
            return self._space(held, resources, depth - 1)
        trouble = SpaceTrouble.MISSING if isinstance(value, pikepdf.Name) else SpaceTrouble.NO_SPACE
        return SpaceTree("", trouble=trouble, name=written.name, object=identity(value))

    def _of_inks(self, value: object, written: InkSpace, resources: Resources, depth: int) -> SpaceTree:
        attributes = item(value, 4) if written.family == "DeviceN" else None
        named = written.process_space
        return SpaceTree(
            family=written.family,
            components=1 if written.family == "Separation" else _length(item(value, 1)),
            object=identity(value),
            inks=written.inks,
            nameless=written.nameless,
            alternate=self._space(written.alternate, resources, depth - 1),
            process=self._space(named, resources, depth - 1) if named is not None else None,
            process_inks=len(written.process_inks),
            colorants=self._colorants(entry(attributes, "/Colorants"), resources, depth),
            tint=_tint(written.tint),
        )

    def _colorants(
        self, given: object, resources: Resources, depth: int
    ) -> tuple[tuple[str, SpaceTree], ...]:
        if depth <= _WITHIN_COLORANTS:
            return ()
        return tuple(
            (key.removeprefix("/"), self._space(entry(given, key), resources, _WITHIN_COLORANTS))
            for key in keys(given, COLOUR_COMPONENTS)
        )

    def _profile(self, written: IccSpace, resources: Resources, depth: int) -> SpaceProfile:
        key = identity(written.stream)
        if key is None or key not in self._profiles:
            profile = self._read_profile(written, resources, depth)
            if key is None:
                return profile
            self._profiles[key] = profile
        return self._profiles[key]

    def _read_profile(self, written: IccSpace, resources: Resources, depth: int) -> SpaceProfile:
        named = written.alternate
        alternate = self._space(named, resources, depth - 1) if named is not None else None
        ranges = entry(written.stream, "/Range")
        count = _length(ranges) if ranges is not None else None
        header = _beginning(written.stream)
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
        if _beginning(self._output) != header:
            return False
        data = bounded_bytes(stream, PROFILE_BYTES)
        return data is not None and data == bounded_bytes(self._output, PROFILE_BYTES)

    def _has_checksum(self, stream: object, header: bytes) -> bool:
        if not self._checksum or header[16:20] != b"CMYK":
            return False  # only the press's own colours are asked after
        data = bounded_bytes(stream, PROFILE_BYTES) or b""
        return hashlib.md5(data, usedforsecurity=False).digest() == self._checksum


def _beginning(stream: object) -> bytes | None:
    """The header of a profile; None where it cannot be had. Profiles are large, and mostly deflated."""
    if not isinstance(stream, pikepdf.Stream):
        return None
    if filters(stream) == ("FlateDecode",) and predictor(stream) == 1:
        try:
            return zlib.decompressobj().decompress(stream.read_raw_bytes(), _HEADER_BYTES)
        except (zlib.error, *READING_ERRORS):
            return None
    data = bounded_bytes(stream, PROFILE_BYTES)
    return data[:_HEADER_BYTES] if data is not None else None


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
