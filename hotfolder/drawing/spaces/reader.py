"""Makes of colour spaces (ISO 32000-2, 8.6) what plates need: what inks their colours lay.

spaces = PaintSpaces(pdf, conversions)
space = spaces.read(pikepdf.Name.DeviceRGB, resources)
space.inks((1, 0, 0))                   {"Cyan": 0.0, "Magenta": 0.98, ...}
space.shown((1, 0, 0), view)            operands for `rg` in that view
space.view(view)                        a colour space for the same operands
"""

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
from hotfolder.pdf.colour.written_spaces import (
    DEVICE_OF_COUNT,
    ICC_COMPONENTS,
    NO_RESOURCES,
    ArraySpace,
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

__all__ = ["PaintSpace", "PaintSpaces"]

_ENDLESS: Final = "colour spaces are nested without end"
_UNDEFINED: Final = "a colour space is used that the file does not define"
_ICC_LAB_RANGE: Final = (0.0, 100.0, -128.0, 127.0, -128.0, 127.0)


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
        return self._space(written_space(value, resources))

    def meaning(self, value: object, resources: Resources = NO_RESOURCES) -> str:
        """A key for what `read` gives: the same wherever that is the same, and never another's."""
        return written_space(value, resources).meaning

    def device(self, family: str) -> PaintSpace:
        """DeviceGray, DeviceRGB, DeviceCMYK or Pattern itself, whatever default stands for it."""
        return self._device[family]

    def profiled(self, data: bytes | None, components: int) -> PaintSpace:
        """The space of colours with an ICC profile, or with none, as picture data have them."""
        profiled = self._by_profile(data, components) if data is not None else None
        return profiled if profiled is not None else self._device[DEVICE_OF_COUNT[components]]

    def _space(self, written: WrittenSpace) -> PaintSpace:
        match written:
            case UnknownSpace(endless=endless):
                raise NotDrawnError(_ENDLESS if endless else _UNDEFINED)
            case DeviceSpace(family=family):
                meant = written.meant
                return self._device[family] if meant is written else self._space(meant)
            case _:
                key = written.meaning
                if key not in self._read:
                    self._read[key] = self._made(written)
                return self._read[key]

    def _made(self, written: ArraySpace) -> PaintSpace:
        match written:
            case CalibratedSpace():
                return self._calibrated(written)
            case IccSpace():
                return self._icc_based(written)
            case IndexedSpace():
                return self._indexed(written)
            case PatternSpace(base=base):
                pattern = self._device["Pattern"]
                return pattern if base is None else Pattern(self.pdf, self.colours, self._space(base))
            case InkSpace():
                return self._of_inks(written)

    def _calibrated(self, written: CalibratedSpace) -> PaintSpace:
        parameters = written.parameters
        match written.family:
            case "CalGray":
                grey = Profiled(self.pdf, self.colours, "CalGray", cal_grey_profile(parameters), 1)
                return self._tried(grey) or self._device["DeviceGray"]
            case "CalRGB":
                rgb = Profiled(self.pdf, self.colours, "CalRGB", cal_rgb_profile(parameters))
                return self._tried(rgb) or self._device["DeviceRGB"]
            case _:
                return LabSpace(self.pdf, self.colours, written.lab_ranges, white_point(parameters))

    def _icc_based(self, written: IccSpace) -> PaintSpace:
        data = written.profile()
        space = self._by_profile(data, written.components, written.ranges) if data is not None else None
        # No profile, or one that is not for this many components: readers then take what stands in for it.
        return space if space is not None else self._instead_of_profile(written)

    def _by_profile(
        self, data: bytes, count: int | None, given: tuple[float, ...] | None = None
    ) -> PaintSpace | None:
        """The space of a profile; None where it is none for so many components. given: ranges of CIELAB."""
        profile = read_profile(data)
        data_space = profile.space if profile is not None else ""
        if ICC_COMPONENTS.get(data_space) != count:
            return None
        match data_space:
            case "GRAY":
                return Grey(self.pdf, self.colours, "ICCBased")
            case "CMYK":
                return Cmyk(self.pdf, self.colours, "ICCBased")
            case "Lab":
                edges = given or _ICC_LAB_RANGE
                ranges = tuple(zip(edges[::2], edges[1::2], strict=True))
                return LabSpace(self.pdf, self.colours, ranges, family="ICCBased")
            case "RGB":
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

    def _instead_of_profile(self, written: IccSpace) -> PaintSpace:
        count = written.components
        if written.alternate is not None:
            try:
                space = self._space(written.alternate)
            except NotDrawnError:
                space = None
            if space is not None and space.components == count and space.family != "Pattern":
                return space
        family = DEVICE_OF_COUNT.get(count or 0)
        if family is None:
            raise NotDrawnError("a colour space's profile cannot be used")
        return self._device[family]

    def _indexed(self, written: IndexedSpace) -> PaintSpace:
        base, top = self._space(written.base), written.top
        if top is None or not 0 <= top <= 255 or base.family in {"Indexed", "Pattern"}:
            raise NotDrawnError("an indexed colour space makes no sense")
        wanted = (top + 1) * base.components
        # A table that is too short is filled up: pictures use its beginning.
        samples = np.frombuffer(written.table_bytes()[:wanted].ljust(wanted, b"\0"), np.uint8)
        return Indexed(base, base.from_bytes(samples.reshape(1, top + 1, base.components)))

    def _of_inks(self, written: InkSpace) -> PaintSpace:
        if not written.names or None in written.names:
            separation = written.family == "Separation"
            reason = "a separation has no name" if separation else "a DeviceN colour space has no inks"
            raise NotDrawnError(reason)
        process = self._process_names(written)
        alternate = self._space(written.alternate)
        tint = _Tint(written.tint, len(written.inks), alternate)
        return NamedInks(written.inks, alternate, tint, process=process, family=written.family)

    def _process_names(self, written: InkSpace) -> dict[str, str]:
        """The names by which an NChannel space calls process inks, and the inks: they go by their order."""
        if written.process_space is None:
            return {}
        try:
            space = self._space(written.process_space)
        except NotDrawnError:
            return {}
        inks = PROCESS_INKS if isinstance(space, Cmyk) else ("Black",) if isinstance(space, Grey) else ()
        pairs = zip(written.process_inks, inks, strict=False)
        return {called: ink for called, ink in pairs if called is not None}


class _Tint:
    """A tint transform, read when it is first asked for: the plates of named inks do without it."""

    def __init__(self, value: object, components: int, alternate: PaintSpace) -> None:
        self._value, self._components, self._alternate = value, components, alternate
        self._function: Function | None = None

    def __call__(self, values: Floats) -> Floats:
        if self._function is None:
            self._function = read_function(self._value)
        tinted = self._function(values)
        if tinted.shape[1] != self._alternate.components:
            raise NotDrawnError(
                "a tint transform gives another number of values than its alternate space has"
            )
        low, high = np.array(self._alternate.traits.ranges).T
        return np.clip(tinted, low, high)
