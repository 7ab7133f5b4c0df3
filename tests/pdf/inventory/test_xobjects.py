# The forms, images and code that pages draw, and the pages that are groups.
import struct
from io import BytesIO

import pikepdf
import pytest
from pikepdf import Array, Dictionary, Name, Stream, String
from PIL import Image

from hotfolder.model.inventory.xobjects import DrawnImage, JpxData, XObjectFacts
from hotfolder.pdf.content.uses import Use, UseKind
from hotfolder.pdf.images.jpx import colour_channels
from hotfolder.pdf.inventory.xobjects import read_xobjects
from hotfolder.pdf.objects.resources import Resources


def facts_of(kind: UseKind, value: object, *pages: int) -> XObjectFacts:
    return read_xobjects([], [Use(kind, value, page, Resources(), None) for page in pages or (1,)])


def image_of(data: bytes = b"", **entries: object) -> DrawnImage:
    """The facts of an image with these entries."""
    pdf = pikepdf.new()
    made = Stream(pdf, data)
    for key, value in entries.items():
        made[f"/{key}"] = value
    [image] = facts_of(UseKind.IMAGE, pdf.make_indirect(made)).images
    return image


def jpeg_2000(mode: str) -> bytes:
    file = BytesIO()
    Image.new(mode, (8, 8)).save(file, "JPEG2000")
    return file.getvalue()


def test_a_form_is_read_once_with_what_it_is() -> None:
    pdf = pikepdf.new()
    made = pdf.make_indirect(Stream(pdf, b""))
    [plain] = facts_of(UseKind.FORM, made, 1, 1, 4).forms
    assert plain.pages == (1, 4)
    assert (plain.group, plain.opi, plain.postscript, plain.reference) == (False, False, False, False)
    made.Group, made.OPI, made.Subtype2 = Dictionary(S=Name.Transparency), Dictionary(), Name.PS
    made.Ref = Dictionary()
    [form] = facts_of(UseKind.FORM, made).forms
    assert (form.group, form.opi, form.postscript, form.reference) == (True, True, True, True)


@pytest.mark.parametrize(
    "group", [Dictionary(), Dictionary(S=String("Transparency")), Array([Name.Transparency])]
)
def test_only_a_transparency_group_is_a_group(group: object) -> None:
    pdf = pikepdf.new()
    made = pdf.make_indirect(Stream(pdf, b""))
    made.Group = group
    assert facts_of(UseKind.FORM, made).forms[0].group is False


def test_pages_that_are_groups_are_told_by_number() -> None:
    pages = [Dictionary(), Dictionary(Group=Dictionary(S=Name.Transparency)), Dictionary(Group=Dictionary())]
    assert read_xobjects(pages, []) == XObjectFacts(group_pages=frozenset({2}))


def test_only_postscript_is_code() -> None:
    pdf = pikepdf.new()
    made = pdf.make_indirect(Stream(pdf, b"showpage"))
    assert facts_of(UseKind.OTHER_XOBJECT, made).code == ()
    made.Subtype = Name.PS
    assert [each.pages for each in facts_of(UseKind.OTHER_XOBJECT, made, 2, 3).code] == [(2, 3)]


def test_images_tell_depth_masks_and_what_stands_beside_them() -> None:
    plain = image_of(BitsPerComponent=8)
    assert plain == DrawnImage(
        plain.object, (1,), 8, soft_mask=False, opi=False, printed_alternate=False, jpx=None
    )
    pdf = pikepdf.new()
    masked = pdf.make_indirect(Stream(pdf, b""))
    masked.SMask = pdf.make_indirect(Stream(pdf, b""))
    assert facts_of(UseKind.IMAGE, masked).images[0].soft_mask is True
    assert image_of(SMask=Name("/None")).soft_mask is False
    assert image_of(SMaskInData=1).soft_mask is False
    assert image_of(OPI=Dictionary()).opi is True
    assert image_of(BitsPerComponent=Name.Eight).bits is None


@pytest.mark.parametrize(
    ("alternates", "printed"),
    [
        (Array([Dictionary(DefaultForPrinting=False), Dictionary(DefaultForPrinting=True)]), True),
        (Array([Dictionary(DefaultForPrinting=1), Dictionary(), Name.Some]), False),
        (Dictionary(DefaultForPrinting=True), False),
    ],
)
def test_an_alternate_is_for_printing_where_it_says_so(alternates: object, *, printed: bool) -> None:
    assert image_of(Alternates=alternates).printed_alternate is printed


def test_an_inline_image_has_no_object() -> None:
    [image] = facts_of(UseKind.INLINE_IMAGE, Dictionary(BitsPerComponent=16)).images
    assert (image.object, image.bits) == (None, 16)


@pytest.mark.parametrize(("mode", "depths"), [("L", 1), ("RGB", 3), ("RGBA", 4), ("LA", 2)])
def test_jpeg_2000_data_tell_their_colours_without_opacity(mode: str, depths: int) -> None:
    image = image_of(jpeg_2000(mode), Filter=Name.JPXDecode, SMaskInData=1)
    assert image.jpx == JpxData(colour_channels=3 if "RGB" in mode else 1, depths=(8,) * depths)
    assert image.soft_mask is True


@pytest.mark.parametrize("data", [b"", b"no picture", jpeg_2000("RGB")[:60]])
def test_jpeg_2000_data_that_are_none_tell_nothing(data: bytes) -> None:
    assert image_of(data, Filter=Name.JPXDecode).jpx == JpxData(None, ())


def test_a_palette_tells_how_many_colours_there_are() -> None:
    data = jpeg_2000("L")
    at = data.index(b"jp2h") - 4
    (length,) = struct.unpack_from(">I", data, at)
    palette = struct.pack(">I4sHB", 15, b"pclr", 1, 4) + bytes(4)
    header = struct.pack(">I", length + len(palette)) + data[at + 4 : at + length] + palette
    assert colour_channels(data[:at] + header + data[at + length :]) == 4
    assert colour_channels(data) == 1
