# The ink of a run of text: when it is known, what it covers, and what clips leave of it.

import pytest
from pikepdf import Array, Dictionary, Name

from hotfolder.model.marks import TextFacts
from tests.pdf.drawn_page import Drawn, corners, helvetica, only
from tests.pdf.fonts import made_fonts


def _text(content: bytes, font: Dictionary | None = None, drawn: Drawn | None = None) -> TextFacts:
    page = drawn or Drawn()
    page.resource("Font", "F", font or made_fonts.simple(page.pdf, made_fonts.truetype()))
    found = only(page.read(content)).text
    assert found is not None
    return found


def test_ink_is_that_of_the_letters_and_not_the_room_that_the_font_declares() -> None:
    drawn = Drawn()
    drawn.resource("Font", "F", made_fonts.simple(drawn.pdf, made_fonts.truetype()))
    mark = only(drawn.read(b"BT /F 10 Tf 50 60 Td (A) Tj ET"))
    assert mark.text is not None
    assert corners(mark.text.ink) == (50.2, 60, 55.8, 67)
    # Ascent 800, descent -250, width 600.
    assert corners(mark.box) == (50, 57.5, 56, 68)


def test_ink_may_reach_beyond_the_run() -> None:
    ink = _text(b"BT /F 10 Tf 50 60 Td (g) Tj ET").ink
    assert corners(ink) == pytest.approx((49.4, 57.9, 54.8, 65), abs=0.01)


def test_letters_apart_are_added_up() -> None:
    ink = _text(b"BT /F 10 Tf 2 Tc 50 60 Td (g  A) Tj ET").ink
    # Four advances and three spacings lie before the last letter.
    last = 50 + 10 * (0.5 + 0.25 + 0.25) + 3 * 2
    assert corners(ink) == pytest.approx((49.4, 57.9, last + 5.8, 67), abs=0.01)


def test_accents_and_other_parts_are_drawn_with_their_letter() -> None:
    # A TrueType glyph out of two others, moved: by hand, A and a smaller A on top of it.
    drawn = Drawn()
    font = made_fonts.simple(drawn.pdf, made_fonts.truetype_with_accent())
    assert corners(_text(b"BT /F 10 Tf 50 60 Td (A) Tj ET", font, drawn).ink) == pytest.approx(
        (50.2, 60, 55.8, 60 + 7 + 3.5), abs=0.01
    )


@pytest.mark.parametrize(
    ("matrix", "expected"),
    [
        ("0.001 0 0 0.001 0 0", (50.2, 60, 55.8, 67)),
        ("0.0005 0 0 0.0005 0 0", (50.1, 60, 52.9, 63.5)),
        # Slanted by its matrix: the tip, at (300, 700), goes to the right by 0.2 x 700.
        ("0.001 0 0.0002 0.001 0 0", (50.2, 60, 55.8, 67)),
        ("0.001 0 0.0005 0.001 0 0", (50.2, 60, 56.5, 67)),
    ],
)
def test_a_type_1_font_has_a_matrix_of_its_own(matrix: str, expected: tuple[float, ...]) -> None:
    drawn = Drawn()
    program = made_fonts.type1(matrix=matrix)
    font = made_fonts.simple(drawn.pdf, program, "FontFile", subtype=Name.Type1)
    assert corners(_text(b"BT /F 10 Tf 50 60 Td (A) Tj ET", font, drawn).ink) == expected


def test_a_line_around_letters_is_ink() -> None:
    plain = _text(b"BT /F 10 Tf 50 60 Td (A) Tj ET").ink
    stroked = _text(b"3 w BT /F 10 Tf 2 Tr 50 60 Td (A) Tj ET").ink
    assert plain is not None
    assert corners(stroked) == corners(plain.grown(1.5))


def test_clips_leave_a_part_of_the_ink() -> None:
    facts = _text(b"q 0 0 53 64 re W n BT /F 10 Tf 50 60 Td (A) Tj ET Q")
    assert corners(facts.ink) == (50.2, 60, 55.8, 67)
    assert corners(facts.visible_ink) == (50.2, 60, 53, 64)


def test_ink_may_be_clipped_away_where_the_declared_room_is_not() -> None:
    facts = _text(b"q 0 0 100 59 re W n BT /F 10 Tf 50 60 Td (A) Tj ET Q")
    assert facts.ink is not None
    assert facts.visible_ink is None


@pytest.mark.parametrize(
    "content",
    [
        pytest.param(b"BT /F 10 Tf 3 Tr 50 60 Td (A) Tj ET", id="invisible"),
        pytest.param(b"BT /F 10 Tf 500 60 Td (A) Tj ET", id="off the page"),
        pytest.param(b"q 0 0 9 9 re W n BT /F 10 Tf 50 60 Td (A) Tj ET Q", id="clipped away"),
    ],
)
def test_text_that_is_not_on_paper_has_no_ink_and_no_words(content: bytes) -> None:
    facts = _text(content)
    assert (facts.ink, facts.visible_ink, facts.words) == (None, None, "")


def test_ink_is_not_known_where_the_font_is_not_embedded() -> None:
    facts = _text(b"BT /F 10 Tf 50 60 Td (A) Tj ET", helvetica())
    assert (facts.ink, facts.words) == (None, "A")


def test_ink_is_not_known_where_the_codes_of_a_font_are_not() -> None:
    # The codes of a predefined CMap are known by their length alone.
    drawn = Drawn()
    font = made_fonts.composite(
        drawn.pdf, made_fonts.truetype(), "FontFile2", Encoding=Name("/UniJIS-UCS2-H")
    )
    assert _text(b"BT /F 10 Tf 50 60 Td <5C715DDD> Tj ET", font, drawn).ink is None


def test_letters_that_paint_themselves_ink_what_they_paint() -> None:
    # The boxes that d1 declares are wrong on purpose: nothing is cut by them (9.6.4).
    drawn = Drawn()
    font = made_fonts.type3(drawn.pdf)
    font.CharProcs.A = drawn.stream(b"600 0 0 0 9 9 d1 100 0 200 300 re f 500 0 50 -100 re f")
    facts = _text(b"BT /F 10 Tf 50 60 Td (A) Tj ET", font, drawn)
    assert corners(facts.ink) == (51, 59, 55.5, 63)


def test_letters_that_paint_nothing_have_no_ink() -> None:
    drawn = Drawn()
    font = made_fonts.type3(drawn.pdf)
    font.CharProcs.A = drawn.stream(b"600 0 d0")
    facts = _text(b"BT /F 10 Tf 50 60 Td (AA) Tj ET", font, drawn)
    assert (facts.ink, facts.words) == (None, "AA")


def test_a_letter_of_pixels_is_told() -> None:
    drawn = Drawn()
    font = made_fonts.type3(drawn.pdf)
    pixels = b"500 0 0 500 0 0 cm BI /W 8 /H 8 /IM true ID " + b"\xaa\x55" * 4 + b" EI"
    font.CharProcs.A = drawn.stream(b"600 0 0 0 500 500 d1 " + pixels)
    drawn.resource("Font", "F", font)
    drawn_letters = drawn.read(b"BT /F 10 Tf 50 60 Td (O) Tj ET")
    of_pixels = drawn.read(b"BT /F 10 Tf 50 60 Td (OA) Tj ET")
    assert [each.bitmap for each in (*drawn_letters.fonts, *of_pixels.fonts)] == [False, True]
    assert [each.type3 for each in of_pixels.fonts] == [True]


def test_trouble_inside_a_letter_is_told_once() -> None:
    drawn = Drawn()
    font = made_fonts.type3(drawn.pdf)
    font.CharProcs.A = drawn.stream(b"600 0 d0 0 0 500 500 re f 1 2 nonsense")
    drawn.resource("Font", "F", font)
    page = drawn.read(b"BT /F 10 Tf 50 60 Td (A) Tj ET")
    assert [problem.what for problem in page.problems] == ["an unknown instruction was left out"]


def test_words_come_from_the_map_to_unicode_or_the_names_of_glyphs() -> None:
    assert _text(b"BT /F 10 Tf 50 60 Td (gA O) Tj ET").words == "gA O"
    drawn = Drawn()
    mapped = b"1 beginbfchar <41> <00C4> endbfchar 1 beginbfrange <4F> <50> <0066006C> endbfrange"
    font = made_fonts.simple(drawn.pdf, made_fonts.truetype(), ToUnicode=drawn.stream(mapped))
    assert _text(b"BT /F 10 Tf 50 60 Td (gAO) Tj ET", font, drawn).words == "gÄfl"
    drawn = Drawn()
    names = Dictionary(Differences=Array([1, Name.Euro, Name("/uni263A"), Name("/g123")]))
    font = made_fonts.simple(drawn.pdf, made_fonts.truetype(), Encoding=names)
    assert _text(b"BT /F 10 Tf 50 60 Td <010203> Tj ET", font, drawn).words == "€☺"


@pytest.mark.parametrize(
    ("shown", "words"),
    [
        (b"[(gA)-300(O)]", "gA O"),
        (b"[(gA)-60(O)]", "gAO"),
        (b"[(gA)300(O)]", "gAO"),
        (b"[-2000(gA )-300( O)-500]", "gA O"),
        (b"[(   A   )]", "A"),
    ],
)
def test_a_move_as_wide_as_a_space_is_one(shown: bytes, words: str) -> None:
    assert _text(b"BT /F 10 Tf 50 60 Td " + shown + b" TJ ET").words == words


def test_words_are_cut_after_sixty_characters() -> None:
    assert _text(b"BT /F 1 Tf 50 60 Td (" + b"A" * 60 + b") Tj ET").words == "A" * 60
    assert _text(b"BT /F 1 Tf 50 60 Td (" + b"A" * 61 + b") Tj ET").words == "A" * 59 + "…"
    assert (
        _text(b"BT /F 1 Tf 50 60 Td (" + b"A " * 5000 + b") Tj ET").words == ("A " * 30)[:59].rstrip() + "…"
    )


def test_words_hold_nothing_that_cannot_be_shown() -> None:
    drawn = Drawn()
    mapped = b"3 beginbfchar <41> <0007> <4F> <D83D> <67> <000A0041> endbfchar"
    font = made_fonts.simple(drawn.pdf, made_fonts.truetype(), ToUnicode=drawn.stream(mapped))
    assert _text(b"BT /F 10 Tf 50 60 Td (AOgg) Tj ET", font, drawn).words == "A A"
