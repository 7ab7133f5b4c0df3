"""Pictures that look coarse, heavy or foreign and are not."""

import io
import zlib

from pikepdf import Array, Dictionary, Name, String
from PIL import Image

from tests.seeded.images import grey_slope, image, jpeg, screen_slope, slope
from tests.seeded.kinds import look_alike
from tests.seeded.planting import Sheet

_INCH = (30.0, 30.0, 55.4, 55.4)


@look_alike("image-resolution")
def a_coarse_picture_that_is_clipped_away(sheet: Sheet) -> None:
    named = sheet.resource("XObject", slope(sheet.pdf, 20, 20))
    sheet.draw(f"100 100 20 20 re W n 25.4 0 0 25.4 30 30 cm {named} Do")


@look_alike("image-resolution")
def a_coarse_picture_beneath_an_area(sheet: Sheet) -> None:
    sheet.picture(_INCH, slope(sheet.pdf, 20, 20))
    sheet.area(25, 25, 60, 60, "0.1 0.3 0 0 k")


@look_alike("image-resolution")
def a_coarse_picture_beneath_a_fine_one(sheet: Sheet) -> None:
    sheet.picture(_INCH, slope(sheet.pdf, 20, 20))
    sheet.picture(_INCH, slope(sheet.pdf, 300, 300))


@look_alike("image-resolution")
def a_coarse_picture_outside_the_page(sheet: Sheet) -> None:
    sheet.picture((-300, -300, -250, -250), slope(sheet.pdf, 20, 20))


@look_alike("image-resolution")
def a_coarse_picture_that_nothing_shows(sheet: Sheet) -> None:
    sheet.resource("XObject", screen_slope(sheet.pdf, 20, 20))


@look_alike("image-resolution")
def four_pixels_of_one_colour(sheet: Sheet) -> None:
    sheet.picture(_INCH, image(sheet.pdf, 2, 2, b"\x40\x00\x20\x00" * 4, ColorSpace=Name.DeviceCMYK))


@look_alike("image-resolution")
def one_pixel_as_an_area(sheet: Sheet) -> None:
    sheet.picture(_INCH, image(sheet.pdf, 1, 1, b"\x40\x00\x20\x00", ColorSpace=Name.DeviceCMYK))


@look_alike("image-resolution")
def a_picture_of_299_99_ppi(sheet: Sheet) -> None:
    """300 pixels over a hundred-thousandth more than an inch: less than half a pixel short."""
    sheet.picture((30, 30, 30 + 25.4 * 300 / 299.99, 55.4), slope(sheet.pdf, 300, 300))


@look_alike("image-resolution")
def a_picture_that_is_mirrored(sheet: Sheet) -> None:
    named = sheet.resource("XObject", slope(sheet.pdf, 300, 300))
    sheet.draw(f"-25.4 0 0 25.4 60 30 cm {named} Do")


@look_alike("image-resolution")
def a_picture_that_is_turned(sheet: Sheet) -> None:
    named = sheet.resource("XObject", slope(sheet.pdf, 300, 300))
    sheet.draw(f"17.9605 17.9605 -17.9605 17.9605 70 30 cm {named} Do")


@look_alike("image-resolution")
def a_grey_picture_of_one_component_is_no_line_art(sheet: Sheet) -> None:
    sheet.picture(_INCH, grey_slope(sheet.pdf, 300, 300))


@look_alike("image-resolution")
def a_coarse_picture_as_the_page_s_thumbnail(sheet: Sheet) -> None:
    sheet.page.obj.Thumb = screen_slope(sheet.pdf, 20, 20)


@look_alike("image-resolution")
def a_coarse_picture_as_an_alternate_for_screens(sheet: Sheet) -> None:
    other = Dictionary(Image=screen_slope(sheet.pdf, 20, 20), DefaultForPrinting=False)
    sheet.picture(_INCH, slope(sheet.pdf, 300, 300, Alternates=Array([other])))


@look_alike("image-weight")
def a_small_picture_of_900_ppi(sheet: Sheet) -> None:
    sheet.picture(_INCH, slope(sheet.pdf, 900, 900))


@look_alike("jpeg-quality")
def a_small_picture_compressed_hard(sheet: Sheet) -> None:
    sheet.picture((30, 30, 37, 37), jpeg(sheet.pdf, 90, 90, 20))


@look_alike("readable")
def a_picture_without_its_checksum(sheet: Sheet) -> None:
    """All pixels are there; the four bytes that follow them (RFC 1950, 2.2) are not."""
    picture = slope(sheet.pdf, 300, 300)
    picture.write(zlib.compress(picture.read_bytes())[:-4], filter=Name.FlateDecode)
    sheet.picture(_INCH, picture)


@look_alike("readable")
def a_picture_that_lacks_its_last_bytes(sheet: Sheet) -> None:
    """Ten of the last row: nobody sees that."""
    sheet.picture(_INCH, image(sheet.pdf, 300, 300, b"\x10\x80" * 179_995, ColorSpace=Name.DeviceCMYK))


@look_alike("readable")
def a_jpeg_picture_with_a_line_feed_behind_it(sheet: Sheet) -> None:
    picture = jpeg(sheet.pdf, 300, 300, 90)
    picture.write(picture.read_raw_bytes() + b"\r\n", filter=Name.DCTDecode)
    sheet.picture(_INCH, picture)


@look_alike("colour-spaces")
def an_indexed_picture_of_inks(sheet: Sheet) -> None:
    table = bytes(part for index in range(256) for part in (index, 255 - index, 40, 0))
    space = Array([Name.Indexed, Name.DeviceCMYK, 255, String(table)])
    sheet.picture(_INCH, grey_slope(sheet.pdf, 300, 300, ColorSpace=space))


@look_alike("transparency")
def a_picture_cut_out_by_a_colour(sheet: Sheet) -> None:
    sheet.picture(_INCH, slope(sheet.pdf, 300, 300, Mask=Array([0, 10, 0, 10, 0, 255, 0, 255])))


@look_alike("bleed")
def a_white_picture_that_ends_at_the_cut(sheet: Sheet) -> None:
    sheet.clip(-3, 40, 151, 213)
    white = image(sheet.pdf, 8, 8, bytes(4 * 64), ColorSpace=Name.DeviceCMYK)
    sheet.picture((0, 0, 148, 30), white)


@look_alike("colour-spaces", rules="seed-later.toml")
def a_white_picture_in_screen_colours_by_number(sheet: Sheet) -> None:
    """Programs save white as the one colour of a palette; it prints nothing."""
    white = Array([Name.Indexed, Name.DeviceRGB, 1, String(b"\xff\xff\xff\x20\x40\x60")])
    sheet.paper(28, 28, 60, 60)
    sheet.picture(_INCH, image(sheet.pdf, 300, 300, b"\x00" * 300 * 300, ColorSpace=white))


@look_alike("image-resolution", rules="seed-ink.toml")
def a_coarse_white_picture_in_jpeg(sheet: Sheet) -> None:
    """What its pixels are, only its plates tell: they stay bare."""
    sheet.clip(80, 20, 128, 190)
    file = io.BytesIO()
    Image.new("L", (50, 50), 255).save(file, "JPEG", quality=90)
    white = image(sheet.pdf, 50, 50, b"", ColorSpace=Name.DeviceGray)
    white.write(file.getvalue(), filter=Name.DCTDecode)
    sheet.picture(_INCH, white)
