"""Adds things to the first page of a file that keeps a level."""

import pikepdf
from pikepdf import Array, Dictionary, Name, Stream, String

# What becomes null in a file, which no value in Python does: see `with_nulls`.
NULL = String("nul")

BLACK_AREA = b"0 0 0 1 k 60 60 40 30 re f"


def dictionary(**entries: object) -> Dictionary:
    """A dictionary with these entries."""
    return Dictionary({f"/{key}": value for key, value in entries.items()})


def with_nulls(data: bytes) -> bytes:
    """A file with null wherever `NULL` stands."""
    return data.replace(b"(nul)", b"null ")


def draw(pdf: pikepdf.Pdf, content: bytes) -> None:
    """Paints on the first page, after all else."""
    page = pdf.pages[0].obj
    parts = page.Contents if isinstance(page.Contents, Array) else Array([page.Contents])
    parts.append(pdf.make_indirect(Stream(pdf, b"\nq " + content + b" Q")))
    page.Contents = parts


def resource(pdf: pikepdf.Pdf, category: str, value: pikepdf.Object | Dictionary | Array) -> bytes:
    """Names an object in the resources of both pages; its name with the slash."""
    resources = pdf.pages[0].obj.Resources
    if f"/{category}" not in resources:
        resources[f"/{category}"] = Dictionary()
    known = resources[f"/{category}"]
    name = f"/Added{len(known)}"
    known[name] = value
    return name.encode()


def state(pdf: pikepdf.Pdf, **entries: object) -> bytes:
    """An operator that applies a graphics state parameter dictionary with these entries."""
    return resource(pdf, "ExtGState", dictionary(Type=Name.ExtGState, **entries)) + b" gs "


def paint_with(pdf: pikepdf.Pdf, **entries: object) -> None:
    """Paints a black area on the first page, in a state with these entries."""
    draw(pdf, state(pdf, **entries) + BLACK_AREA)


def form(pdf: pikepdf.Pdf, content: bytes = BLACK_AREA, **entries: object) -> pikepdf.Object:
    """A form XObject of the size of the page."""
    made = Stream(pdf, content)
    made.Type, made.Subtype = Name.XObject, Name.Form
    made.BBox, made.Resources = Array([0, 0, 340, 460]), Dictionary()
    for key, value in entries.items():
        made[f"/{key}"] = value
    return pdf.make_indirect(made)


def draw_form(pdf: pikepdf.Pdf, **entries: object) -> None:
    """Draws a form XObject with these entries, which paints a black area, on the first page."""
    draw(pdf, resource(pdf, "XObject", form(pdf, BLACK_AREA, **entries)) + b" Do")


def picture(pdf: pikepdf.Pdf, pixels: bytes = bytes(256), **entries: object) -> pikepdf.Object:
    """A picture of 8 x 8 pixels in CMYK, black where nothing else is said."""
    made = Stream(pdf, pixels)
    made.Type, made.Subtype = Name.XObject, Name.Image
    made.Width = made.Height = 8
    made.BitsPerComponent, made.ColorSpace = 8, Name.DeviceCMYK
    for key, value in entries.items():
        made[f"/{key}"] = value
    return pdf.make_indirect(made)


def draw_picture(pdf: pikepdf.Pdf, pixels: bytes = bytes(256), **entries: object) -> None:
    """Draws a picture with these entries on the first page."""
    name = resource(pdf, "XObject", picture(pdf, pixels, **entries))
    draw(pdf, b"40 0 0 40 60 60 cm " + name + b" Do")


def group(pdf: pikepdf.Pdf) -> pikepdf.Object:
    """A transparency group in grey, as a soft mask has it."""
    made = form(pdf, b"0.5 g 0 0 340 460 re f", Group=Dictionary(S=Name.Transparency, CS=Name.DeviceGray))
    return pdf.make_indirect(made)
