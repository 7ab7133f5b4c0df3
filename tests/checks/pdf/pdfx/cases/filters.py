"""Files whose streams are compressed in ways that a level does not take."""

from typing import Final

import pikepdf
from pikepdf import Array, Dictionary, Name, Stream

from hotfolder.checks.shared.pdfx_levels import ALL, X4, Level
from tests.checks.pdf.pdfx.cases.case import Case

_X1A_2001: Final = frozenset({Level.X1A_2001})

# The codes "clear" (256) and "end" (257) in nine bits each: no data, compressed by LZW
NOTHING_BY_LZW: Final = bytes([0b1000_0000, 0b0100_0000, 0b0100_0000])


def unused_stream(pdf: pikepdf.Pdf, *filters: str, data: bytes = b"") -> Stream:
    """A stream in the file that no page uses, reached from the catalog, its data as `filters` have them."""
    stream = Stream(pdf, b"")
    stream.write(data, filter=Array([Name(f"/{each}") for each in filters]))
    pdf.Root.PieceInfo = Dictionary(Maker=Dictionary(Private=pdf.make_indirect(stream)))
    return stream


def _by_lzw(pdf: pikepdf.Pdf) -> None:
    unused_stream(pdf, "LZWDecode", data=NOTHING_BY_LZW)


def _inline_by_lzw(pdf: pikepdf.Pdf) -> None:
    # one white pixel: clear, the byte 255, end
    pixel = bytes([0b1000_0000, 0b0011_1111, 0b1110_0000, 0b0010_0000])
    content = pdf.pages[1].obj.Contents
    content.write(content.read_bytes() + b"\nBI /W 1 /H 1 /CS /G /BPC 8 /F /LZW ID " + pixel + b"\nEI")


def _by_jbig2(pdf: pikepdf.Pdf) -> None:
    unused_stream(pdf, "JBIG2Decode")


def _by_jpeg_2000(pdf: pikepdf.Pdf) -> None:
    unused_stream(pdf, "JPXDecode")


def _enciphered(pdf: pikepdf.Pdf) -> None:
    unused_stream(pdf, "Crypx").DecodeParms = Array([Dictionary(Name=Name("/Safe"))])


def _not_enciphered(pdf: pikepdf.Pdf) -> None:
    unused_stream(pdf, "Crypx").DecodeParms = Array([Dictionary(Name=Name.Identity)])


def _as_crypt(data: bytes) -> bytes:
    """Puts the filter's name in: qpdf leaves it out of what it writes."""
    return data.replace(b"/Crypx", b"/Crypt")


def _by_what_nobody_knows(pdf: pikepdf.Pdf) -> None:
    unused_stream(pdf, "ZipDecode")


def _text_as_a_fax(pdf: pikepdf.Pdf) -> None:
    unused_stream(pdf, "CCITTFaxDecode")


CASES: Final = (
    Case("lzw-filter", "a stream that no page uses", _by_lzw),
    Case("lzw-filter", "a picture within the content", _inline_by_lzw),
    Case("jbig2-filter", "a stream that no page uses", _by_jbig2, levels=ALL - X4),
    Case("jpeg-2000-filter", "a stream that no page uses", _by_jpeg_2000, levels=ALL - X4),
    Case("crypt-filter", "a filter of its own", _enciphered, afterwards=_as_crypt),
    Case(
        "crypt-filter", "a filter that does nothing", _not_enciphered, levels=ALL - X4, afterwards=_as_crypt
    ),
    Case("unknown-filter", "a filter that is none of PDF", _by_what_nobody_knows),
    Case("picture-filter-elsewhere", "a stream packed as a fax", _text_as_a_fax, levels=_X1A_2001),
)
