"""Claims to be PDF/X that look wrong and are right."""

from pikepdf import Array, Dictionary, Name, String

from tests.seeded.kinds import look_alike
from tests.seeded.planting import Sheet

_BLUE = "0.6 0.2 0 0 k"
_AREA = "30 40 40 20 re f"


@look_alike("pdfx-claim", save={"force_version": "1.3"})
def an_x3_file_with_the_conformance_of_a_former_life(sheet: Sheet) -> None:
    """The level decides; no other than X-1a:2001 has a conformance beside it."""
    sheet.claim("PDF/X-3:2002")
    sheet.pdf.docinfo["/GTS_PDFXConformance"] = String("PDF/X-1a:2001")


@look_alike("pdfx-claim")
def the_level_as_its_own_conformance(sheet: Sheet) -> None:
    """As many programs write it, in files of X-1a:2003 and of X-3."""
    sheet.pdf.docinfo["/GTS_PDFXConformance"] = sheet.pdf.docinfo["/GTS_PDFXVersion"]


@look_alike("pdfx-claim")
def a_page_that_is_a_group_of_another_kind(sheet: Sheet) -> None:
    sheet.page.obj.Group = Dictionary(S=Name("/Reference"))


@look_alike("pdfx-claim")
def transfer_functions_given_back_to_the_press(sheet: Sheet) -> None:
    """TR2 Default sets none; it stands in files that programs made for PostScript presses."""
    sheet.draw(f"q {sheet.state(TR2=Name.Default)} {_BLUE} {_AREA} Q")


@look_alike("pdfx-claim")
def a_transfer_function_that_nothing_uses(sheet: Sheet) -> None:
    function = Dictionary(FunctionType=2, Domain=Array([0, 1]), N=1, C0=Array([1]), C1=Array([0]))
    sheet.state(TR=function)


@look_alike("pdfx-claim")
def a_group_that_is_no_group_of_transparency(sheet: Sheet) -> None:
    form = sheet.form(f"{_BLUE} {_AREA}", Group=Dictionary(S=Name("/Reference")))
    sheet.draw(f"{sheet.resource('XObject', form)} Do")


@look_alike("pdfx-claim")
def notes_of_a_program_about_what_it_drew(sheet: Sheet) -> None:
    form = sheet.form(f"{_BLUE} {_AREA}", PieceInfo=Dictionary(Some=Dictionary(Private=String("notes"))))
    sheet.draw(f"{sheet.resource('XObject', form)} Do")
