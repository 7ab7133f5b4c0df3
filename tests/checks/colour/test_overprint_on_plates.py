# White that overprints, and black text on a colour: what we say against the plates that Ghostscript makes.
#
# Ghostscript's tiffsep device draws one picture for each ink, with overprint as ISO 32000-2, 8.6.7 has it. A
# ground of one ink is laid, the mark in question over it, and the ground's plate looked at in the middle of
# the mark: where the ink is still there, the mark left it.
import shutil
import subprocess
from pathlib import Path

import pikepdf
import pytest
from PIL import Image

from hotfolder.checks.colour import black_text, white_overprint
from hotfolder.checks.colour.black_text import BlackTextSettings
from hotfolder.checks.colour.white_overprint import WhiteOverprintSettings
from hotfolder.measure import measure
from hotfolder.model.findings import Finding

pytestmark = pytest.mark.skipif(shutil.which("gs") is None, reason="needs Ghostscript")

SIDE = 72  # points; drawn at 72 ppi, so that a point is a pixel
GROUNDS = {"Cyan": "1 0 0 0 k", "Leaf": "/Leaf cs 1 scn"}
WHITES = {
    "CMYK": "0 0 0 0 k",
    "grey": "1 g",
    "spot": "/Sky cs 0 scn",
    "several": "/Two cs 0 0 scn",
    "black ink": "/Ink cs 0 scn",
}


def separation(pdf: pikepdf.Pdf, name: str, cmyk: str) -> pikepdf.Object:
    tint = pikepdf.Dictionary(
        FunctionType=2, Domain=[0, 1], N=1, C0=[0, 0, 0, 0], C1=[float(value) for value in cmyk.split()]
    )
    array = [pikepdf.Name.Separation, pikepdf.Name(f"/{name}"), pikepdf.Name.DeviceCMYK, tint]
    return pdf.make_indirect(pikepdf.Array(array))


def two_inks(pdf: pikepdf.Pdf) -> pikepdf.Object:
    names = pikepdf.Array([pikepdf.Name.Sky, pikepdf.Name.Rust])
    # Two tints in, four out: what they are does not matter for a tint of nothing.
    domain, four = [0, 1] * 2, [0, 1] * 4
    tint = pdf.make_stream(b"{ 0 0 }", FunctionType=4, Domain=domain, Range=four)
    array = [pikepdf.Name.DeviceN, names, pikepdf.Name.DeviceCMYK, tint]
    return pdf.make_indirect(pikepdf.Array(array))


def sheet(path: Path, ground: str, mark: str, mode: int | None) -> Path:
    """A page with a ground all over and a mark in its middle, which overprints in this mode or knocks out."""
    pdf = pikepdf.new()
    page = pdf.add_blank_page(page_size=(SIDE, SIDE))
    page.trimbox = page.mediabox
    over = pikepdf.Dictionary(OP=True, op=True, OPM=mode) if mode is not None else pikepdf.Dictionary()
    page.obj.Resources = pikepdf.Dictionary(
        ExtGState=pikepdf.Dictionary(Over=over),
        ColorSpace=pikepdf.Dictionary(
            Leaf=separation(pdf, "Leaf", "1 0 1 0"),
            Sky=separation(pdf, "Sky", "1 0 0 0"),
            Ink=separation(pdf, "Black", "0 0 0 1"),
            Two=two_inks(pdf),
        ),
        Font=pikepdf.Dictionary(
            F=pikepdf.Dictionary(
                Type=pikepdf.Name.Font, Subtype=pikepdf.Name.Type1, BaseFont=pikepdf.Name.Helvetica
            )
        ),
    )
    page.contents_add(f"{ground} 0 0 {SIDE} {SIDE} re f q /Over gs {mark} Q".encode())
    pdf.save(path)
    return path


def ink_left(path: Path, ink: str, at: tuple[int, int] = (SIDE // 2, SIDE // 2)) -> bool:
    """Whether `ink` is still there in the middle of the page, by Ghostscript's plates."""
    out = path.with_suffix(".tif")
    subprocess.run(
        ["gs", "-q", "-dSAFER", "-dBATCH", "-dNOPAUSE", "-sDEVICE=tiffsep", "-r72", f"-o{out}", str(path)],
        check=True, capture_output=True, timeout=120,
    )  # fmt: skip
    with Image.open(out.with_name(f"{out.stem}({ink}).tif")) as plate:
        value = plate.convert("L").getpixel(at)
    assert isinstance(value, int | float)
    return value < 128  # plates are drawn dark where there is ink


def codes(found: list[object]) -> list[str]:
    return [item.code for item in found if isinstance(item, Finding)]


@pytest.mark.parametrize("mode", [None, 0, 1])
@pytest.mark.parametrize("white", WHITES)
@pytest.mark.parametrize("ground", GROUNDS)
def test_white_is_said_to_vanish_where_the_ink_beneath_stays(
    tmp_path: Path, ground: str, white: str, mode: int | None
) -> None:
    square = f"{WHITES[white]} 24 24 24 24 re f"
    path = sheet(tmp_path / "white.pdf", GROUNDS[ground], square, mode)
    said = codes(list(white_overprint.check(measure(path), WhiteOverprintSettings())))
    assert bool(said) is ink_left(path, ground)


BLACKS = {"CMYK": "0 0 0 1 k", "grey": "0 g", "black ink": "/Ink cs 1 scn"}


@pytest.mark.parametrize("mode", [None, 0, 1])
@pytest.mark.parametrize("black", BLACKS)
def test_black_text_is_said_to_knock_out_where_the_ink_beneath_is_gone(
    tmp_path: Path, black: str, mode: int | None
) -> None:
    # The stem of an I of 11 pt is a pixel wide; one of three overlaid letters covers the middle for certain.
    letters = " ".join(f"BT /F 11 Tf {35 + step} 32 Td (I) Tj ET" for step in (-2, -1, 0))
    path = sheet(tmp_path / "black.pdf", GROUNDS["Cyan"], f"{BLACKS[black]} {letters}", mode)
    said = codes(list(black_text.check(measure(path), BlackTextSettings())))
    assert (said == ["knocks-out"]) is not ink_left(path, "Cyan", (36, SIDE - 36))
