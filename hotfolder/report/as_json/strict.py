"""Values as strict JSON can hold them: finite numbers, valid Unicode."""

import math
from typing import Any

from hotfolder.model.geometry import Box
from hotfolder.wording.shown import shown_name

# A ten-thousandth of a point or of a pixel per inch: below what any producer writes on purpose.
_DECIMALS = 4

JsonObject = dict[str, Any]  # what `json.dumps` takes; the shapes stand in the functions that build them


def number(value: float | None) -> float | int | None:
    """`value` rounded, whole where it is whole; None where it is no finite number."""
    if value is None or not math.isfinite(value):
        return None
    rounded = round(value, _DECIMALS)
    return int(rounded) if rounded == int(rounded) else rounded


def text(value: str) -> str:
    """`value` as it is where Unicode can hold it; else with its odd bytes written as escapes."""
    try:
        value.encode("utf-8")
    except UnicodeEncodeError:
        return shown_name(value)
    return value


def optional_text(value: str | None) -> str | None:
    """`text`, or None for None."""
    return None if value is None else text(value)


def box(value: Box | None) -> list[float | int | None] | None:
    """`[x0, y0, x1, y1]` in points."""
    return None if value is None else [number(side) for side in (value.x0, value.y0, value.x1, value.y1)]
