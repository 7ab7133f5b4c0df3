"""Files that look odd as a whole and are sound: structure, layers, annotations, claims."""

import pikepdf
from pikepdf import Array, Dictionary, Name, String

from tests.seeded.images import screen_slope
from tests.seeded.kinds import look_alike
from tests.seeded.planting import Sheet

_BLUE = "0.6 0.2 0 0 k"


@look_alike("layers", rules="seed-later.toml")
def a_hidden_layer_full_of_faults(sheet: Sheet) -> None:
    """Off on screen and in print: a coarse picture in screen colours, a hairline, a font that is missing."""
    group = sheet.layer("Draft")
    sheet.pdf.Root.OCProperties.D.OFF = Array([group])
    image = sheet.resource("XObject", screen_slope(sheet.pdf, 20, 20))
    font = sheet.resource("Font", Dictionary(Type=Name.Font, Subtype=Name.Type1, BaseFont=Name.Helvetica))
    sheet.draw_on(
        group,
        f"q 25.4 0 0 25.4 30 30 cm {image} Do Q 0 w 30 40 m 70 40 l S"
        f" BT {font} 3 Tf 1 50 Td (seven) Tj ET 1 1 1 1 k 80 40 20 20 re f",
    )


@look_alike("layers", rules="seed-later.toml")
def a_layer_that_is_seen_and_does_not_print(sheet: Sheet) -> None:
    group = sheet.layer("Template")
    group.Usage = Dictionary(Print=Dictionary(PrintState=Name.OFF))
    applied = Dictionary(Event=Name.Print, OCGs=Array([group]), Category=Array([Name.Print]))
    sheet.pdf.Root.OCProperties.D.AS = Array([applied])
    sheet.draw_on(group, "1 1 1 1 k 80 40 20 20 re f")


@look_alike("layers")
def a_list_of_layers_with_none_in_it(sheet: Sheet) -> None:
    sheet.pdf.Root.OCProperties = Dictionary(OCGs=Array([]), D=Dictionary())


@look_alike("annotations")
def a_link_outside_the_bleed(sheet: Sheet) -> None:
    sheet.with_margin(15)
    sheet.annotate("Link", (20, -12, 60, -5), Border=Array([0, 0, 0]))


@look_alike("annotations")
def a_stamp_outside_the_bleed(sheet: Sheet) -> None:
    sheet.with_margin(15)
    looks = sheet.looks(f"{_BLUE} 0 0 10 10 re f")
    sheet.annotate("Stamp", (20, -12, 60, -5), F=4, AP=looks)


@look_alike("annotations", rules="seed-later.toml")
def the_window_of_a_comment(sheet: Sheet) -> None:
    sheet.annotate("Popup", (20, 20, 60, 50), Open=False)


@look_alike("annotations", rules="seed-later.toml")
def a_comment_without_extent(sheet: Sheet) -> None:
    sheet.annotate("FreeText", (20, 20, 20, 20), F=4)


@look_alike("annotations")
def a_printers_mark_outside_the_trim(sheet: Sheet) -> None:
    sheet.with_margin(15)
    looks = sheet.looks("0 0 0 1 k 0 0 10 10 re f")
    sheet.annotate("PrinterMark", (20, -12, 30, -5), F=4, AP=looks)


@look_alike("annotations")
def a_form_without_fields(sheet: Sheet) -> None:
    sheet.pdf.Root.AcroForm = Dictionary(Fields=Array([]))


@look_alike("readable")
def one_q_too_many(sheet: Sheet) -> None:
    """What is saved and never restored changes nothing."""
    sheet.page.contents_add(b"\nq\n")


@look_alike("readable")
def marked_content(sheet: Sheet) -> None:
    named = sheet.resource("Properties", Dictionary(Kind=String("heading")))
    sheet.draw(f"/P BMC /Span << /Lang (en) >> BDC /P {named} DP /P MP {_BLUE} 30 40 40 20 re f EMC EMC")


@look_alike("readable", rules="seed-later.toml")  # PDF/X forbids it there, too
def an_unknown_operator_in_a_compatibility_section(sheet: Sheet) -> None:
    sheet.draw(f"BX 1 2 unheardof EX {_BLUE} 30 40 40 20 re f")


@look_alike("readable")
def a_form_with_nothing_in_it(sheet: Sheet) -> None:
    sheet.draw(f"{sheet.resource('XObject', sheet.form(''))} Do")


@look_alike("readable")
def comments_and_odd_white_space_in_the_drawing(sheet: Sheet) -> None:
    sheet.draw(f"% 1 0 0 rg\n{_BLUE}\r\n\t30   40\r40\x0020 re%f\nf")


@look_alike(
    "readable", rules="seed-later.toml", save={"object_stream_mode": pikepdf.ObjectStreamMode.generate}
)
def objects_kept_in_streams(_sheet: Sheet) -> None:
    """As PDF 1.5 has them (ISO 32000-2, 7.5.7)."""


@look_alike("readable", save={"linearize": True})
def a_file_put_in_order_for_the_web(_sheet: Sheet) -> None:
    """Linearised (ISO 32000-2, annex F)."""


@look_alike("readable", save={"qdf": True})
def a_file_without_compression(_sheet: Sheet) -> None:
    """As qpdf writes it for people to read."""


@look_alike("output-intent")
def an_output_intent_for_archiving_beside(sheet: Sheet) -> None:
    sheet.pdf.Root.OutputIntents.append(
        Dictionary(Type=Name.OutputIntent, S=Name.GTS_PDFA1, OutputConditionIdentifier=String("sRGB"))
    )


@look_alike("output-intent")
def a_condition_named_in_small_letters(sheet: Sheet) -> None:
    sheet.pdf.Root.OutputIntents[0].OutputConditionIdentifier = String("Fogra39")


@look_alike("pdfx-claim")
def the_same_claim_in_both_places(sheet: Sheet) -> None:
    level = str(sheet.pdf.docinfo["/GTS_PDFXVersion"])
    with sheet.pdf.open_metadata(set_pikepdf_as_editor=False, update_docinfo=False) as metadata:
        metadata["{http://www.npes.org/pdfx/ns/id/}GTS_PDFXVersion"] = level


@look_alike("pdfx-claim", save={"force_version": "1.3"})
def the_level_of_2001_as_the_standard_writes_it(sheet: Sheet) -> None:
    """PDF/X-1:2001, with the conformance PDF/X-1a:2001 beside it (ISO 15930-1)."""
    sheet.claim("PDF/X-1:2001")
    sheet.pdf.docinfo["/GTS_PDFXConformance"] = String("PDF/X-1a:2001")
