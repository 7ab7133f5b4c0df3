# How long a page full of text takes whose letters are looked up in an embedded font.

import time

import pikepdf
import pytest

from tests.pdf.drawn_page import Drawn
from tests.pdf.fonts import made_fonts

_OPERATORS = 400_000
_TIMES = 10
_LINE = b"BT /F 12 Tf 1 0 0 1 %d 300.5 Tm [(gA)-20.5(OgA, )10(gO)-5(OgA)12(A gA)20( OAgg)] TJ ET\n"


@pytest.mark.slow
def test_visible_text_takes_at_most_ten_times_as_long_as_parsing() -> None:
    drawn = Drawn()
    drawn.resource("Font", "F", made_fonts.simple(drawn.pdf, made_fonts.truetype()))
    count = _OPERATORS // 5
    lines = b"".join(_LINE % (number % 200) for number in range(count))
    drawn.page.obj.Contents = drawn.pdf.make_stream(lines)

    began = time.process_time()
    parsed = len(pikepdf.parse_content_stream(drawn.page))
    parsing_s = time.process_time() - began
    began = time.process_time()
    page = drawn.read_as_is()
    reading_s = time.process_time() - began

    assert parsed == _OPERATORS
    assert len(page.marks) == count
    assert page.marks[-1].text is not None
    assert page.marks[-1].text.ink is not None
    assert reading_s < _TIMES * parsing_s
