"""Graphics states, transparency, halftones and instructions."""

from typing import Final

from tests.checks.pdf.pdfx.mutations.colours import CAL_RGB, LAB, SCREEN
from tests.checks.pdf.pdfx.mutations.mutation import (
    AREA,
    KEEPS,
    TINT,
    Make,
    Maker,
    Mutation,
    Parts,
    draws,
    everywhere,
    form,
    gains,
    in_state,
    old,
    paints,
    sets,
    stream,
    then,
    told,
    with_parts,
)

_BLACK: Final = f"0 0 0 1 k {AREA}"
_TRANSFER: Final = "<< /FunctionType 2 /Domain [0 1] /N 1.2 >>"
_BENT: Final = f"/TransferFunction {_TRANSFER}"
_SCREENED: Final = "/Type /Halftone /HalftoneType 1 /Frequency 133 /Angle 45 /SpotFunction /Round"
_THRESHOLDS: Final = stream(bytes(64), "/Type /Halftone /HalftoneType 6 /Width 8 /Height 8")

# What is written of transparency: PDF/X-4 takes all of it, those before none that does anything.
_STATES: Final = (
    ("opacity of fills", old("opacity", ""), "/ca 0.5"),
    ("opacity of strokes", old("opacity", ""), "/CA 0.99"),
    ("opacity of nothing", old("opacity", ""), "/ca 0"),
    ("full opacity, written out", KEEPS, "/ca 1 /CA 1.0"),
    ("no soft mask, written out", KEEPS, "/SMask /None"),
    ("alpha of shapes", KEEPS, "/AIS false"),
    ("text that knocks out", KEEPS, "/TK true"),
    ("blend mode Multiply", old("blend-mode", ""), "/BM /Multiply"),
    ("blend mode Luminosity", old("blend-mode", ""), "/BM /Luminosity"),
    ("blend mode Normal", KEEPS, "/BM /Normal"),
    ("blend mode Compatible", KEEPS, "/BM /Compatible"),
    ("blend mode Normal in a list", KEEPS, "/BM [/Normal]"),
    ("blend mode Multiply, first of a list", old("blend-mode", ""), "/BM [/Multiply /Normal]"),
    ("a blend mode of a program's own", old("blend-mode", "unknown-blend-mode"), "/BM /Lantern"),
    ("stroke adjustment", KEEPS, "/SA true"),
    ("line width, flatness and smoothness", KEEPS, "/LW 2 /FL 1 /SM 0.02 /LC 1 /LJ 1 /ML 4 /D [[3] 0]"),
    ("overprint", KEEPS, "/OP true /op true /OPM 0"),
    ("overprint mode 2", everywhere("overprint-mode"), "/OPM 2"),
    ("overprint mode below zero", everywhere("overprint-mode"), "/OPM -1"),
    ("a transfer function", everywhere("transfer-function"), f"/TR {_TRANSFER}"),
    ("four transfer functions", everywhere("transfer-function"), f"/TR [{' '.join([_TRANSFER] * 4)}]"),
    ("the identity as a transfer function", everywhere("transfer-function"), "/TR /Identity"),
    ("a second transfer function", everywhere("transfer-function"), f"/TR2 {_TRANSFER}"),
    ("the identity as a second transfer function", everywhere("transfer-function"), "/TR2 /Identity"),
    ("the device's own transfer function", KEEPS, "/TR2 /Default"),
    (
        "black generation and undercolour removal",
        KEEPS,
        f"/BG {_TRANSFER} /UCR {_TRANSFER} /BG2 /Default /UCR2 /Default",
    ),
    ("a moved halftone", everywhere("halftone-phase"), "/HTP [0 0]"),
    ("the device's own halftone", KEEPS, "/HT /Default"),
    ("a halftone of lines and angles", KEEPS, f"/HT << {_SCREENED} >>"),
    ("a halftone with a name", everywhere("halftone-name"), f"/HT << {_SCREENED} /HalftoneName (Lantern) >>"),
    (
        "a halftone with a transfer function",
        everywhere("halftone-transfer"),
        f"/HT << {_SCREENED} /TransferFunction {_TRANSFER} >>",
    ),
    (
        "a halftone for each ink",
        KEEPS,
        f"/HT << /HalftoneType 5 /Default << {_SCREENED} >> /Cyan << {_SCREENED} >> >>",
    ),
    (
        "a halftone for each ink, a named one among them",
        everywhere("halftone-name"),
        (
            f"/HT << /HalftoneType 5 /Default << {_SCREENED} >> /Cyan <<"
            f" {_SCREENED} /HalftoneName (Lantern) >> >>"
        ),
    ),
    (
        "a halftone for a spot ink with a transfer function",
        KEEPS,
        f"/HT << /HalftoneType 5 /Default << {_SCREENED} >> /Rose << {_SCREENED} {_BENT} >> >>",
    ),
    ("an intent of PDF", KEEPS, "/RI /Perceptual"),
    ("an intent that nobody knows", everywhere("rendering-intent"), "/RI /Vivid"),
    ("black points mapped", everywhere("black-point"), "/UseBlackPtComp /ON"),
)


def _group(entries: str, parts: Parts | None = None, content: str = _BLACK) -> Maker:
    put = {f"Group/{path}": make for path, make in (parts or {}).items()}
    return form(content, f"/Group << {entries} >>", put)


def _mask(entries: str, group: Make) -> Maker:
    return with_parts(f"<< /Type /Mask {entries} >>", {"G": group})


_GREY: Final = form(f"0.5 g {AREA}", "/Group << /S /Transparency /CS /DeviceGray >>")
_NO_SPACE: Final = form(f"0.5 g {AREA}", "/Group << /S /Transparency >>")
_IN_RGB: Final = form(f"0.5 g {AREA}", "/Group << /S /Transparency /CS /DeviceRGB >>")
_PAGE_GROUP: Final = "<< /S /Transparency /CS /DeviceCMYK >>"

MUTATIONS: Final = (
    *(Mutation(f"painted with: {name}", expects, in_state(entries)) for name, expects, entries in _STATES),
    Mutation("a halftone of thresholds", everywhere("halftone-type"), in_state("", {"HT": _THRESHOLDS})),
    Mutation(
        "a halftone of thresholds for one ink",
        everywhere("halftone-type"),
        in_state(f"/HT << /HalftoneType 5 /Default << {_SCREENED} >> >>", {"HT/Cyan": _THRESHOLDS}),
    ),
    *(
        Mutation(f"unused state: {name}", KEEPS, gains({"ExtGState/Idle": f"<< {entries} >>"}))
        for name, entries in (
            ("opacity", "/ca 0.5 /CA 0.5"),
            ("blend mode", "/BM /Multiply"),
            ("an intent that nobody knows", "/RI /Vivid"),
        )
    ),
    Mutation(
        "unused state: a soft mask",
        KEEPS,
        gains(
            {
                "ExtGState/Idle": with_parts(
                    "<< /Type /ExtGState >>", {"SMask": _mask("/S /Luminosity", _GREY)}
                )
            }
        ),
    ),
    Mutation(
        "a soft mask by opacity", old("soft-mask", ""), in_state("", {"SMask": _mask("/S /Alpha", _NO_SPACE)})
    ),
    Mutation(
        "a soft mask by brightness without a space",
        old("soft-mask", "mask-space"),
        in_state("", {"SMask": _mask("/S /Luminosity", _NO_SPACE)}),
    ),
    Mutation(
        "a soft mask by brightness of RGB",
        old("soft-mask", "blend-space"),
        in_state("", {"SMask": _mask("/S /Luminosity", _IN_RGB)}),
    ),
    Mutation(
        "a soft mask with a backdrop and a function",
        old("soft-mask", ""),
        in_state("", {"SMask": _mask(f"/S /Luminosity /BC [0] /TR {_TRANSFER}", _GREY)}),
    ),
    Mutation(
        "opacity in a form",
        old("opacity", ""),
        draws(form(f"/State gs {_BLACK}", parts={"Resources/ExtGState/State": "<< /ca 0.5 >>"})),
    ),
    Mutation("a drawing as a group", old("transparency-group", ""), draws(_group("/S /Transparency"))),
    Mutation(
        "a drawing as a group in CMYK",
        old("transparency-group", ""),
        draws(_group("/S /Transparency /CS /DeviceCMYK /I true")),
    ),
    Mutation(
        "a drawing as a group in RGB",
        old("transparency-group", "blend-space"),
        draws(_group("/S /Transparency /CS /DeviceRGB /I true")),
    ),
    Mutation(
        "a drawing as a group in calibrated RGB",
        told(None, None, ""),
        draws(_group("/S /Transparency /I true", {"CS": CAL_RGB})),
    ),
    Mutation(
        "a drawing as a group in a screen's profile",
        told(None, None, ""),
        draws(_group("/S /Transparency /I true", {"CS": SCREEN})),
    ),
    Mutation(
        "a drawing as a group in Lab",
        told(None, None, "blend-space"),
        draws(_group("/S /Transparency /I true", {"CS": LAB})),
    ),
    Mutation(
        "a drawing as a group that is not drawn",
        KEEPS,
        gains({"XObject/Idle": _group("/S /Transparency /CS /DeviceRGB")}),
    ),
    Mutation(
        "a group within a drawing",
        old("transparency-group", ""),
        draws(form("/Inner Do", parts={"Resources/XObject/Inner": _group("/S /Transparency")})),
    ),
    Mutation("the page as a group in CMYK", old("page-group", ""), sets("page/Group", _PAGE_GROUP)),
    Mutation(
        "the page as a group in RGB",
        old("page-group", "blend-space"),
        sets("page/Group", "<< /S /Transparency /CS /DeviceRGB >>"),
    ),
    Mutation(
        "the page as a group in RGB where a default stands in",
        told(None, None, ""),
        then(
            gains({"ColorSpace/DefaultRGB": SCREEN}),
            sets("page/Group", "<< /S /Transparency /CS /DeviceRGB >>"),
        ),
    ),
    Mutation(
        "the page as a group in a spot ink",
        told(None, None, "blend-space"),
        sets(
            "page/Group",
            f"<< /S /Transparency /CS [/Separation /Rose /DeviceCMYK {TINT}] >>",
        ),
    ),
    Mutation("an unknown instruction", everywhere("unknown-operator"), paints(f"{_BLACK} lantern")),
    Mutation(
        "an unknown instruction where it may be",
        everywhere("unknown-operator"),
        paints(f"BX 1 2 lantern EX {_BLACK}"),
    ),
    Mutation(
        "a known instruction in the other case",
        everywhere("unknown-operator"),
        paints("0 0 0 1 k 60 60 40 30 RE f"),
    ),
    Mutation("a place where unknown instructions may be, with known ones", KEEPS, paints(f"BX {_BLACK} EX")),
    Mutation(
        "marked content of all kinds",
        KEEPS,
        paints(f"/Span BMC {_BLACK} EMC /Span << /MCID 0 >> BDC {_BLACK} EMC /Place MP /Place << /A 1 >> DP"),
    ),
    Mutation("an instruction in a comment", KEEPS, paints(f"% lantern BX gs\n{_BLACK}")),
    Mutation(
        "an intent that nobody knows, by operator",
        everywhere("rendering-intent"),
        paints(f"/Vivid ri {_BLACK}"),
    ),
    Mutation("an intent of PDF, by operator", KEEPS, paints(f"/Saturation ri 0.5 i {_BLACK}")),
    Mutation("a state that is missing", everywhere("missing-resource"), paints(f"/Nowhere gs {_BLACK}")),
    Mutation(
        "a pattern that is missing",
        everywhere("missing-resource"),
        paints(f"/Pattern cs /Nowhere scn {AREA}"),
    ),
    Mutation("a shading that is missing", everywhere("missing-resource"), paints("/Nowhere sh")),
    Mutation("a drawing that is missing", everywhere("missing-resource"), paints("/Nowhere Do")),
    # Expected as missing-resource first: the standard looks in the form's resources alone, programs differ.
    Mutation(
        "a drawing that is missing in a form, and the page has it",
        everywhere("own-resources"),
        draws(form("/Emblem Do")),
    ),
)
