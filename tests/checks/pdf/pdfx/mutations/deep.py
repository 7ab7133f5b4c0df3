"""Faults that lie deep: in forms, patterns, shadings, glyphs, soft masks, appearances, inline images."""

from typing import Final

from tests.checks.pdf.pdfx.mutations.colours import CAL_RGB, CALIBRATED, LAB, RGB, SCREEN
from tests.checks.pdf.pdfx.mutations.mutation import (
    AREA,
    KEEPS,
    TINT,
    TINT_OF_RGB,
    Edit,
    Make,
    Maker,
    Mutation,
    Parts,
    draws,
    everywhere,
    form,
    gains,
    image,
    in_state,
    paints,
    pattern,
    sets,
    shows,
    stream,
    then,
    told,
    with_parts,
)

_RED: Final = f"1 0 0 rg {AREA}"
_RED_CELL: Final = "1 0 0 rg 0 0 9 9 re f"
_BLACK_CELL: Final = "0 0 0 1 k 0 0 9 9 re f"
_AXIAL: Final = "/ShadingType 2 /Coords [0 0 100 0] /Extend [true true]"
_RGB_INK: Final = f"[/Separation /Rose /DeviceRGB {TINT_OF_RGB}]"
_TO_RGB: Final = f"<< {_AXIAL} /ColorSpace /DeviceRGB /Function {TINT_OF_RGB} >>"
_TO_CMYK: Final = f"<< {_AXIAL} /ColorSpace /DeviceCMYK /Function {TINT} >>"
_TO_LAB: Final = "<< /FunctionType 2 /Domain [0 1] /C0 [90 0 0] /C1 [40 20 9] /N 1 >>"
_TO_INK: Final = "<< /FunctionType 2 /Domain [0 1] /N 1 >>"
_FILLED: Final = f"/Pattern cs /Fill scn {AREA}"


def _tiled(cell: Make) -> Edit:
    return paints(_FILLED, {"Pattern/Fill": cell})


def _glyph(content: str, resources: Parts | None = None) -> Maker:
    return with_parts(
        "<< /Type /Font /Subtype /Type3 /FontBBox [0 0 30 30] /FontMatrix"
        " [0.0333 0 0 0.0333 0 0] /FirstChar 65"
        " /LastChar 66 /Widths [30 30] /Encoding << /Type /Encoding /Differences [65 /A /B] >>"
        " /CharProcs << >> /Resources << >> >>",
        {
            "CharProcs/A": stream(content),
            "CharProcs/B": stream("30 0 d0 1 0 0 rg 0 0 30 30 re f"),
            **(resources or {}),
        },
    )


def _drawn_letter(font: Make) -> Edit:
    return paints("BT 0 0 0 1 k /Drawn 12 Tf 60 60 Td (A) Tj ET", {"Font/Drawn": font})


def _inline(space: str, components: int) -> Edit:
    pixels = "a" * (64 * components)
    return paints(f"40 0 0 40 60 60 cm BI /W 8 /H 8 /BPC 8 {space} ID {pixels}\nEI")


def _note(flags: int, content: str) -> Edit:
    note = f"<< /Type /Annot /Subtype /Text /Contents (beside) /Rect [2 2 18 18] /F {flags} /AP << >> >>"
    return sets("page/Annots", with_parts(f"[{note}]", {"0/AP/N": form(content)}))


def _masked(group: Make, entries: str = "/S /Luminosity") -> Edit:
    return in_state(
        "/SMask << /Type /Mask >>", {"SMask": with_parts(f"<< /Type /Mask {entries} >>", {"G": group})}
    )


def _mask_group(content: str, space: str = "/CS /DeviceGray", parts: Parts | None = None) -> Maker:
    return form(content, f"/Group << /S /Transparency {space} >>", parts)


_X4_RGB: Final = told("soft-mask rgb-colour", "soft-mask device-colour", "device-colour")
_INNER: Final = {"Resources/XObject/Inner": form(_RED)}

MUTATIONS: Final = (
    Mutation("RGB in a form", RGB, draws(form(_RED))),
    Mutation("RGB in a form that is not drawn", KEEPS, gains({"XObject/Idle": form(_RED)})),
    Mutation("RGB in a form within a form", RGB, draws(form("/Inner Do", parts=_INNER))),
    Mutation(
        "RGB in a form that a form holds and does not draw",
        KEEPS,
        draws(form(f"0 0 0 1 k {AREA}", parts=_INNER)),
    ),
    Mutation(
        "RGB of the page inherited by a form",
        RGB,
        paints("1 0 0 rg /Plain Do", {"XObject/Plain": form(AREA)}),
    ),
    Mutation(
        "RGB of the page replaced in a form",
        KEEPS,
        paints("1 0 0 rg /Plain Do", {"XObject/Plain": form(f"0 g {AREA}")}),
    ),
    Mutation(
        "RGB in a form, forgotten after it",
        KEEPS,
        paints(f"/Plain Do {AREA}", {"XObject/Plain": form("1 0 0 rg")}),
    ),
    Mutation(
        "a default of the page, RGB in a form of its own resources",
        told("rgb-colour", "device-colour", "device-colour"),
        then(gains({"ColorSpace/DefaultRGB": SCREEN}), draws(form(_RED))),
    ),
    Mutation(
        "a default of a form, RGB on the page",
        told(None, "device-colour", "device-colour"),
        then(draws(form(f"0 g {AREA}", parts={"Resources/ColorSpace/DefaultRGB": SCREEN})), paints(_RED)),
    ),
    Mutation(
        "a default of a form, RGB in it",
        told(None, "", ""),
        draws(form(_RED, parts={"Resources/ColorSpace/DefaultRGB": SCREEN})),
    ),
    Mutation("RGB in the cell of a pattern", RGB, _tiled(pattern(_RED_CELL))),
    Mutation("RGB in a pattern that is not painted", KEEPS, gains({"Pattern/Idle": pattern(_RED_CELL)})),
    Mutation("black in the cell of a pattern", KEEPS, _tiled(pattern(_BLACK_CELL))),
    Mutation(
        "a pattern of one colour, which is RGB",
        RGB,
        paints(
            f"/Tint cs 1 0 0 /Fill scn {AREA}",
            {
                "ColorSpace/Tint": "[/Pattern /DeviceRGB]",
                "Pattern/Fill": pattern("0 0 9 9 re f", paint_type=2),
            },
        ),
    ),
    Mutation(
        "a pattern of one colour, which is CMYK",
        KEEPS,
        paints(
            f"/Tint cs 1 0 0 0 /Fill scn {AREA}",
            {
                "ColorSpace/Tint": "[/Pattern /DeviceCMYK]",
                "Pattern/Fill": pattern("0 0 9 9 re f", paint_type=2),
            },
        ),
    ),
    Mutation(
        "a pattern of one colour, an ink described in RGB",
        everywhere("spot-alternate"),
        paints(
            f"/Tint cs 1 /Fill scn {AREA}",
            {
                "ColorSpace/Tint": f"[/Pattern {_RGB_INK}]",
                "Pattern/Fill": pattern("0 0 9 9 re f", paint_type=2),
            },
        ),
    ),
    Mutation(
        "RGB in a pattern that strokes",
        RGB,
        paints("/Pattern CS /Line SCN 4 w 60 60 m 90 90 l S", {"Pattern/Line": pattern(_RED_CELL)}),
    ),
    Mutation(
        "RGB in a pattern that a form paints with",
        RGB,
        draws(form(_FILLED, parts={"Resources/Pattern/Fill": pattern(_RED_CELL)})),
    ),
    Mutation(
        "RGB in a form within the cell of a pattern",
        RGB,
        _tiled(pattern("/Inner Do", {"Resources/XObject/Inner": form(_RED_CELL)})),
    ),
    # Corrected: it was held to break, but what is painted beyond the cell is cut off.
    Mutation("RGB in a form beyond the cell of a pattern", KEEPS, _tiled(pattern("/Inner Do", _INNER))),
    Mutation(
        "RGB in a pattern in the cell of a pattern",
        RGB,
        _tiled(
            pattern("/Pattern cs /Fine scn 0 0 20 20 re f", {"Resources/Pattern/Fine": pattern(_RED_CELL)})
        ),
    ),
    Mutation(
        "text filled with a pattern in RGB",
        RGB,
        paints(
            "BT /Pattern cs /Fill scn /F1 12 Tf 60 60 Td (LIGHT) Tj ET", {"Pattern/Fill": pattern(_RED_CELL)}
        ),
    ),
    Mutation("a shading in RGB", RGB, paints("/Fade sh", {"Shading/Fade": _TO_RGB})),
    Mutation("a shading in CMYK", KEEPS, paints("/Fade sh", {"Shading/Fade": _TO_CMYK})),
    Mutation("a shading in RGB that is not painted", KEEPS, gains({"Shading/Fade": _TO_RGB})),
    Mutation(
        "a pattern that shades in RGB", RGB, _tiled(f"<< /Type /Pattern /PatternType 2 /Shading {_TO_RGB} >>")
    ),
    Mutation(
        "a pattern that shades in Lab",
        CALIBRATED,
        _tiled(
            with_parts(
                f"<< /PatternType 2 /Shading << {_AXIAL} /Function {_TO_LAB} >> >>",
                {"Shading/ColorSpace": LAB},
            )
        ),
    ),
    Mutation(
        "a shading in an ink described in RGB",
        everywhere("spot-alternate"),
        paints(
            "/Fade sh",
            {"Shading/Fade": f"<< {_AXIAL} /ColorSpace {_RGB_INK} /Function {_TO_INK} >>"},
        ),
    ),
    Mutation(
        "a shading in RGB in the cell of a pattern in a form",
        RGB,
        draws(
            form(
                _FILLED,
                parts={"Resources/Pattern/Fill": pattern("/Fade sh", {"Resources/Shading/Fade": _TO_RGB})},
            )
        ),
    ),
    Mutation(
        "a mesh in RGB",
        RGB,
        paints(
            "/Mesh sh",
            {
                "Shading/Mesh": stream(
                    b"".join(bytes([0, x, y, 255, 0, 0]) for x, y in ((0, 0), (255, 0), (0, 255))),
                    "/ShadingType 4 /ColorSpace /DeviceRGB /BitsPerCoordinate 8 /BitsPerComponent 8"
                    " /BitsPerFlag 8"
                    " /Decode [60 90 60 90 0 1 0 1 0 1]",
                )
            },
        ),
    ),
    Mutation("RGB in a drawn letter", RGB, _drawn_letter(_glyph("30 0 d0 1 0 0 rg 0 0 30 30 re f"))),
    Mutation(
        "RGB in a drawn letter that is not shown", KEEPS, _drawn_letter(_glyph("30 0 d0 0 0 30 30 re f"))
    ),
    Mutation(
        "RGB for a drawn letter that takes the colour of text",
        RGB,
        paints(
            "BT 1 0 0 rg /Drawn 12 Tf 60 60 Td (A) Tj ET",
            {"Font/Drawn": _glyph("30 0 0 0 30 30 d1 0 0 30 30 re f")},
        ),
    ),
    Mutation(
        "RGB in a picture within a drawn letter",
        RGB,
        _drawn_letter(
            _glyph(
                "30 0 d0 30 0 0 30 0 0 cm /Dot Do", {"Resources/XObject/Dot": image("/ColorSpace /DeviceRGB")}
            )
        ),
    ),
    Mutation(
        "RGB in a form within a drawn letter",
        RGB,
        _drawn_letter(_glyph("30 0 d0 /Dot Do", {"Resources/XObject/Dot": form(_RED)})),
    ),
    Mutation("RGB in the appearance of a note that prints", RGB, _note(4, "1 0 0 rg 0 0 9 9 re f")),
    Mutation("RGB in the appearance of a note that does not print", KEEPS, _note(0, "1 0 0 rg 0 0 9 9 re f")),
    Mutation("RGB in the appearance of a hidden note", KEEPS, _note(6, "1 0 0 rg 0 0 9 9 re f")),
    Mutation("black in the appearance of a note that prints", KEEPS, _note(4, "0 0 0 1 k 0 0 9 9 re f")),
    Mutation("a picture in RGB", RGB, shows(image("/ColorSpace /DeviceRGB"))),
    Mutation(
        "a picture in RGB that is not drawn", KEEPS, gains({"XObject/Idle": image("/ColorSpace /DeviceRGB")})
    ),
    Mutation("a picture in CalRGB", CALIBRATED, shows(image("", {"ColorSpace": CAL_RGB}))),
    Mutation(
        "a picture in an ink described in RGB",
        everywhere("spot-alternate"),
        shows(image(f"/ColorSpace {_RGB_INK}")),
    ),
    Mutation(
        "a picture in RGB in a form in a form",
        RGB,
        draws(
            form(
                "/Outer Do",
                parts={
                    "Resources/XObject/Outer": form(
                        "20 0 0 20 0 0 cm /Dot Do",
                        parts={"Resources/XObject/Dot": image("/ColorSpace /DeviceRGB")},
                    )
                },
            )
        ),
    ),
    Mutation(
        "a stencil in RGB",
        RGB,
        paints("1 0 0 rg 40 0 0 40 60 60 cm /Stencil Do", {"XObject/Stencil": image("/ImageMask true")}),
    ),
    Mutation(
        "a stencil in black",
        KEEPS,
        paints(
            "0 g 40 0 0 40 60 60 cm /Stencil Do", {"XObject/Stencil": image("/ImageMask true /Decode [1 0]")}
        ),
    ),
    Mutation(
        "a stencil with a pattern in RGB",
        RGB,
        paints(
            "/Pattern cs /Fill scn 40 0 0 40 60 60 cm /Stencil Do",
            {"XObject/Stencil": image("/ImageMask true"), "Pattern/Fill": pattern(_RED_CELL)},
        ),
    ),
    Mutation(
        "a picture in CMYK while RGB is chosen", KEEPS, paints("1 0 0 rg 40 0 0 40 60 60 cm /Picture Do")
    ),
    Mutation("an inline picture in RGB, in short", RGB, _inline("/CS /RGB", 3)),
    Mutation("an inline picture in RGB, in full", RGB, _inline("/ColorSpace /DeviceRGB", 3)),
    Mutation("an inline picture in grey, in short", KEEPS, _inline("/CS /G", 1)),
    Mutation("an inline picture in CMYK, in short", KEEPS, _inline("/CS /CMYK", 4)),
    Mutation("an inline picture with a table of RGB, in short", RGB, _inline("/CS [/I /RGB 0 <FF0000>]", 1)),
    Mutation(
        "an inline picture with a table of CMYK, in short", KEEPS, _inline("/CS [/I /CMYK 0 <FF000000>]", 1)
    ),
    Mutation(
        "an inline picture in a named space of CalRGB",
        CALIBRATED,
        then(gains({"ColorSpace/Mine": CAL_RGB}), _inline("/CS /Mine", 3)),
    ),
    Mutation(
        "an inline picture in a named space that is missing",
        everywhere("missing-resource"),
        _inline("/CS /Nowhere", 3),
    ),
    Mutation(
        "an inline stencil in RGB",
        RGB,
        paints("1 0 0 rg 40 0 0 40 60 60 cm BI /W 8 /H 8 /IM true ID 12345678\nEI"),
    ),
    Mutation(
        "an inline picture in RGB in a drawn letter",
        RGB,
        _drawn_letter(_glyph("30 0 d0 30 0 0 30 0 0 cm BI /W 1 /H 1 /BPC 8 /CS /RGB ID abc\nEI")),
    ),
    Mutation("RGB in the group of a soft mask", _X4_RGB, _masked(_mask_group(_RED))),
    Mutation(
        "RGB in a form in the group of a soft mask", _X4_RGB, _masked(_mask_group("/Inner Do", parts=_INNER))
    ),
    Mutation("RGB in the group of a mask by opacity", _X4_RGB, _masked(_mask_group(_RED, ""), "/S /Alpha")),
    Mutation(
        "a soft mask in grey", told("soft-mask", "soft-mask", ""), _masked(_mask_group(f"0.5 g {AREA}"))
    ),
    Mutation(
        "a font that is not in the file, in the cell of a pattern",
        everywhere("font-not-embedded"),
        _tiled(
            pattern(
                "BT 0 0 0 1 k /H 9 Tf (A) Tj ET",
                {"Resources/Font/H": "<< /Type /Font /Subtype /Type1 /BaseFont /Helvetica >>"},
            )
        ),
    ),
    Mutation(
        "a font that is not in the file, in a drawn letter",
        everywhere("font-not-embedded"),
        _drawn_letter(
            _glyph(
                "30 0 d0 BT /H 9 Tf (A) Tj ET",
                {"Resources/Font/H": "<< /Type /Font /Subtype /Type1 /BaseFont /Helvetica >>"},
            )
        ),
    ),
    Mutation(
        "an unknown instruction in a drawn letter",
        everywhere("unknown-operator"),
        _drawn_letter(_glyph("30 0 d0 lantern 0 0 9 9 re f")),
    ),
    Mutation(
        "an unknown instruction in the cell of a pattern",
        everywhere("unknown-operator"),
        _tiled(pattern(f"{_BLACK_CELL} 1 lantern")),
    ),
    Mutation(
        "an unknown instruction in a form", everywhere("unknown-operator"), draws(form(f"0 g {AREA} lantern"))
    ),
)
