"""Reads the XObjects and inline images that pages draw (ISO 32000-2, 8.8 to 8.10)."""

from collections.abc import Sequence
from typing import Final

import pikepdf

from hotfolder.model.inventory.xobjects import DrawnCode, DrawnForm, DrawnImage, JpxData, XObjectFacts
from hotfolder.pdf.content.uses import Use, UseKind
from hotfolder.pdf.images.jpx import colour_channels, component_depths
from hotfolder.pdf.inventory.by_object import UsedObject, by_object
from hotfolder.pdf.objects.limits import IMAGE_DATA_BYTES, LIST_ENTRIES
from hotfolder.pdf.objects.reading import READING_ERRORS, entry, identity, items, keys, name, whole
from hotfolder.pdf.objects.streams import filters, undone_before_last

_JPX: Final = "JPXDecode"
_JPX_HEADERS: Final = 1 << 20  # bytes; headers stand first, and are short even with a profile in them
_NO_JPX: Final = JpxData(None, ())


def read_xobjects(pages: Sequence[pikepdf.Dictionary], uses: Sequence[Use]) -> XObjectFacts:
    """The forms, images and PostScript code that are drawn, each once, and the pages that are groups."""
    drawn = [*by_object(uses, UseKind.IMAGE), *by_object(uses, UseKind.INLINE_IMAGE)]
    return XObjectFacts(
        forms=tuple(_form(used) for used in by_object(uses, UseKind.FORM)),
        images=tuple(_image(used) for used in drawn),
        code=tuple(
            DrawnCode(identity(used.value), tuple(used.pages))
            for used in by_object(uses, UseKind.OTHER_XOBJECT)
            if name(entry(used.value, "/Subtype")) == "PS"
        ),
        group_pages=frozenset(number for number, page in enumerate(pages, start=1) if _is_group(page)),
    )


def _is_group(holder: object) -> bool:
    """Whether a page or form is a transparency group (11.6.6)."""
    return name(entry(entry(holder, "/Group"), "/S")) == "Transparency"


def _form(used: UsedObject) -> DrawnForm:
    form = used.value
    return DrawnForm(
        object=identity(form),
        pages=tuple(used.pages),
        group=_is_group(form),
        opi=entry(form, "/OPI") is not None,
        postscript=entry(form, "/PS") is not None or name(entry(form, "/Subtype2")) == "PS",
        reference=entry(form, "/Ref") is not None,
    )


def _image(used: UsedObject) -> DrawnImage:
    image = used.value
    there = frozenset(
        keys(image, LIST_ENTRIES)
    )  # a catalogue has hundreds of images, with few of the entries
    is_jpx = filters(image)[-1:] == (_JPX,)
    masked_within = is_jpx and whole(entry(image, "/SMaskInData")) in {1, 2}
    return DrawnImage(
        object=identity(image),
        pages=tuple(used.pages),
        bits=whole(entry(image, "/BitsPerComponent")),
        soft_mask=masked_within or ("/SMask" in there and isinstance(entry(image, "/SMask"), pikepdf.Stream)),
        opi="/OPI" in there and entry(image, "/OPI") is not None,
        printed_alternate="/Alternates" in there
        and any(
            entry(each, "/DefaultForPrinting") is True
            for each in items(entry(image, "/Alternates"), LIST_ENTRIES)
        ),
        jpx=_jpx(image) if is_jpx else None,
    )


def _jpx(image: object) -> JpxData:
    if not isinstance(image, pikepdf.Stream):
        return _NO_JPX
    try:
        data = undone_before_last(image, IMAGE_DATA_BYTES) or b""
    except READING_ERRORS:
        return _NO_JPX
    headers = bytes(data[:_JPX_HEADERS])
    return JpxData(colour_channels(headers), component_depths(headers))
