# Writes PDF files object by object, so that tests can also write wrong ones.

import io
import zlib
from pathlib import Path

import pikepdf

CATALOG = "<< /Type /Catalog /Pages 2 0 R >>"
PAGES = "<< /Type /Pages /Kids [3 0 R] /Count 1 >>"
PAGE = "<< /Type /Page /Parent 2 0 R /MediaBox [0 0 300 400] >>"


def raw_pdf(objects: dict[int, str | bytes] | None = None, trailer: str = "", version: str = "1.7") -> bytes:
    """A PDF of the given objects over a catalog (1), a page tree (2) and one page (3)."""
    bodies: dict[int, str | bytes] = {1: CATALOG, 2: PAGES, 3: PAGE}
    bodies |= objects or {}
    data = f"%PDF-{version}\n%\xe2\xe3\xcf\xd3\n".encode("latin-1")
    offsets = {}
    for number, body in sorted(bodies.items()):
        offsets[number] = len(data)
        text = body if isinstance(body, bytes) else body.encode("latin-1")
        data += f"{number} 0 obj\n".encode() + text + b"\nendobj\n"
    start, size = len(data), max(bodies) + 1
    data += f"xref\n0 {size}\n".encode()
    for number in range(size):
        used = number in offsets
        data += f"{offsets.get(number, 0):010} {0 if used else 65535:05} {'n' if used else 'f'} \n".encode()
    return data + f"trailer\n<< /Size {size} /Root 1 0 R {trailer} >>\nstartxref\n{start}\n%%EOF\n".encode(
        "latin-1"
    )


def page(entries: str) -> str:
    """A page dictionary with `entries` beside its type and parent."""
    return f"<< /Type /Page /Parent 2 0 R {entries} >>"


def stream(data: bytes, entries: str = "") -> bytes:
    """A stream object with its length."""
    return f"<< /Length {len(data)} {entries} >>\nstream\n".encode("latin-1") + data + b"\nendstream"


def deflated(data: bytes, entries: str = "") -> bytes:
    """A stream object, compressed."""
    return stream(zlib.compress(data), f"/Filter /FlateDecode {entries}")


def open_raw(objects: dict[int, str | bytes] | None = None, trailer: str = "") -> pikepdf.Pdf:
    """The PDF that `raw_pdf` writes, open."""
    return pikepdf.open(
        io.BytesIO(raw_pdf(objects, trailer)), suppress_warnings=True, inherit_page_attributes=False
    )


def the_page(pdf: pikepdf.Pdf) -> pikepdf.Dictionary:
    """The one page of a PDF that was made here, as the file has it."""
    found = pdf.get_object(3, 0)
    assert isinstance(found, pikepdf.Dictionary)
    return found


def write_raw(
    path: Path, objects: dict[int, str | bytes] | None = None, trailer: str = "", version: str = "1.7"
) -> Path:
    """The PDF that `raw_pdf` writes, as a file at `path`."""
    path.write_bytes(raw_pdf(objects, trailer, version))
    return path
