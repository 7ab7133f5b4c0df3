"""Overprint: which inks a paint replaces (ISO 32000-2, 8.6.7 and 11.7.4, table 147)."""

from typing import Final

from pikepdf import Array, Dictionary, Name

from tests.plates.cells.sheet import Inks, Page, Sample, Topic, cmyk, device_n, everywhere, separation

_TOPIC = Topic()
KINDS = _TOPIC.kinds

_GROUND: Final = {**cmyk(0.2, 0.4, 0.6, 0.3), "Lantern": 0.5}


def _ground(page: Page) -> None:
    """Five inks, the spot ink laid over the process inks."""
    page.fill("0.2 0.4 0.6 0.3 k")
    on = page.state(op=True, OP=True, OPM=0)
    page.fill(f"{on} {page.space(separation('Lantern'))} cs 0.5 scn")


def _over(page: Page, mode: int, paint: str) -> None:
    _ground(page)
    page.fill(f"{page.state(op=True, OP=True, OPM=mode)} {paint}")


def _result(changed: Inks) -> tuple[Sample, ...]:
    return everywhere({**_GROUND, **changed})


@_TOPIC.cell("11.7.4.3")
def CMYK_in_mode_0(page: Page) -> tuple[Sample, ...]:  # noqa: N802 - the standard's name
    """All process inks are replaced, zeros too; spot inks stay."""
    _over(page, 0, "0.8 0 0 0 k")
    return _result(cmyk(0.8))


@_TOPIC.cell("11.7.4.3")
def CMYK_in_mode_1(page: Page) -> tuple[Sample, ...]:  # noqa: N802 - the standard's name
    """Zeros leave the ground as it is."""
    _over(page, 1, "0.8 0 0 0 k")
    return _result({"Cyan": 0.8})


@_TOPIC.cell("11.7.4.3")
def white_in_mode_1(page: Page) -> tuple[Sample, ...]:
    _over(page, 1, "0 0 0 0 k")
    return _result({})


@_TOPIC.cell("11.7.4.3")
def black_in_mode_1(page: Page) -> tuple[Sample, ...]:
    _over(page, 1, "0 0 0 1 k")
    return _result({"Black": 1})


@_TOPIC.cell("11.7.4.3")
def grey_in_mode_0(page: Page) -> tuple[Sample, ...]:
    _over(page, 0, "0.2 g")
    return _result(cmyk(black=0.8))


@_TOPIC.cell("11.7.4.3")
def grey_in_mode_1(page: Page) -> tuple[Sample, ...]:
    """Mode 1 is for colours of DeviceCMYK; grey replaces all process inks."""
    _over(page, 1, "0.2 g")
    return _result(cmyk(black=0.8))


@_TOPIC.cell("11.7.4.3")
def a_spot_ink_over_others(page: Page) -> tuple[Sample, ...]:
    _over(page, 0, f"{page.space(separation('Moss'))} cs 0.7 scn")
    return _result({"Moss": 0.7})


@_TOPIC.cell("11.7.4.3")
def a_spot_ink_over_itself(page: Page) -> tuple[Sample, ...]:
    """A lighter tint replaces a darker one: overprint adds no ink."""
    _over(page, 0, f"{page.space(separation('Lantern'))} cs 0.2 scn")
    return _result({"Lantern": 0.2})


@_TOPIC.cell("11.7.4.3")
def a_spot_ink_of_nothing(page: Page) -> tuple[Sample, ...]:
    _over(page, 1, f"{page.space(separation('Lantern'))} cs 0 scn")
    return _result({"Lantern": 0})


@_TOPIC.cell("11.7.4.3")
def a_process_ink_by_name(page: Page) -> tuple[Sample, ...]:
    _over(page, 0, f"{page.space(separation('Magenta', 0, 1, 0, 0))} cs 0.9 scn")
    return _result({"Magenta": 0.9})


@_TOPIC.cell("11.7.4.3")
def several_inks_by_name(page: Page) -> tuple[Sample, ...]:
    """Only those that are named, zeros too, in either mode."""
    _over(page, 1, f"{page.space(device_n(page.pdf, 'Moss', 'Cyan', 'Black'))} cs 0.7 0 0.9 scn")
    return _result({"Moss": 0.7, "Cyan": 0, "Black": 0.9})


@_TOPIC.cell("8.6.6.4")
def every_plate(page: Page) -> tuple[Sample, ...]:
    _over(page, 0, f"{page.space(separation('All', 1, 1, 1, 1))} cs 0.7 scn")
    return everywhere(dict.fromkeys(_GROUND, 0.7))


@_TOPIC.cell("8.6.6.4")
def no_plate(page: Page) -> tuple[Sample, ...]:
    """Separation None paints nothing, with overprint and without."""
    _ground(page)
    page.fill(f"{page.state(op=False, OP=False)} {page.space(separation('None', 1, 1, 1, 1))} cs 0.7 scn")
    return _result({})


@_TOPIC.cell("11.7.4.3")
def a_spot_ink_without_overprint(page: Page) -> tuple[Sample, ...]:
    _ground(page)
    page.fill(f"{page.state(op=False, OP=False)} {page.space(separation('Moss'))} cs 0.7 scn")
    return everywhere({"Moss": 0.7})


@_TOPIC.cell("8.6.7")
def an_image_in_mode_1(page: Page) -> tuple[Sample, ...]:
    """Mode 1 does not apply to images: zeros replace."""
    _ground(page)
    image = page.image(1, 1, bytes([204, 0, 0, 0]), ColorSpace=Name.DeviceCMYK)
    page.draw(page.state(op=True, OP=True, OPM=1), page.show(image, (0, 0, 24, 24)))
    return _result(cmyk(0.8))


@_TOPIC.cell("8.6.7")
def a_stencil_in_mode_1(page: Page) -> tuple[Sample, ...]:
    """A stencil is painted in the current colour, so that mode 1 applies."""
    _ground(page)
    image = page.image(8, 8, bytes(8), BitsPerComponent=1, ImageMask=True)
    page.draw(f"{page.state(op=True, OP=True, OPM=1)} 0.8 0 0 0 k", page.show(image, (0, 0, 24, 24)))
    return _result({"Cyan": 0.8})


@_TOPIC.cell("11.7.4.3")
def an_image_of_an_ink_that_overprints(page: Page) -> tuple[Sample, ...]:
    _ground(page)
    image = page.image(1, 1, bytes([178]), ColorSpace=separation("Moss"))
    page.draw(page.state(op=True, OP=True, OPM=1), page.show(image, (0, 0, 24, 24)))
    return _result({"Moss": 178 / 255})


@_TOPIC.cell("8.6.7")
def a_gradient_in_mode_1(page: Page) -> tuple[Sample, ...]:
    """Nor to gradients, whose colours are computed."""
    _ground(page)
    ends = Array([0.8, 0, 0, 0])
    function = Dictionary(FunctionType=2, Domain=Array([0, 1]), C0=ends, C1=ends, N=1)
    shading = Dictionary(
        ShadingType=2, ColorSpace=Name.DeviceCMYK, Coords=Array([0, 0, 24, 0]), Function=function
    )
    page.draw(page.state(op=True, OP=True, OPM=1), f"{page.named('Shading', shading)} sh")
    return _result(cmyk(0.8))


@_TOPIC.cell("11.7.4.3")
def a_gradient_of_an_ink_that_overprints(page: Page) -> tuple[Sample, ...]:
    _ground(page)
    ends = Array([0.7])
    function = Dictionary(FunctionType=2, Domain=Array([0, 1]), C0=ends, C1=ends, N=1)
    shading = Dictionary(
        ShadingType=2, ColorSpace=separation("Moss"), Coords=Array([0, 0, 24, 0]), Function=function
    )
    page.draw(page.state(op=True, OP=True, OPM=1), f"{page.named('Shading', shading)} sh")
    return _result({"Moss": 0.7})


@_TOPIC.cell("8.6.7")
def strokes_overprint_and_fills_do_not(page: Page) -> tuple[Sample, ...]:
    """OP is for strokes, op for everything else."""
    _ground(page)
    page.draw(f"{page.state(OP=True, op=False, OPM=1)} 0.8 0 0 0 K 8 w 0 6 m 24 6 l S")
    page.fill("0.8 0 0 0 k", (0, 12, 24, 24))
    return (
        Sample({**_GROUND, "Cyan": 0.8}, (2, 4, 22, 8)),
        Sample(cmyk(0.8), (2, 14, 22, 22)),
    )


@_TOPIC.cell("8.6.7")
def OP_alone_is_for_both(page: Page) -> tuple[Sample, ...]:  # noqa: N802 - the standard's name
    """A state with OP and without op sets both (table 57)."""
    _ground(page)
    page.fill(f"{page.state(OP=True, OPM=1)} 0.8 0 0 0 k")
    return _result({"Cyan": 0.8})


@_TOPIC.cell("8.6.7")
def text_that_overprints(page: Page) -> tuple[Sample, ...]:
    _ground(page)
    font = page.named("Font", Dictionary(Type=Name.Font, Subtype=Name.Type1, BaseFont=Name.Helvetica))
    state = page.state(op=True, OP=True, OPM=1)
    page.draw(f"{state} 0 0 0 1 k BT {font} 400 Tf -45 -8 Td (.) Tj ET")
    return _result({"Black": 1})


@_TOPIC.cell("8.10.1")
def a_form_shown_with_overprint(page: Page) -> tuple[Sample, ...]:
    """A form begins with the state of where it is shown; the same form without it knocks out."""
    _ground(page)
    shown = page.show(page.form("0 0 0 0.9 k 0 0 24 12 re f"))
    page.draw(f"q {page.state(op=True, OP=True, OPM=1)} {shown} Q")
    page.draw(f"q 1 0 0 1 0 12 cm {shown} Q")
    return (
        Sample({**_GROUND, "Black": 0.9}, (2, 2, 22, 10)),
        Sample(cmyk(black=0.9), (2, 14, 22, 22)),
    )


@_TOPIC.cell("11.7.4.3")
def a_pattern_that_overprints(page: Page) -> tuple[Sample, ...]:
    """The tiles' own colours are painted with the state at the tiles' beginning: the page's first state."""
    _ground(page)
    state = page.state(op=True, OP=True, OPM=1)
    tile = page.stream(
        f"{state} 0 0 0 0.9 k 0 0 20 20 re f".encode(), PatternType=1, PaintType=1, TilingType=1,
        BBox=Array([0, 0, 20, 20]), XStep=20, YStep=20, Resources=page.page.obj.Resources,
    )  # fmt: skip
    page.fill(f"{state} /Pattern cs {page.named('Pattern', tile)} scn")
    return _result({"Black": 0.9})


@_TOPIC.cell("11.7.4.3")
def overprint_at_half_opacity(page: Page) -> tuple[Sample, ...]:
    """CompatibleOverprint stands for Normal: an ink that is not replaced is blended with itself."""
    _ground(page)
    page.fill(f"{page.state(op=True, OP=True, OPM=1, ca=0.5)} 0.8 0 0 0 k")
    return _result({"Cyan": 0.5})


@_TOPIC.cell("11.7.4.3")
def a_spot_ink_that_overprints_at_half_opacity(page: Page) -> tuple[Sample, ...]:
    _ground(page)
    page.fill(f"{page.state(op=True, OP=True, OPM=0, ca=0.5)} {page.space(separation('Moss'))} cs 0.8 scn")
    return _result({"Moss": 0.4})


@_TOPIC.cell("11.7.4.3")
def overprint_within_a_group(page: Page) -> tuple[Sample, ...]:
    """In a group that is not isolated the ground shows through what an overprinting ink does not touch."""
    _ground(page)
    state = page.state(op=True, OP=True, OPM=1)
    page.draw(page.show(page.group(f"{state} 0.8 0 0 0 k 0 0 24 24 re f", I=False)))
    return _result({"Cyan": 0.8})


@_TOPIC.cell("11.7.4.3")
def overprint_turned_off_again(page: Page) -> tuple[Sample, ...]:
    _ground(page)
    on, off = page.state(op=True, OP=True, OPM=1), page.state(op=False, OP=False)
    page.fill(f"{on} {off} 0.8 0 0 0 k")
    return everywhere(cmyk(0.8))


@_TOPIC.cell("8.6.7")
def tagged_CMYK_in_mode_1(page: Page) -> tuple[Sample, ...]:  # noqa: N802 - the standard's name
    """Mode 1 is for DeviceCMYK; a colour of a profile replaces all process inks."""
    _ground(page)
    path = "/usr/share/color/icc/ghostscript/ps_cmyk.icc"
    with open(path, "rb") as file:  # noqa: PTH123 - a line less
        profile = page.stream(file.read(), N=4)
    space = page.space(Array([Name.ICCBased, profile]))
    page.fill(f"{page.state(op=True, OP=True, OPM=1)} {space} cs 0.8 0 0 0 scn")
    return _result(cmyk(0.8))
