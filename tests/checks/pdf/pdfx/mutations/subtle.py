"""What only a close reading tells: which resources count, which appearance prints, what a later page has."""

from typing import Final

from pikepdf import Array, Pdf

from tests.checks.pdf.pdfx.drawing import draw
from tests.checks.pdf.pdfx.mutations.colours import RGB, SCREEN, icc
from tests.checks.pdf.pdfx.mutations.mutation import (
    AREA,
    KEEPS,
    KEEPS_X4,
    TINT_OF_RGB,
    Edit,
    Expected,
    Make,
    Mutation,
    draws,
    drops,
    everywhere,
    form,
    gains,
    image,
    old,
    paints,
    pattern,
    sets,
    shows,
    stream,
    then,
    told,
    with_parts,
)
from tests.checks.pdf.pdfx.profiles_by_hand import profile_by_hand

_RED: Final = f"1 0 0 rg {AREA}"
_RED_CELL: Final = "1 0 0 rg 0 0 9 9 re f"
_DEVICE: Final = told(None, "device-colour", "device-colour")
_TAKEN: Final = told(None, "", "")
_DEFAULT: Final = {"Resources/ColorSpace/DefaultRGB": SCREEN}


def _x4(ids: str) -> Expected:
    return {level: frozenset(ids.split()) for level in KEEPS_X4}


def _annotation(entries: str, appearances: dict[str, Make]) -> Edit:
    note = f"<< /Type /Annot /Subtype /Stamp /Rect [2 2 18 18] /AP << >> {entries} >>"
    parts = {f"0/AP/{path}": make for path, make in appearances.items()}
    return sets("page/Annots", with_parts(f"[{note}]", parts))


def _on_second_page(content: str) -> Edit:
    def edit(pdf: Pdf) -> None:
        pdf.Root.Pages.Kids = Array([pdf.Root.Pages.Kids[1], pdf.Root.Pages.Kids[0]])
        draw(pdf, content.encode())
        pdf.Root.Pages.Kids = Array([pdf.Root.Pages.Kids[1], pdf.Root.Pages.Kids[0]])

    return edit


def _blank_page(pdf: Pdf) -> None:
    page = pdf.pages[0].obj
    page.Contents = pdf.make_stream(b"")


def _layer_off(pdf: Pdf) -> None:
    layers = pdf.Root.OCProperties
    layers.D.OFF, layers.D.ON = Array([layers.OCGs[0]]), Array([])


def _layer(pdf: Pdf) -> Make:
    return lambda _: pdf.Root.OCProperties.OCGs[0]


def _red_form_on_layer(pdf: Pdf) -> None:
    draws(form(_RED, "", {"OC": _layer(pdf)}))(pdf)


_DOT: Final = {"Resources/XObject/Dot": image("/ColorSpace /DeviceRGB", pixels=bytes(192))}
_FILLED: Final = f"/Pattern cs /Fill scn {AREA}"

MUTATIONS: Final = (
    Mutation(
        "a default of a pattern's cell, RGB in it",
        _TAKEN,
        paints(_FILLED, {"Pattern/Fill": pattern(_RED_CELL, _DEFAULT)}),
    ),
    Mutation(
        "a default of the page, RGB in the cell of a pattern",
        _DEVICE,
        then(gains({"ColorSpace/DefaultRGB": SCREEN}), paints(_FILLED, {"Pattern/Fill": pattern(_RED_CELL)})),
    ),
    Mutation(
        "a default of the page, a picture in RGB in a form",
        _DEVICE,
        then(gains({"ColorSpace/DefaultRGB": SCREEN}), draws(form("20 0 0 20 60 60 cm /Dot Do", parts=_DOT))),
    ),
    Mutation(
        "a default of the form, a picture in RGB in it",
        _TAKEN,
        draws(form("20 0 0 20 60 60 cm /Dot Do", parts=_DOT | _DEFAULT)),
    ),
    Mutation(
        "a default of the page, an ink described in RGB",
        _TAKEN,
        then(
            gains({"ColorSpace/DefaultRGB": SCREEN}),
            paints(
                f"/Mine cs 1 scn {AREA}", {"ColorSpace/Mine": f"[/Separation /Rose /DeviceRGB {TINT_OF_RGB}]"}
            ),
        ),
    ),
    Mutation(
        "a default of the page, a table of RGB",
        _TAKEN,
        then(
            gains({"ColorSpace/DefaultRGB": SCREEN}),
            shows(image("/ColorSpace [/Indexed /DeviceRGB 0 <FF0000>]", pixels=bytes(64))),
        ),
    ),
    Mutation(
        "a default of the page that is RGB itself",
        _DEVICE,
        then(gains({"ColorSpace/DefaultRGB": "/DeviceRGB"}), paints(_RED)),
    ),
    Mutation(
        "a default for grey, RGB painted",
        _DEVICE,
        then(gains({"ColorSpace/DefaultGray": icc(profile_by_hand("GRAY"), 1)}), paints(_RED)),
    ),
    Mutation("RGB on the second page alone", RGB, _on_second_page(_RED)),
    Mutation(
        "an unknown instruction on the second page alone",
        everywhere("unknown-operator"),
        _on_second_page(f"0 g {AREA} lantern"),
    ),
    Mutation("a page of nothing", KEEPS, _blank_page),
    Mutation("a page without content", KEEPS, drops("page/Contents")),
    Mutation("a title of blanks", old("no-title"), sets("Info/Title", "(   )")),
    Mutation(
        "RGB in the state of a stamp that shows",
        RGB,
        _annotation("/F 4 /AS /On", {"N/On": form(_RED_CELL), "N/Off": form("0 g 0 0 9 9 re f")}),
    ),
    Mutation(
        "RGB in the state of a stamp that does not show",
        KEEPS,
        _annotation("/F 4 /AS /Off", {"N/On": form(_RED_CELL), "N/Off": form("0 g 0 0 9 9 re f")}),
    ),
    Mutation(
        "RGB in a stamp while it is pressed",
        KEEPS,
        _annotation("/F 4", {"N": form("0 g 0 0 9 9 re f"), "D": form(_RED_CELL)}),
    ),
    Mutation(
        "RGB in a stamp that is printed and not viewed", RGB, _annotation("/F 36", {"N": form(_RED_CELL)})
    ),
    Mutation(
        "RGB in a form in a stamp that prints",
        RGB,
        _annotation("/F 4", {"N": form("/Inner Do", parts={"Resources/XObject/Inner": form(_RED_CELL)})}),
    ),
    Mutation(
        "opacity in a stamp that prints",
        old("opacity", ""),
        _annotation(
            "/F 4",
            {"N": form("/Veil gs 0 g 0 0 9 9 re f", parts={"Resources/ExtGState/Veil": "<< /ca 0.5 >>"})},
        ),
    ),
    Mutation("RGB in a form on a layer that is on", _x4("device-colour"), _red_form_on_layer),
    Mutation("RGB in a form on a layer that is off", KEEPS_X4, then(_layer_off, _red_form_on_layer)),
    Mutation(
        "two filters in short, LZW the second",
        old("lzw-filter", "lzw-filter"),
        paints("9 0 0 9 60 60 cm BI /W 1 /H 1 /BPC 8 /CS /G /F [/AHx /LZW] ID 800B6050222C0C8501>\nEI"),
    ),
    Mutation(
        "a picture with a profile for three of which it has four",
        told("device-independent-colour", "profile-components", "profile-components"),
        shows(image("", {"ColorSpace": icc(profile_by_hand(), 4)})),
    ),
    Mutation("a stroke of no width in RGB", RGB, paints("0 w 1 0 0 RG 60 60 m 90 90 l S")),
    Mutation("a rectangle of no height filled in RGB", RGB, paints("1 0 0 rg 60 60 40 0 re f")),
    Mutation("RGB beyond the media box", KEEPS, paints("1 0 0 rg 900 900 40 30 re f")),
    Mutation("RGB between bleed and media box", RGB, paints("1 0 0 rg 2 2 10 10 re f")),
    Mutation("RGB beneath a black area", RGB, paints(f"{_RED} 0 0 0 1 k {AREA}")),
    Mutation(
        "an inline picture with its parameters in short",
        KEEPS,
        paints("9 0 0 9 60 60 cm BI /W 8 /H 1 /BPC 1 /CS /G /D [1 0] /I false ID a\nEI"),
    ),
    Mutation(
        "a form that a stream of metadata describes in RGB's words",
        KEEPS,
        draws(
            form(
                f"0 g {AREA}",
                "",
                {"Metadata": stream("<x>/DeviceRGB cs</x>", "/Type /Metadata /Subtype /XML")},
            )
        ),
    ),
)
