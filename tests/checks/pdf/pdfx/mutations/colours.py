"""Colours: which spaces a level takes, wherever they are painted with."""

from typing import Final

from tests.checks.pdf.pdfx.bases import press_profile
from tests.checks.pdf.pdfx.mutations.mutation import (
    AREA,
    KEEPS,
    TINT,
    TINT_OF_RGB,
    WHITE,
    Edit,
    Expected,
    Make,
    Maker,
    Mutation,
    everywhere,
    gains,
    image,
    paints,
    shows,
    stream,
    then,
    told,
    with_parts,
)
from tests.checks.pdf.pdfx.profiles_by_hand import profile_by_hand

RGB: Final = told("rgb-colour", "device-colour", "device-colour")
CALIBRATED: Final = told("device-independent-colour", "", "")
CAL_RGB: Final = f"[/CalRGB << {WHITE} >>]"
LAB: Final = f"[/Lab << {WHITE} >>]"


def icc(profile: bytes, components: int, entries: str = "") -> Maker:
    """A colour space with a profile."""
    return with_parts("[/ICCBased null]", {"1": stream(profile, f"/N {components} {entries}")})


def _in(space: Make, colour: str) -> Edit:
    return paints(f"/Mine cs {colour} scn {AREA}", {"ColorSpace/Mine": space})


SCREEN: Final = icc(profile_by_hand(), 3)
_PRESS: Final = icc(profile_by_hand("CMYK", "prtr"), 4)

_OPERATORS: Final[tuple[tuple[str, Expected, str], ...]] = (
    ("fill in RGB", RGB, f"1 0 0 rg {AREA}"),
    ("stroke in RGB", RGB, "1 0 0 RG 60 60 m 90 90 l S"),
    ("fill and stroke, the stroke in RGB", RGB, "0 0 0 1 k 1 0 0 RG 60 60 40 30 re B"),
    ("RGB chosen by name, its first colour painted", RGB, f"/DeviceRGB cs {AREA}"),
    ("RGB by a name with a hexadecimal letter", RGB, f"/Device#52GB cs 1 0 0 sc {AREA}"),
    ("black text in RGB", RGB, "BT /F1 12 Tf 0 0 0 rg 60 60 Td (LIGHT) Tj ET"),
    ("outlined text in RGB", RGB, "BT /F1 12 Tf 1 Tr 1 0 0 RG 60 60 Td (LIGHT) Tj ET"),
    ("RGB set outside q, painted inside", RGB, f"1 0 0 rg q {AREA} Q"),
    ("RGB set and nothing painted", KEEPS, "1 0 0 rg"),
    ("RGB replaced before painting", KEEPS, f"1 0 0 rg 0 0 0 1 k {AREA}"),
    ("RGB forgotten by Q", KEEPS, f"q 1 0 0 rg Q {AREA}"),
    ("RGB for the fill of what is stroked only", KEEPS, "1 0 0 rg 60 60 m 90 90 l S"),
    ("RGB for the stroke of what is filled only", KEEPS, f"1 0 0 RG {AREA}"),
    ("RGB for a path that only clips", KEEPS, "1 0 0 rg 60 60 40 30 re W n"),
    (
        "RGB for outlined text that strokes in black",
        KEEPS,
        "BT /F1 12 Tf 1 Tr 1 0 0 rg 60 60 Td (LIGHT) Tj ET",
    ),
    ("RGB for text that is invisible", KEEPS, "BT /F1 12 Tf 3 Tr 1 0 0 rg 60 60 Td (LIGHT) Tj ET"),
    ("RGB in a comment", KEEPS, f"% 1 0 0 rg\n{AREA}"),
    ("RGB within a string", KEEPS, "/Span << /ActualText (1 0 0 rg 0 0 9 9 re f) >> BDC EMC"),
    ("grey, by operator and by name", KEEPS, f"0.5 g {AREA} /DeviceGray cs 0.5 sc {AREA}"),
)

_SPACES: Final[tuple[tuple[str, Expected, Make, str], ...]] = (
    ("RGB by the name of a resource", RGB, "/DeviceRGB", "1 0 0"),
    ("RGB as an array of one name", RGB, "[/DeviceRGB]", "1 0 0"),
    ("CMYK as an array of one name", KEEPS, "[/DeviceCMYK]", "1 0 0 0"),
    ("CalGray", CALIBRATED, f"[/CalGray << {WHITE} >>]", "0.5"),
    ("CalRGB", CALIBRATED, CAL_RGB, "1 0 0"),
    ("Lab", CALIBRATED, LAB, "50 10 10"),
    ("a screen's profile", CALIBRATED, SCREEN, "1 0 0"),
    (
        "a screen's profile with its device space beside it",
        CALIBRATED,
        icc(profile_by_hand(), 3, "/Alternate /DeviceRGB"),
        "1 0 0",
    ),
    ("a scanner's profile", CALIBRATED, icc(profile_by_hand(device_class="scnr"), 3), "1 0 0"),
    ("a colour space's profile", CALIBRATED, icc(profile_by_hand(device_class="spac"), 3), "1 0 0"),
    (
        "a profile with the range written out",
        CALIBRATED,
        icc(profile_by_hand(), 3, "/Range [0 1 0 1 0 1]"),
        "1 0 0",
    ),
    (
        "an ink described in RGB",
        everywhere("spot-alternate"),
        f"[/Separation /Rose /DeviceRGB {TINT_OF_RGB}]",
        "1",
    ),
    (
        "black described in RGB",
        everywhere("spot-alternate"),
        f"[/Separation /Black /DeviceRGB {TINT_OF_RGB}]",
        "1",
    ),
    (
        "an ink described in Lab",
        told("spot-alternate", "", ""),
        with_parts(
            "[/Separation /Rose null << /FunctionType 2 /Domain [0 1] /C0 [100 0 0] /C1 [50 60 10] /N 1 >>]",
            {"2": LAB},
        ),
        "1",
    ),
    (
        "an ink described by a profile",
        told("spot-alternate", "", ""),
        with_parts(f"[/Separation /Rose null {TINT_OF_RGB}]", {"2": SCREEN}),
        "1",
    ),
    (
        "an ink described in grey",
        KEEPS,
        "[/Separation /Rose /DeviceGray << /FunctionType 2 /Domain [0 1] /C0 [1] /C1 [0] /N 1 >>]",
        "1",
    ),
    ("registration colour", KEEPS, f"[/Separation /All /DeviceCMYK {TINT}]", "1"),
    ("an ink with an umlaut in its name", KEEPS, f"[/Separation /Gr#C3#BCn /DeviceCMYK {TINT}]", "1"),
    (
        "an ink whose tints are calculated",
        KEEPS,
        with_parts(
            "[/Separation /Rose /DeviceCMYK null]",
            {
                "3": stream(
                    "{ dup 0.5 mul 0 exch 0 exch 0 exch pop 0 }",
                    "/FunctionType 4 /Domain [0 1] /Range [0 1 0 1 0 1 0 1]",
                )
            },
        ),
        "1",
    ),
    (
        "an ink whose tints are tabled",
        KEEPS,
        with_parts(
            "[/Separation /Rose /DeviceCMYK null]",
            {
                "3": stream(
                    bytes(8),
                    "/FunctionType 0 /Domain [0 1] /Range [0 1 0 1 0 1 0 1] /Size [2] /BitsPerSample 8",
                )
            },
        ),
        "1",
    ),
    (
        "a mix of inks described in RGB",
        everywhere("spot-alternate"),
        with_parts(
            "[/DeviceN [/Rose /Leaf] /DeviceRGB null]",
            {"3": stream("{ pop pop 1 0 0 }", "/FunctionType 4 /Domain [0 1 0 1] /Range [0 1 0 1 0 1]")},
        ),
        "1 0",
    ),
    ("an ink without tints", everywhere("tint-transform"), "[/Separation /Rose /DeviceCMYK]", "1"),
    (
        "an ink whose tints are of three colours for four",
        everywhere("tint-transform"),
        f"[/Separation /Rose /DeviceCMYK {TINT_OF_RGB}]",
        "1",
    ),
    (
        "an ink whose tints are null",
        everywhere("tint-transform"),
        "[/Separation /Rose /DeviceCMYK null]",
        "1",
    ),
    ("a space that nobody knows", everywhere("unknown-colour-space"), "[/Hexachrome << >>]", "1"),
    (
        "white that is missing",
        told("device-independent-colour", "white-point", "white-point"),
        "[/CalRGB << /Gamma [2.2 2.2 2.2] >>]",
        "1 0 0",
    ),
    (
        "white of half the light",
        told("device-independent-colour", "white-point", "white-point"),
        "[/CalGray << /WhitePoint [0.95 0.5 1.08] >>]",
        "1",
    ),
    (
        "white below zero",
        told("device-independent-colour", "white-point", "white-point"),
        "[/Lab << /WhitePoint [-0.95 1 1.08] >>]",
        "50 0 0",
    ),
    (
        "a profile of three colours said to be of four",
        told("device-independent-colour", "profile-components", "profile-components"),
        icc(profile_by_hand(), 4),
        "1 0 0 0",
    ),
    (
        "a profile that is none",
        told("device-independent-colour", "profile-unreadable", "profile-unreadable"),
        icc(b"no profile" * 30, 3),
        "1 0 0",
    ),
    (
        "a profile that is cut off in its head",
        told("device-independent-colour", "profile-unreadable", "profile-unreadable"),
        icc(profile_by_hand()[:100], 3),
        "1 0 0",
    ),
    (
        "a profile of version 4",
        told("device-independent-colour", "profile-version", ""),
        icc(profile_by_hand(version=(4, 2)), 3),
        "1 0 0",
    ),
    (
        "a profile of version 5",
        told("device-independent-colour", "profile-version", "profile-version"),
        icc(profile_by_hand(version=(5, 0)), 3),
        "1 0 0",
    ),
    (
        "a device link",
        told("device-independent-colour", "profile-kind", "profile-kind"),
        icc(profile_by_hand(device_class="link"), 3),
        "1 0 0",
    ),
    (
        "an abstract profile",
        told("device-independent-colour", "profile-kind", "profile-kind"),
        icc(profile_by_hand(device_class="abst"), 3),
        "1 0 0",
    ),
    (
        "a profile of hue and brightness",
        told("device-independent-colour", "profile-kind", "profile-kind"),
        icc(profile_by_hand("HSV"), 3),
        "1 0 0",
    ),
    (
        "a profile with a device space of four beside three",
        told("device-independent-colour", "profile-entries", "profile-entries"),
        icc(profile_by_hand(), 3, "/Alternate /DeviceCMYK"),
        "1 0 0",
    ),
    (
        "a profile with a range of two for three",
        told("device-independent-colour", "profile-entries", "profile-entries"),
        icc(profile_by_hand(), 3, "/Range [0 1 0 1]"),
        "1 0 0",
    ),
    # The output profile as a source profile: 4p knows it by the checksum of its reference.
    (
        "the output profile once more",
        told("device-independent-colour", "", "output-profile-again"),
        icc(press_profile(), 4),
        "0 0 0 1",
    ),
)


def _indexed(base: Make, table: str, last: int = 0) -> Edit:
    space = with_parts(f"[/Indexed null {last} {table}]", {"1": base})
    return shows(image("", {"ColorSpace": space}, bytes(64)))


_DEFAULT_RGB: Final = gains({"ColorSpace/DefaultRGB": SCREEN})

MUTATIONS: Final = (
    *(Mutation(name, expects, paints(content)) for name, expects, content in _OPERATORS),
    *(Mutation(f"painted: {name}", expects, _in(space, colour)) for name, expects, space, colour in _SPACES),
    Mutation("unused: RGB", KEEPS, gains({"ColorSpace/Mine": "/DeviceRGB"})),
    Mutation("unused: a profile that is none", KEEPS, gains({"ColorSpace/Mine": icc(b"no profile", 3)})),
    Mutation(
        "unused: an ink described in RGB",
        KEEPS,
        gains({"ColorSpace/Mine": f"[/Separation /Rose /DeviceRGB {TINT_OF_RGB}]"}),
    ),
    Mutation("unused: a default for RGB", KEEPS, _DEFAULT_RGB),
    Mutation("a table of RGB", RGB, _indexed("/DeviceRGB", "<FF0000>")),
    Mutation("a table of CMYK", KEEPS, _indexed("/DeviceCMYK", "<00FF0000>")),
    Mutation("a table of CalRGB", CALIBRATED, _indexed(CAL_RGB, "<FF0000>")),
    Mutation(
        "a table of an ink described in RGB",
        everywhere("spot-alternate"),
        _indexed(f"[/Separation /Rose /DeviceRGB {TINT_OF_RGB}]", "<FF>"),
    ),
    Mutation(
        "a table that is too short", everywhere("colour-table"), _indexed("/DeviceCMYK", "<00FF0000>", 3)
    ),
    Mutation(
        "a table of 300 colours", everywhere("colour-table"), _indexed("/DeviceGray", f"<{'00' * 301}>", 300)
    ),
    Mutation(
        "a table in a stream",
        KEEPS,
        shows(
            image(
                "",
                {"ColorSpace": with_parts("[/Indexed /DeviceCMYK 0 null]", {"3": stream(bytes(4))})},
                bytes(64),
            )
        ),
    ),
    Mutation(
        "a device space's name given to another",
        KEEPS,
        paints(f"/DeviceCMYK cs 0 0 0 1 sc {AREA}", {"ColorSpace/DeviceCMYK": CAL_RGB}),
    ),
    # Corrected: the breach of PDF/X-1a is the RGB; default-colour-space is for CMYK and grey, which it takes.
    Mutation(
        "RGB where a default stands in",
        told("rgb-colour", "", ""),
        then(_DEFAULT_RGB, paints(f"1 0 0 rg {AREA}")),
    ),
    Mutation(
        "grey where a default stands in",
        told("default-colour-space", "", ""),
        paints(f"0.5 g {AREA}", {"ColorSpace/DefaultGray": f"[/CalGray << {WHITE} >>]"}),
    ),
    # Overprint by mode 1 is of DeviceCMYK alone (ISO 32000-2, 8.6.7); the base overprints words so.
    Mutation(
        "CMYK where a default stands in",
        told("default-colour-space", "overprint-with-profile", "overprint-with-profile"),
        gains({"ColorSpace/DefaultCMYK": _PRESS}),
    ),
    Mutation(
        "overprint by mode 1 with a profile of four colours",
        told("device-independent-colour", "overprint-with-profile", "overprint-with-profile"),
        paints(f"/Over gs /Mine cs 0 0 0 1 sc {AREA}", {"ColorSpace/Mine": _PRESS}),
    ),
    Mutation(
        "mode 1 without overprint, with a profile of four colours",
        told("device-independent-colour", "", ""),
        paints(
            f"/Mode gs /Mine cs 0 0 0 1 sc {AREA}",
            {"ColorSpace/Mine": _PRESS, "ExtGState/Mode": "<< /OPM 1 /op false /OP false >>"},
        ),
    ),
    Mutation(
        "a colour space that is missing", everywhere("missing-resource"), paints(f"/Nowhere cs 1 sc {AREA}")
    ),
    Mutation(
        "an empty name of an ink", everywhere("ink-names"), _in(f"[/Separation / /DeviceCMYK {TINT}]", "1")
    ),
)
