"""Text: glyphs drawn by procedures, and how text is painted (ISO 32000-2, 9.3.6 and 9.6.4)."""

from typing import Final

from pikepdf import Array, Dictionary, Name

from tests.plates.cells.sheet import MM, Page, Sample, Topic, Window, cmyk, everywhere, separation

_TOPIC = Topic()
KINDS = _TOPIC.kinds


def _font(page: Page, glyph: str) -> str:
    """A font whose letter A is drawn by `glyph`, in units of a 24th of the em."""
    font = Dictionary(
        Type=Name.Font, Subtype=Name.Type3, FontBBox=Array([0, 0, 24, 24]),
        FontMatrix=Array([1 / 24, 0, 0, 1 / 24, 0, 0]), FirstChar=65, LastChar=65, Widths=Array([24]),
        Encoding=Dictionary(Type=Name.Encoding, Differences=Array([65, Name.A])),
        CharProcs=Dictionary(A=page.stream(glyph.encode())), Resources=page.page.obj.Resources,
    )  # fmt: skip
    return page.named("Font", page.pdf.make_indirect(font))


@_TOPIC.cell("9.6.4")
def glyph_in_the_texts_colour(page: Page) -> tuple[Sample, ...]:
    font = _font(page, "24 0 0 0 24 24 d1 0 0 24 24 re f")
    page.draw(f"0.2 0.4 0.6 0.2 k BT {font} 24 Tf (A) Tj ET")
    return everywhere(cmyk(0.2, 0.4, 0.6, 0.2))


@_TOPIC.cell("9.6.4")
def glyph_in_the_texts_ink(page: Page) -> tuple[Sample, ...]:
    font = _font(page, "24 0 0 0 24 24 d1 0 0 24 24 re f")
    page.draw(f"{page.space(separation('Lantern'))} cs 0.6 scn BT {font} 24 Tf (A) Tj ET")
    return everywhere({"Lantern": 0.6})


@_TOPIC.cell("9.6.4")
def glyph_in_its_own_colours(page: Page) -> tuple[Sample, ...]:
    space = page.space(separation("Lantern"))
    font = _font(page, f"24 0 d0 0 0.5 0 0 k 0 0 24 24 re f {space} cs 0.6 scn 0 0 12 24 re f")
    page.draw(f"1 0 0 0 k BT {font} 24 Tf (A) Tj ET")
    return Sample({"Lantern": 0.6}, (2, 2, 10, 22)), Sample(cmyk(magenta=0.5), (14, 2, 22, 22))


@_TOPIC.cell("9.6.4")
def glyph_as_a_stencil(page: Page) -> tuple[Sample, ...]:
    """A bitmap font's letter: an inline stencil, painted in the text's colour."""
    font = _font(page, "24 0 0 0 24 24 d1 q 24 0 0 24 0 0 cm BI /W 8 /H 1 /IM true /F /AHx ID 00>\nEI Q")
    page.draw(f"0 0.6 0 0 k BT {font} 24 Tf (A) Tj ET")
    return everywhere(cmyk(magenta=0.6))


@_TOPIC.cell("9.3.6")
def invisible_text(page: Page) -> tuple[Sample, ...]:
    """Text of mode 3 is not painted; a glyph's procedure is, whatever the mode (9.3.6)."""
    font = page.named("Font", Dictionary(Type=Name.Font, Subtype=Name.Type1, BaseFont=Name.Helvetica))
    page.draw(f"1 0 0 0 k BT 3 Tr {font} 60 Tf -5 -5 Td (MMMM) Tj ET")
    return everywhere({})


@_TOPIC.cell("9.3.6")
def text_as_a_clip(page: Page) -> tuple[Sample, ...]:
    """A full stop of the standard font, far enlarged, clips what is painted next."""
    font = page.named("Font", Dictionary(Type=Name.Font, Subtype=Name.Type1, BaseFont=Name.Helvetica))
    page.draw(f"q BT 7 Tr {font} 400 Tf -45 -8 Td (.) Tj ET 0 0.6 0 0 k 0 0 24 24 re f Q")
    return everywhere(cmyk(magenta=0.6))


@_TOPIC.cell("9.3.6")
def text_in_an_ink(page: Page) -> tuple[Sample, ...]:
    font = page.named("Font", Dictionary(Type=Name.Font, Subtype=Name.Type1, BaseFont=Name.Helvetica))
    space = page.space(separation("Lantern"))
    page.draw(f"{space} cs 0.6 scn BT {font} 400 Tf -45 -8 Td (.) Tj ET")
    return everywhere({"Lantern": 0.6})


@_TOPIC.cell("9.3.6")
def text_filled_and_stroked(page: Page) -> tuple[Sample, ...]:
    """The stroke, 16 mm wide, lies over the fill."""
    font = page.named("Font", Dictionary(Type=Name.Font, Subtype=Name.Type1, BaseFont=Name.Helvetica))
    space = page.space(separation("Lantern"))
    page.draw(f"{space} cs 0.6 scn 0 0.4 0 0 K 4 w BT 2 Tr {font} 400 Tf -45 -8 Td (.) Tj ET")
    return everywhere({"Lantern": 0.6})


# A full stop of Helvetica at this size is 15.6 mm wide and 15.9 mm high, with its corner at 4 mm, 4 mm.
_STOP: Final = "150 Tf -9 4 Td (.) Tj"
# Within it, up to its edges, where nothing but the fill may be; and beside it, where nothing may be.
_STOP_LEFT: Final[Window] = (4.3, 4.3, 11.5, 19.4)
_STOP_RIGHT: Final[Window] = (12.5, 4.3, 19.2, 19.4)
_BESIDE: Final[Window] = (0, 0, 3.8, 24)


def _helvetica(page: Page) -> str:
    return page.named("Font", Dictionary(Type=Name.Font, Subtype=Name.Type1, BaseFont=Name.Helvetica))


def _halves(page: Page, *, coloured: bool = True) -> str:
    """A tiling pattern of one tile: 80 % cyan on the left of the page, 60 % magenta on the right."""
    colours = ("0.8 0 0 0 k", "0 0.6 0 0 k") if coloured else ("", "")
    right = "12 0 12 24 re f" if coloured else ""
    return page.named("Pattern", page.stream(
        f"{colours[0]} 0 0 12 24 re f {colours[1]} {right}".encode(), PatternType=1,
        PaintType=1 if coloured else 2, TilingType=1, BBox=Array([0, 0, 24, 24]), XStep=24, YStep=24,
        Resources=Dictionary(), Matrix=Array([MM, 0, 0, MM, 0, 0]),
    ))  # fmt: skip


def _gradient(page: Page) -> str:
    """A shading pattern: from 100 % cyan on the page's left edge to 100 % magenta on its right."""
    function = Dictionary(
        FunctionType=2, Domain=Array([0, 1]), C0=Array([1, 0, 0, 0]), C1=Array([0, 1, 0, 0]), N=1
    )
    shading = Dictionary(
        ShadingType=2, ColorSpace=Name.DeviceCMYK, Coords=Array([0, 0, 24, 0]), Function=function
    )
    return page.named("Pattern", page.pdf.make_indirect(Dictionary(
        Type=Name.Pattern, PatternType=2, Shading=shading, Matrix=Array([MM, 0, 0, MM, 0, 0])
    )))  # fmt: skip


def _of_gradient(window: Window, share: float = 1, **beneath: float) -> Sample:
    middle = (window[0] + window[2]) / 48
    return Sample(cmyk((1 - middle) * share, middle * share, **beneath), window)


def _in_halves(share: float = 1, **beneath: float) -> tuple[Sample, ...]:
    return (
        Sample(cmyk(0.8 * share, **beneath), _STOP_LEFT),
        Sample(cmyk(0, 0.6 * share, **beneath), _STOP_RIGHT),
    )


@_TOPIC.cell("8.7.4.3")
def text_filled_with_a_gradient(page: Page) -> tuple[Sample, ...]:
    page.draw(f"/Pattern cs {_gradient(page)} scn BT {_helvetica(page)} {_STOP} ET")
    return _of_gradient(_STOP_LEFT), _of_gradient(_STOP_RIGHT), Sample({}, _BESIDE)


@_TOPIC.cell("8.7.4.3")
def a_gradient_chosen_within_a_text(page: Page) -> tuple[Sample, ...]:
    """The full stops beside the page, in black, belong to the same text object."""
    page.draw(f"0 0 0 1 k BT {_helvetica(page)} 150 Tf -99 4 Td (.) Tj /Pattern cs {_gradient(page)} scn")
    page.draw("90 0 Td (.) Tj 0 0 0 0.5 k 150 0 Td (.) Tj ET")
    return _of_gradient(_STOP_LEFT), _of_gradient(_STOP_RIGHT), Sample({}, _BESIDE)


@_TOPIC.cell("8.7.4.3")
def text_filled_with_a_gradient_at_half_opacity(page: Page) -> tuple[Sample, ...]:
    page.fill("0 0 0.6 0 k")
    page.draw(f"{page.state(ca=0.5)} /Pattern cs {_gradient(page)} scn BT {_helvetica(page)} {_STOP} ET")
    return (
        _of_gradient(_STOP_LEFT, 0.5, yellow=0.3),
        _of_gradient(_STOP_RIGHT, 0.5, yellow=0.3),
        Sample(cmyk(yellow=0.6), _BESIDE),
    )


@_TOPIC.cell("11.7.4.3")
def text_filled_with_a_gradient_that_overprints(page: Page) -> tuple[Sample, ...]:
    """A shading in four inks touches all of their plates, and leaves a spot's alone."""
    page.fill(f"{page.space(separation('Lantern'))} cs 0.6 scn")
    page.draw(f"{page.state(op=True, OPM=1)} /Pattern cs {_gradient(page)} scn")
    page.draw(f"BT {_helvetica(page)} {_STOP} ET")
    found = [_of_gradient(window) for window in (_STOP_LEFT, _STOP_RIGHT)]
    return tuple(Sample({**each.inks, "Lantern": 0.6}, each.window) for each in found)


@_TOPIC.cell("11.3.5.2")
def text_filled_with_a_gradient_that_multiplies(page: Page) -> tuple[Sample, ...]:
    page.fill("0 0 0.6 0 k")
    page.draw(f"{page.state(BM=Name.Multiply)} /Pattern cs {_gradient(page)} scn")
    page.draw(f"BT {_helvetica(page)} {_STOP} ET")
    return _of_gradient(_STOP_LEFT, yellow=0.6), _of_gradient(_STOP_RIGHT, yellow=0.6)


@_TOPIC.cell("8.7.3.2")
def text_filled_with_coloured_tiles(page: Page) -> tuple[Sample, ...]:
    page.draw(f"/Pattern cs {_halves(page)} scn BT {_helvetica(page)} {_STOP} ET")
    return *_in_halves(), Sample({}, _BESIDE)


@_TOPIC.cell("11.6.7")
def text_filled_with_coloured_tiles_at_half_opacity(page: Page) -> tuple[Sample, ...]:
    page.fill("0 0 0.6 0 k")
    page.draw(f"{page.state(ca=0.5)} /Pattern cs {_halves(page)} scn BT {_helvetica(page)} {_STOP} ET")
    return _in_halves(0.5, yellow=0.3)


@_TOPIC.cell("8.7.3.3")
def text_filled_with_tiles_in_a_given_ink(page: Page) -> tuple[Sample, ...]:
    space = page.space(Array([Name.Pattern, separation("Lantern")]))
    page.draw(f"{space} cs 0.8 {_halves(page, coloured=False)} scn BT {_helvetica(page)} {_STOP} ET")
    return Sample({"Lantern": 0.8}, _STOP_LEFT), Sample({}, _STOP_RIGHT)


@_TOPIC.cell("8.7.3.1")
def text_in_tiles_within_a_form_within_a_form(page: Page) -> tuple[Sample, ...]:
    """A pattern's matrix builds on the space of the form that it is used in, which is the page's here."""
    tiles, font = _halves(page), _helvetica(page)
    page.page.obj.Resources.Pattern[tiles].Matrix = Array([1, 0, 0, 1, 0, 0])
    inner = page.form(f"/Pattern cs {tiles} scn BT {font} {_STOP} ET")
    outer = page.form(page.show(inner))
    page.draw(page.show(outer))
    return _in_halves()


@_TOPIC.cell("9.3.6")
def text_in_tiles_with_a_plain_outline(page: Page) -> tuple[Sample, ...]:
    """The outline, 2 mm wide, lies half within the letter."""
    page.draw(f"/Pattern cs {_halves(page)} scn 0 0 1 0 K 2 w")
    page.draw(f"BT 2 Tr {_helvetica(page)} {_STOP} ET")
    return (
        Sample(cmyk(0.8), (5.3, 5.3, 11.5, 18.4)),
        Sample(cmyk(0, 0.6), (12.5, 5.3, 18.2, 18.4)),
        Sample(cmyk(yellow=1), (3.3, 5.3, 4.8, 18.4)),
    )


@_TOPIC.cell("9.3.6")
def text_in_tiles_with_an_outline_at_half_opacity(page: Page) -> tuple[Sample, ...]:
    page.draw(f"{page.state(CA=0.5)} /Pattern cs {_halves(page)} scn 0 0 1 0 K 2 w")
    page.draw(f"BT 2 Tr {_helvetica(page)} {_STOP} ET")
    return (
        Sample(cmyk(0.8), (5.3, 5.3, 11.5, 18.4)),
        Sample(cmyk(0, 0.6), (12.5, 5.3, 18.2, 18.4)),
        Sample(cmyk(yellow=0.5), (3.3, 5.3, 3.8, 18.4)),
    )


@_TOPIC.cell("9.3.6")
def text_outlined_with_tiles(page: Page) -> tuple[Sample, ...]:
    """The outline, 12 mm wide, leaves only the middle of the letter, which is yellow."""
    page.draw(f"/Pattern CS {_halves(page)} SCN 0 0 1 0 k 12 w")
    page.draw(f"BT 2 Tr {_helvetica(page)} {_STOP} ET")
    return (
        Sample(cmyk(0.8), (0, 5, 9.5, 19)),
        Sample(cmyk(0, 0.6), (14.2, 5, 24, 19)),
        Sample(cmyk(yellow=1), (10.6, 10.6, 13.2, 13.2)),
    )


@_TOPIC.cell("9.3.6")
def text_only_outlined_with_a_gradient(page: Page) -> tuple[Sample, ...]:
    page.draw(f"/Pattern CS {_gradient(page)} SCN 12 w")
    page.draw(f"BT 1 Tr {_helvetica(page)} {_STOP} ET")
    left, right = (0.5, 5, 9.5, 19), (14.2, 5, 23.5, 19)
    return _of_gradient(left), _of_gradient(right), Sample({}, (10.6, 10.6, 13.2, 13.2))


@_TOPIC.cell("9.3.6")
def text_filled_with_tiles_that_clips_as_well(page: Page) -> tuple[Sample, ...]:
    """Yellow multiplies over the letter alone."""
    multiply = page.state(BM=Name.Multiply)
    page.draw(f"q /Pattern cs {_halves(page)} scn BT 4 Tr {_helvetica(page)} {_STOP} ET")
    page.draw(f"{multiply} 0 0 0.4 0 k 0 0 24 24 re f Q")
    return *_in_halves(yellow=0.4), Sample({}, _BESIDE)
