"""PostScript calculator programs that pick a view's channels out of a colour's components.

For colours that name their inks a view needs no table: each channel is 1 minus one of the components (ISO
32000-2, 7.10.5, type 4 functions). The renderer works these out exactly.
"""

from collections.abc import Sequence

import pikepdf
from pikepdf import Array, Name

from hotfolder.drawing.spaces.view import ALL_INKS, CHANNELS, View


def selector(pdf: pikepdf.Pdf, inks: Sequence[str], view: View, *, light: bool = False) -> pikepdf.Object:
    """A DeviceN space for `view` with a component for each of `inks`.

    A name may stand there more than once: then the fullest counts. `All` goes on every plate, what is not
    among the view's plates on none. light: the components are light, not ink, as those of grey are.
    """
    program = _program(
        [_sources(inks, view.ink_in(channel)) for channel in range(CHANNELS)], len(inks), light
    )
    function = calculator(pdf, program, len(inks))
    return device_n(pdf, len(inks), function)


def device_n(pdf: pikepdf.Pdf, components: int, function: pikepdf.Object) -> pikepdf.Object:
    """A DeviceN space whose `function` gives the three channels of a drawing."""
    names = Array([Name(f"/Component{number}") for number in range(1, components + 1)])
    return pdf.make_indirect(Array([Name.DeviceN, names, Name.DeviceRGB, function]))


def calculator(pdf: pikepdf.Pdf, program: str, components: int) -> pikepdf.Stream:
    """A type 4 function from `components` to three numbers, all of them between 0 and 1."""
    return pdf.make_stream(
        program.encode("ascii"),
        FunctionType=4,
        Domain=Array([0, 1] * components),
        Range=Array([0, 1] * CHANNELS),
    )


def _sources(inks: Sequence[str], plate: str | None) -> list[int]:
    if plate is None:
        return []
    return [place for place, ink in enumerate(inks) if ink in {plate, ALL_INKS}]


def _program(channels: Sequence[Sequence[int]], components: int, light: bool) -> str:  # noqa: FBT001
    """For each channel the components that feed it; the stack holds components first, then results."""
    steps = []
    for done, sources in enumerate(channels):
        if not sources:
            steps.append("1")
            continue
        for pushed, source in enumerate(sources):
            steps.append(f"{components + done + min(pushed, 1) - 1 - source} index")
            if pushed:
                steps.append("2 copy lt {exch} if pop")
        if not light:
            steps.append("1 exch sub")
    # The results to the bottom, the components away.
    steps.append(f"{components + len(channels)} {len(channels)} roll")
    steps.extend(["pop"] * components)
    return "{" + " ".join(steps) + "}"
