"""Faults of a file's claim to be PDF/X: what it says of itself, and what in it is not so."""

import pikepdf
from pikepdf import Array, Dictionary, Name, String

from hotfolder.checks.shared.pdfx_levels import Level
from tests.checks.pdf.pdfx.bases import metadata
from tests.seeded.kinds import Told, fault
from tests.seeded.planting import Sheet

_BLUE = "0.6 0.2 0 0 k"
_AREA = "30 40 40 20 re f"
# The bases' output intents name a condition of the registry and bring no profile, as X-4 would have it.
_OF_X4 = ("output-intent.no-profile", "pdfx-claim.output-profile-missing")


def _x4(sheet: Sheet) -> None:
    """Lets the file be PDF/X-4 and nothing else."""
    for key in list(sheet.pdf.docinfo.keys()):
        del sheet.pdf.docinfo[key]
    sheet.pdf.Root.Metadata = metadata(sheet.pdf, Level.X4)


@fault("pdfx-claim", "wrong-identifier")
def a_level_of_nonsense_beside_a_right_conformance(sheet: Sheet) -> Told:
    sheet.claim("Press quality")
    sheet.pdf.docinfo["/GTS_PDFXConformance"] = String("PDF/X-1a:2001")
    return Told("Press quality", page=None)


@fault("pdfx-claim", "wrong-identifier")
def the_level_as_a_name_and_no_string(sheet: Sheet) -> Told:
    level = str(sheet.pdf.docinfo["/GTS_PDFXVersion"])
    sheet.pdf.docinfo["/GTS_PDFXVersion"] = Name(f"/{level}")
    said = "the level is written as a name where the standard has a text (GTS_PDFXVersion)"
    return Told(said, page=None)


@fault("pdfx-claim", "other", breaks=True)  # whether it keeps that level is not judged
def a_level_that_is_not_taken_beside_the_conformance_of_one_that_is(sheet: Sheet) -> Told:
    sheet.claim("PDF/X-2:2003")
    sheet.pdf.docinfo["/GTS_PDFXConformance"] = String("PDF/X-1a:2001")
    return Told("PDF/X-2:2003", page=None)


@fault("pdfx-claim", "wrong-identifier", "pdfx-claim.pdf-version")
def the_level_of_2001_without_its_conformance(sheet: Sheet) -> Told:
    sheet.claim("PDF/X-1:2001")
    return Told(
        "nothing stands beside the level 'PDF/X-1:2001' where the standard has 'PDF/X-1a:2001'", page=None
    )


@fault("pdfx-claim", "wrong-identifier", "pdfx-claim.pdf-version")
def the_level_of_2001_with_the_conformance_of_another(sheet: Sheet) -> Told:
    sheet.claim("PDF/X-1:2001")
    sheet.pdf.docinfo["/GTS_PDFXConformance"] = String("PDF/X-3:2002")
    return Told(
        "'PDF/X-3:2002' stands beside the level 'PDF/X-1:2001' where the standard has 'PDF/X-1a:2001'",
        page=None,
    )


@fault(
    "pdfx-claim", "wrong-identifier", *_OF_X4,
    "pdfx-claim.no-metadata", "pdfx-claim.xmp-dates", "pdfx-claim.xmp-identifiers",
)  # fmt: skip
def a_claim_of_x4_where_x1a_has_it(sheet: Sheet) -> Told:
    sheet.claim("PDF/X-4")
    return Told("'PDF/X-4' stands only in the document information, not in the metadata (XMP)", page=None)


@fault("pdfx-claim", "transfer-function", *_OF_X4)
def an_x4_file_with_a_transfer_function(sheet: Sheet) -> Told:
    _x4(sheet)
    function = Dictionary(FunctionType=2, Domain=Array([0, 1]), N=1, C0=Array([1]), C1=Array([0]))
    sheet.draw(f"q {sheet.state(TR=function)} Q")
    return Told("a transfer function (TR)")


@fault("pdfx-claim", "opi", *_OF_X4)
def an_x4_file_with_a_picture_that_stands_in_for_another(sheet: Sheet) -> Told:
    _x4(sheet)
    proxy = Dictionary({"/2.0": Dictionary(Type=Name.OPI, Version=2.0, F=String("harbour.tif"))})
    form = sheet.form(f"{_BLUE} {_AREA}", OPI=proxy)
    sheet.draw(f"{sheet.resource('XObject', form)} Do")
    return Told("a drawing that stands in for a picture (OPI)...", boxes=(sheet.box(30, 40, 70, 60),))


@fault("pdfx-claim", "postscript", *_OF_X4)
def an_x4_file_with_code_for_a_postscript_press(sheet: Sheet) -> Told:
    _x4(sheet)
    code = sheet.pdf.make_stream(b"showpage")
    code.Type, code.Subtype = Name.XObject, Name.PS
    sheet.draw(f"{sheet.resource('XObject', code)} Do")
    return Told("code for PostScript devices...")


def _without_id(data: bytes) -> bytes:
    """The file without its ID, at the same places: a name that nobody knows stands there."""
    at = data.rindex(b"/ID ")
    return data[:at] + b"/Xd " + data[at + 4 :]


@fault("pdfx-claim", "file-identifier", *_OF_X4, spoil=_without_id)
def an_x4_file_without_an_id(sheet: Sheet) -> Told:
    _x4(sheet)
    return Told("the file has no identifier (ID in its trailer)", page=None)


@fault("pdfx-claim", "layers", "layers.present")
def layers_in_a_file_of_the_days_before(sheet: Sheet) -> Told:
    sheet.draw_on(sheet.layer("Text"), f"{_BLUE} {_AREA}")
    return Told("the file has 1 layer (Text)", page=None)


@fault(
    "pdfx-claim", "packed-objects", "pdfx-claim.pdf-version",
    save={"object_stream_mode": pikepdf.ObjectStreamMode.generate},
)  # fmt: skip
def objects_packed_in_streams_in_a_file_of_the_days_before(sheet: Sheet) -> Told:
    del sheet
    return Told("the file's objects or its table of contents are packed in streams", page=None)


@fault("pdfx-claim", "transparency-group", "transparency.group")
def a_group_of_transparency_in_a_file_of_the_days_before(sheet: Sheet) -> Told:
    form = sheet.form(f"{_BLUE} {_AREA}", Group=Dictionary(S=Name.Transparency))
    sheet.draw(f"{sheet.resource('XObject', form)} Do")
    return Told("a transparency group...", boxes=(sheet.box(30, 40, 70, 60),))


@fault("pdfx-claim", "no-title")
def a_file_of_the_days_before_without_a_title(sheet: Sheet) -> Told:
    sheet.pdf.docinfo["/Title"] = String("")
    if "/Metadata" in sheet.pdf.Root:
        del sheet.pdf.Root["/Metadata"]
    return Told("the file has no title", page=None)


@fault("pdfx-claim", "no-dates")
def a_file_of_the_days_before_without_dates(sheet: Sheet) -> Told:
    del sheet.pdf.docinfo["/CreationDate"], sheet.pdf.docinfo["/ModDate"]
    if "/Metadata" in sheet.pdf.Root:
        del sheet.pdf.Root["/Metadata"]
    return Told(
        "the file does not say when it was made (CreationDate); the file does not say when it was last"
        " changed (ModDate)",
        page=None,
    )


@fault("pdfx-claim", "page-group")
def a_page_that_is_a_group_with_nothing_transparent(sheet: Sheet) -> Told:
    """Many libraries write it on every page."""
    sheet.page.obj.Group = Dictionary(S=Name.Transparency, CS=Name.DeviceCMYK)
    return Told("the page is marked as a transparency group")


@fault("pdfx-claim", "no-title", "pdfx-claim.no-dates")
def a_title_and_dates_that_stand_in_the_metadata_alone(sheet: Sheet) -> Told:
    """Levels before X-4 go by the document information."""
    with sheet.pdf.open_metadata(set_pikepdf_as_editor=False, update_docinfo=False) as metadata_of_file:
        metadata_of_file["dc:title"] = "Flyer"
        metadata_of_file["xmp:CreateDate"] = metadata_of_file["xmp:ModifyDate"] = "2026-01-01T00:00:00Z"
    del sheet.pdf.docinfo["/Title"], sheet.pdf.docinfo["/CreationDate"], sheet.pdf.docinfo["/ModDate"]
    return Told("the file has no title", page=None)
