# The artwork of the demonstration is what it says, by the word of other programs.

import io
import re
import shutil
import subprocess
from pathlib import Path

import pikepdf
import pytest
from PIL import Image

from hotfolder.demo.artwork.festival import Faces, faces
from hotfolder.demo.artwork.pieces import BANNERS, COPIES, OFFSET, DemoPiece, pieces
from hotfolder.demo.artwork.scenery import as_press_jpeg, harbour
from hotfolder.measure import measure
from hotfolder.model.colour import ColourKind

MM = 72 / 25.4


@pytest.fixture(scope="module")
def fonts() -> Faces:
    return faces()


@pytest.fixture(scope="module")
def folder(tmp_path_factory: pytest.TempPathFactory, fonts: Faces) -> Path:
    """All pieces, each under the name of its printer and its own."""
    made = tmp_path_factory.mktemp("artwork")
    for piece in pieces():
        place_of(made, piece).write_bytes(piece.make(fonts))
    return made


def place_of(folder: Path, piece: DemoPiece) -> Path:
    return folder / f"{piece.printer} {piece.name}"


def reference(*command: str | Path) -> str:
    """What a reference tool prints; the test is skipped where the tool is missing."""
    if shutil.which(str(command[0])) is None:
        pytest.skip(f"{command[0]} is not installed")
    result = subprocess.run([str(part) for part in command], check=True, capture_output=True, timeout=60)
    return result.stdout.decode("utf-8", "replace")


def boxes(path: Path) -> dict[str, list[float]]:
    """The page boxes in millimetres, by poppler's pdfinfo."""
    said = reference("pdfinfo", "-box", path)
    matches = re.findall(r"(?m)^(\w+Box): +(.+)$", said)
    return {name: [round(float(part) / MM, 1) for part in numbers.split()] for name, numbers in matches}


def picture_rows(path: Path) -> list[list[str]]:
    """The table of poppler's `pdfimages -list`: width in column 3, height 4, colour 5, ppi 12 and 13."""
    return [line.split() for line in reference("pdfimages", "-list", path).splitlines()[2:]]


def font_rows(path: Path) -> dict[str, str]:
    """Font to whether it is embedded, by poppler's pdffonts."""
    rows = [line.split() for line in reference("pdffonts", path).splitlines()[2:]]
    return {row[0]: row[-5] for row in rows}


def test_the_good_flyer_has_bleed_and_its_picture_300_ppi(folder: Path) -> None:
    flyer = folder / f"{OFFSET} lampfall-flyer.pdf"
    assert boxes(flyer)["TrimBox"] == [3, 3, 151, 213]
    assert boxes(flyer)["MediaBox"] == boxes(flyer)["BleedBox"] == [0, 0, 154, 216]
    (picture,) = picture_rows(flyer)
    assert picture[3:6] == ["1819", "1666", "cmyk"]
    assert picture[12:14] == ["300", "300"]


def test_the_good_flyer_has_its_fonts_and_nothing_that_qpdf_minds(folder: Path) -> None:
    flyer = folder / f"{OFFSET} lampfall-flyer.pdf"
    assert font_rows(flyer) == {"Lampfall-Poster": "yes", "Lampfall-Text": "yes"}
    assert "No syntax or stream encoding errors" in reference("qpdf", "--check", flyer)


def test_the_good_flyer_keeps_what_iso_15930_4_asks_of_the_document(folder: Path) -> None:
    # ISO 15930-4:2003 (PDF/X-1a:2003), from memory: version, identifier, title, dates, trapping state,
    # claim, one output intent whose condition is registered, colours of inks only.
    path = folder / f"{OFFSET} lampfall-flyer.pdf"
    with pikepdf.open(path) as pdf:
        assert pdf.pdf_version == "1.4"
        assert len(pdf.trailer.ID) == 2
        assert pdf.docinfo["/GTS_PDFXVersion"] == "PDF/X-1a:2003"
        assert pdf.docinfo["/Trapped"] == pikepdf.Name("/False")
        assert all(key in pdf.docinfo for key in ("/Title", "/CreationDate", "/ModDate"))
        (intent,) = pdf.Root.OutputIntents
        assert intent.S == pikepdf.Name.GTS_PDFX
        assert intent.OutputConditionIdentifier == "FOGRA39"
        assert intent.RegistryName == "http://www.color.org"
    (page,) = measure(path).known_pages
    kinds = {colour.space.kind for mark in page.known_marks for colour in mark.colours()}
    assert kinds <= {ColourKind.CMYK, ColourKind.PATTERN, ColourKind.GREY}


def test_the_flyer_without_bleed_ends_at_the_cut(folder: Path) -> None:
    flyer = folder / f"{OFFSET} lampfall-flyer-no-bleed.pdf"
    assert boxes(flyer)["TrimBox"] == boxes(flyer)["MediaBox"] == [3, 3, 151, 213]


def test_the_flyer_from_the_web_has_a_coarse_picture_in_screen_colours(folder: Path) -> None:
    (picture,) = picture_rows(folder / f"{OFFSET} lampfall-flyer-from-the-web.pdf")
    assert picture[5] == "rgb"
    assert picture[12:14] == ["96", "96"]


@pytest.mark.parametrize(("name", "ppi"), [("box-office-card", 300), ("box-office-card-400-ppi", 400)])
def test_the_cards_have_the_resolution_that_is_promised(folder: Path, name: str, ppi: int) -> None:
    card = folder / f"{OFFSET} {name}.pdf"
    assert boxes(card)["TrimBox"] == [3, 3, 88, 58]
    (picture,) = picture_rows(card)
    assert int(picture[12]) in {ppi, ppi + 1}  # no half pixels: one more may be needed


def test_one_programme_lacks_the_font_of_its_text(folder: Path) -> None:
    faulty = font_rows(folder / f"{COPIES} programme.pdf")
    good = font_rows(folder / f"{COPIES} Spielplan f\u00fcr M\u00e4rz \U0001f3ee.pdf")
    assert faulty == {"Lampfall-Poster": "yes", "Lampfall-Text": "no"}
    assert good == {"Lampfall-Poster": "yes", "Lampfall-Text": "yes"}


def test_the_text_can_be_read_by_another_program(folder: Path) -> None:
    said = reference("pdftotext", folder / f"{OFFSET} lampfall-flyer.pdf", "-")
    assert "LAMPFALL" in said
    assert "12\u201320 OCTOBER" in said
    assert "NOBODY'S UMBRELLA" in said


def test_the_poster_is_a_picture_of_a2_with_bleed_in_four_inks(folder: Path) -> None:
    with Image.open(folder / f"{BANNERS} lampfall-poster.jpg") as poster:
        assert poster.format == "JPEG"
        assert poster.mode == "CMYK"
        assert poster.info["dpi"] == (100, 100)
        width, height = (round(pixels / 100 * 25.4, 1) for pixels in poster.size)
    assert width == pytest.approx(430, abs=0.2)
    assert height == pytest.approx(604, abs=0.2)


def test_a_separated_picture_keeps_under_the_ink_limits_of_presses() -> None:
    # Common practice: 300 % on coated paper, 280 % on digital presses.
    with Image.open(io.BytesIO(as_press_jpeg(harbour(300, 275)).jpeg)) as picture:
        pixels = picture.tobytes()
    most = max(sum(pixels[start : start + 4]) for start in range(0, len(pixels), 4)) / 255 * 100
    assert 150 < most < 270


def test_no_two_pieces_are_dropped_under_one_name() -> None:
    names = [(piece.printer, piece.product, piece.name) for piece in pieces()]
    assert len(set(names)) == len(names)
