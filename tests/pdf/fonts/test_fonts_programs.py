# Outlines and advances of font programs, against fontTools' own pens; and programs that are broken.

import io
import math
import shutil
import subprocess
import time
from collections.abc import Callable, Iterator
from contextlib import suppress
from pathlib import Path

import pytest
from fontTools.pens.boundsPen import BoundsPen
from fontTools.t1Lib import T1Font
from fontTools.ttLib import TTFont
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st
from pikepdf import Array, Dictionary, Name, Pdf

from hotfolder.errors import FontFaultError
from hotfolder.pdf.fonts.programs.cff_program import CffProgram
from hotfolder.pdf.fonts.programs.font_programs import open_font
from hotfolder.pdf.fonts.programs.sfnt import Sfnt
from hotfolder.pdf.fonts.programs.truetype_outlines import TrueTypeOutlines
from hotfolder.pdf.fonts.programs.type1_program import Type1Program
from hotfolder.pdf.objects.outline import Outline
from tests.pdf.fonts import made_fonts

_ADVANCE_TOLERANCE_EM = 0.001  # of fonts on the market whose tables disagree with each other
_OUTLINE_TOLERANCE_EM = 0.0006  # fontTools rounds the parts of composite glyphs to whole units

Drawer = Callable[[str], tuple[Outline, float | None]]


def _no_bound(_amount: int) -> None:
    """Let a font cost what it will."""


def _truetype(data: bytes) -> Drawer:
    font = Sfnt(data)
    outlines, order = TrueTypeOutlines(font, _no_bound), TTFont(io.BytesIO(data)).getGlyphOrder()

    def draw(name: str) -> tuple[Outline, float | None]:
        glyph = order.index(name)
        metrics = font.metrics(glyph)
        return outlines.outline(glyph), None if metrics is None else metrics[0] / font.units_per_em

    return draw


def _opentype(data: bytes) -> Drawer:
    program = CffProgram(Sfnt(data).table(b"CFF "), _no_bound)
    order = TTFont(io.BytesIO(data)).getGlyphOrder()
    return lambda name: program.draw(order.index(name))


def _agrees(data: bytes, draw: Drawer, most: int) -> None:
    """Compares up to `most` glyphs, spread over the font, with those that fontTools draws."""
    font = TTFont(io.BytesIO(data))
    scale = 1 / font["head"].unitsPerEm
    glyphs, order = font.getGlyphSet(), font.getGlyphOrder()
    for name in order[:: max(1, len(order) // most)]:
        pen = BoundsPen(glyphs, ignoreSinglePoints=True)  # which are anchors, and not painted
        glyphs[name].draw(pen)
        outline, advance = draw(name)
        _same(name, outline, None if pen.bounds is None else [edge * scale for edge in pen.bounds])
        if name != ".notdef":  # fonts are about that do not agree with themselves on it
            assert advance == pytest.approx(glyphs[name].width * scale, abs=_ADVANCE_TOLERANCE_EM), name


def _same(name: str, outline: Outline, expected: list[float] | None) -> None:
    box = outline.bounds()
    found = None if box is None else [box.x0, box.y0, box.x1, box.y1]
    if expected is None or found is None:
        assert found == expected, name
    else:
        assert found == pytest.approx(expected, abs=_OUTLINE_TOLERANCE_EM), name


@pytest.mark.parametrize("program", [made_fonts.truetype, made_fonts.truetype_with_accent])
def test_truetype_outlines_are_those_that_fonttools_draws(program: Callable[[], bytes]) -> None:
    _agrees(program(), _truetype(program()), 10)


def test_cff_outlines_are_those_that_fonttools_draws() -> None:
    _agrees(made_fonts.opentype(), _opentype(made_fonts.opentype()), 10)


@pytest.mark.parametrize("name", ["A", "O", "g"])
def test_outlines_of_each_kind_are_those_worked_out_by_hand(name: str) -> None:
    """The same letter in three kinds of program; TrueType's curves are approximated to half a unit."""
    type1 = Type1Program(made_fonts.type1(), _no_bound)
    expected = [edge / 1000 for edge in made_fonts.INK[name]]
    drawn = (
        type1.draw(type1.names[name]),
        _opentype(made_fonts.opentype())(name),
        _truetype(made_fonts.truetype())(name),
    )
    for outline, advance in drawn:
        _same(name, outline, expected)
        assert advance == pytest.approx(made_fonts.WIDTHS[name] / 1000)


def _installed(*suffixes: str) -> Iterator[Path]:
    if shutil.which("fc-list") is not None:
        listed = subprocess.run(
            ["fc-list", ":", "file"], capture_output=True, text=True, check=True, timeout=60
        )
        paths = sorted(Path(line.split(":")[0]) for line in listed.stdout.splitlines())
        yield from (path for path in paths if path.suffix in suffixes)


@pytest.mark.slow
def test_installed_fonts_have_the_outlines_that_fonttools_draws() -> None:
    compared = 0
    for path in _installed(".ttf", ".otf"):
        data = path.read_bytes()
        if b"fvar" in Sfnt(data):
            continue  # a variable font is embedded as one of its instances
        _agrees(data, _opentype(data) if b"CFF " in Sfnt(data) else _truetype(data), 100)
        compared += 1
    if not compared:
        pytest.skip("no TrueType or OpenType font is installed (fontconfig's fc-list lists them)")


@pytest.mark.slow
def test_installed_truetype_fonts_have_the_characters_that_fonttools_reads() -> None:
    compared = 0
    for path in _installed(".ttf"):
        maps = Sfnt(path.read_bytes()).character_maps()
        font = TTFont(path)
        for table in font["cmap"].tables:
            if table.format in {0, 4, 6, 12}:
                look_up = maps[table.platformID, table.platEncID]
                found = {code: look_up(code) for code in table.cmap}
                assert found == {code: font.getGlyphID(name) for code, name in table.cmap.items()}
                compared += 1
    if not compared:
        pytest.skip("no TrueType font is installed (fontconfig's fc-list lists them)")


@pytest.mark.slow
def test_installed_type_1_fonts_have_the_outlines_that_fonttools_draws() -> None:
    compared = 0
    for path in _installed(".pfb", ".t1"):
        font, program = T1Font(path), Type1Program(path.read_bytes(), _no_bound)
        font.parse()
        glyphs = font.getGlyphSet()
        assert set(program.names) == set(glyphs.keys())
        for name in sorted(glyphs.keys())[::5]:
            pen = BoundsPen(glyphs, ignoreSinglePoints=True)  # which are anchors, and not painted
            glyphs[name].draw(pen)
            outline, _ = program.draw(program.names[name])
            # All installed ones are drawn on a thousand units.
            _same(name, outline, None if pen.bounds is None else [edge / 1000 for edge in pen.bounds])
        compared += 1
    if not compared:
        pytest.skip("no Type 1 font is installed (fontconfig's fc-list lists them)")


# Broken programs


@pytest.mark.parametrize(
    "program",
    [
        made_fonts.type1(matrix="1" * 100_000),
        made_fonts.type1(matrix="0.001 0 0 0.001 0 " + "1" * 100_000 + "x"),
        b"\x80\1\0\0\0\0" * 100_000,
    ],
    ids=["endless number", "endless last number", "empty segments"],
)
def test_a_type_1_program_made_to_take_long_is_read_or_refused_in_no_time(program: bytes) -> None:
    began = time.process_time()
    with suppress(FontFaultError):
        Type1Program(program, _no_bound)
    assert time.process_time() - began < 2


def test_a_type_1_program_with_an_endless_count_of_seed_bytes_is_no_matter() -> None:
    program = made_fonts.type1(seed_bytes="9" * 5000)
    assert Type1Program(program, _no_bound).glyph_count > 1


_KINDS = {
    "FontFile": made_fonts.type1(),
    "FontFile2": made_fonts.truetype_with_accent(),
    "FontFile3 Type1C": made_fonts.cff(),
    "FontFile3 OpenType": made_fonts.opentype(),
    "FontFile3 CIDFontType0C": made_fonts.cff_with_cids({"space": 1, "A": 5, "O": 6, "g": 7}),
}


@st.composite
def _broken(draw: st.DrawFn) -> tuple[str, bytes]:
    """A font program with some bytes that are others, and perhaps an end that comes too early."""
    kind = draw(st.sampled_from(sorted(_KINDS)))
    data = bytearray(_KINDS[kind])
    for _ in range(draw(st.integers(1, 8))):
        data[draw(st.integers(0, len(data) - 1))] = draw(st.sampled_from([0, 1, 0x7F, 0x80, 0xFF]))
    return kind, bytes(data[: draw(st.sampled_from([len(data), len(data), len(data) // 2]))])


@settings(deadline=None, max_examples=300, suppress_health_check=[HealthCheck.too_slow])
@given(_broken(), st.booleans(), st.sampled_from([4, 32]))
def test_nothing_that_a_program_holds_breaks_the_reading(
    broken: tuple[str, bytes],
    composite: bool,  # noqa: FBT001 - drawn by hypothesis
    flags: int,
) -> None:
    key, data = broken
    with Pdf.new() as pdf:
        if composite:
            font = made_fonts.composite(pdf, data, key)
            descendant: object = font.DescendantFonts[0]
        else:
            font = made_fonts.simple(pdf, data, key, flags=flags)
            descendant = font
        try:
            program = open_font(font, descendant)
        except FontFaultError:
            return
        for code in (0, 1, 2, 5, 32, 65, 79, 103, 255):
            glyph = program.choose(code)
            assert glyph >= 0
            try:
                outline, _ = program.draw(glyph)
            except FontFaultError:
                continue
            box = outline.bounds()
            assert box is None or (box.x0 <= box.x1 and box.y0 <= box.y1)  # which no NaN is


def test_instructions_that_call_themselves_come_to_an_end() -> None:
    """A Type 1 glyph whose only instruction calls subroutine 0, which calls itself: `0 callsubr`."""
    program = Type1Program(made_fonts.type1_in_circles(), _no_bound)
    with pytest.raises(FontFaultError):
        program.draw(program.names["A"])


def test_work_is_bounded_over_the_whole_font() -> None:
    spent: list[int] = []
    granted = math.inf

    def spend(amount: int) -> None:
        spent.append(amount)
        if sum(spent) > granted:
            raise FontFaultError

    program = Type1Program(made_fonts.type1(), spend)
    program.draw(program.names["O"])
    work_of_one = sum(spent)
    assert 100 < work_of_one < 200  # four curves of about thirty-five bytes each, and a few bytes more
    granted, drawn = 4 * work_of_one, 1
    with pytest.raises(FontFaultError):  # noqa: PT012 - how often it goes well is what is asked
        while drawn < 100:
            program.draw(program.names["O"])
            drawn += 1
    assert drawn == 4


def test_an_encoding_may_be_written_in_octal() -> None:
    """Adobe Type 1 Font Format shows decimal codes; `8#101` is PostScript for 65."""
    program = made_fonts.type1(encoding={1: "A"}).replace(b"dup 1 /A put", b"dup 8#101 /A put")
    assert Type1Program(program, _no_bound).encoding == {65: "A"}


def test_a_collection_is_read_by_its_first_font() -> None:
    """Source: OpenType specification, 'Organization of an OpenType font' (font collections)."""
    font = made_fonts.truetype()
    header = b"ttcf\0\1\0\0\0\0\0\1" + (16).to_bytes(4, "big")
    moved = bytearray(font)
    for at in range(int.from_bytes(font[4:6], "big")):
        place = slice(12 + 16 * at + 8, 12 + 16 * at + 12)
        moved[place] = (int.from_bytes(font[place], "big") + 16).to_bytes(4, "big")
    assert Sfnt(header + bytes(moved)).metrics(2) == Sfnt(font).metrics(2) == (600, 20)


def test_names_are_looked_for_in_fonts_without_maps() -> None:
    with Pdf.new() as pdf:
        encoding = Dictionary(Differences=Array([1, Name.A]))
        font = made_fonts.simple(pdf, made_fonts.truetype({}), Encoding=encoding)
        assert open_font(font, font).choose(1) == made_fonts.ORDER.index("A")
