# Boxes, fonts and the file's own words, on files that other programs write, against poppler and exiftool.

import re
import shutil
import subprocess
from pathlib import Path

import pytest

from hotfolder.measure import measure
from hotfolder.model.artwork import Artwork
from hotfolder.model.document import Font
from tests.producers import produced_files

POSTSCRIPT = r"""%!PS
<< /PageSize [298 420] >> setpagedevice
/Helvetica findfont 20 scalefont setfont 50 300 moveto (Harbour) show
/Times-Italic findfont 30 scalefont setfont 50 200 moveto (Quay) show
showpage
<< /PageSize [420 298] >> setpagedevice
/Courier findfont 20 scalefont setfont 50 100 moveto (Tide) show
showpage
"""
# Program, source file, arguments.
WRITERS = {
    "gs": (
        "a.ps",
        POSTSCRIPT,
        ["-q", "-dNOPAUSE", "-dBATCH", "-sDEVICE=pdfwrite", "-sOutputFile=a.pdf", "a.ps"],
    ),
    "gs without embedding": (
        "a.ps",
        POSTSCRIPT,
        ["-q", "-dBATCH", "-dNOPAUSE", "-sDEVICE=pdfwrite", "-dEmbedAllFonts=false", "-oa.pdf", "a.ps"],
    ),
}

# What other programs wrote lies there, so that nobody has to install them.
KEPT = {path.stem: path for path in produced_files() if path.stem != "ghostscript"}


def output_of(*command: str | Path) -> str:
    """What a reference tool prints; the test is skipped where the tool is missing."""
    if shutil.which(str(command[0])) is None:
        pytest.skip(f"{command[0]} is not installed")
    result = subprocess.run([str(part) for part in command], check=True, capture_output=True, timeout=120)
    return result.stdout.decode("utf-8", "replace")


@pytest.fixture(scope="module", params=[*WRITERS, *KEPT])
def written(request: pytest.FixtureRequest, tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A PDF of one of the writers; skipped by name where it is missing."""
    if request.param in KEPT:
        return KEPT[request.param]
    name, source, arguments = WRITERS[request.param]
    program = request.param.split()[0]
    if shutil.which(program) is None:
        pytest.skip(f"{program} is not installed")
    folder = tmp_path_factory.mktemp(program)
    (folder / name).write_text(source, encoding="utf-8")
    subprocess.run([program, *arguments], cwd=folder, check=True, capture_output=True, timeout=120)
    return folder / "a.pdf"


@pytest.fixture(scope="module")
def measured(written: Path) -> Artwork:
    return measure(written)


def test_what_programs_write_has_no_problems(measured: Artwork) -> None:
    assert measured.problems == ()
    assert measured.pages != ()


def test_boxes_agree_with_pdfinfo(written: Path, measured: Artwork) -> None:
    """Reference: `pdfinfo -box`, which fills in the defaults of ISO 32000-2, table 31; two decimals."""
    assert isinstance(measured.pages, tuple)
    said = output_of("pdfinfo", "-box", "-f", "1", "-l", str(len(measured.pages)), written)
    pages = re.search(r"Pages:\s+(\d+)", said)
    assert pages is not None
    assert int(pages[1]) == len(measured.pages)
    for page in measured.pages:
        crop = page.boxes.crop or page.boxes.media
        boxes = {
            "MediaBox": page.boxes.media, "CropBox": crop, "BleedBox": page.boxes.bleed or crop,
            "TrimBox": page.boxes.trim or crop, "ArtBox": page.boxes.art or crop,
        }  # fmt: skip
        for name, box in boxes.items():
            line = re.search(rf"Page\s+{page.number}\s+{name}:\s+(\S+)\s+(\S+)\s+(\S+)\s+(\S+)", said)
            assert line is not None
            assert box is not None
            expected = [float(corner) for corner in line.groups()]
            assert (box.x0, box.y0, box.x1, box.y1) == pytest.approx(expected, abs=0.006)


def test_fonts_agree_with_pdffonts(written: Path, measured: Artwork) -> None:
    """Reference: `pdffonts`; each program here uses every font that it puts into the file."""
    theirs: dict[str, tuple[str, bool, bool]] = {}
    for line in output_of("pdffonts", written).splitlines()[2:]:
        match = re.search(r"^(\S+)\s.*\s(yes|no)\s+(yes|no)\s+(?:yes|no)\s+(\d+\s+\d+)$", line)
        assert match is not None
        theirs[" ".join(match[4].split())] = (match[1], match[2] == "yes", match[3] == "yes")

    def facts(font: Font) -> tuple[str, bool, bool]:
        return font.name, font.embedded, font.subset

    assert {font.object: facts(font) for font in measured.fonts} == theirs
    assert len(theirs) >= 2 or written in KEPT.values()


def test_the_files_own_words_agree_with_exiftool(written: Path, measured: Artwork) -> None:
    """Reference: exiftool, the Info dictionary first, then XMP."""
    theirs = {
        (match[1], match[2]): match[3]
        for match in re.finditer(
            r"\[(\S+)\]\s+(\S+)\s*: *(.*)", output_of("exiftool", "-s", "-G1", "-a", written)
        )
    }
    pdf = measured.pdf
    assert pdf is not None
    assert pdf.title == theirs.get(("PDF", "Title"), theirs.get(("XMP-dc", "Title")))
    assert pdf.producer == theirs.get(("PDF", "Producer"), theirs.get(("XMP-pdf", "Producer")))
    assert pdf.creator == theirs.get(("PDF", "Creator"), theirs.get(("XMP-xmp", "CreatorTool")))
    assert pdf.version == theirs["PDF", "PDFVersion"]
