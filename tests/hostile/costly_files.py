"""Files of some kilobytes that are made to cost a minute or a gigabyte, each in a way of its own.

A name tells what there is too much of; with it stands how the file is made, and a part of the sentence by
which its judgement says what was given up. All are written from the grammar of ISO 32000-2.
"""

import struct
import zlib
from collections.abc import Callable
from typing import Final

from tests.pdf.raw_pdf import page, raw_pdf, stream

SHEET: Final = "/MediaBox [0 0 595 842]"
HELVETICA: Final = "/Font << /F << /Type /Font /Subtype /Type1 /BaseFont /Helvetica >> >>"
FORM: Final = "/Type /XObject /Subtype /Form /BBox [0 0 595 842]"
IMAGE: Final = "/Type /XObject /Subtype /Image"
SHARED: Final = (
    f"/Resources << {HELVETICA} /XObject << /X 9 0 R >> /ExtGState << /G << /ca 0.5 /BM /Multiply >> >> "
    "/Pattern << /P 10 0 R >> >>"
)


def packed(data: bytes, entries: str = "", times: int = 1) -> bytes:
    """A stream that is deflated as many times."""
    for _ in range(times):
        data = zlib.compress(data, 9)
    return stream(data, f"/Filter [{'/FlateDecode ' * times}] {entries}")


def sheet_of(content: bytes, objects: dict[int, str | bytes] | None = None) -> bytes:
    """A sheet of A4 with that content; the objects are those that its resources name, and more."""
    return raw_pdf({3: page(f"{SHEET} {SHARED} /Contents 8 0 R"), 8: packed(content), **(objects or {})})


def in_an_object_stream(objects: dict[int, bytes], *, padding: int = 0) -> bytes:
    """A PDF of objects in an object stream that is deflated twice (7.5.7), with a table for them (7.5.8)."""
    bodies = {
        1: b"<< /Type /Catalog /Pages 2 0 R >>",
        2: b"<< /Type /Pages /Kids [3 0 R] /Count 1 >>",
        **objects,
    }
    head = body = b""
    for number, data in bodies.items():
        head += b"%d %d " % (number, len(body))
        body += data + b"\n"
    entries = f"/Type /ObjStm /N {len(bodies)} /First {len(head)}"
    held, table = max(bodies) + 1, max(bodies) + 2
    file = b"%PDF-1.7\n"
    at = len(file)
    file += b"%d 0 obj\n" % held + packed(head + body + b" " * padding, entries, times=2) + b"\nendobj\n"
    rows = [struct.pack(">BIH", 0, 0, 0) for _ in range(table + 1)]
    for place, number in enumerate(bodies):
        rows[number] = struct.pack(">BIH", 2, held, place)
    rows[held] = struct.pack(">BIH", 1, at, 0)
    rows[table] = struct.pack(">BIH", 1, len(file), 0)
    entries = f"/Type /XRef /Size {table + 1} /W [1 4 2] /Root 1 0 R"
    start = len(file)
    return (
        file
        + b"%d 0 obj\n" % table
        + packed(b"".join(rows), entries)
        + b"\nendobj\nstartxref\n%d\n%%%%EOF\n" % start
    )


def page_in_stream(entries: bytes) -> bytes:
    return b"<< /Type /Page /Parent 2 0 R /MediaBox [0 0 595 842] " + entries + b" >>"


def forms_in_forms() -> bytes:
    """Twelve levels of forms, each of which draws the next one ten times: 10^11 rectangles."""
    objects: dict[int, str | bytes] = {
        number: packed(b"/X Do " * 10, f"{FORM} /Resources << /XObject << /X {number + 1} 0 R >> >>")
        for number in range(20, 31)
    }
    objects[31] = packed(b"0 0 1 1 re f", FORM)
    return raw_pdf(
        {
            3: page(f"{SHEET} /Resources << /XObject << /X 20 0 R >> >> /Contents 8 0 R"),
            8: stream(b"/X Do"),
            **objects,
        }
    )


def cells_upon_cells() -> bytes:
    """A pattern whose cells are larger than a sheet and lie a hundredth of a point apart."""
    cell = (
        "/Type /Pattern /PatternType 1 /PaintType 1 /TilingType 1 /BBox [0 0 999 999] /XStep .01 /YStep .01"
    )
    return sheet_of(
        b"/Pattern cs /P scn 0 0 595 842 re f", {10: packed(b"0 0 999 999 re f", f"{cell} /Resources << >>")}
    )


Costly = tuple[Callable[[], bytes], str]

SOON_OVER: Final[dict[str, Costly]] = {
    "letters of a string": (
        lambda: sheet_of(b"BT /F 9 Tf (" + b"a" * 10_000_000 + b") Tj ET"),
        "a text of more than 500,000 letters in a row",
    ),
    "curves of a path": (
        lambda: sheet_of(b"0 0 m " + b"1 1 200 2 300 3 c " * 3_000_000 + b"f"),
        "a path of more than 1,200,000 points",
    ),
    "bytes of instructions": (
        lambda: raw_pdf({3: page(f"{SHEET} /Contents 8 0 R"), 8: packed(b" " * 280_000_000, times=2)}),
        "unpack to more than 256 MB",
    ),
    "bytes of an object stream": (
        lambda: in_an_object_stream({3: page_in_stream(b"")}, padding=700_000_000),
        "damaged beyond repair",
    ),
}

LONG: Final[dict[str, Costly]] = {
    "pages by one object": (
        lambda: in_an_object_stream(
            {
                2: b"<< /Type /Pages /Count 9 /Kids [ " + b"3 0 R " * 300_000 + b"] >>",
                3: page_in_stream(b""),
            }
        ),
        "reading stopped after 20000 pages",
    ),
    "rectangles of a path": (
        lambda: sheet_of(b"0 0 1 1 re " * 2_000_000 + b"f"),
        "a path of more than 1,200,000 points",
    ),
    "values of an array": (
        lambda: sheet_of(b"BT /F 9 Tf [" + b"0 " * 30_000_000 + b"] TJ ET"),
        "reading stopped after 4,000,000 drawing instructions",
    ),
    "strings of an array": (
        lambda: sheet_of(b"BT /F 9 Tf [" + b"(a)1" * 5_000_000 + b"] TJ ET"),
        "reading stopped after 4,000,000 drawing instructions",
    ),
    "values of an array in an object stream": (
        lambda: in_an_object_stream(
            {3: page_in_stream(b"/Annots 4 0 R"), 4: b"[" + b"0 " * 30_000_000 + b"]"}
        ),
        "more memory than there is for one file",
    ),
    "letters of a page": (
        lambda: sheet_of(b"BT /F 9 Tf " + (b"(" + b"a" * 30_000 + b") Tj ") * 400 + b"ET"),
        "reading stopped after 4,000,000 drawing instructions",
    ),
    "one picture": (
        lambda: sheet_of(
            b"q 595 0 0 842 0 0 cm /X Do Q " * 20_000,
            {
                9: packed(
                    bytes(3_000_000),
                    f"{IMAGE} /Width 1000 /Height 1000 /BitsPerComponent 8 /ColorSpace /DeviceRGB",
                )
            },
        ),
        "not drawn: too heavy",
    ),
    "transparent areas": (
        lambda: sheet_of(b"/G gs " + b"0 0 595 842 re f " * 30_000),
        "not drawn: too heavy",
    ),
    "groups": (
        lambda: sheet_of(
            b"/G gs " + b"/X Do " * 20_000,
            {9: packed(b"0 0 595 842 re f", f"{FORM} /Group << /S /Transparency /I true >>")},
        ),
        "not drawn: too heavy",
    ),
    "forms in forms": (forms_in_forms, "reading stopped after 500,000 painted things"),
    "cells of a pattern": (cells_upon_cells, "the cells of a pattern are too small to be drawn"),
    "appearances": (
        lambda: raw_pdf(
            {
                3: page(f"{SHEET} /Annots [{'5 0 R ' * 16_000}]"),
                5: "<< /Subtype /Stamp /F 4 /Rect [0 0 595 842] /AP << /N 9 0 R >> >>",
                9: packed(b"0 0 595 842 re f " * 200, FORM),
            }
        ),
        "reading stopped after 500,000 painted things",
    ),
}  # fmt: skip
