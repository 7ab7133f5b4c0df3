"""Faults of the file as such: damage, another kind of file, its name and its weight."""

import io
import random
import zlib

from pikepdf import Dictionary, Name, String
from PIL import Image

from tests.seeded.images import grey_slope, image, jpeg, slope
from tests.seeded.kinds import Told, fault
from tests.seeded.planting import Sheet

_INCH = (30.0, 30.0, 55.4, 55.4)
_BLUE = "0.6 0.2 0 0 k"
_ELSEWHERE = b"startxref\n12\n%%EOF\n"


@fault("readable", "damaged", breaks=True, spoil=lambda data: data[: len(data) * 2 // 3])
def a_file_that_was_cut_off(_sheet: Sheet) -> Told:
    """Where the cut falls, it takes part of what a page shows with it, or not."""
    return Told(frozenset({"1 part damaged", "2 parts damaged"}), page=None)


@fault("readable", "damaged", breaks=True)
def a_stream_that_is_damaged(sheet: Sheet) -> Told:
    """The compressed drawing of a form ends in the middle, and with it the last instruction."""
    form = sheet.form(f"{_BLUE} 30 40 40 20 re f " * 200)
    whole = zlib.compress(form.read_bytes())
    form.write(whole[: len(whole) // 2], filter=Name.FlateDecode)
    sheet.draw(f"{sheet.resource('XObject', form)} Do")
    return Told("2 parts damaged")


@fault("readable", "damaged", spoil=lambda data: data[: data.rindex(b"startxref")] + _ELSEWHERE)
def a_table_of_contents_that_is_elsewhere(_sheet: Sheet) -> Told:
    return Told("1 part damaged", page=None)


@fault("readable", "damaged")
def a_form_that_shows_itself(sheet: Sheet) -> Told:
    form = sheet.form("")
    named = sheet.resource("XObject", form)
    form.write(f"{_BLUE} 30 40 40 20 re f {named} Do".encode())
    sheet.draw(f"{named} Do")
    return Told("1 part damaged")


@fault("readable", "damaged", "pdfx-claim.missing-resource")
def a_picture_that_the_file_does_not_hold(sheet: Sheet) -> Told:
    sheet.draw(f"{sheet.resource('XObject', slope(sheet.pdf, 10, 10))}x Do")
    return Told("1 part damaged")


@fault("readable", "damaged")
def a_picture_whose_data_break_off(sheet: Sheet) -> Told:
    picture = slope(sheet.pdf, 300, 300)
    whole = zlib.compress(picture.read_bytes())
    picture.write(whole[: len(whole) // 2], filter=Name.FlateDecode)
    sheet.picture(_INCH, picture)
    return Told("1 part damaged")


@fault("readable", "damaged")
def a_picture_with_rows_too_few(sheet: Sheet) -> Told:
    sheet.picture(_INCH, image(sheet.pdf, 300, 300, b"\x10\x80" * 300 * 298, ColorSpace=Name.DeviceCMYK))
    return Told("1 part damaged")


@fault("readable", "damaged")
def a_jpeg_picture_that_breaks_off_on_the_back(sheet: Sheet) -> Told:
    back = sheet.copy()
    picture = jpeg(sheet.pdf, 300, 300, 90)
    whole = picture.read_raw_bytes()
    picture.write(whole[: len(whole) // 2], filter=Name.DCTDecode)
    back.picture(_INCH, picture)
    return Told("1 part damaged", page=2)


# What cannot be drawn has no plates, and the rules about them are not judged.
@fault("readable", "damaged", breaks=True)
def a_picture_that_is_no_jpeg_as_it_says(sheet: Sheet) -> Told:
    picture = jpeg(sheet.pdf, 300, 300, 90)
    picture.write(b"sent as text by mistake" * 100, filter=Name.DCTDecode)
    sheet.picture(_INCH, picture)
    return Told("1 part damaged")


@fault("readable", "damaged", "transparency.image-soft-mask", "pdfx-claim.image-soft-mask")
def a_mask_whose_data_break_off(sheet: Sheet) -> Told:
    mask = grey_slope(sheet.pdf, 300, 300)
    mask.write(zlib.compress(mask.read_bytes()[:9000]), filter=Name.FlateDecode)
    sheet.picture(_INCH, slope(sheet.pdf, 300, 300, SMask=mask))
    return Told("1 part damaged")


@fault("readable", "damaged", "pdfx-claim.unknown-operator")
def an_unknown_operator(sheet: Sheet) -> Told:
    sheet.draw(f"1 2 unheardof {_BLUE} 30 40 40 20 re f")
    return Told("1 part damaged")


@fault("readable", "damaged")
def an_operator_with_too_few_operands(sheet: Sheet) -> Told:
    sheet.draw(f"{_BLUE} 30 40 re f")
    return Told("1 part damaged")


@fault("readable", "no-pages", breaks=True)
def a_file_without_a_page(sheet: Sheet) -> Told:
    del sheet.pdf.pages[0]
    return Told("no pages", page=None)


@fault("readable", "unreadable", breaks=True, spoil=lambda _: b"Dear printer, the file comes tomorrow.\n")
def a_letter_that_is_called_a_pdf(_sheet: Sheet) -> Told:
    return Told("nothing can be read", page=None)


@fault("file-type", "unknown", breaks=True, spoil=lambda data: data[1000:])
def a_file_that_lacks_its_beginning(_sheet: Sheet) -> Told:
    return Told("unknown", page=None)


@fault("file-type", "ending", file_name="flyer.tif")
def a_pdf_that_is_called_a_picture(_sheet: Sheet) -> Told:
    return Told(".tif", page=None)


@fault("file-type", "refused", breaks=True, spoil=lambda _: _a_picture())
def a_picture_that_is_called_a_pdf(_sheet: Sheet) -> Told:
    return Told("PNG", page=None)


@fault("file-name", "characters", file_name="Flyer für März?.pdf")
def a_name_that_does_not_travel(_sheet: Sheet) -> Told:
    return Told("a space, 'ü', 'ä' and '?'", page=None)


@fault("file-name", "too-long", file_name=f"{'flyer-' * 20}.pdf")
def a_name_that_is_too_long(_sheet: Sheet) -> Told:
    return Told((124,), "characters", page=None)


@fault("file-size", "too-large")
def a_file_that_is_too_heavy(sheet: Sheet) -> Told:
    """Two megabytes that cannot be compressed, kept for the program that made the page."""
    kept = sheet.pdf.make_stream(random.Random(1).randbytes(2_000_000))
    sheet.page.obj.PieceInfo = Dictionary(Seed=Dictionary(LastModified=String("D:2026"), Private=kept))
    return Told((2.03,), "MB", within=0.05, page=None)


def _a_picture() -> bytes:
    file = io.BytesIO()
    Image.linear_gradient("L").save(file, "PNG")
    return file.getvalue()
