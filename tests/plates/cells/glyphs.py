"""Text: glyphs drawn by procedures, and how text is painted (ISO 32000-2, 9.3.6 and 9.6.4)."""

from pikepdf import Array, Dictionary, Name

from tests.plates.cells.sheet import Page, Sample, Topic, cmyk, everywhere, separation

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
