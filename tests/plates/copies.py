"""Copies of pages for the reference tool: the same paint, for the same press, on a sheet of whole cells."""

import re
import warnings
from itertools import pairwise
from pathlib import Path
from struct import error as StructError  # noqa: N812 - it is one
from struct import unpack_from

import pikepdf
from pikepdf import Array, Name

from hotfolder.model.geometry import Box


def write_copy(
    source: Path, target: Path, page: int | None = None, *, frame: Box | None = None, user_unit: float = 1.0
) -> None:
    """Writes one page of a PDF, or all of them, without what concerns viewing only.

    An output intent would change the numbers of DeviceCMYK where it is another press than ours; turning and
    the crop box would give another picture than the plates', which show the whole sheet in its own space.
    frame: the sheet that the copy is to have, in points; what the page's own sheet cuts off is cut off still.
    user_unit: that of the page, which the copy does without.
    """
    with pikepdf.open(source) as pdf:
        if page is not None:
            del pdf.pages[page:]
            del pdf.pages[: page - 1]
        for each in pdf.pages:
            media = Array(list(each.mediabox))
            if frame is not None:
                _cut(each, media)
                corners = (frame.x0, frame.y0, frame.x1, frame.y1)
                media = Array([round(corner / user_unit, 5) for corner in corners])
            each.obj.MediaBox = media
            # Both may be inherited, so that leaving them out would not do.
            each.obj.CropBox = media
            each.obj.Rotate = 0
            if "/UserUnit" in each.obj:
                del each.obj.UserUnit
        for entry in (Name.OutputIntents, Name.OpenAction, Name.Outlines, Name.Names, Name.StructTreeRoot):
            if entry in pdf.Root:
                del pdf.Root[entry]
        with warnings.catch_warnings():
            # Of form fields that no form knows of: they are drawn all the same.
            warnings.simplefilter("ignore")
            try:
                pdf.save(target, deterministic_id=True, encryption=False)
            except pikepdf.PdfError:  # what the file says of itself is broken, and of no account here
                del pdf.Root.Metadata
                pdf.save(target, deterministic_id=True, encryption=False)


def write_close_copy(source: Path, target: Path, frame: Box) -> None:
    """Writes a copy's one page cut to `frame`, its letters as their outlines are.

    Ghostscript carries out what TrueType fonts say of fitting letters to pixels, and bends them by up to some
    0.03 mm however finely it draws; poppler and ours draw the outlines.
    """
    with pikepdf.open(source) as pdf:
        [page] = pdf.pages
        page.obj.MediaBox = page.obj.CropBox = Array(
            [round(corner, 5) for corner in (frame.x0, frame.y0, frame.x1, frame.y1)]
        )
        for each in pdf.objects:
            if isinstance(each, pikepdf.Dictionary) and isinstance(each.get("/FontFile2"), pikepdf.Stream):
                each.FontFile2.write(without_fitting(each.FontFile2.read_bytes()))
        pdf.save(target, deterministic_id=True, fix_metadata_version=False)


def without_fitting(font: bytes) -> bytes:
    """A TrueType font whose instructions do nothing; as it is where its tables are not as they should be."""
    changed = bytearray(font)
    try:
        (count,) = unpack_from(">H", font, 4)
        tables = {
            tag: (start, length)
            for tag, _, start, length in (
                unpack_from(">4sIII", font, 12 + 16 * each) for each in range(count)
            )
        }
        glyphs, (places, _) = tables[b"glyf"][0], tables[b"loca"]
        (long,) = unpack_from(">h", font, tables[b"head"][0] + 50)
        (number,) = unpack_from(">H", font, tables[b"maxp"][0] + 4)
        starts = unpack_from(f">{number + 1}{'I' if long else 'H'}", font, places)
        for start, end in pairwise(each if long else 2 * each for each in starts):
            (contours,) = unpack_from(">h", font, glyphs + start) if end > start else (-1,)
            if contours >= 0:
                at = glyphs + start + 10 + 2 * contours
                (length,) = unpack_from(">H", font, at)
                changed[at + 2 : at + 2 + length] = bytes(length)  # 0: an axis is chosen, and nothing moved
        for tag in {b"fpgm", b"prep"} & set(tables):
            start, length = tables[tag]
            changed[start : start + length] = bytes(length)
    except (StructError, KeyError):
        return font
    return bytes(changed) if len(changed) == len(font) else font


def _cut(page: pikepdf.Page, media: pikepdf.Array) -> None:
    x0, y0, x1, y1 = (float(side) for side in media)
    low, high = (min(x0, x1), min(y0, y1)), (max(x0, x1), max(y0, y1))
    cut = f"q {low[0]} {low[1]} {high[0] - low[0]} {high[1] - low[1]} re W n\n"
    page.contents_add(cut.encode(), prepend=True)
    page.contents_add(b"\nQ")


def has_tagged_press_colours(path: Path) -> bool:
    """Whether a file has profiles for grey or CMYK, whose colours a press takes as they are."""
    with pikepdf.open(path) as pdf:
        return any(
            len(thing) == 2
            and thing[0] == Name.ICCBased
            and isinstance(thing[1], pikepdf.Stream)
            and thing[1].get("/N") in {1, 4}
            for thing in _arrays(pdf)
        )


def blends_on_screen(path: Path) -> bool:
    """Whether the first page of a file is a transparency group of screen colours (ISO 32000-2, 11.4.7)."""
    with pikepdf.open(path) as pdf:
        group = pdf.pages[0].obj.get("/Group")
        space = group.get("/CS") if isinstance(group, pikepdf.Dictionary) else None
        if isinstance(space, pikepdf.Array) and len(space) == 2 and space[0] == Name.ICCBased:
            return bool(space[1].get("/N") == 3)
        return space in {Name.DeviceRGB, Name.CalRGB} if isinstance(space, pikepdf.Name) else False


def names_intents(path: Path) -> bool:
    """Whether a file asks for a rendering intent other than media-relative, for pictures or elsewhere."""
    with pikepdf.open(path) as pdf:
        for each in pdf.objects:
            if isinstance(each, pikepdf.Dictionary | pikepdf.Stream):
                asked = {each.get(key) for key in ("/Intent", "/RI") if isinstance(each.get(key), Name)}
                if asked - {Name.RelativeColorimetric, Name.View, Name.Design, Name.All}:
                    return True
        contents = pdf.pages[0].obj.get("/Contents")
        parts = list(contents) if isinstance(contents, Array) else [contents]
        try:
            written = b"\n".join(part.read_bytes() for part in parts if isinstance(part, pikepdf.Stream))
        except pikepdf.PikepdfError:
            return False  # what a broken page says of it is not known
        return re.search(rb"/(?!RelativeColorimetric)\w+\s+ri\s", written) is not None


def _arrays(pdf: pikepdf.Pdf) -> list[pikepdf.Array]:
    """All arrays of a file, wherever they stand."""
    found: list[pikepdf.Array] = []
    waiting: list[object] = list(pdf.objects)
    while waiting:
        thing = waiting.pop()
        if isinstance(thing, pikepdf.Array):
            found.append(thing)
            waiting.extend(part for part in thing if not _stands_alone(part))
        elif isinstance(thing, pikepdf.Dictionary | pikepdf.Stream):
            waiting.extend(part for part in thing.values() if not _stands_alone(part))
    return found


def _stands_alone(thing: object) -> bool:
    return isinstance(thing, pikepdf.Object) and thing.is_indirect
