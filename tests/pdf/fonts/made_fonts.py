# Makes small fonts of every kind that a PDF may hold, and the font dictionaries that use them.
#
# Each has the letters A (straight), O (round, a little below the line) and g (below the line, and
# further left than its origin), and a space. Figures are in thousandths of the em.

import io
import zlib
from collections.abc import Mapping

from fontTools import cffLib
from fontTools.fontBuilder import FontBuilder
from fontTools.misc import eexec
from fontTools.pens.cu2quPen import Cu2QuPen
from fontTools.pens.t2CharStringPen import T2CharStringPen
from fontTools.pens.ttGlyphPen import TTGlyphPen
from fontTools.ttLib import TTFont
from fontTools.ttLib.tables._c_m_a_p import CmapSubtable
from pikepdf import Array, Dictionary, Name, Pdf

Step = tuple[str, tuple[tuple[float, float], ...]]  # a pen's method and its points
Box = tuple[float, float, float, float]

_LETTERS: Mapping[str, tuple[Step, ...]] = {
    "A": (
        ("moveTo", ((20, 0),)), ("lineTo", ((580, 0),)), ("lineTo", ((300, 700),)), ("closePath", ()),
    ),
    "O": (
        ("moveTo", ((690, 350),)),
        ("curveTo", ((690, 549), (539, 710), (350, 710))), ("curveTo", ((161, 710), (10, 549), (10, 350))),
        ("curveTo", ((10, 151), (161, -10), (350, -10))), ("curveTo", ((539, -10), (690, 151), (690, 350))),
        ("closePath", ()),
    ),
    # Its lowest point lies within a curve.
    "g": (
        ("moveTo", ((-60, 0),)), ("curveTo", ((-60, -280), (480, -280), (480, 0))),
        ("lineTo", ((480, 500),)), ("lineTo", ((100, 500),)), ("closePath", ()),
    ),
    "space": (),
    ".notdef": (
        ("moveTo", ((50, 0),)), ("lineTo", ((450, 0),)), ("lineTo", ((450, 650),)), ("lineTo", ((50, 650),)),
        ("closePath", ()),
    ),
}  # fmt: skip
ORDER = (".notdef", "space", "A", "O", "g")
WIDTHS = {"A": 600, "O": 700, "g": 500, "space": 250, ".notdef": 500}
CODES = {32: "space", 65: "A", 79: "O", 103: "g"}
# What each letter inks, worked out by hand: a Bezier curve from 0 over -280 twice to 0 is lowest at
# three quarters of -280; the circle's curves turn at their ends.
INK: Mapping[str, Box] = {"A": (20, 0, 580, 700), "O": (10, -10, 690, 710), "g": (-60, -210, 480, 500)}


def truetype(
    cmap: Mapping[int, str] | None = None,
    *,
    tables: Mapping[tuple[int, int], Mapping[int, str]] | None = None,
) -> bytes:
    """A TrueType font. cmap: characters in a Unicode map; `tables` adds others by platform and encoding."""
    builder = FontBuilder(1000, isTTF=True)
    builder.setupGlyphOrder(list(ORDER))
    builder.setupGlyf({name: _quadratic(name) for name in ORDER})
    glyf = builder.font["glyf"]
    builder.setupHorizontalMetrics({name: (WIDTHS[name], getattr(glyf[name], "xMin", 0)) for name in ORDER})
    return _finished(builder, CODES if cmap is None else cmap, tables or {})


def truetype_with_accent() -> bytes:
    """A TrueType font in which the letter A is made of the old one and a half of it on top."""
    font = TTFont(io.BytesIO(truetype()))
    glyf = font["glyf"]
    glyf["O"] = glyf["A"]
    pen = TTGlyphPen(font.getGlyphSet())
    pen.addComponent("O", (1, 0, 0, 1, 0, 0))
    pen.addComponent("O", (0.5, 0, 0, 0.5, 100, 700))
    glyf["A"] = pen.glyph()
    return _saved(font)


def truetype_shifted() -> bytes:
    """A TrueType font whose letters begin 80 units to the right of what their outlines say."""
    font = TTFont(io.BytesIO(truetype()))
    metrics = font["hmtx"].metrics
    for name, (width, bearing) in list(metrics.items()):
        metrics[name] = (width, bearing + 80)
    return _saved(font)


def truetype_in_circles() -> bytes:
    """A TrueType font in which the letter A is made of O, and O of A."""
    font = TTFont(io.BytesIO(truetype()), recalcBBoxes=False)
    for name, part in (("A", "O"), ("O", "A")):
        pen = TTGlyphPen(dict.fromkeys(ORDER))
        pen.addComponent(part, (1, 0, 0, 1, 0, 0))
        glyph = pen.glyph()
        glyph.xMin = glyph.yMin = glyph.xMax = glyph.yMax = 0
        font["glyf"][name] = glyph
    return _saved(font)


def opentype() -> bytes:
    """An OpenType font with CFF outlines."""
    return _finished(_cff_builder(), CODES, {})


def cff(encoding: Mapping[int, str] | None = None) -> bytes:
    """A bare CFF font whose glyphs have names, and by default the standard encoding."""
    font = TTFont(io.BytesIO(opentype()))
    if encoding is not None:
        font["CFF "].cff[0].Encoding = [encoding.get(code, ".notdef") for code in range(256)]
    return _bare(font)


def cff_with_cids(cids: Mapping[str, int]) -> bytes:
    """A bare CFF font whose glyphs have CIDs."""
    font = TTFont(io.BytesIO(opentype()))
    fonts = font["CFF "].cff
    top = fonts[0]
    charstrings = {name: top.CharStrings[name] for name in ORDER}
    group = cffLib.FontDict()
    group.Private = top.Private
    groups = cffLib.FDArrayIndex()
    groups.append(group)
    chosen = cffLib.FDSelect(format=3)
    named = {name: ".notdef" if name == ".notdef" else f"cid{cids[name]:05}" for name in ORDER}
    top.ROS = ("Adobe", "Identity", 0)
    top.CIDCount = max(cids.values()) + 1
    top.FDArray, top.FDSelect = groups, chosen
    chosen.gidArray = [0] * len(ORDER)
    top.charset = [named[name] for name in ORDER]
    top.CharStrings = cffLib.CharStrings(None, top.charset, fonts.GlobalSubrs, None, chosen, groups)
    for name in ORDER:
        charstrings[name].fdSelectIndex = 0
        top.CharStrings.charStrings[named[name]] = charstrings[name]
    for key in ("Private", "Encoding"):
        top.rawDict.pop(key, None)
        if hasattr(top, key):
            delattr(top, key)
    return _bare(font)


def type1(
    *,
    encoding: Mapping[int, str] | None = None,
    matrix: str = "0.001 0 0 0.001 0 0",
    seed_bytes: str = "4",
) -> bytes:
    """A Type 1 font, written by hand (Adobe Type 1 Font Format, chapters 2, 6 and 7)."""
    charstrings = {name: _type1_charstring(name) for name in ORDER}
    return _type1(charstrings, bytes([11]), encoding, matrix, seed_bytes)


def type1_in_circles() -> bytes:
    """A Type 1 font in which all letters call a subroutine that calls itself."""
    call = _type1_number(0) + bytes([10])
    return _type1(dict.fromkeys(ORDER, call), call, None, "0.001 0 0 0.001 0 0")


def _type1(
    charstrings: Mapping[str, bytes],
    subroutine: bytes,
    encoding: Mapping[int, str] | None,
    matrix: str,
    seed_bytes: str = "4",
) -> bytes:
    lines = "\n".join(f"dup {code} /{name} put" for code, name in (encoding or {}).items())
    given = f"256 array\n0 1 255 {{1 index exch /.notdef put}} for\n{lines}\nreadonly def"
    clear = (
        f"%!PS-AdobeFont-1.0: Made\n/FontName /Made def\n/FontMatrix [{matrix}] readonly def\n"
        f"/Encoding {given if encoding is not None else 'StandardEncoding def'}\ncurrentfile eexec\n"
    )
    private = f"dup /Private 8 dict dup begin /lenIV {seed_bytes} def\n/Subrs 1 array\n".encode()
    private += _entry(b"dup 0", subroutine) + b"/CharStrings 5 dict dup begin\n"
    private += b"".join(_entry(b"/" + name.encode(), data) for name, data in charstrings.items())
    encrypted, _ = eexec.encrypt(b"0000" + private + b"end end mark currentfile closefile\n", 55665)
    return clear.encode() + bytes(encrypted) + b"\n" + b"0" * 64 + b"\ncleartomark\n"


def _entry(key: bytes, charstring: bytes) -> bytes:
    data, _ = eexec.encrypt(b"0000" + charstring, 4330)
    return key + b" %d RD " % len(data) + bytes(data) + b" NP\n"


def _type1_charstring(name: str) -> bytes:
    data = b"".join(map(_type1_number, (0, WIDTHS[name]))) + bytes([13])  # hsbw
    here = (0.0, 0.0)
    operators = {"moveTo": 21, "lineTo": 5, "curveTo": 8, "closePath": 9}
    for method, points in _LETTERS[name]:
        for x, y in points:
            data += _type1_number(x - here[0]) + _type1_number(y - here[1])
            here = x, y
        data += bytes([operators[method]])
    return data + bytes([14])  # endchar


def _type1_number(value: float) -> bytes:
    return b"\xff" + int(value).to_bytes(4, "big", signed=True)


def _cff_builder() -> FontBuilder:
    builder = FontBuilder(1000, isTTF=False)
    builder.setupGlyphOrder(list(ORDER))
    charstrings = {}
    for name in ORDER:
        pen = T2CharStringPen(WIDTHS[name], None)
        _draw(name, pen)
        charstrings[name] = pen.getCharString()
    builder.setupCFF("Made", {}, charstrings, {})
    builder.setupHorizontalMetrics({name: (WIDTHS[name], 0) for name in ORDER})
    return builder


def _quadratic(name: str) -> object:
    pen = TTGlyphPen(None)
    _draw(name, Cu2QuPen(pen, 0.5))
    return pen.glyph()


def _draw(name: str, pen: object) -> None:
    for method, points in _LETTERS[name]:
        getattr(pen, method)(*points)


def _finished(
    builder: FontBuilder, cmap: Mapping[int, str], tables: Mapping[tuple[int, int], Mapping[int, str]]
) -> bytes:
    builder.setupHorizontalHeader(ascent=800, descent=-250)
    builder.setupCharacterMap(dict(cmap))
    maps = builder.font["cmap"].tables
    if not cmap:
        maps.clear()
    for (platform, encoding), codes in tables.items():
        table = CmapSubtable.newSubtable(4)
        table.platformID, table.platEncID, table.language = platform, encoding, 0
        table.cmap = dict(codes)
        maps.append(table)
    builder.setupPost(keepGlyphNames=True)
    return _saved(builder.font)


def _saved(font: TTFont) -> bytes:
    out = io.BytesIO()
    font.save(out)
    return out.getvalue()


def _bare(font: TTFont) -> bytes:
    out = io.BytesIO()
    font["CFF "].cff.compile(out, font)
    return out.getvalue()


# Font dictionaries


def simple(
    pdf: Pdf,
    program: bytes | None,
    key: str = "FontFile2",
    *,
    subtype: Name = Name.TrueType,
    flags: int = 32,
    widths: Mapping[int, float] | None = None,
    **entries: object,
) -> Dictionary:
    """A simple font over `program`, whose kind `key` tells; by default nonsymbolic, in WinAnsiEncoding."""
    given = widths or {code: WIDTHS[name] for code, name in CODES.items()}
    font = Dictionary(
        Type=Name.Font, Subtype=subtype, BaseFont=Name("/ABCDEF+Made"), FirstChar=0, LastChar=255,
        Widths=Array([given.get(code, 0) for code in range(256)]), Encoding=Name.WinAnsiEncoding,
        FontDescriptor=_descriptor(pdf, program, key, flags),
    )  # fmt: skip
    return _indirect(pdf, font, entries)


def composite(
    pdf: Pdf,
    program: bytes,
    key: str,
    *,
    subtype: Name = Name.CIDFontType2,
    widths: Mapping[int, float] | None = None,
    cid_to_gid: Mapping[int, int] | None = None,
    **entries: object,
) -> Dictionary:
    """A composite font with two-byte codes that are the CIDs."""
    given = widths or {cid: WIDTHS[name] for cid, name in enumerate(ORDER)}
    descendant = Dictionary(
        Type=Name.Font, Subtype=subtype, BaseFont=Name("/ABCDEF+Made"), DW=1000,
        CIDSystemInfo=Dictionary(Registry=b"Adobe", Ordering=b"Identity", Supplement=0),
        W=Array([item for cid, width in sorted(given.items()) for item in (cid, Array([width]))]),
        FontDescriptor=_descriptor(pdf, program, key, 4),
    )  # fmt: skip
    if cid_to_gid is not None:
        places = b"".join(cid_to_gid.get(cid, 0).to_bytes(2, "big") for cid in range(max(cid_to_gid) + 1))
        descendant.CIDToGIDMap = pdf.make_stream(places)
    font = Dictionary(
        Type=Name.Font, Subtype=Name.Type0, BaseFont=Name("/ABCDEF+Made"), Encoding=Name("/Identity-H"),
        DescendantFonts=Array([pdf.make_indirect(descendant)]),
    )  # fmt: skip
    return _indirect(pdf, font, entries)


def type3(pdf: Pdf, **entries: object) -> Dictionary:
    """A Type 3 font with the same letters."""
    procedures = Dictionary()
    for name in ORDER:
        procedures[f"/{name}"] = pdf.make_stream(_procedure(name))
    font = Dictionary(
        Type=Name.Font, Subtype=Name.Type3, FontBBox=Array([-60, -280, 690, 710]),
        FontMatrix=Array([0.001, 0, 0, 0.001, 0, 0]), CharProcs=procedures, FirstChar=0, LastChar=255,
        Widths=Array([WIDTHS[CODES[code]] if code in CODES else 0 for code in range(256)]),
        Encoding=Dictionary(
            Differences=Array([part for code, name in CODES.items() for part in (code, Name(f"/{name}"))])
        ),
        Resources=Dictionary(),
    )  # fmt: skip
    return _indirect(pdf, font, entries)


def _procedure(name: str) -> bytes:
    operators = {"moveTo": "m", "lineTo": "l", "curveTo": "c", "closePath": "h"}
    drawn = [f"{WIDTHS[name]} 0 -60 -280 690 710 d1"]
    for method, points in _LETTERS[name]:
        figures = " ".join(f"{x} {y}" for x, y in points)
        drawn.append(f"{figures} {operators[method]}")
    return ("\n".join(drawn) + ("\nf" if len(drawn) > 1 else "")).encode()


def _descriptor(pdf: Pdf, program: bytes | None, key: str, flags: int) -> Dictionary:
    descriptor = Dictionary(
        Type=Name.FontDescriptor, FontName=Name("/ABCDEF+Made"), Flags=flags, Ascent=800, Descent=-250,
        FontBBox=Array([-60, -280, 690, 710]), ItalicAngle=0, CapHeight=700, StemV=80,
    )  # fmt: skip
    if program is not None:
        stream = pdf.make_stream(b"")
        stream.write(zlib.compress(program), filter=Name.FlateDecode)
        file, _, kind = key.partition(" ")
        if kind:
            stream.Subtype = Name(f"/{kind}")
        descriptor[f"/{file}"] = stream
    made = pdf.make_indirect(descriptor)
    assert isinstance(made, Dictionary)
    return made


def _indirect(pdf: Pdf, font: Dictionary, entries: Mapping[str, object]) -> Dictionary:
    for key, value in entries.items():
        font[f"/{key}"] = value
    made = pdf.make_indirect(font)
    assert isinstance(made, Dictionary)
    return made
