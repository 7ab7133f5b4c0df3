# Formats are told by content, never by name.

import io
from pathlib import Path

import pytest
from PIL import Image

from hotfolder.measure import recognise
from hotfolder.model.facts import Format


def picture(format_: str, **options: object) -> bytes:
    """A small picture as Pillow, an independent writer, saves it."""
    file = io.BytesIO()
    Image.new("RGB", (3, 2)).save(file, format_, **options)
    return file.getvalue()


@pytest.mark.parametrize(
    ("data", "expected"),
    [
        (b"%PDF-1.4\n", Format.PDF),
        (b"\0" * 1024 + b"%PDF-1.4\n", Format.PDF),
        (b"HTTP/1.1 200 OK\r\n\r\n%PDF-1.7", Format.PDF),
        (b"\0" * 1025 + b"%PDF-1.4\n", None),
        (b"%PDX-1.4\n", None),
        (b"8BPS\0\x01" + bytes(20), Format.PSD),
        (b"8BPS\0\x02" + bytes(20), Format.PSD),
        (b"8BPS\0\x03" + bytes(20), None),
        (b"II*\0\x08\0\0\0", Format.TIFF),
        (b"MM\0*\0\0\0\x08", Format.TIFF),
        (b"II+\0\x08\0\0\0" + bytes(8), Format.TIFF),
        (b"MM\0+\0\x08\0\0" + bytes(8), Format.TIFF),
        (b"II", None),
        (b"", None),
        (b"PK\x03\x04 an office file", None),
        (b"%!PS-Adobe-3.0 EPSF-3.0\n", None),
        (picture("JPEG"), Format.JPEG),
        (picture("TIFF"), Format.TIFF),
        (picture("TIFF", big_tiff=True), Format.TIFF),
        (picture("PNG"), Format.PNG),
        (picture("PDF"), Format.PDF),
        (picture("GIF"), None),
        (picture("BMP"), None),
    ],
)
def test_a_format_is_told_by_its_first_bytes(tmp_path: Path, data: bytes, expected: Format | None) -> None:
    file = tmp_path / "flyer.png"
    file.write_bytes(data)
    assert recognise(file) is expected
