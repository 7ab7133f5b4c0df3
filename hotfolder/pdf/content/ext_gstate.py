"""Graphics state parameter dictionaries (ISO 32000-2, 8.4.5): read once, then applied by each `gs`.

A parameter that a dictionary lacks, or has with a value of a wrong type, stays as it is.
"""

from dataclasses import dataclass, replace
from typing import Final, TypeVar

import pikepdf

from hotfolder.model.marks import MarkState
from hotfolder.pdf.content.graphics_state import LineStyle
from hotfolder.pdf.objects.limits import LIST_ENTRIES
from hotfolder.pdf.objects.reading import entry, item, items, name, number, whole

_Value = TypeVar("_Value")

# Separable and non-separable blend modes (11.3.5, tables 134 and 135).
BLEND_MODES: Final = frozenset({
    "Normal", "Compatible", "Multiply", "Screen", "Overlay", "Darken", "Lighten", "ColorDodge", "ColorBurn",
    "HardLight", "SoftLight", "Difference", "Exclusion", "Hue", "Saturation", "Color", "Luminosity",
})  # fmt: skip

# Entries (8.4.5, table 57) that are not read, and why they change nothing that is measured here.
IGNORED_PARAMETERS: Final = {
    "/D": "dashes shorten what is painted and never lengthen it",
    "/RI": "how a device maps colours that it cannot show; the colours stay what they are",
    "/BG": "black generation belongs to the device that converts colours",
    "/BG2": "as BG",
    "/UCR": "undercolour removal belongs to the device that converts colours",
    "/UCR2": "as UCR",
    "/TR": "transfer functions belong to one device; that there is one is a fact of the page",
    "/TR2": "as TR",
    "/HT": "halftones belong to one device",
    "/FL": "how finely a device follows curves",
    "/SM": "how finely a device follows shadings",
    "/SA": "how a device places thin lines on its pixels",
    "/AIS": "whether a mask is taken as shape or opacity; that there is one counts here",
    "/TK": "whether letters of one run knock each other out",
    "/UseBlackPtComp": "how a device converts colours",
    "/HTO": "where a device begins its halftone",
    "/Type": "says nothing",
}


@dataclass(frozen=True, slots=True)
class Parameters:
    """The parameters that a dictionary sets; None for those that it leaves as they are.

    soft_mask: whether one is in force from here on; mask: its dictionary (11.6.5.2). font: its dictionary.
    """

    overprint_stroke: bool | None
    overprint_fill: bool | None
    overprint_mode: int | None
    stroke_opacity: float | None
    fill_opacity: float | None
    blend_mode: str | None
    soft_mask: bool | None
    mask: pikepdf.Dictionary | None
    line_width: float | None
    line_cap: int | None
    line_join: int | None
    miter_limit: float | None
    font: object
    font_size: float | None

    def own(self, before: MarkState) -> MarkState:
        """Overprint and transparency after `gs`, where they were `before`."""
        return replace(
            before,
            overprint_stroke=_or(self.overprint_stroke, before.overprint_stroke),
            overprint_fill=_or(self.overprint_fill, before.overprint_fill),
            overprint_mode=_or(self.overprint_mode, before.overprint_mode),
            stroke_opacity=_or(self.stroke_opacity, before.stroke_opacity),
            fill_opacity=_or(self.fill_opacity, before.fill_opacity),
            blend_mode=_or(self.blend_mode, before.blend_mode),
            soft_mask=_or(self.soft_mask, before.soft_mask),
        )

    def line(self, before: LineStyle) -> LineStyle:
        """The line parameters after `gs`, where they were `before`."""
        return LineStyle(
            _or(self.line_width, before.width),
            _or(self.line_cap, before.cap),
            _or(self.line_join, before.join),
            _or(self.miter_limit, before.miter_limit),
        )


def read_parameters(dictionary: object) -> Parameters:
    """What a graphics state parameter dictionary sets."""
    stroke = _flag(entry(dictionary, "/OP"))
    fill = _flag(entry(dictionary, "/op"))
    width = number(entry(dictionary, "/LW"))
    soft = entry(dictionary, "/SMask")
    group = entry(soft, "/G")
    font = entry(dictionary, "/Font")
    return Parameters(
        overprint_stroke=stroke,
        # Where `op` is missing, `OP` counts for filling too (8.4.5, table 57).
        overprint_fill=fill if fill is not None else stroke,
        overprint_mode=whole(entry(dictionary, "/OPM")),
        stroke_opacity=_opacity(entry(dictionary, "/CA")),
        fill_opacity=_opacity(entry(dictionary, "/ca")),
        blend_mode=_blend_mode(entry(dictionary, "/BM")),
        soft_mask=None if soft is None else name(soft) != "None" and group is not None,
        mask=soft if isinstance(group, pikepdf.Stream) and isinstance(soft, pikepdf.Dictionary) else None,
        line_width=abs(width) if width is not None else None,
        line_cap=whole(entry(dictionary, "/LC")),
        line_join=whole(entry(dictionary, "/LJ")),
        miter_limit=number(entry(dictionary, "/ML")),
        font=item(font, 0),
        font_size=number(item(font, 1)),
    )


def sets_transfer(dictionary: object) -> bool:
    """Whether a graphics state parameter dictionary changes the transfer functions of the device.

    TR2 `Default` only gives back those that the device began with, and TR2 counts before TR.
    """
    second = entry(dictionary, "/TR2")
    if second is not None:
        return name(second) != "Default"
    return entry(dictionary, "/TR") is not None


def _or(value: _Value | None, before: _Value) -> _Value:
    return before if value is None else value


def _flag(value: object) -> bool | None:
    return value if isinstance(value, bool) else None


def _opacity(value: object) -> float | None:
    opacity = number(value)
    return None if opacity is None else min(max(opacity, 0.0), 1.0)


def _blend_mode(value: object) -> str | None:
    """The blend mode; of an array the first one that is known (11.6.3). `Compatible` is Normal."""
    if value is None:
        return None
    single = name(value)
    wanted = [single] if single is not None else [name(each) for each in items(value, LIST_ENTRIES)]
    mode = next((each for each in wanted if each in BLEND_MODES), "Normal")
    return "Normal" if mode == "Compatible" else mode
