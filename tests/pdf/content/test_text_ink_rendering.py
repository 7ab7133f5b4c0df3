# Where the ink of text lies, against a drawing of the same page by poppler at 600 ppi.

import shutil
import subprocess
from collections.abc import Callable
from pathlib import Path

import pytest
from pikepdf import Dictionary, Name, Pdf
from PIL import Image

from hotfolder.model.geometry import Box
from tests.pdf.drawn_page import HEIGHT, Drawn, only
from tests.pdf.fonts import made_fonts

_PPI = 600
# A pixel is 0.12 pt; the renderer's outline and its smoothing of edges take another.
_TOLERANCE_PT = 0.3
_BYTES = b"(gAO)"
_CIDS = b"<000400020003>"  # g, A and O by their glyphs

needs_poppler = pytest.mark.skipif(shutil.which("pdftoppm") is None, reason="poppler's pdftoppm is missing")

FONTS: dict[str, tuple[Callable[[Pdf], Dictionary], bytes]] = {
    "TrueType": (lambda pdf: made_fonts.simple(pdf, made_fonts.truetype()), _BYTES),
    "TrueType with side bearings": (
        lambda pdf: made_fonts.simple(pdf, made_fonts.truetype_shifted()), _BYTES,
    ),
    "Type 1": (
        lambda pdf: made_fonts.simple(pdf, made_fonts.type1(), "FontFile", subtype=Name.Type1), _BYTES,
    ),
    "CFF": (
        lambda pdf: made_fonts.simple(pdf, made_fonts.cff(), "FontFile3 Type1C", subtype=Name.Type1), _BYTES,
    ),
    "OpenType": (
        lambda pdf: made_fonts.simple(pdf, made_fonts.opentype(), "FontFile3 OpenType", subtype=Name.Type1),
        _BYTES,
    ),
    "CID TrueType": (
        lambda pdf: made_fonts.composite(pdf, made_fonts.truetype(), "FontFile2", CIDToGIDMap=Name.Identity),
        _CIDS,
    ),
    "CID CFF": (
        lambda pdf: made_fonts.composite(
            pdf,
            made_fonts.cff_with_cids({"space": 11, "A": 12, "O": 13, "g": 14}),
            "FontFile3 CIDFontType0C",
            subtype=Name.CIDFontType0,
            widths={12: 600, 13: 700, 14: 500},
        ),
        b"<000E000C000D>",
    ),
    "vertical CID CFF": (
        lambda pdf: made_fonts.composite(
            pdf,
            made_fonts.cff(),
            "FontFile3 CIDFontType0C",
            subtype=Name.CIDFontType0,
            Encoding=Name("/Identity-V"),
        ),
        _CIDS,
    ),
    "Type 3": (made_fonts.type3, _BYTES),
}  # fmt: skip

# Each puts the text somewhere in the middle of a page of 300 x 400 pt.
PLACINGS = {
    "upright": b"BT /F 30 Tf 100 200 Td %s Tj ET",
    "turned by 30 degrees": b"BT /F 30 Tf 0.866 0.5 -0.5 0.866 100 200 Tm %s Tj ET",
    "turned by a right angle": b"BT /F 30 Tf 0 1 -1 0 150 150 Tm %s Tj ET",
    "narrow": b"BT /F 30 Tf 50 Tz 100 200 Td %s Tj ET",
    "mirrored": b"BT /F 30 Tf -50 Tz 200 200 Td %s Tj ET",
    "upside down": b"BT /F -30 Tf 200 200 Td %s Tj ET",
    "stretched and slanted": b"q 1.5 0.2 0.7 0.8 20 100 cm BT /F 30 Tf 30 90 Td %s Tj ET Q",
    "spaced and raised": b"BT /F 30 Tf 5 Tc 12 Ts 100 200 Td [%s -400 %s] TJ ET",
    "scaled by the page": b"3 0 0 2 0 0 cm BT /F 1 Tf 12 0 0 12 30 100 Tm %s Tj ET",
    "stroked with round corners": b"1 j 4 w BT /F 30 Tf 1 Tr 100 200 Td %s Tj ET",
}


# Left out: poppler does not narrow the place of a vertical glyph's origin (9.3.4 and 9.7.4.3; Ghostscript
# and pdfium do); letters that paint themselves are not stroked; at an angle they have a test of their own.
_LEFT_OUT = {
    ("vertical CID CFF", "narrow"),
    ("vertical CID CFF", "mirrored"),
    ("Type 3", "stroked with round corners"),
    ("Type 3", "turned by 30 degrees"),
    ("Type 3", "stretched and slanted"),
}
_PAIRS = [(kind, placing) for kind in FONTS for placing in PLACINGS if (kind, placing) not in _LEFT_OUT]


@needs_poppler
@pytest.mark.parametrize(("kind", "placing"), _PAIRS)
def test_ink_lies_where_poppler_draws_it(kind: str, placing: str, tmp_path: Path) -> None:
    ink, drawn = _both(kind, placing, tmp_path)
    assert _corners(ink) == pytest.approx(_corners(drawn), abs=_TOLERANCE_PT)


@needs_poppler
@pytest.mark.parametrize("placing", ["turned by 30 degrees", "stretched and slanted"])
def test_letters_that_paint_themselves_reach_at_most_as_far_as_their_boxes(
    placing: str, tmp_path: Path
) -> None:
    ink, drawn = _both("Type 3", placing, tmp_path)
    assert ink.holds(drawn, _TOLERANCE_PT)
    # The largest letter has a diameter of 21 pt; a turned square reaches past its circle by a fifth of that.
    assert drawn.grown(0.21 * 21 * 1.5).holds(ink)


def _both(kind: str, placing: str, folder: Path) -> tuple[Box, Box]:
    """The ink as it is measured, and as it is drawn."""
    make, text = FONTS[kind]
    drawn = Drawn()
    drawn.resource("Font", "F", make(drawn.pdf))
    page = drawn.read(PLACINGS[placing].replace(b"%s", text))
    assert page.problems == ()
    facts = only(page).text
    assert facts is not None
    assert facts.ink is not None
    assert facts.visible_ink == facts.ink
    drawn.pdf.save(folder / "drawn.pdf")
    return facts.ink, _inked(folder / "drawn.pdf")


def _corners(box: Box) -> tuple[float, float, float, float]:
    return box.x0, box.y0, box.x1, box.y1


def _inked(path: Path) -> Box:
    """The box around the pixels that are more black than white, in points."""
    picture = path.with_suffix("")
    command = ["pdftoppm", "-r", str(_PPI), "-gray", "-singlefile", str(path), str(picture)]
    subprocess.run(command, check=True, timeout=60)
    with Image.open(picture.with_suffix(".pgm")) as page:
        found = page.point(lambda value: 255 if value < 128 else 0).getbbox()
    assert found is not None
    left, top, right, bottom = (edge * 72 / _PPI for edge in found)
    return Box(left, HEIGHT - bottom, right, HEIGHT - top)
