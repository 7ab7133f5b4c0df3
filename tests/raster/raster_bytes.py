"""Picture files made byte by byte, so that each header field can be set to anything."""

import io
import struct
import zlib
from collections.abc import Sequence
from pathlib import Path

from PIL import Image, ImageCms

from hotfolder.measure.raster import measure_raster
from hotfolder.model.artwork import Artwork
from hotfolder.model.facts import FileFacts, Format
from hotfolder.model.raster import RasterFacts
from hotfolder.raster.headers.picture import HeaderReading, PictureHeader
from hotfolder.raster.headers.source import ByteSource

ENDINGS = {Format.JPEG: "jpg", Format.TIFF: "tif", Format.PNG: "png", Format.PSD: "psd"}


def source(data: bytes) -> ByteSource:
    return ByteSource.of(data)


def only(reading: HeaderReading) -> PictureHeader:
    """The one picture of a reading."""
    (picture,) = reading.pictures
    return picture


def measured(folder: Path, data: bytes, form: Format) -> Artwork:
    """The artwork that `data` gives as a file of `form`."""
    path = folder / f"picture.{ENDINGS[form]}"
    path.write_bytes(data)
    return measure_raster(path, FileFacts(path.name, len(data), "", form))


def raster(artwork: Artwork) -> RasterFacts:
    """The header facts of the first page."""
    facts = artwork.known_pages[0].raster
    assert facts is not None
    return facts


def noise(mode: str, size: tuple[int, int]) -> Image.Image:
    """A picture that does not compress away, the same each time."""
    width, height = size
    samples = width * height * len(Image.new(mode, (1, 1)).getbands())
    state, data = 1, bytearray()
    for _ in range(samples):
        state = state * 1103515245 + 12345 & 0x7FFFFFFF
        data.append(state >> 16 & 0xFF)
    return Image.frombytes(mode, size, bytes(data))


def saved(image: Image.Image, form: str, **options: object) -> bytes:
    """What Pillow writes for `image`."""
    out = io.BytesIO()
    image.save(out, form, **options)
    return out.getvalue()


def srgb_profile() -> bytes:
    """A small ICC profile of version 4 (LittleCMS makes it)."""
    return ImageCms.ImageCmsProfile(ImageCms.createProfile("sRGB")).tobytes()


# JPEG (ITU-T T.81, annex B)


def segment(marker: int, body: bytes) -> bytes:
    return struct.pack(">BBH", 0xFF, marker, len(body) + 2) + body


def jfif(unit: int, x: int, y: int) -> bytes:
    return segment(0xE0, b"JFIF\0\1\2" + struct.pack(">BHHBB", unit, x, y, 0, 0))


def bare_jpeg(image: Image.Image, *segments: bytes, **options: object) -> bytes:
    """A JPEG file with exactly these application segments, Pillow's own JFIF segment taken out."""
    data = saved(image, "JPEG", **options)
    assert data[:4] == b"\xff\xd8\xff\xe0" or image.mode == "CMYK"
    rest = data[4 + int.from_bytes(data[4:6], "big") :] if data[3] == 0xE0 else data[2:]
    return b"\xff\xd8" + b"".join(segments) + rest


# TIFF (TIFF 6.0, section 2), for Exif blocks too

SHORT, LONG, RATIONAL, UNDEFINED, ASCII = 3, 4, 5, 7, 2
Field = tuple[int, int, Sequence[int] | bytes]  # tag, type, values


def directory(fields: Sequence[Field], at: int, order: str = "<", following: int = 0) -> bytes:
    """A directory that is to lie at offset `at`, with its values behind it."""
    codes = {SHORT: "H", LONG: "I", RATIONAL: "I"}
    table, tail = b"", b""
    tail_at = at + 2 + 12 * len(fields) + 4
    for tag, kind, values in sorted(fields, key=lambda item: item[0]):
        if isinstance(values, bytes):
            count, body = len(values), values
        else:
            count = len(values) // (2 if kind == RATIONAL else 1)
            body = struct.pack(f"{order}{len(values)}{codes[kind]}", *values)
        if len(body) <= 4:
            cell = body.ljust(4, b"\0")
        else:
            cell = struct.pack(order + "I", tail_at + len(tail))
            tail += body + b"\0" * (len(body) % 2)
        table += struct.pack(order + "HHI", tag, kind, count) + cell
    return struct.pack(order + "H", len(fields)) + table + struct.pack(order + "I", following) + tail


def tiff_header(order: str, first: int) -> bytes:
    return (b"II" if order == "<" else b"MM") + struct.pack(order + "HI", 42, first)


def exif_block(*fields: Field, order: str = "<") -> bytes:
    return tiff_header(order, 8) + directory(fields, 8, order)


def tiff(*pages: tuple[Sequence[Field], bytes], order: str = "<") -> bytes:
    """A TIFF file of pages; each brings its fields (offsets and byte counts are filled in) and one strip."""
    data = tiff_header(order, 8)
    for number, (fields, pixels) in enumerate(pages, start=1):
        at = len(data)
        blank = [*fields, (273, LONG, [0]), (279, LONG, [len(pixels)])]
        length = len(directory(blank, at, order))
        strip = at + length
        end = strip + len(pixels) + len(pixels) % 2
        filled = [*fields, (273, LONG, [strip]), (279, LONG, [len(pixels)])]
        data += directory(filled, at, order, following=end if number < len(pages) else 0)
        data += pixels + b"\0" * (len(pixels) % 2)
    return data


def plain_fields(width: int, height: int, photometric: int, bits: Sequence[int]) -> list[Field]:
    """The fields that every picture needs: one strip of unpacked samples."""
    return [
        (256, LONG, [width]),
        (257, LONG, [height]),
        (258, SHORT, bits),
        (259, SHORT, [1]),
        (262, SHORT, [photometric]),
        (277, SHORT, [len(bits)]),
        (278, LONG, [height]),
    ]


# PNG (third edition, clause 5)


def chunk(name: bytes, body: bytes) -> bytes:
    return struct.pack(">I", len(body)) + name + body + struct.pack(">I", zlib.crc32(name + body))


def png(
    size: tuple[int, int] = (6, 4),
    kind: int = 2,
    depth: int = 8,
    *extra: bytes,
    interlaced: bool = False,
    pixels: bytes | None = None,
) -> bytes:
    """A PNG file, by default of zeros, with `extra` chunks before its pixels."""
    width, height = size
    channels = {0: 1, 2: 3, 3: 1, 4: 2, 6: 4}[kind]
    if pixels is None:
        pixels = bytes(height * (1 + (width * depth * channels + 7) // 8))
    header = struct.pack(">IIBBBBB", width, height, depth, kind, 0, 0, int(interlaced))
    palette = chunk(b"PLTE", b"\0\0\0\xff\xff\xff") if kind == 3 else b""
    return (
        b"\x89PNG\r\n\x1a\n"
        + chunk(b"IHDR", header)
        + b"".join(extra)
        + palette
        + chunk(b"IDAT", zlib.compress(pixels))
        + chunk(b"IEND", b"")
    )


def phys(x: int, y: int, unit: int = 1) -> bytes:
    return chunk(b"pHYs", struct.pack(">IIB", x, y, unit))


# Layered files


def resource(ident: int, body: bytes) -> bytes:
    return b"8BIM" + struct.pack(">HHI", ident, 0, len(body)) + body + b"\0" * (len(body) % 2)


def resolution_info(x: float, y: float, shown: int = 1) -> bytes:
    return resource(
        1005, struct.pack(">IHHIHH", round(x * 65536), shown, shown, round(y * 65536), shown, shown)
    )


def packed(row: bytes) -> bytes:
    """`row` in PackBits, as literals of up to 128 bytes."""
    parts = [row[at : at + 128] for at in range(0, len(row), 128)]
    return b"".join(bytes([len(part) - 1]) + part for part in parts)


def psd(
    size: tuple[int, int] = (5, 3),
    mode: int = 4,
    channels: int = 4,
    *resources: bytes,
    depth: int = 8,
    layers: int | None = None,
    before_layers: bytes = b"",
    run_length: bool = True,
    large: bool = False,
    last_plane: tuple[bytes, ...] = (),
) -> bytes:
    """A layered file whose layers are counted and not there; its flat picture is grey.

    last_plane: rows to put in place of those of the last channel.
    """
    width, height = size
    wide = ">Q" if large else ">I"
    head = b"8BPS" + struct.pack(">H6xHIIHH", 2 if large else 1, channels, height, width, depth, mode)
    block = b"".join(resources)
    if layers is None:
        section = struct.pack(wide, 0)
    elif depth == 16:
        key = b"8BIMLr16" + struct.pack(wide, 4) + struct.pack(">hxx", layers)
        body = struct.pack(wide, 0) + struct.pack(">I", 0) + before_layers + key
        section = struct.pack(wide, len(body)) + body
    else:
        body = struct.pack(wide, 2) + struct.pack(">h", layers)
        section = struct.pack(wide, len(body)) + body
    row = b"\x7f" * ((width * depth + 7) // 8)
    rows = [row] * (height * channels - len(last_plane)) + list(last_plane)
    if run_length:
        runs = [packed(each) for each in rows]
        table = struct.pack(f">{len(rows)}{'I' if large else 'H'}", *map(len, runs))
        flat = struct.pack(">H", 1) + table + b"".join(runs)
    else:
        flat = struct.pack(">H", 0) + b"".join(rows)
    palette = bytes(768) if mode == 2 else b""
    return (
        head
        + struct.pack(">I", len(palette))
        + palette
        + struct.pack(">I", len(block))
        + block
        + section
        + flat
    )
