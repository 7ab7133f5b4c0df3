"""Boxes of pages, annotations, actions, layers, and how pages are shown."""

from typing import Final

from pikepdf import Array, Name, Object, Pdf

from hotfolder.checks.shared.pdfx_levels import Level
from tests.checks.pdf.pdfx.mutations.mutation import (
    KEEPS,
    KEEPS_X4,
    Edit,
    Mutation,
    at,
    drops,
    everywhere,
    form,
    old,
    paints,
    sets,
    then,
    told,
    with_parts,
)


def _annotation(entries: str, rectangle: str = "100 100 150 150") -> Edit:
    return sets("page/Annots", f"[<< /Type /Annot /Rect [{rectangle}] {entries} >>]")


def _inherited(*keys: str) -> Edit:
    """Moves entries of the first page to the tree of pages; the other page keeps its own."""

    def edit(pdf: Pdf) -> None:
        page = pdf.pages[0].obj
        for key in keys:
            pdf.Root.Pages[f"/{key}"] = page[f"/{key}"]
            del page[f"/{key}"]

    return edit


def _bookmark(entries: str, *, target: bool = False) -> Edit:
    def edit(pdf: Pdf) -> None:
        sets("Root/Outlines", f"<< /Type /Outlines /Count 1 /First << /Title (One) {entries} >> >>")(pdf)
        first = pdf.make_indirect(pdf.Root.Outlines.First)
        pdf.Root.Outlines = pdf.make_indirect(pdf.Root.Outlines)
        pdf.Root.Outlines.First = pdf.Root.Outlines.Last = first
        first.Parent = pdf.Root.Outlines
        if target:
            first.Dest = Array([pdf.pages[1].obj, Name.Fit])

    return edit


def _opens_at_a_place(pdf: Pdf) -> None:
    pdf.Root.OpenAction = Array([pdf.pages[0].obj, Name.Fit])


def _thread(pdf: Pdf) -> None:
    thread = pdf.make_indirect(with_parts("<< /Type /Thread /I << /Title (Story) >> >>", {})(pdf))
    bead = pdf.make_indirect(with_parts("<< /Type /Bead /R [30 30 90 90] >>", {})(pdf))
    bead.T, bead.P, bead.N, bead.V = thread, pdf.pages[0].obj, bead, bead
    thread.F = bead
    pdf.Root.Threads, pdf.pages[0].obj.B = Array([thread]), Array([bead])


def _layer(pdf: Pdf) -> Object:
    return pdf.make_indirect(Object.parse(b"<< /Type /OCG /Name (Lights) >>"))


def _traps(model: str = "/DeviceCMYK", fauxing: str = "", *, trapped: bool = True) -> Edit:
    annotation = (
        "<< /Type /Annot /Subtype /TrapNet /F 68 /Rect [20 20 320 440] /AP << >>"
        " /LastModified (D:20260302100000Z) "
    )
    appearance = form("0 0 0 0.5 k 60 60 2 30 re f", f"/PCM {model}")
    edits = [sets("page/Annots", with_parts(f"[{annotation} {fauxing} >>]", {"0/AP/N": appearance}))]
    return then(*edits, _trapped) if trapped else edits[0]


def _trapped(pdf: Pdf) -> None:
    pdf.docinfo.Trapped = Name("/True")
    if "/Metadata" in pdf.Root:
        metadata = pdf.Root.Metadata
        metadata.write(metadata.read_bytes().replace(b"<pdf:Trapped>False", b"<pdf:Trapped>True"))
        if "/Filter" in metadata:
            del metadata.Filter


_ON_PAGE: Final = everywhere("annotation-on-page")
_MARK: Final = "/Subtype /PrinterMark /MN /ColorBar /F 68"
_JAVASCRIPT: Final = "<< /S /JavaScript /JS (app.beep\\(\\)) >>"
_BOX: Final = "[28.504 28.504 311.496 431.496]"
_X4_ONLY: Final = "Root/OCProperties/D/"


def _x4(ids: str) -> dict[Level, frozenset[str]]:
    return {level: frozenset(ids.split()) for level in KEEPS_X4}


MUTATIONS: Final = (
    Mutation("no trim box", everywhere("trim-box"), drops("page/TrimBox")),
    Mutation("a trim box of null", everywhere("trim-box"), sets("page/TrimBox", "null")),
    Mutation("a trim box of three numbers", everywhere("trim-box"), sets("page/TrimBox", "[0 0 300]")),
    Mutation("a trim box in the tree alone", everywhere("trim-box"), _inherited("TrimBox")),
    Mutation("a trim box and an art box", everywhere("trim-and-art-box"), sets("page/ArtBox", _BOX)),
    Mutation(
        "an art box in place of the trim box", KEEPS, then(sets("page/ArtBox", _BOX), drops("page/TrimBox"))
    ),
    Mutation(
        "an art box in place of the trim box, beyond the bleed",
        everywhere("trim-in-bleed"),
        then(sets("page/ArtBox", "[10 28 311 431]"), drops("page/TrimBox")),
    ),
    Mutation(
        "a trim box with its corners the other way round",
        KEEPS,
        sets("page/TrimBox", "[311.496 431.496 28.504 28.504]"),
    ),
    Mutation(
        "a trim box by the other two corners", KEEPS, sets("page/TrimBox", "[28.504 431.496 311.496 28.504]")
    ),
    Mutation(
        "a trim box beyond the bleed box",
        everywhere("trim-in-bleed"),
        sets("page/TrimBox", "[18 28 311 431]"),
    ),
    Mutation("a trim box beyond the bleed box by a hair", KEEPS, sets("page/TrimBox", "[19.998 28 311 431]")),
    Mutation("a trim box as large as the bleed box", KEEPS, sets("page/TrimBox", "[20 20 320 440]")),
    Mutation("no bleed box", KEEPS, drops("page/BleedBox")),
    Mutation(
        "no bleed box, a trim box beyond the page",
        everywhere("boxes-in-page"),
        then(drops("page/BleedBox"), sets("page/TrimBox", "[28 28 345 431]")),
    ),
    Mutation(
        "a bleed box beyond the page", everywhere("boxes-in-page"), sets("page/BleedBox", "[-10 20 320 440]")
    ),
    Mutation("a bleed box as large as the page", KEEPS, sets("page/BleedBox", "[0 0 340 460]")),
    Mutation("a crop box as large as the page", KEEPS, sets("page/CropBox", "[0 0 340 460]")),
    Mutation("a crop box as large as the bleed", KEEPS, sets("page/CropBox", "[20 20 320 440]")),
    Mutation(
        "a crop box between bleed and trim", everywhere("crop-box"), sets("page/CropBox", "[24 24 316 436]")
    ),
    Mutation("a crop box within the trim", everywhere("crop-box"), sets("page/CropBox", "[50 50 300 400]")),
    Mutation(
        "a crop box within the trim, from the tree",
        everywhere("crop-box"),
        sets("Root/Pages/CropBox", "[50 50 300 400]"),
    ),
    Mutation("no media box", everywhere("media-box"), drops("page/MediaBox")),
    Mutation("a media box from the tree", KEEPS, _inherited("MediaBox")),
    Mutation("resources from the tree", KEEPS, _inherited("Resources")),
    Mutation("a media box that does not begin at zero", KEEPS, sets("page/MediaBox", "[-20 -20 340 460]")),
    Mutation(
        "a media box of numbers with fractions of nothing",
        KEEPS,
        sets("page/MediaBox", "[0.0 -0.0 340.000 460.]"),
    ),
    Mutation("a page of five metres", KEEPS, sets("page/MediaBox", "[0 0 14400 460]")),
    Mutation(
        "a page of more than five metres", everywhere("page-size"), sets("page/MediaBox", "[0 0 14500 460]")
    ),
    Mutation("a page turned by a quarter", KEEPS, sets("page/Rotate", "90")),
    Mutation("a page turned by nothing, from the tree", KEEPS, sets("Root/Pages/Rotate", "0")),
    Mutation("units of 1/36 inch", old("user-unit", ""), sets("page/UserUnit", "2")),
    Mutation("units of 1/72 inch, written out", KEEPS, sets("page/UserUnit", "1.0")),
    Mutation(
        "the page's group of plates",
        everywhere("separated-page"),
        sets("page/SeparationInfo", "<< /Pages [] /DeviceColorant /Cyan >>"),
    ),
    Mutation("seconds of showing and a way of turning", KEEPS, sets("page/Dur", "3")),
    Mutation("tabs by rows", KEEPS, sets("page/Tabs", "/R")),
    Mutation(
        "shown within the trim",
        everywhere("viewer-area"),
        sets("Root/ViewerPreferences", "<< /ViewArea /TrimBox >>"),
    ),
    Mutation(
        "printed within the art",
        everywhere("viewer-area"),
        sets("Root/ViewerPreferences", "<< /PrintClip /ArtBox >>"),
    ),
    Mutation(
        "shown within the crop box",
        everywhere("viewer-area"),
        sets("Root/ViewerPreferences", "<< /ViewClip /CropBox >>"),
    ),
    Mutation(
        "printed within bleed and page",
        KEEPS,
        sets(
            "Root/ViewerPreferences", "<< /PrintArea /BleedBox /PrintClip /MediaBox /DisplayDocTitle true >>"
        ),
    ),
    Mutation("a link on the page", _ON_PAGE, _annotation("/Subtype /Link /Border [0 0 0]")),
    Mutation("a note on the page", _ON_PAGE, _annotation("/Subtype /Text /Contents (mend this)")),
    Mutation("a hidden note on the page", _ON_PAGE, _annotation("/Subtype /Text /Contents (mend this) /F 2")),
    Mutation(
        "a form field on the page",
        _ON_PAGE,
        then(
            _annotation("/Subtype /Widget /FT /Tx /T (name)"),
            sets("page/Annots/0", lambda pdf: pdf.make_indirect(at(pdf, "page/Annots/0"))),
            sets(
                "Root/AcroForm",
                with_parts("<< /Fields [null] >>", {"Fields/0": lambda pdf: at(pdf, "page/Annots/0")}),
            ),
        ),
    ),
    Mutation(
        "a note in the bleed", _ON_PAGE, _annotation("/Subtype /Text /Contents (here)", "21 100 27 120")
    ),
    Mutation(
        "a note in the bleed, corners the other way round",
        _ON_PAGE,
        _annotation("/Subtype /Text /Contents (here)", "27 120 21 100"),
    ),
    Mutation(
        "a note beside the bleed", KEEPS, _annotation("/Subtype /Text /Contents (here)", "2 100 18 120")
    ),
    Mutation(
        "a note that touches the bleed", KEEPS, _annotation("/Subtype /Text /Contents (here)", "2 100 20 120")
    ),
    Mutation(
        "a note beside the trim where there is no bleed box",
        KEEPS,
        then(drops("page/BleedBox"), _annotation("/Subtype /Text /Contents (here)", "22 100 28 120")),
    ),
    Mutation(
        "a link beside the bleed, with a target on the web",
        everywhere("action"),
        _annotation("/Subtype /Link /A << /S /URI /URI (http://www.example.org) >>", "2 100 18 120"),
    ),
    Mutation(
        "a link on the page, with a target on the web",
        everywhere("annotation-on-page action"),
        _annotation("/Subtype /Link /A << /S /URI /URI (http://www.example.org) >>"),
    ),
    Mutation(
        "a link beside the bleed, to a page", KEEPS, _annotation("/Subtype /Link /Dest (two)", "2 100 18 120")
    ),
    Mutation("no annotations, written out", KEEPS, sets("page/Annots", "[]")),
    Mutation(
        "a colour bar on the page",
        told(
            "printers-mark-on-page",
            "printers-mark-on-page",
            "printers-mark-on-page",
            x1a_2001="annotation-on-page",
            x3_2002="annotation-on-page",
        ),
        _annotation(_MARK),
    ),
    Mutation(
        "a colour bar in the bleed",
        told("", "", "", x1a_2001="annotation-on-page", x3_2002="annotation-on-page"),
        _annotation(_MARK, "21 100 27 120"),
    ),
    Mutation("a colour bar beside the bleed", KEEPS, _annotation(_MARK, "2 100 18 120")),
    Mutation("traps, and the file says so", KEEPS, _traps()),
    Mutation("traps, and the file denies it", everywhere("traps-untold"), _traps(trapped=False)),
    Mutation(
        "traps made for RGB",
        told("trap-colour-model", "trap-colour-model", "trap-colour-model", x4p=""),
        _traps("/DeviceRGB"),
    ),
    Mutation(
        "traps made with other fonts",
        everywhere("trap-fonts"),
        _traps(fauxing="/FontFauxing [<< /Type /Font >>]"),
    ),
    Mutation(
        "an action on opening", everywhere("action"), sets("Root/OpenAction", "<< /S /Named /N /Print >>")
    ),
    Mutation("a place on opening", KEEPS, _opens_at_a_place),
    Mutation("a script on opening", everywhere("script"), sets("Root/OpenAction", _JAVASCRIPT)),
    Mutation(
        "a script by name",
        everywhere("script"),
        sets("Root/Names/JavaScript", f"<< /Names [(beep) {_JAVASCRIPT}] >>"),
    ),
    Mutation("a script before printing", everywhere("script"), sets("Root/AA", f"<< /WP {_JAVASCRIPT} >>")),
    Mutation(
        "an action when the page is shown",
        everywhere("action"),
        sets("page/AA", "<< /O << /S /Named /N /NextPage >> >>"),
    ),
    Mutation(
        "a script behind an action of a bookmark",
        everywhere("script action"),
        _bookmark(f"/A << /S /Named /N /NextPage /Next {_JAVASCRIPT} >>"),
    ),
    Mutation("a bookmark with an action", everywhere("action"), _bookmark("/A << /S /GoTo /D (two) >>")),
    Mutation("a bookmark with a place", KEEPS, _bookmark("", target=True)),
    Mutation("an article thread", KEEPS, _thread),
    Mutation("a form of no fields", KEEPS, sets("Root/AcroForm", "<< /Fields [] >>")),
    Mutation(
        "a form described in XML",
        everywhere("xml-form"),
        sets("Root/AcroForm", "<< /Fields [] /XFA (form) >>"),
    ),
    Mutation(
        "layers",
        old("layers"),
        sets(
            "Root/OCProperties",
            with_parts("<< /OCGs [null] /D << /Name (As printed) >> >>", {"OCGs/0": _layer}),
        ),
    ),
    # Corrected from layers: without a group there is no layer.
    Mutation(
        "room for layers, and none there",
        old(""),
        sets("Root/OCProperties", "<< /OCGs [] /D << /Name (As printed) >> >>"),
    ),
    Mutation(
        "layers that switch themselves",
        _x4("automatic-layers"),
        sets(_X4_ONLY + "AS", "[<< /Event /Print /Category [/Print] /OCGs [] >>]"),
    ),
    Mutation("a setting of layers without a name", _x4("unnamed-layer-setting"), drops(_X4_ONLY + "Name")),
    Mutation(
        "a second setting of layers without a name",
        _x4("unnamed-layer-setting"),
        sets("Root/OCProperties/Configs", "[<< /BaseState /ON >>]"),
    ),
    Mutation(
        "a second setting of layers with a name",
        KEEPS_X4,
        sets("Root/OCProperties/Configs", "[<< /Name (Proof) >>]"),
    ),
    # Corrected: it was held to keep, but the list of each setting is to have all layers.
    Mutation(
        "a second setting of layers, its list empty",
        _x4("unlisted-layer"),
        sets("Root/OCProperties/Configs", "[<< /Name (Proof) /Order [] >>]"),
    ),
    Mutation("a layer that is not in the list", _x4("unlisted-layer"), sets(_X4_ONLY + "Order", "[]")),
    Mutation(
        "a layer in a list within the list",
        KEEPS_X4,
        sets(
            _X4_ONLY + "Order",
            with_parts("[(Night) [null]]", {"1/0": lambda pdf: pdf.Root.OCProperties.OCGs[0]}),
        ),
    ),
    Mutation("layers that are on, written out", KEEPS_X4, sets(_X4_ONLY + "BaseState", "/ON")),
    Mutation(
        "a layer that says what it is for",
        KEEPS_X4,
        sets("Root/OCProperties/OCGs/0/Usage", "<< /Print << /PrintState /ON >> >>"),
    ),
    Mutation(
        "RGB on a layer that prints",
        _x4("device-colour"),
        paints("/OC /Layer BDC 1 0 0 rg 60 60 40 30 re f EMC"),
    ),
    Mutation(
        "RGB on a layer that is off",
        KEEPS_X4,
        then(
            sets(_X4_ONLY + "OFF", with_parts("[null]", {"0": lambda pdf: pdf.Root.OCProperties.OCGs[0]})),
            sets(_X4_ONLY + "ON", "[]"),
            paints("/OC /Layer BDC 1 0 0 rg 60 60 40 30 re f EMC"),
        ),
    ),
)
