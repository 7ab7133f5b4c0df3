# The fonts made by code: whole TrueType files whose shapes are those of the alphabet.

import io

import pytest
from fontTools.pens.boundsPen import BoundsPen
from fontTools.ttLib import TTFont
from PIL import Image, ImageDraw, ImageFont

from hotfolder.demo.artwork.alphabet import ALPHABET
from hotfolder.demo.artwork.typeface import CAP_HEIGHT, Typeface, typeface


@pytest.fixture(scope="module", params=[74, 124])
def face(request: pytest.FixtureRequest) -> Typeface:
    return typeface("Test-Wire", request.param)


def test_every_letter_is_there_with_the_advance_that_is_promised(face: Typeface) -> None:
    font = TTFont(io.BytesIO(face.program))
    glyphs = font.getBestCmap()
    assert {chr(code) for code in glyphs} == {*ALPHABET, " "}
    assert face.advances == {chr(code): font["hmtx"][glyph][0] for code, glyph in glyphs.items()}


def test_letters_and_figures_stand_on_the_base_line_and_fill_the_cap_height(face: Typeface) -> None:
    font = TTFont(io.BytesIO(face.program))
    for letter in set(ALPHABET) - set("QJ.,:'!?-+/\u00b7\u2013"):
        pen = BoundsPen(font.getGlyphSet())
        font.getGlyphSet()[font.getBestCmap()[ord(letter)]].draw(pen)
        left, bottom, right, top = pen.bounds
        assert bottom == pytest.approx(0, abs=2), letter
        assert top == pytest.approx(CAP_HEIGHT, abs=2), letter
        # As much room to the left as to the right, so that words stand in the middle of their line.
        assert left == pytest.approx(face.advances[letter] - right, abs=2), letter
        assert left > 20, letter


def test_a_round_letter_is_hollow_and_a_crossing_is_not() -> None:
    # Drawn by FreeType through Pillow: the inside of O is paper, the crossing of X is ink.
    font = ImageFont.truetype(io.BytesIO(typeface("Test-Wire", 124).program), 200)
    middles = {}
    for letter in "OX+":
        page = Image.new("L", (220, 240))
        ImageDraw.Draw(page).text((20, 20), letter, 255, font)
        box = page.getbbox()
        assert box is not None
        middles[letter] = page.getpixel(((box[0] + box[2]) // 2, (box[1] + box[3]) // 2))
    assert middles == {"O": 0, "X": 255, "+": 255}


def test_text_is_as_wide_as_its_letters() -> None:
    face = typeface("Test-Wire", 100)
    assert face.units("LAMP") == sum(face.advances[letter] for letter in "LAMP")
    assert face.units("") == 0
