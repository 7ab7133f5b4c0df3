"""Ten typical pieces for a whole check, each with the rule set that it would be judged by."""

import io
from collections.abc import Callable, Iterator
from dataclasses import dataclass
from pathlib import Path
from typing import Final

import pikepdf
from pikepdf import Array, Dictionary, Name
from PIL import Image, ImageDraw, ImageFilter

from tests.bench.pieces import Piece
from tests.producers import produced_files

_A2: Final = (1190.551, 1683.78)
_A3: Final = (841.89, 1190.551)
_A4: Final = (595.276, 841.89)
_A5: Final = (419.528, 595.276)
_A6: Final = (297.638, 419.528)
_CARD: Final = (240.945, 155.906)


@dataclass(frozen=True, slots=True)
class Job:
    """A piece and the shipped rule set that it goes by."""

    what: str
    path: Path
    rules: str


def write_jobs(folder: Path, share: float = 1.0) -> tuple[Job, ...]:
    """Writes the pieces into `folder`. share: how fine pictures are and how full drawings."""
    made: tuple[tuple[str, str, Callable[[float], bytes]], ...] = (
        ("A5 flyer, 2 pages, photo of 300 ppi", "flyer-offset-coated", _flyer),
        ("A2 poster, screen photo of 200 ppi", "poster", _poster),
        ("brochure, 24 pages A4", "brochure-saddle-stitched", _brochure),
        ("map, A3, 10,000 signs, no pictures", "flyer-offset-coated", _map),
        ("business cards with a spot ink", "business-card", _cards),
        ("magazine page, shadows and opacity", "magazine-ad", _magazine_page),
        ("catalogue, 8 pages, 96 pictures", "brochure-saddle-stitched", _catalogue),
        ("postcard, gradients", "flyer-offset-uncoated", _postcard),
    )
    jobs = []
    for number, (what, rules, make) in enumerate(made):
        path = folder / f"job{number}.pdf"
        path.write_bytes(make(share))
        jobs.append(Job(what, path, rules))
    by_others = {path.stem: path for path in produced_files()}
    names = ("chromium", "libreoffice")
    others = [Job(f"leaflet by {name}", by_others[name], "flyer-offset-coated") for name in names]
    return (*jobs, *others)


def _photo(piece: Piece, width: int, height: int, mode: str = "CMYK") -> pikepdf.Stream:
    """A photo's worth of detail, as JPEG: each channel another picture, with grain."""
    channels = [
        Image.effect_noise((width // 8 + 1, height // 8 + 1), 90 + 20 * number)
        .filter(ImageFilter.GaussianBlur(4))
        .resize((width, height), Image.Resampling.BICUBIC)
        for number in range(len(mode))
    ]
    channels[-1] = Image.blend(channels[-1], Image.effect_noise((width, height), 30), 0.2)
    file = io.BytesIO()
    Image.merge(mode, channels).save(file, "JPEG", quality=88)
    made = pikepdf.Stream(piece.pdf, file.getvalue())
    made.Type, made.Subtype, made.Filter = Name.XObject, Name.Image, Name.DCTDecode
    made.Width, made.Height, made.BitsPerComponent = width, height, 8
    made.ColorSpace = {"CMYK": Name.DeviceCMYK, "RGB": Name.DeviceRGB}[mode]
    return piece.pdf.make_indirect(made)


def _over_the_page(piece: Piece, name: str) -> bytes:
    return b"q %.2f 0 0 %.2f 0 0 cm /%s Do Q\n" % (piece.width, piece.height, name.encode())


def _flyer(share: float) -> bytes:
    piece = Piece(_A5)
    photo = _photo(piece, round(1819 * share), round(2551 * share))
    front = _over_the_page(piece, "Photo") + b"0 0 0 0 k " + piece.lines(6, 50, 500, words=4)
    piece.add_page(front, XObject=Dictionary(Photo=photo))
    back = b"0.1 0.05 0.1 0 k 0 0 %.2f %.2f re f 0 0 0 1 k " % (piece.width, piece.height)
    piece.add_page(back + piece.lines(30, 50, 540, words=6))
    return piece.data()


def _poster(share: float) -> bytes:
    piece = Piece(_A2)
    photo = _photo(piece, round(3354 * share), round(4724 * share), "RGB")
    content = (
        _over_the_page(piece, "Photo")
        + b"0 0 0 0 k 80 80 600 260 re f 0 0 0 1 k "
        + piece.lines(12, 100, 300)
    )
    piece.add_page(content, XObject=Dictionary(Photo=photo))
    return piece.data()


def _brochure(share: float) -> bytes:
    piece = Piece(_A4)
    side = round(1000 * share)
    photos = [_photo(piece, side, side) for _ in range(6)]
    for page in range(24):
        columns = piece.lines(55, 50, 780, words=5) + piece.lines(35, 310, 520, words=5)
        content = b"q 240 0 0 240 310 540 cm /Photo Do Q 0.3 0.2 0 0 k 40 30 510 6 re f 0 0 0 1 k\n" + columns
        piece.add_page(content, XObject=Dictionary(Photo=photos[page % 6]))
    return piece.data()


def _map(share: float) -> bytes:
    piece = Piece(_A3)
    sign = piece.pdf.make_stream(b"0 0 0 1 k 0.3 w 0 0 6 6 re S 1 1 m 5 5 l 1 5 m 5 1 l S")
    sign.Type, sign.Subtype, sign.BBox = Name.XObject, Name.Form, Array([-1, -1, 7, 7])
    piece.add_page(b"".join(_land(piece, share)), XObject=Dictionary(Sign=sign))
    return piece.data()


def _land(piece: Piece, share: float) -> Iterator[bytes]:
    def anywhere() -> tuple[float, float]:
        return piece.chance.uniform(0, piece.width), piece.chance.uniform(0, piece.height)

    yield b"0.2 0 0.3 0 k 0 0 %.2f %.2f re f\n" % (piece.width, piece.height)
    for _ in range(round(2000 * share)):
        x, y = anywhere()
        near = [each + piece.chance.uniform(-30, 30) for each in (x, y) * 6]
        yield b"%.2f %.2f %.2f 0 k " % tuple(0.6 * piece.chance.random() for _ in range(3))
        yield b"%.2f %.2f m %.2f %.2f %.2f %.2f %.2f %.2f c %.2f %.2f %.2f %.2f %.2f %.2f c h f\n" % (
            x,
            y,
            *near,
        )
    yield b"0 0.6 0.8 0 K 0.6 w\n"
    for _ in range(round(3000 * share)):
        x, y = anywhere()
        yield b"%.2f %.2f m %.2f %.2f l S\n" % (x, y, x + piece.chance.uniform(-40, 40), y + 25)
    for _ in range(round(10_000 * share)):
        yield b"q 1 0 0 1 %.2f %.2f cm /Sign Do Q\n" % anywhere()
    yield piece.lines(max(1, round(40 * share)), 60, piece.height - 60, words=3)


def _cards(_: float) -> bytes:
    piece = Piece(_CARD)
    tint = Dictionary(
        FunctionType=2, Domain=Array([0, 1]), C0=Array([0] * 4), C1=Array([0, 0.7, 0.9, 0]), N=1
    )
    ink = Array([Name.Separation, Name("/Lantern Red"), Name.DeviceCMYK, tint])
    for _side in range(2):
        content = b"/Ink cs 1 scn 0 0 300 200 re f 0 0 0 0 k 40 40 m 60 90 90 90 99 40 c f\n"
        piece.add_page(
            content + b"0 0 0 1 k " + piece.lines(5, 120, 110, words=2), ColorSpace=Dictionary(Ink=ink)
        )
    return piece.data()


def _magazine_page(share: float) -> bytes:
    """A photo, a box of text at 80 %, two pictures with soft shadows multiplied on it."""
    piece = Piece(_A4)
    photo = _photo(piece, round(2551 * share), round(3579 * share))
    small = _photo(piece, round(900 * share), round(600 * share), "RGB")
    side = max(8, round(400 * share))
    blurred = Image.new("L", (side, side))
    ImageDraw.Draw(blurred).rectangle((side // 8, side // 8, side * 7 // 8, side * 7 // 8), fill=180)
    blurred = blurred.filter(ImageFilter.GaussianBlur(side / 20))
    mask = piece.pdf.make_stream(blurred.tobytes())
    mask.Type, mask.Subtype, mask.ColorSpace = Name.XObject, Name.Image, Name.DeviceGray
    mask.Width = mask.Height = side
    mask.BitsPerComponent = 8
    shadow = piece.pdf.make_stream(bytes([0, 0, 0, 255]))
    shadow.Type, shadow.Subtype, shadow.ColorSpace = Name.XObject, Name.Image, Name.DeviceCMYK
    shadow.Width = shadow.Height = 1
    shadow.BitsPerComponent, shadow.SMask = 8, mask
    content = _over_the_page(piece, "Photo") + b"q /Veil gs 0 0 0 0 k 50 60 300 500 re f Q 0 0 0 1 k "
    content += piece.lines(38, 65, 540, words=5)
    for x, y in ((380, 120), (380, 420)):
        content += b"q /Dark gs 200 0 0 160 %d %d cm /Shadow Do Q q 170 0 0 120 %d %d cm /Small Do Q\n" % (
            x - 10, y - 25, x, y,
        )  # fmt: skip
    states = Dictionary(Veil=Dictionary(ca=0.8), Dark=Dictionary(BM=Name.Multiply))
    pictures = Dictionary(Photo=photo, Small=small, Shadow=shadow)
    piece.add_page(content, XObject=pictures, ExtGState=states)
    return piece.data()


def _catalogue(share: float) -> bytes:
    piece = Piece(_A4)
    side = round(600 * share)
    for _ in range(8):
        content, photos = [], Dictionary()
        kept = [_photo(piece, side, side) for _ in range(3)]
        for place in range(12):
            photos[f"/Photo{place}"] = kept[place % 3]
            x, y = 50 + place % 3 * 175, 640 - place // 3 * 190
            content.append(
                b"q %d %d 150 110 re W n 150 0 0 150 %d %d cm /Photo%d Do Q\n" % (x, y, x, y - 20, place)
            )
            content.append(piece.lines(4, x, y - 15, words=3))
        piece.add_page(b"".join(content), XObject=photos)
    return piece.data()


def _postcard(_: float) -> bytes:
    piece = Piece(_A6)
    ramp = Dictionary(
        FunctionType=2, Domain=Array([0, 1]), C0=Array([0.9, 0.5, 0, 0.1]), C1=Array([0, 0.3, 0.8, 0]), N=1
    )
    sky = Dictionary(
        ShadingType=2, ColorSpace=Name.DeviceCMYK, Coords=Array([0, 0, 0, 430]), Function=ramp,
        Extend=Array([True, True]),
    )  # fmt: skip
    sun = Dictionary(
        ShadingType=3, ColorSpace=Name.DeviceCMYK, Coords=Array([150, 300, 0, 150, 300, 90]), Function=ramp
    )
    content = b"/Sky sh /Sun sh 0 0 0 0 k " + piece.lines(6, 60, 120, words=4)
    piece.add_page(content, Shading=Dictionary(Sky=sky, Sun=sun))
    piece.add_page(b"0 0 0 1 k " + piece.lines(20, 40, 380, words=4))
    return piece.data()
