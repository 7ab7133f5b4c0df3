"""Mixes of inks: DeviceN with its names and entries."""

from typing import Final

from hotfolder.checks.shared.pdfx_levels import X4
from tests.checks.pdf.pdfx.mutations.mutation import (
    AREA,
    KEEPS,
    KEEPS_X4,
    TINT,
    TINT_OF_RGB,
    Edit,
    Mutation,
    Parts,
    everywhere,
    paints,
    stream,
    with_parts,
)

_TWO: Final = stream("{ pop pop 0 0 0 1 }", "/FunctionType 4 /Domain [0 1 0 1] /Range [0 1 0 1 0 1 0 1]")


def _mix(names: str, entries: str = "", parts: Parts | None = None) -> Edit:
    attributes = f" << {entries} >>" if entries else ""
    space = with_parts(f"[/DeviceN [{names}] /DeviceCMYK null{attributes}]", {"3": _TWO, **(parts or {})})
    return paints(f"/Mix cs 1 0 scn {AREA}", {"ColorSpace/Mix": space})


def _described(first: str) -> str:
    second = f"/Leaf [/Separation /Leaf /DeviceCMYK {TINT}]"
    return f"/Colorants << /Rose {first} {second} >>"


_GOOD: Final = f"[/Separation /Rose /DeviceCMYK {TINT}]"
_WRONG_ENTRIES: Final = {level: frozenset({"ink-entries"}) for level in X4}
_PROCESS: Final = "/Process << /ColorSpace /DeviceCMYK /Components [/Cyan /Magenta /Yellow /Black] >>"

MUTATIONS: Final = (
    Mutation("two inks", KEEPS, _mix("/Rose /Leaf")),
    Mutation("two inks, one of them of the press", KEEPS, _mix("/Cyan /Leaf")),
    Mutation("two inks, one of them none", KEEPS, _mix("/Rose /None")),
    Mutation("two inks that are described", KEEPS, _mix("/Rose /Leaf", _described(_GOOD))),
    Mutation(
        "two inks with an ink described that is not among them",
        KEEPS,
        _mix("/Leaf /Straw", _described(_GOOD)),
    ),
    Mutation("the same ink twice", everywhere("ink-names"), _mix("/Rose /Rose")),
    Mutation("registration colour in a mix", everywhere("ink-names"), _mix("/Rose /All")),
    Mutation("an empty name in a mix", everywhere("ink-names"), _mix("/Rose /")),
    Mutation(
        "a mix whose tints are for one ink",
        everywhere("tint-transform"),
        _mix("/Rose /Leaf", "", {"3": TINT}),
    ),
    Mutation(
        "an ink of a mix described in RGB",
        everywhere("ink-description"),
        _mix("/Rose /Leaf", _described(f"[/Separation /Rose /DeviceRGB {TINT_OF_RGB}]")),
    ),
    Mutation(
        "channels with inks and process colours",
        KEEPS_X4,
        _mix("/Cyan /Rose", f"/Subtype /NChannel {_PROCESS} {_described(_GOOD)}"),
    ),
    Mutation(
        "an ink described under another's name",
        _WRONG_ENTRIES,
        _mix("/Rose /Leaf", f"/Subtype /NChannel {_described(f'[/Separation /Tulip /DeviceCMYK {TINT}]')}"),
    ),
    Mutation(
        "three process inks named of four",
        _WRONG_ENTRIES,
        _mix(
            "/Cyan /Rose",
            (
                "/Subtype /NChannel /Process << /ColorSpace /DeviceCMYK /Components"
                f" [/Cyan /Magenta /Yellow] >> {_described(_GOOD)}"
            ),
        ),
    ),
)
