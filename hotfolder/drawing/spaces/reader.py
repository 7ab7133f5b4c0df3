"""Reads colour spaces (ISO 32000-2, 8.6) as plates need them: what inks their colours lay.

spaces = PaintSpaces(pdf, conversions)
space = spaces.read(pikepdf.Name.DeviceRGB, resources)
space.inks((1, 0, 0))                   {"Cyan": 0.0, "Magenta": 0.98, ...}
space.shown((1, 0, 0), view)            operands for `rg` in that view
space.view(view)                        a colour space for the same operands
"""

from collections.abc import Callable
from typing import Final

import numpy as np
import pikepdf

from hotfolder.colour.conversions import Conversions
from hotfolder.colour.icc import read_profile
from hotfolder.colour.press_colours import Floats, PressColours
from hotfolder.drawing.spaces.calibrated import cal_grey_profile, cal_rgb_profile, white_point
from hotfolder.drawing.spaces.indexed import Indexed, Pattern
from hotfolder.drawing.spaces.named_inks import Cmyk, Grey, NamedInks
from hotfolder.drawing.spaces.profiled import LabSpace, Profiled
from hotfolder.drawing.spaces.space import PaintSpace
from hotfolder.errors import NotDrawnError, UnusableProfileError
from hotfolder.model.colour import PROCESS_INKS
from hotfolder.pdf.colour.functions import Function, read_function
from hotfolder.pdf.language.short_names import full_colour_space
from hotfolder.pdf.objects.limits import COLOUR_COMPONENTS, COLOUR_SPACE_NESTING, PROFILE_BYTES
from hotfolder.pdf.objects.reading import entry, fingerprint, item, items, name, numbers, whole
from hotfolder.pdf.objects.resources import Resources
from hotfolder.pdf.objects.streams import bounded_bytes

__all__ = ["PaintSpace", "PaintSpaces"]

NO_RESOURCES: Final = Resources()

_ENDLESS: Final = "colour spaces are nested without end"
_PALETTE_BYTES: Final = 256 * COLOUR_COMPONENTS
_LAB_RANGE: Final = (-100.0, 100.0, -100.0, 100.0)
_ICC_LAB_RANGE: Final = (0.0, 100.0, -128.0, 127.0, -128.0, 127.0)
_SPACES_OF_COUNT: Final = {1: "DeviceGray", 3: "DeviceRGB", 4: "DeviceCMYK"}


class PaintSpaces:
    """The colour spaces of one document, read once each.

    pdf: the document that is drawn, in which views are made. conversions: those of the press; None where
    there is no profile: then colours that need one are `NotDrawnError`.
    """

    def __init__(self, pdf: pikepdf.Pdf, conversions: Conversions | None) -> None:
        self.pdf = pdf
        self.colours = PressColours(conversions)
        self._device: dict[str, PaintSpace] = {
            "DeviceGray": Grey(pdf, self.colours),
            "DeviceRGB": Profiled(pdf, self.colours, "DeviceRGB", None),
            "DeviceCMYK": Cmyk(pdf, self.colours),
            "Pattern": Pattern(pdf, self.colours, None),
        }
        self._read: dict[str, PaintSpace] = {}

    def read(self, value: object, resources: Resources = NO_RESOURCES) -> PaintSpace:
        """The space that a name or an array stands for, names and defaults looked up in `resources`.

        NotDrawnError where the file holds no such space, or one that nobody could make sense of.
        """
        return self._space(value, resources, COLOUR_SPACE_NESTING)

    def meaning(self, value: object, resources: Resources = NO_RESOURCES) -> str:
        """A key for what `read` gives: the same wherever that is the same, and never another's.

        NotDrawnError as there, though not for all that it cannot read.
        """
        return self._meaning(value, resources, COLOUR_SPACE_NESTING)

    def device(self, family: str) -> PaintSpace:
        """DeviceGray, DeviceRGB, DeviceCMYK or Pattern itself, whatever default stands for it."""
        return self._device[family]

    def profiled(self, data: bytes | None, components: int) -> PaintSpace:
        """The space of colours with an ICC profile, or with none, as picture data have them."""
        found = self._by_profile(data, components) if data is not None else None
        return found if found is not None else self._device[_SPACES_OF_COUNT[components]]

    def _space(self, value: object, resources: Resources, depth: int) -> PaintSpace:
        if not depth:
            raise NotDrawnError(_ENDLESS)
        single = name(value)
        if single is not None:
            return self._named(single, resources, depth)
        family = name(item(value, 0)) or ""
        read = self._families.get(full_colour_space(family))
        if read is None:
            # A device space may stand alone in an array; so may a pattern.
            return self._named(family, resources, depth)
        key = self._meaning(value, resources, depth)
        if key not in self._read:
            self._read[key] = read(self, value, resources, depth)
        return self._read[key]

    def _meaning(self, value: object, resources: Resources, depth: int) -> str:
        """A key for what a name or an array stands for, names within it looked up in `resources`."""
        if not depth:
            raise NotDrawnError(_ENDLESS)
        family = name(value) or name(item(value, 0)) or ""
        full = full_colour_space(family)
        if full in {"Indexed", "Pattern"} and name(value) is None and item(value, 1) is not None:
            return f"{self._meaning(item(value, 1), resources, depth - 1)} {fingerprint(value)}"
        if full in self._families and name(value) is None:
            return fingerprint(value)
        if full in self._device:
            default = resources.default_space(full) if full != "Pattern" else None
            return full if default is None else f"{full} {fingerprint(default)}"
        held = resources.find("ColorSpace", family) if family else None
        return "" if held is None else self._meaning(held, resources, depth - 1)

    def _named(self, given: str, resources: Resources, depth: int) -> PaintSpace:
        full = full_colour_space(given)
        if full in self._device:
            default = resources.default_space(full) if full != "Pattern" else None
            if default is None:
                return self._device[full]
            # What stands for a device space is read without resources, or it could stand for itself.
            found = self._space(default, NO_RESOURCES, depth - 1)
            # A default of another number of components is not allowed (8.6.5.6) and not used.
            return found if found.components == self._device[full].components else self._device[full]
        held = resources.find("ColorSpace", given) if given else None
        if held is None:
            raise NotDrawnError("a colour space is used that the file does not define")
        return self._space(held, resources, depth - 1)

    def _cal_grey(self, value: object, _resources: Resources, _depth: int) -> PaintSpace:
        space = Profiled(self.pdf, self.colours, "CalGray", cal_grey_profile(item(value, 1)), 1)
        return self._tried(space) or self._device["DeviceGray"]

    def _cal_rgb(self, value: object, _resources: Resources, _depth: int) -> PaintSpace:
        space = Profiled(self.pdf, self.colours, "CalRGB", cal_rgb_profile(item(value, 1)))
        return self._tried(space) or self._device["DeviceRGB"]

    def _lab(self, value: object, _resources: Resources, _depth: int) -> PaintSpace:
        least_a, most_a, least_b, most_b = numbers(entry(item(value, 1), "/Range"), 4) or _LAB_RANGE
        ranges = ((0.0, 100.0), (least_a, max(most_a, least_a)), (least_b, max(most_b, least_b)))
        return LabSpace(self.pdf, self.colours, ranges, white_point(item(value, 1)))

    def _icc_based(self, value: object, _resources: Resources, depth: int) -> PaintSpace:
        stream = item(value, 1)
        count = whole(entry(stream, "/N"))
        data = bounded_bytes(stream, PROFILE_BYTES)
        found = (
            self._by_profile(data, count, numbers(entry(stream, "/Range"), 6)) if data is not None else None
        )
        # No profile, or one that is not for this many components: readers then take what stands in for it.
        return found if found is not None else self._instead_of_profile(stream, count, depth)

    def _by_profile(
        self, data: bytes, count: int | None, given: tuple[float, ...] | None = None
    ) -> PaintSpace | None:
        """The space of a profile; None where it is none for so many components. given: ranges of CIELAB."""
        profile = read_profile(data)
        match (profile.space if profile is not None else "", count):
            case "GRAY", 1:
                return Grey(self.pdf, self.colours, "ICCBased")
            case "CMYK", 4:
                return Cmyk(self.pdf, self.colours, "ICCBased")
            case "Lab", 3:
                edges = given or _ICC_LAB_RANGE
                ranges = tuple(zip(edges[::2], edges[1::2], strict=True))
                return LabSpace(self.pdf, self.colours, ranges, family="ICCBased")
            case "RGB", 3:
                return self._tried(Profiled(self.pdf, self.colours, "ICCBased", data))
            case _:
                return None

    def _tried(self, space: PaintSpace) -> PaintSpace | None:
        """The space, if its profile can be used at all."""
        middle = (0.5,) * space.components
        try:
            space.screen(middle)
            if self.colours.at_hand:
                space.inks(middle)
        except UnusableProfileError:
            return None
        return space

    def _instead_of_profile(self, stream: object, count: int | None, depth: int) -> PaintSpace:
        alternate = entry(stream, "/Alternate")
        if alternate is not None:
            try:
                found = self._space(alternate, NO_RESOURCES, depth - 1)
            except NotDrawnError:
                found = None
            if found is not None and found.components == count and found.family != "Pattern":
                return found
        family = _SPACES_OF_COUNT.get(count or 0)
        if family is None:
            raise NotDrawnError("a colour space's profile cannot be used")
        return self._device[family]

    def _indexed(self, value: object, resources: Resources, depth: int) -> PaintSpace:
        base = self._space(item(value, 1), resources, depth - 1)
        top = whole(item(value, 2))
        if top is None or not 0 <= top <= 255 or base.family in {"Indexed", "Pattern"}:
            raise NotDrawnError("an indexed colour space makes no sense")
        table = _palette_bytes(item(value, 3))
        wanted = (top + 1) * base.components
        # A table that is too short is filled up: pictures use its beginning.
        samples = np.frombuffer(table[:wanted].ljust(wanted, b"\0"), np.uint8)
        return Indexed(base, base.from_bytes(samples.reshape(1, top + 1, base.components)))

    def _pattern(self, value: object, resources: Resources, depth: int) -> PaintSpace:
        if item(value, 1) is None:
            return self._device["Pattern"]
        return Pattern(self.pdf, self.colours, self._space(item(value, 1), resources, depth - 1))

    def _separation(self, value: object, _resources: Resources, depth: int) -> PaintSpace:
        ink = name(item(value, 1))
        if ink is None:
            raise NotDrawnError("a separation has no name")
        return self._named_inks(value, (ink,), {}, depth)

    def _device_n(self, value: object, _resources: Resources, depth: int) -> PaintSpace:
        found = tuple(name(each) for each in items(item(value, 1), COLOUR_COMPONENTS))
        inks = tuple(each for each in found if each is not None)
        if not inks or len(inks) != len(found):
            raise NotDrawnError("a DeviceN colour space has no inks")
        return self._named_inks(value, inks, self._process_names(item(value, 4), depth), depth)

    def _named_inks(
        self, value: object, inks: tuple[str, ...], process: dict[str, str], depth: int
    ) -> PaintSpace:
        # Default colour spaces do not stand for alternates: the tint transform was made for the device.
        alternate = self._space(item(value, 2), NO_RESOURCES, depth - 1)
        tint = _Tint(item(value, 3), len(inks), alternate)
        family = name(item(value, 0)) or ""
        return NamedInks(inks, alternate, tint, process=process, family=family)

    def _process_names(self, attributes: object, depth: int) -> dict[str, str]:
        """Names by which an NChannel space calls process inks (8.6.6.5, table 72): they go by their order."""
        process = entry(attributes, "/Process")
        try:
            space = self._space(entry(process, "/ColorSpace"), NO_RESOURCES, depth - 1)
        except NotDrawnError:
            return {}
        called = [name(each) for each in items(entry(process, "/Components"), COLOUR_COMPONENTS)]
        inks = PROCESS_INKS if isinstance(space, Cmyk) else ("Black",) if isinstance(space, Grey) else ()
        return {each: ink for each, ink in zip(called, inks, strict=False) if each is not None}

    _families: Final[dict[str, Callable[["PaintSpaces", object, Resources, int], PaintSpace]]] = {
        "CalGray": _cal_grey,
        "CalRGB": _cal_rgb,
        "Lab": _lab,
        "ICCBased": _icc_based,
        "Indexed": _indexed,
        "Pattern": _pattern,
        "Separation": _separation,
        "DeviceN": _device_n,
    }


class _Tint:
    """A tint transform, read when it is first asked for: the plates of named inks do without it."""

    def __init__(self, value: object, components: int, alternate: PaintSpace) -> None:
        self._value, self._components, self._alternate = value, components, alternate
        self._function: Function | None = None

    def __call__(self, values: Floats) -> Floats:
        if self._function is None:
            self._function = read_function(self._value)
        found = self._function(values)
        if found.shape[1] != self._alternate.components:
            raise NotDrawnError(
                "a tint transform gives another number of values than its alternate space has"
            )
        low, high = np.array(self._alternate.traits.ranges).T
        return np.clip(found, low, high)


def _palette_bytes(value: object) -> bytes:
    if isinstance(value, pikepdf.Stream):
        return bounded_bytes(value, _PALETTE_BYTES) or b""
    return bytes(value)[:_PALETTE_BYTES] if isinstance(value, pikepdf.String) else b""
