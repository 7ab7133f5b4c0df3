"""Bad files, made by code: each is something that has stopped a watcher somewhere."""

import io
import struct
import zlib

import pikepdf

from tests.journeys.real_studio import office_pdf


def saved(pdf: pikepdf.Pdf, **options: object) -> bytes:
    buffer = io.BytesIO()
    pdf.save(buffer, **options)  # type: ignore[arg-type]  # passes pikepdf's own keywords through
    return buffer.getvalue()


def encrypted(user: str) -> bytes:
    pdf = pikepdf.open(io.BytesIO(office_pdf("encrypted")))
    return saved(pdf, encryption=pikepdf.Encryption(owner="owner", user=user))


def page_tree_that_loops() -> bytes:
    pdf = pikepdf.open(io.BytesIO(office_pdf("loop")))
    pdf.Root.Pages.Kids.append(pdf.Root.Pages)
    return saved(pdf)


def form_that_draws_itself() -> bytes:
    pdf = pikepdf.open(io.BytesIO(office_pdf("form")))
    form = pdf.make_stream(b"0 g 0 0 9 9 re f /Me Do")
    form.Type, form.Subtype = pikepdf.Name.XObject, pikepdf.Name.Form
    form.BBox = [0, 0, 100, 100]
    form.Resources = pikepdf.Dictionary(XObject=pikepdf.Dictionary(Me=form))
    page = pdf.pages[0]
    page.obj.Resources = pikepdf.Dictionary(XObject=pikepdf.Dictionary(Me=form))
    page.contents_add(b"/Me Do")
    return saved(pdf)


def vast_png(side_px: int = 30_000) -> bytes:
    """A grey PNG of `side_px` squared in about a kilobyte for each million pixels."""

    def chunk(kind: bytes, data: bytes) -> bytes:
        return struct.pack(">I", len(data)) + kind + data + struct.pack(">I", zlib.crc32(kind + data))

    header = struct.pack(">IIBBBBB", side_px, side_px, 8, 0, 0, 0, 0)
    packer = zlib.compressobj(9)
    row = bytes(side_px + 1)
    rows = b"".join(packer.compress(row) for _ in range(side_px)) + packer.flush()
    return b"\x89PNG\r\n\x1a\n" + chunk(b"IHDR", header) + chunk(b"IDAT", rows) + chunk(b"IEND", b"")


def slow_pdf(operators: int = 150_000) -> bytes:
    """A sound page that takes a while to measure."""
    pdf = pikepdf.open(io.BytesIO(office_pdf("slow")))
    pdf.pages[0].contents_add(b"10 10 m 20 20 30 30 40 10 c S\n" * operators)
    return saved(pdf, compress_streams=True)
