"""Ten typical pieces of artwork: eight made here, two by other programs."""

import io
import random
from collections.abc import Iterator
from pathlib import Path
from typing import Final

import pikepdf
from pikepdf import Array, Dictionary, Name
from PIL import Image, ImageFilter

from tests.producers import produced_files

_A4: Final = (595.276, 841.89)
_A5: Final = (419.528, 595.276)
_CARD: Final = (240.945, 155.906)
_BLEED: Final = 8.504


def write_pieces(folder: Path, share: float = 1.0) -> dict[str, Path]:
    """Writes the pieces into `folder`; what they are, and where. share: how much of large ones."""
    pages, paths, symbols, lines = (round(share * full) for full in (200, 30_000, 20_000, 60_000))
    made = {
        "business card": _card(),
        "flyer with a photo": _flyer(),
        "brochure, 8 pages": _brochure(),
        f"book, {pages} pages": _book(pages),
        f"illustration, {paths:,} paths": _illustration(paths),
        f"map, {symbols:,} symbols": _map(symbols),
        f"technical drawing, {lines:,} lines": _drawing(lines),
        "catalogue, 24 pages, 288 pictures": _catalogue(),
    }
    found = {}
    for number, (what, data) in enumerate(made.items()):
        found[what] = folder / f"piece{number}.pdf"
        found[what].write_bytes(data)
    by_others = {path.stem: path for path in produced_files()}
    return found | {f"leaflet by {name}": by_others[name] for name in ("libreoffice", "pdflatex")}


class Piece:
    """A PDF under construction, with an embedded font that another program put into its file."""

    def __init__(self, size: tuple[float, float]) -> None:
        self.pdf = pikepdf.new()
        self.width, self.height = (extent + 2 * _BLEED for extent in size)
        self.chance = random.Random(7)  # the same piece each time
        self._size = size
        with pikepdf.open(next(path for path in produced_files() if path.stem == "pdflatex")) as other:
            found = next(iter(other.pages[0].resources.Font.values()))
            self.font = self.pdf.copy_foreign(other.make_indirect(found))
        first = int(self.font.FirstChar)
        codes = [first + place for place, width in enumerate(self.font.Widths) if float(width) > 0]
        self._letters = bytes(code for code in codes if chr(code).isalpha()) or bytes(codes)

    def add_page(self, content: bytes, **resources: Dictionary) -> None:
        """Adds a page with bleed."""
        page = self.pdf.add_blank_page(page_size=(self.width, self.height))
        trim = Array([_BLEED, _BLEED, _BLEED + self._size[0], _BLEED + self._size[1]])
        page.obj.TrimBox, page.obj.BleedBox = trim, page.mediabox
        page.obj.Resources = Dictionary(Font=Dictionary(F=self.font))
        for category, entries in resources.items():
            page.obj.Resources[f"/{category}"] = entries
        page.obj.Contents = self.pdf.make_stream(content)

    def photo(self, pixels: int) -> pikepdf.Stream:
        """A photo, as JPEG in CMYK."""
        noise = Image.effect_noise((pixels, pixels), 60).filter(ImageFilter.GaussianBlur(3))
        file = io.BytesIO()
        Image.merge("CMYK", [noise] * 4).save(file, "JPEG", quality=85)
        made = pikepdf.Stream(self.pdf, file.getvalue())
        made.Type, made.Subtype, made.Filter = Name.XObject, Name.Image, Name.DCTDecode
        made.Width, made.Height, made.ColorSpace = pixels, pixels, Name.DeviceCMYK
        made.BitsPerComponent = 8
        return self.pdf.make_indirect(made)

    def lines(self, count: int, x: float, top: float, words: int = 9) -> bytes:
        """Lines of text as a program sets them: an array of strings and kerns each."""
        found = [b"BT /F 10 Tf 12 TL %.2f %.2f Td" % (x, top)]
        for _ in range(count):
            shown = b"".join(
                b"(%s)%d" % (bytes(self.chance.choices(self._letters, k=6)), -250) for _ in range(words)
            )
            found.append(b"[%s] TJ T*" % shown)
        return b"\n".join([*found, b"ET\n"])

    def data(self) -> bytes:
        """The file."""
        file = io.BytesIO()
        self.pdf.save(file, object_stream_mode=pikepdf.ObjectStreamMode.generate)
        return file.getvalue()


def _card() -> bytes:
    piece = Piece(_CARD)
    for _ in range(2):
        content = b"0.9 0.6 0 0.1 k 0 0 300 200 re f 0 0 0 0 k 40 40 m 60 90 90 90 99 40 c f\n"
        piece.add_page(content + b"0 0 0 1 k " + piece.lines(5, 120, 110, words=2))
    return piece.data()


def _flyer() -> bytes:
    piece = Piece(_A5)
    photo = b"q %.2f 0 0 %.2f 0 0 cm /Photo Do Q\n" % (piece.width, piece.height)
    content = photo + b"0 0 0 0 k " + piece.lines(25, 50, 500)
    piece.add_page(content, XObject=Dictionary(Photo=piece.photo(1800)))
    return piece.data()


def _brochure() -> bytes:
    piece = Piece(_A4)
    photo = piece.photo(900)
    for _ in range(8):
        columns = piece.lines(55, 50, 780, words=5) + piece.lines(35, 310, 520, words=5)
        content = b"q 240 0 0 240 310 540 cm /Photo Do Q 0.3 0.2 0 0 k 40 30 510 6 re f 0 0 0 1 k\n" + columns
        piece.add_page(content, XObject=Dictionary(Photo=photo))
    return piece.data()


def _book(pages: int) -> bytes:
    piece = Piece(_A5)
    for _ in range(pages):
        piece.add_page(piece.lines(38, 60, 540, words=8))
    return piece.data()


def _illustration(paths: int) -> bytes:
    piece = Piece(_A4)
    piece.add_page(b"".join(_petals(piece, paths)))
    return piece.data()


def _petals(piece: Piece, count: int) -> Iterator[bytes]:
    for _ in range(count):
        x, y = piece.chance.uniform(0, piece.width), piece.chance.uniform(0, piece.height)
        near = [each + piece.chance.uniform(-20, 20) for each in (x, y) * 6]
        yield b"%.2f %.2f %.2f 0 k " % tuple(piece.chance.random() for _ in range(3))
        yield b"%.2f %.2f m %.2f %.2f %.2f %.2f %.2f %.2f c %.2f %.2f %.2f %.2f %.2f %.2f c h f\n" % (
            x,
            y,
            *near,
        )


def _map(symbols: int) -> bytes:
    piece = Piece(_A4)
    symbol = piece.pdf.make_stream(b"0 0 0 1 k 0.3 w 0 0 6 6 re S 1 1 m 5 5 l 1 5 m 5 1 l S")
    symbol.Type, symbol.Subtype, symbol.BBox = Name.XObject, Name.Form, Array([-1, -1, 7, 7])
    content = []
    for _ in range(symbols):
        x, y = piece.chance.uniform(0, piece.width), piece.chance.uniform(0, piece.height)
        content.append(b"q 1 0 0 1 %.2f %.2f cm /Symbol Do Q\n" % (x, y))
    piece.add_page(b"".join(content), XObject=Dictionary(Symbol=symbol))
    return piece.data()


def _drawing(lines: int) -> bytes:
    piece = Piece(_A4)
    content = [b"0 0 0 1 K 0.25 w\n"]
    for _ in range(lines):
        x, y = piece.chance.uniform(0, piece.width), piece.chance.uniform(0, piece.height)
        content.append(b"%.2f %.2f m %.2f %.2f l S\n" % (x, y, x + piece.chance.uniform(-9, 9), y + 3))
    piece.add_page(b"".join(content))
    return piece.data()


def _catalogue() -> bytes:
    piece = Piece(_A4)
    for _ in range(24):
        content, photos = [], Dictionary()
        for place in range(12):
            photos[f"/Photo{place}"] = piece.photo(200)
            x, y = 50 + place % 3 * 175, 640 - place // 3 * 190
            content.append(
                b"q %d %d 150 110 re W n 150 0 0 150 %d %d cm /Photo%d Do Q\n" % (x, y, x, y - 20, place)
            )
            content.append(piece.lines(4, x, y - 15, words=3))
        piece.add_page(b"".join(content), XObject=photos)
    return piece.data()
