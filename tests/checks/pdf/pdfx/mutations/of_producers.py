"""Changes of files that independent programs wrote."""

from typing import Final

from pikepdf import Array, Pdf

from hotfolder.checks.shared.pdfx_levels import judged_level
from tests.checks.pdf.pdfx.mutations.mutation import (
    AREA,
    Edit,
    Mutation,
    drops,
    form,
    gains,
    image,
    paints,
    sets,
    shows,
    stream,
    then,
)
from tests.checks.pdf.pdfx.mutations.pictures import lzw
from tests.producers.pdfx.archive import described

_INTENT: Final = "Root/OutputIntents/0"


def _of(producer: str, name: str, ids: str, edit: Edit) -> Mutation:
    """A change of a file of the archive, which keeps what it is advised of already."""
    file = described()[producer]
    level = judged_level(file.level)
    assert level is not None
    assert not file.breaks
    assert not file.open
    return Mutation(name, {level: frozenset(ids.split()) | set(file.advised)}, edit, producer)


def _swap_in_content(old: bytes, new: bytes) -> Edit:
    def edit(pdf: Pdf) -> None:
        page = pdf.pages[0].obj
        content = page.Contents.read_bytes()
        assert old in content
        page.Contents = pdf.make_stream(content.replace(old, new, 1))

    return edit


def _in_lzw(pdf: Pdf) -> None:
    page = pdf.pages[0].obj
    parts = page.Contents if isinstance(page.Contents, Array) else [page.Contents]
    content = b"\n".join(part.read_bytes() for part in parts)
    page.Contents = stream(lzw(content), "/Filter /LZWDecode")(pdf)


def _without_program(pdf: Pdf) -> None:
    for font in pdf.pages[0].obj.Resources.Font.as_dict().values():
        inner = font.DescendantFonts[0] if "/DescendantFonts" in font else font
        for key in ("/FontFile", "/FontFile2", "/FontFile3"):
            if key in inner.FontDescriptor:
                del inner.FontDescriptor[key]


def _split_everywhere(pdf: Pdf) -> None:
    page = pdf.pages[0].obj
    content = page.Contents.read_bytes()
    middle = content.index(b"BT")
    page.Contents = Array([pdf.make_stream(content[:middle]), pdf.make_stream(content[middle:])])


def _label_gone(pdf: Pdf) -> None:
    metadata = pdf.Root.Metadata
    data = metadata.read_bytes()
    assert b"GTS_PDFXVersion" in data
    pdf.Root.Metadata = stream(
        data.replace(b"GTS_PDFXVersion", b"GTS_PDFXVersien"), "/Type /Metadata /Subtype /XML"
    )(pdf)


def _parted_trim(pdf: Pdf) -> None:
    page = pdf.pages[0].obj
    page.ArtBox = page.TrimBox


_RED: Final = paints(f"1 0 0 rg {AREA}")
_HELVETICA: Final = "<< /Type /Font /Subtype /Type1 /BaseFont /Helvetica >>"
_X1A: Final = (
    "scribus-x1a-words",
    "itext-x1a-words",
    "latex-x1a2001-words",
    "latex-x1a2003-spot",
    "weasyprint-x1a-words",
    "ghostscript-newer-x1a-words",
    "itext-five-x1a-line-art",
    "latex-xelatex-x1a2003",
    "novel-x1a2003-words",
    "context-x1a2003-colours",
)
_X3: Final = (
    "scribus-x3-words",
    "scribus-x3-spot",
    "latex-x3-2002-colours",
    "weasyprint-x3-words",
    "ghostscript-x3-pages",
    "ghostscript-x3-words",
    "ghostscript-x3-grey-condition",
    "context-x3-2002-colours",
)
_X4: Final = (
    "scribus-x4-veil",
    "qt-x4-words",
    "latex-x4-veil",
    "weasyprint-x4-words",
    "ghostscript-newer-x4-words",
    "context-x4-veil",
    "latex-lualatex-x4",
    "latex-x4p-words",
    "context-x4p-words",
)

MUTATIONS: Final = (
    *(_of(file, "RGB painted", "rgb-colour", _RED) for file in _X1A),
    *(_of(file, "RGB painted", "device-colour", _RED) for file in (*_X3, *_X4)),
    # Corrected: these two were held to break, but bring a default for RGB.
    *(
        _of(file, "RGB painted where a default stands in", "", _RED)
        for file in ("itext-x3-shading", "fop-words")
    ),
    *(
        _of(
            file,
            "a program's private data",
            "",
            sets("page/PieceInfo", "<< /Lantern << /LastModified (D:20260301) /Private (1 0 0 rg) >> >>"),
        )
        for file in (_X1A[0], _X3[1], _X4[1])
    ),
    *(
        _of(
            file,
            "opacity",
            "opacity",
            paints(f"/Veil gs 0 0 0 1 k {AREA}", {"ExtGState/Veil": "<< /ca 0.5 >>"}),
        )
        for file in (_X1A[1], _X1A[3], _X3[0], _X3[4])
    ),
    *(
        _of(file, "opacity", "", paints(f"/Veil gs 0 0 0 1 k {AREA}", {"ExtGState/Veil": "<< /ca 0.5 >>"}))
        for file in _X4[:6]
    ),
    *(
        _of(file, "an unused state with opacity", "", gains({"ExtGState/Veil": "<< /ca 0.5 >>"}))
        for file in (_X1A[2], _X3[2], _X3[5])
    ),
    *(
        _of(file, "all fonts lose their programs", "font-not-embedded", _without_program)
        for file in (_X1A[0], _X1A[5], _X3[3], _X4[1], _X4[7])
    ),
    *(
        _of(file, "no trim box", "trim-box", drops("page/TrimBox"))
        for file in (_X1A[2], _X3[0], _X4[3], _X4[8])
    ),
    *(_of(file, "an art box too", "trim-and-art-box", _parted_trim) for file in (_X1A[1], _X3[4], _X4[0])),
    *(
        _of(file, "no output intent", "no-output-intent", drops("Root/OutputIntents"))
        for file in (_X1A[0], _X4[1], _X4[7])
    ),
    *(
        _of(file, "nothing said of traps", "trapped", drops("Info/Trapped"))
        for file in (_X1A[4], _X3[1], _X3[3])
    ),
    *(_of(file, "no level in the metadata", "wrong-identifier", _label_gone) for file in (_X4[1], _X4[4])),
    *(_of(file, "the page in LZW", "lzw-filter", _in_lzw) for file in (_X1A[7], _X3[6], _X4[2])),
    *(_of(file, "the content in two parts", "", _split_everywhere) for file in (_X1A[0], _X3[3], _X4[1])),
    *(
        _of(
            file,
            "a transfer function",
            "transfer-function",
            paints(
                f"/Bent gs 0 0 0 1 k {AREA}",
                {"ExtGState/Bent": "<< /TR << /FunctionType 2 /Domain [0 1] /N 2 >> >>"},
            ),
        )
        for file in (_X1A[6], _X3[2], _X4[6])
    ),
    *(
        _of(
            file,
            "a picture of 16 bits",
            "image-depth",
            shows(image("/ColorSpace /DeviceGray /BitsPerComponent 16", pixels=bytes(128))),
        )
        for file in (_X1A[3], _X3[6])
    ),
    *(
        _of(
            file,
            "a standard font in a form",
            "font-not-embedded",
            paints(
                "/Words Do",
                {
                    "XObject/Words": form(
                        "BT 0 g /H 9 Tf 20 20 Td (A) Tj ET", parts={"Resources/Font/H": _HELVETICA}
                    )
                },
            ),
        )
        for file in (_X1A[8], _X3[7], _X4[5])
    ),
    _of("qt-x4-words", "the chosen RGB painted with", "device-colour", paints(f"/CSp cs 0 0 1 sc {AREA}")),
    _of(
        "weasyprint-x3-words",
        "Lab painted with, which waits in the resources",
        "",
        paints(f"/lab-d50 cs 50 20 20 scn {AREA}"),
    ),
    _of(
        "fop-drawing",
        "the default for RGB taken away",
        "device-colour",
        drops("page/Resources/ColorSpace/DefaultRGB"),
    ),
    _of(
        "fop-spot",
        "the default for RGB taken away",
        "spot-alternate",
        drops("page/Resources/ColorSpace/DefaultRGB"),
    ),
    _of(
        "fop-untagged-picture",
        "the default for RGB taken away",
        "device-colour",
        drops("page/Resources/ColorSpace/DefaultRGB"),
    ),
    _of("itext-x3-pattern", "the default for RGB taken away", "", sets("page/Resources/ColorSpace", "<< >>")),
    _of(
        "itext-x3-screen-colours",
        "one more picture in RGB",
        "",
        shows(image("/ColorSpace /DeviceRGB", pixels=bytes(192))),
    ),
    _of(
        "context-x4-screen-colours",
        "the default for RGB taken away",
        "device-colour",
        drops("page/Resources/ColorSpace/DefaultRGB"),
    ),
    _of(
        "ghostscript-x3-grey-condition",
        "four inks for a condition of black",
        "device-colour",
        paints(f"1 0 0 0 k {AREA}"),
    ),
    _of("ghostscript-x3-grey-condition", "grey for a condition of black", "", paints(f"0.3 g {AREA}")),
    _of(
        "scribus-x4-fading-picture",
        "the page as a group in RGB",
        "blend-space",
        sets("page/Group/CS", "/DeviceRGB"),
    ),
    _of("scribus-x4-fading-picture", "the page's group without a space", "", drops("page/Group/CS")),
    _of(
        "itext-x3-pattern",
        "the note beside moved on the label",
        "annotation-on-page",
        sets("page/Annots/0/Rect", "[20 20 40 40]"),
    ),
    _of("itext-x3-pattern", "the note beside taken away", "", drops("page/Annots")),
    _of(
        "context-x4p-words",
        "no checksum of the profile",
        "profile-reference-entries",
        drops(f"{_INTENT}/DestOutputProfileRef/CheckSum"),
    ),
    _of(
        "latex-x4p-words",
        "no reference to the profile",
        "profile-reference",
        drops(f"{_INTENT}/DestOutputProfileRef"),
    ),
    _of(
        "context-x1a2003-colours",
        "the condition no longer of the registry",
        "output-profile-missing",
        drops(f"{_INTENT}/RegistryName"),
    ),
    _of(
        "ghostscript-x3-drawn-font",
        "a bookmark's action on opening",
        "action",
        sets("Root/OpenAction", "<< /S /GoTo /D [0 /Fit] >>"),
    ),
    _of(
        "latex-x1a2003-spot",
        "the ink described in RGB",
        "spot-alternate",
        then(
            sets("page/Resources/ColorSpace/KiteRed/2", "/DeviceRGB"),
            sets(
                "page/Resources/ColorSpace/KiteRed/3",
                "<< /FunctionType 2 /Domain [0 1] /C0 [1 1 1] /C1 [1 0 0] /N 1 >>",
            ),
        ),
    ),
    _of(
        "latex-x1a2003-spot",
        "the ink with another name",
        "",
        sets("page/Resources/ColorSpace/KiteRed/1", "/Kite#20Blue"),
    ),
    _of(
        "latex-x1a2003-spot",
        "overprint mode 3",
        "overprint-mode",
        sets("page/Resources/ExtGState/Over/OPM", "3"),
    ),
    # Corrected: its crop box is the page, so that crop-box breaks with it.
    _of(
        "scribus-x1a-words",
        "the bleed box reaches beyond the page",
        "boxes-in-page crop-box",
        sets("page/BleedBox", "[-9 -9 260 172]"),
    ),
    _of(
        "scribus-x1a-words",
        "the crop box within the trim",
        "crop-box",
        sets("page/CropBox", "[20 20 200 100]"),
    ),
    _of(
        "scribus-x1a-words",
        "CMYK of the first fill as RGB",
        "rgb-colour",
        _swap_in_content(b"0.90196 0.47059 0.00000 0.07843 k", b"0.9 0.4 0 rg"),
    ),
    _of(
        "scribus-x1a-words",
        "the level as the trade writes it",
        "wrong-identifier",
        sets("Info/GTS_PDFXVersion", "(PDF/X-1a:2001)"),
    ),
    _of(
        "ghostscript-newer-x1a-pictures",
        "the inline picture in RGB",
        "rgb-colour",
        _swap_in_content(b"/CS/DeviceGray\n/W 60", b"/CS/RGB\n/W 20"),
    ),
    _of(
        "ghostscript-x3-shading",
        "the level of the other year",
        "wrong-identifier",
        sets("Info/GTS_PDFXVersion", "(PDF/X-3:2000)"),
    ),
    _of(
        "weasyprint-x3-words",
        "bookmarks with actions",
        "action",
        sets("Root/Outlines/First/A", "<< /S /GoTo /D [0 /Fit] >>"),
    ),
    _of(
        "latex-x4-veil",
        "a blend mode of a program's own",
        "unknown-blend-mode",
        paints(f"/Odd gs {AREA}", {"ExtGState/Odd": "<< /BM /Lantern >>"}),
    ),
    _of(
        "context-x4-layer",
        "the layer's setting loses its name",
        "unnamed-layer-setting",
        drops("Root/OCProperties/D/Name"),
    ),
)
