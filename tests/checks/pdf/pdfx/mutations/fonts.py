"""Fonts: in the file or not, whole or not, and as what they are embedded."""

from typing import Final

from pikepdf import Dictionary, Name, Object, Pdf

from tests.checks.pdf.pdfx.mutations.mutation import (
    AREA,
    KEEPS,
    Edit,
    Make,
    Maker,
    Mutation,
    Parts,
    draws,
    drops,
    everywhere,
    form,
    gains,
    in_state,
    old,
    paints,
    sets,
    stream,
    then,
    with_parts,
)
from tests.seeded.type_by_hand import composite_font, made_typeface, plain_font, shown

_FONTS: Final = "page/Resources/Font"
_PLAIN: Final = f"{_FONTS}/F1/FontDescriptor"
_INNER: Final = f"{_FONTS}/F2/DescendantFonts/0"
_HELVETICA: Final = "<< /Type /Font /Subtype /Type1 /BaseFont /Helvetica >>"
_MISSING: Final = everywhere("font-not-embedded")
_FACE: Final = made_typeface("Hand", 80)


def _text(operators: str, parts: Parts | None = None) -> Edit:
    return paints(f"BT 0 0 0 1 k 60 60 Td {operators} ET", parts)


def _set_in(font: Make, text: str = "(LIGHT)", mode: str = "") -> Edit:
    return _text(f"/More 12 Tf {mode} {text} Tj", {"Font/More": font})


def _plain(pdf: Pdf) -> Object:
    return plain_font(pdf, made_typeface("Elsewhere", 70))


def _not_in_file(pdf: Pdf) -> Object:
    return plain_font(pdf, made_typeface("Elsewhere", 70), embedded=False)


def _wide(pdf: Pdf) -> Object:
    return composite_font(pdf, "Wide", 60)


def _changed(font: Make, parts: Parts) -> Maker:
    """A font with some of its entries set."""

    def make(pdf: Pdf) -> Object:
        assert not isinstance(font, str)
        changed = font(pdf)
        pdf.Root.Changed = Dictionary(Font=changed)
        for path, part in parts.items():
            sets(f"Root/Changed/Font/{path}", part)(pdf)
        del pdf.Root.Changed
        return changed

    return make


def _as_opentype(pdf: Pdf) -> None:
    descriptor = pdf.pages[0].obj.Resources.Font.F1.FontDescriptor
    descriptor.FontFile3 = stream(descriptor.FontFile2.read_bytes(), "/Subtype /OpenType")(pdf)
    del descriptor.FontFile2


def _as_type_1(pdf: Pdf) -> None:
    descriptor = pdf.pages[0].obj.Resources.Font.F1.FontDescriptor
    descriptor.FontFile = descriptor.FontFile2
    del descriptor.FontFile2


def _named_as_subset(pdf: Pdf) -> None:
    font = pdf.pages[0].obj.Resources.Font.F1
    font.BaseFont = font.FontDescriptor.FontName = Name("/ABCDEF+Hand")


def _widths(change: int) -> Edit:
    def edit(pdf: Pdf) -> None:
        font = pdf.pages[0].obj.Resources.Font.F1
        sets(
            f"{_FONTS}/F1/Widths", f"[{' '.join(str(int(each) + change) for each in font.Widths.as_list())}]"
        )(pdf)

    return edit


def _once_more(pdf: Pdf) -> None:
    _text("/Alias 12 Tf (LIGHT) Tj", {"Font/Alias": lambda pdf: pdf.pages[0].obj.Resources.Font.F1})(pdf)


_UNICODE: Final = stream(
    "/CIDInit /ProcSet findresource begin 12 dict begin begincmap /CMapName /U def /CMapType 2 def"
    " 1 begincodespacerange <0000> <FFFF> endcodespacerange 1 beginbfchar"
    " <0001> <0020> endbfchar endcmap end end"
)
_OWN_MAP: Final = stream(
    "/CIDInit /ProcSet findresource begin 12 dict begin begincmap /CMapName /Own def /CMapType 1 def"
    " /CIDSystemInfo << /Registry (Adobe) /Ordering (Identity) /Supplement 0 >> def"
    " 1 begincodespacerange <0000> <FFFF> endcodespacerange 1 begincidrange <0000> <FFFF> 0"
    " endcidrange endcmap end end",
    "/Type /CMap /CMapName /Own /CIDSystemInfo << /Registry (Adobe) /Ordering (Identity) /Supplement 0 >>",
)

MUTATIONS: Final = (
    Mutation("a plain font loses its program", _MISSING, drops(f"{_PLAIN}/FontFile2")),
    Mutation("a composite font loses its program", _MISSING, drops(f"{_INNER}/FontDescriptor/FontFile2")),
    Mutation("a program of null", _MISSING, sets(f"{_PLAIN}/FontFile2", "null")),
    Mutation("a standard font by name", _MISSING, _set_in(_HELVETICA)),
    # Corrected from font-not-embedded: of a blank nothing is painted, so it is as text that is invisible.
    Mutation(
        "a standard font by name, one space shown", old("invisible-font", ""), _set_in(_HELVETICA, "( )")
    ),
    Mutation(
        "a standard font by name, shown by spaced text",
        _MISSING,
        _text("/More 12 Tf [(LI) -50 (GHT)] TJ", {"Font/More": _HELVETICA}),
    ),
    Mutation(
        "a standard font by name, shown by the quote",
        _MISSING,
        _text("/More 12 Tf 12 TL (LIGHT) '", {"Font/More": _HELVETICA}),
    ),
    Mutation(
        "a standard font by name, shown by the double quote",
        _MISSING,
        _text('/More 12 Tf 12 TL 0 0 (LIGHT) "', {"Font/More": _HELVETICA}),
    ),
    Mutation("a standard font by name, outlined", _MISSING, _set_in(_HELVETICA, mode="1 Tr")),
    Mutation(
        "a standard font by name, as a clip of what is painted",
        _MISSING,
        paints(f"0 0 0 1 k BT 60 60 Td /More 40 Tf 7 Tr (LIGHT) Tj ET {AREA}", {"Font/More": _HELVETICA}),
    ),
    Mutation(
        "a standard font by name, in a form",
        _MISSING,
        draws(form("BT 0 g /H 12 Tf (LIGHT) Tj ET", parts={"Resources/Font/H": _HELVETICA})),
    ),
    Mutation(
        "a standard font by name, through the state",
        _MISSING,
        in_state(
            "",
            {
                "Font": with_parts(
                    "[null 12]", {"0": lambda pdf: pdf.make_indirect(with_parts(_HELVETICA, {})(pdf))}
                )
            },
            "BT 0 g 60 60 Td (LIGHT) Tj ET",
        ),
    ),
    Mutation(
        "a standard font by name, in a note that prints",
        _MISSING,
        sets(
            "page/Annots",
            with_parts(
                "[<< /Type /Annot /Subtype /FreeText /DA (0 g) /Rect [2 2 18 18] /F 4 /AP << >> >>]",
                {"0/AP/N": form("BT 0 g /H 9 Tf (A) Tj ET", parts={"Resources/Font/H": _HELVETICA})},
            ),
        ),
    ),
    Mutation("a standard font by name, unused", KEEPS, gains({"Font/Idle": _HELVETICA})),
    Mutation(
        "a standard font by name, chosen and not shown",
        KEEPS,
        _text("/More 12 Tf", {"Font/More": _HELVETICA}),
    ),
    Mutation(
        "a standard font by name, chosen and replaced",
        KEEPS,
        _text("/More 12 Tf /F1 12 Tf (LIGHT) Tj", {"Font/More": _HELVETICA}),
    ),
    Mutation("a standard font by name, nothing shown", KEEPS, _set_in(_HELVETICA, "()")),
    Mutation(
        "a standard font by name, invisible", old("invisible-font", ""), _set_in(_HELVETICA, mode="3 Tr")
    ),
    Mutation(
        "a font that is not in the file, invisible",
        old("invisible-font", ""),
        _set_in(_not_in_file, mode="3 Tr"),
    ),
    Mutation("a font in the file, invisible", KEEPS, _set_in(_plain, mode="3 Tr")),
    Mutation(
        "a font that is named as a subset and has no program",
        _MISSING,
        then(_named_as_subset, drops(f"{_PLAIN}/FontFile2")),
    ),
    Mutation("a font that is named as a subset", KEEPS, _named_as_subset),
    Mutation("one more font", KEEPS, _set_in(_plain)),
    Mutation("one more composite font", KEEPS, _set_in(_wide, shown("LIGHT"))),
    Mutation("a font with a map to Unicode", KEEPS, sets(f"{_FONTS}/F2/ToUnicode", _UNICODE)),
    Mutation("a font by another name of the resources", KEEPS, _once_more),
    Mutation("a font by a name with a hexadecimal letter", KEEPS, _text("/F#31 12 Tf (LIGHT) Tj")),
    Mutation(
        "a program that is rubbish",
        everywhere("font-damaged"),
        sets(f"{_PLAIN}/FontFile2", stream("rubbish " * 50)),
    ),
    Mutation(
        "a program that is cut off",
        everywhere("font-damaged"),
        sets(f"{_PLAIN}/FontFile2", stream(_FACE.program[:400])),
    ),
    # Corrected from font-damaged: with a program of no bytes the font is not in the file.
    Mutation("an empty program", _MISSING, sets(f"{_PLAIN}/FontFile2", stream(""))),
    Mutation("a program of TrueType as OpenType", old("font-opentype", ""), _as_opentype),
    Mutation("a program of TrueType as Type 1", everywhere("font-program-kind"), _as_type_1),
    Mutation("widths a tenth too large", everywhere("font-widths"), _widths(100)),
    Mutation("widths five thousandths too large", KEEPS, _widths(5)),
    Mutation(
        "a letter that the font does not have", everywhere("glyph-missing"), _set_in(_plain, "(\\101\\345)")
    ),
    Mutation("a glyph beyond those of the font", everywhere("glyph-missing"), _set_in(_wide, "<0FFF>")),
    Mutation("the glyph for what is missing", everywhere("glyph-missing"), _set_in(_wide, "<0000>")),
    Mutation(
        "a map of codes that PDF does not name",
        everywhere("font-cmap"),
        _set_in(_changed(_wide, {"Encoding": "/Lantern-H"}), shown("LIGHT")),
    ),
    Mutation(
        "a map of codes in the file", KEEPS, _set_in(_changed(_wide, {"Encoding": _OWN_MAP}), shown("LIGHT"))
    ),
    Mutation(
        "no map from characters to glyphs", everywhere("font-glyph-map"), drops(f"{_INNER}/CIDToGIDMap")
    ),
    Mutation(
        "a map from characters to glyphs in a stream",
        KEEPS,
        sets(f"{_INNER}/CIDToGIDMap", stream(b"".join(number.to_bytes(2, "big") for number in range(200)))),
    ),
    Mutation("a font that is missing", everywhere("missing-resource"), _text("/Nowhere 12 Tf (LIGHT) Tj")),
    Mutation(
        "a font in the program's private data",
        KEEPS,
        sets("page/PieceInfo", f"<< /Lantern << /LastModified (D:20260301) /Private {_HELVETICA} >> >>"),
    ),
    Mutation(
        "an area, and the font of a form that shows nothing",
        KEEPS,
        draws(form(f"0 g {AREA} BT /H 12 Tf ET", parts={"Resources/Font/H": _HELVETICA})),
    ),
    Mutation(
        "two of the fonts lose their programs",
        _MISSING,
        then(drops(f"{_PLAIN}/FontFile2"), drops(f"{_INNER}/FontDescriptor/FontFile2")),
    ),
)
