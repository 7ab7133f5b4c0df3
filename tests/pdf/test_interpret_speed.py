# How long reading takes, against pikepdf's own parsing of the same stream.

import time

import pikepdf
import pytest

from tests.pdf.drawn_page import Drawn, helvetica

_OPERATORS = 400_000
_TIMES = 10


@pytest.mark.slow
@pytest.mark.parametrize(
    "line",
    [
        b"q 1 0 0 1 %d.25 0 cm 0 0 0 1 k 0 0 m 10 10.5 l S Q\n",
        b"%d 0 m 1 2 3 4.5 5.25 6 c 7 8 l 7 8 9 10.5 20 20.5 c h f\n",
        b"0.5 0.2 0.1 rg %d 10 20 30 re f\n",
        b"BT /F 12 Tf 1 0 0 1 %d 700.5 Tm [(He)-20.5(llo, )10(Wo)-5(rld)12(s of)20( text)] TJ ET\n",
        b"q 100 0 0 100 %d 0 cm /I Do Q\n",
    ],
)
def test_reading_takes_at_most_ten_times_as_long_as_parsing(line: bytes) -> None:
    drawn = Drawn().resource("Font", "F", helvetica())
    drawn.resource("XObject", "I", drawn.image(10, 10, b"\0" * 300))
    drawn.page.obj.Contents = drawn.pdf.make_stream(line % 1)
    operators = len(pikepdf.parse_content_stream(drawn.page))
    lines = b"".join(line % (number % 500) for number in range(_OPERATORS // operators))
    drawn.page.obj.Contents = drawn.pdf.make_stream(lines)

    began = time.process_time()
    parsed = pikepdf.parse_content_stream(drawn.page)
    parsing_s = time.process_time() - began
    began = time.process_time()
    found = drawn.read_as_is()
    reading_s = time.process_time() - began

    assert len(parsed) == _OPERATORS // operators * operators
    assert len(found.marks) == _OPERATORS // operators
    assert reading_s < _TIMES * parsing_s
