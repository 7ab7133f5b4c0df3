"""Faults of the file as a whole: claims, output intents, layers, what is meant for screens, locks."""

import pikepdf
from pikepdf import Array, Dictionary, Name, String
from PIL import ImageCms

from tests.seeded.colours import icc_based
from tests.seeded.images import slope
from tests.seeded.kinds import Told, fault
from tests.seeded.planting import Sheet
from tests.seeded.profiles import press_profile

_AREA = (30.0, 40.0, 70.0, 60.0)
_BLUE = "0.6 0.2 0 0 k"


@fault("pdfx-claim", "absent")
def a_file_that_claims_nothing(sheet: Sheet) -> Told:
    del sheet.pdf.docinfo["/GTS_PDFXVersion"]
    return Told("no PDF/X", page=None)


@fault("pdfx-claim", "wrong-identifier", "pdfx-claim.pdf-version")
def a_claim_that_is_badly_written(sheet: Sheet) -> Told:
    sheet.pdf.docinfo["/GTS_PDFXVersion"] = String("PDF/X-1a:2001")
    return Told(
        "the level is written 'PDF/X-1a:2001', and the standard has 'PDF/X-1:2001' with the conformance entry"
        " beside it",
        page=None,
    )


@fault("pdfx-claim", "other", breaks=True)  # whether it keeps that level is not judged
def a_claim_of_a_level_that_is_not_taken(sheet: Sheet) -> Told:
    sheet.pdf.docinfo["/GTS_PDFXVersion"] = String("PDF/X-2:2003")
    return Told("PDF/X-2:2003", page=None)


@fault(
    "pdfx-claim",
    "contradiction",
    "output-intent.no-profile",
    "pdfx-claim.output-profile-missing",
    "pdfx-claim.xmp-dates",
    "pdfx-claim.xmp-identifiers",
    "pdfx-claim.xmp-title",
)
def two_claims_that_differ(sheet: Sheet) -> Told:
    with sheet.pdf.open_metadata(set_pikepdf_as_editor=False, update_docinfo=False) as metadata:
        metadata["{http://www.npes.org/pdfx/ns/id/}GTS_PDFXVersion"] = "PDF/X-4"
    info = str(sheet.pdf.docinfo["/GTS_PDFXVersion"])
    return Told(f"the file names its level in two places, and they differ: PDF/X-4 and {info}", page=None)


@fault("pdfx-claim", "trapped")
def a_claim_without_a_trapping_state(sheet: Sheet) -> Told:
    del sheet.pdf.docinfo["/Trapped"]
    return Told("the file does not say whether it is trapped (Trapped)", page=None)


# There is nothing that the colours could be held against.
@fault("output-intent", "absent", "pdfx-claim.no-output-intent", breaks=True)
def a_file_without_output_intent(sheet: Sheet) -> Told:
    del sheet.pdf.Root.OutputIntents
    return Told("no output intent", page=None)


@fault(
    "output-intent",
    "wrong-space",
    "pdfx-claim.device-colour",
    "pdfx-claim.output-profile-class",
    "pdfx-claim.output-profile-space",
    "pdfx-claim.output-profile-version",
)
def an_output_intent_for_a_screen(sheet: Sheet) -> Told:
    profile = ImageCms.ImageCmsProfile(ImageCms.createProfile("sRGB")).tobytes()
    stream = sheet.pdf.make_stream(profile)
    stream.N = 3
    sheet.pdf.Root.OutputIntents[0].DestOutputProfile = stream
    return Told("RGB", page=None)


@fault("output-intent", "other-condition")
def an_output_intent_for_newsprint(sheet: Sheet) -> Told:
    sheet.pdf.Root.OutputIntents[0].OutputConditionIdentifier = String("IFRA26")
    return Told("IFRA26", page=None)


@fault(
    "output-intent",
    "no-condition",
    "output-intent.no-profile",
    "pdfx-claim.output-condition-name",
    "pdfx-claim.output-profile-missing",
    breaks=True,  # it does not tell what the colours could be held against
)
def an_output_intent_without_a_name(sheet: Sheet) -> Told:
    del sheet.pdf.Root.OutputIntents[0].OutputConditionIdentifier
    return Told("no name", page=None)


@fault("output-intent", "no-profile", "pdfx-claim.output-profile-missing")
def an_output_intent_of_a_house_without_profile(sheet: Sheet) -> Told:
    del sheet.pdf.Root.OutputIntents[0].RegistryName
    return Told("no profile", page=None)


@fault("output-intent", "several", "pdfx-claim.several-output-intents")
def two_output_intents(sheet: Sheet) -> Told:
    intents = sheet.pdf.Root.OutputIntents
    intents.append(Dictionary({**intents[0]}))
    return Told((2,), "output intents", page=None)


@fault(
    "output-intent",
    "other-profile",
    "pdfx-claim.device-independent-colour",
)
def a_picture_for_another_press(sheet: Sheet) -> Told:
    meant = sheet.pdf.make_stream(press_profile("Coated sheet"))
    meant.N = 4
    sheet.pdf.Root.OutputIntents[0].DestOutputProfile = meant
    space = sheet.known("ColorSpace", icc_based(sheet, press_profile("Newsprint"), 4))
    box = sheet.picture((30, 30, 55.4, 55.4), slope(sheet.pdf, 300, 300, ColorSpace=space))
    return Told("Newsprint", boxes=(box,))


@fault("layers", "present", "pdfx-claim.layers")
def a_layer(sheet: Sheet) -> Told:
    _on_layer(sheet, "Words")
    return Told((1,), "layers", page=None)


@fault("layers", "hidden", "layers.present", "pdfx-claim.layers")
def a_hidden_layer_with_something_on_it(sheet: Sheet) -> Told:
    group = _on_layer(sheet, "Other language")
    sheet.pdf.Root.OCProperties.D.OFF = Array([group])
    return Told((1,), "hidden things", boxes=(sheet.box(*_AREA),))


@fault("layers", "hidden", "layers.present", "pdfx-claim.layers")
def something_hidden_by_a_membership(sheet: Sheet) -> Told:
    """It shows where all of its layers are on, and the only one is off (ISO 32000-2, 8.11.2.2)."""
    group = sheet.layer("Draft")
    sheet.pdf.Root.OCProperties.D.OFF = Array([group])
    membership = Dictionary(Type=Name.OCMD, OCGs=Array([group]), P=Name.AllOn)
    sheet.draw_on(sheet.pdf.make_indirect(membership), f"{_BLUE} 30 40 40 20 re f")
    return Told((1,), "hidden things", boxes=(sheet.box(*_AREA),))


@fault("layers", "hidden", "layers.present", "pdfx-claim.layers")
def something_hidden_by_two_layers_at_once(sheet: Sheet) -> Told:
    """It shows where any of its layers is on, and none is."""
    groups = [sheet.layer("Draft"), sheet.layer("Older draft")]
    sheet.pdf.Root.OCProperties = Dictionary(OCGs=Array(groups), D=Dictionary(OFF=Array(groups)))
    membership = Dictionary(Type=Name.OCMD, OCGs=Array(groups), P=Name.AnyOn)
    sheet.draw_on(sheet.pdf.make_indirect(membership), f"{_BLUE} 30 40 40 20 re f")
    return Told((1,), "hidden things", boxes=(sheet.box(*_AREA),))


@fault("layers", "hidden", "layers.present", "pdfx-claim.layers")
def something_that_a_layer_hides_while_it_is_on(sheet: Sheet) -> Told:
    """It shows only where its layer is off (ISO 32000-2, 8.11.2.2, visibility expressions)."""
    group = sheet.layer("Other language")
    membership = Dictionary(Type=Name.OCMD, OCGs=group, VE=Array([Name.Not, group]))
    sheet.draw_on(sheet.pdf.make_indirect(membership), f"{_BLUE} 30 40 40 20 re f")
    return Told((1,), "hidden things", boxes=(sheet.box(*_AREA),))


@fault("layers", "screen-only", "layers.present", "pdfx-claim.layers")
def a_layer_that_is_seen_and_does_not_print(sheet: Sheet) -> Told:
    group = _on_layer(sheet, "Template")
    group.Usage = Dictionary(Print=Dictionary(PrintState=Name.OFF), View=Dictionary(ViewState=Name.ON))
    _automatic(sheet, group, "Print")
    return Told("'Template'", page=None)


@fault("layers", "paper-only", "layers.present", "pdfx-claim.layers")
def a_layer_that_prints_and_is_not_seen(sheet: Sheet) -> Told:
    group = _on_layer(sheet, "Varnish")
    group.Usage = Dictionary(Print=Dictionary(PrintState=Name.ON), View=Dictionary(ViewState=Name.OFF))
    _automatic(sheet, group, "View")
    return Told("'Varnish'", page=None)


@fault("annotations", "prints", "pdfx-claim.annotation-on-page")
def a_stamp_on_the_page(sheet: Sheet) -> Told:
    box = sheet.annotate("Stamp", _AREA, F=4, AP=sheet.looks(f"{_BLUE} 0 0 10 10 re f"))
    return Told((1,), "annotations", boxes=(box,))


@fault("annotations", "inside", "pdfx-claim.annotation-on-page")
def a_link_on_the_page(sheet: Sheet) -> Told:
    box = sheet.annotate("Link", _AREA, Border=Array([0, 0, 0]))
    return Told((1,), "annotations", boxes=(box,))


@fault("annotations", "form-fields", "annotations.inside", "pdfx-claim.annotation-on-page")
def a_form_field(sheet: Sheet) -> Told:
    sheet.annotate("Widget", _AREA, FT=Name.Tx, T=String("name"))
    sheet.pdf.Root.AcroForm = Dictionary(Fields=Array([sheet.page.obj.Annots[0]]))
    return Told("1 form field", page=None)


@fault("annotations", "living-form", "pdfx-claim.xml-form")
def a_living_form(sheet: Sheet) -> Told:
    sheet.pdf.Root.AcroForm = Dictionary(Fields=Array([]), XFA=sheet.pdf.make_stream(b"<xdp/>"))
    return Told("an XFA form", page=None)


@fault("annotations", "scripts", "pdfx-claim.script")
def a_script_that_runs_on_opening(sheet: Sheet) -> Told:
    sheet.pdf.Root.OpenAction = Dictionary(S=Name.JavaScript, JS=String("this.print();"))
    return Told("1 script", page=None)


@fault("annotations", "scripts", "pdfx-claim.script")
def a_script_by_name(sheet: Sheet) -> Told:
    script = Dictionary(S=Name.JavaScript, JS=String("1;"))
    sheet.pdf.Root.Names = Dictionary(JavaScript=Dictionary(Names=Array([String("first"), script])))
    return Told("1 script", page=None)


@fault(
    "annotations",
    "attachments",
    "annotations.inside",
    "pdfx-claim.annotation-on-page",
    "pdfx-claim.file-reference",
)
def a_file_pinned_to_the_page(sheet: Sheet) -> Told:
    kept = sheet.pdf.make_stream(b"For the printer.")
    pinned = Dictionary(Type=Name.Filespec, F=String("notes.txt"), EF=Dictionary(F=kept))
    sheet.annotate("FileAttachment", _AREA, FS=pinned)
    return Told("1 attached file", page=None)


@fault("annotations", "attachments", "pdfx-claim.file-reference")
def an_attached_file(sheet: Sheet) -> Told:
    sheet.pdf.attachments["notes.txt"] = b"For the printer."
    return Told("1 attached file", page=None)


@fault(
    "encryption", "encrypted", "pdfx-claim.encrypted", "pdfx-claim.pdf-version",
    save={"encryption": pikepdf.Encryption(owner="owner", user="")},
)  # fmt: skip
def a_file_that_is_encrypted(_sheet: Sheet) -> Told:
    return Told("encrypted (AES 256 bit)", page=None)


@fault(
    "encryption", "no-printing", "pdfx-claim.encrypted", "pdfx-claim.pdf-version", rules="seed-other.toml",
    save={
        "encryption": pikepdf.Encryption(
            owner="owner", user="", allow=pikepdf.Permissions(print_lowres=False, print_highres=False)
        )
    },
)  # fmt: skip
def a_file_that_forbids_printing(_sheet: Sheet) -> Told:
    return Told("printing in full quality forbidden", page=None)


@fault(
    "encryption", "locked",
    save={"encryption": pikepdf.Encryption(owner="owner", user="user")}, breaks=True,
)  # fmt: skip
def a_file_that_asks_for_a_password(_sheet: Sheet) -> Told:
    return Told("locked", page=None)


def _on_layer(sheet: Sheet, name: str) -> pikepdf.Object:
    """An area on a layer of this name."""
    group = sheet.layer(name)
    sheet.draw_on(group, f"{_BLUE} 30 40 40 20 re f")
    return group


def _automatic(sheet: Sheet, group: pikepdf.Object, event: str) -> None:
    """Lets the layer's own wish decide when the page is seen or printed."""
    applied = Dictionary(Event=Name(f"/{event}"), OCGs=Array([group]), Category=Array([Name(f"/{event}")]))
    sheet.pdf.Root.OCProperties.D.AS = Array([applied])
