# The archive of PDF/X files holds what its table says, and every file of it has its maker.
import re
from collections.abc import Mapping
from pathlib import Path

import pikepdf
import pytest

from tests.producers.pdfx.archive import ARCHIVE, described, unpacked
from tests.producers.pdfx.make import MAKERS

MOST_BYTES = 3_000_000
MOST_BYTES_OF_A_FILE = 160_000
LEVELS = {"PDF/X-1a:2001", "PDF/X-1a:2003", "PDF/X-3:2002", "PDF/X-3:2003", "PDF/X-4", "PDF/X-4p"}
# What a file of each level says of itself; PDF/X-1a:2001 as the standard has it, or as some write it.
LABELS = {level: {level} for level in LEVELS} | {"PDF/X-1a:2001": {"PDF/X-1:2001", "PDF/X-1a:2001"}}


@pytest.fixture(scope="module")
def files(tmp_path_factory: pytest.TempPathFactory) -> Mapping[str, Path]:
    return {path.stem: path for path in unpacked(tmp_path_factory.mktemp("pdfx"))}


def test_each_file_has_a_maker_and_a_place_in_the_table(files: Mapping[str, Path]) -> None:
    assert set(files) == set(MAKERS) == set(described())
    assert ARCHIVE.stat().st_size < MOST_BYTES
    assert max(path.stat().st_size for path in files.values()) < MOST_BYTES_OF_A_FILE


def test_many_files_of_every_level_are_as_they_claim() -> None:
    true = [file for file in described().values() if not file.breaks]
    assert len(true) >= 40
    assert {file.level for file in true} == LEVELS
    assert len({file.producer.split()[0] for file in true}) >= 4


def test_each_file_says_what_the_table_says_of_it(files: Mapping[str, Path]) -> None:
    for name, file in described().items():
        if "wrong-identifier" in file.breaks and name.startswith("handled-"):
            continue  # a tool that does not know of the claim drops it
        with pikepdf.open(files[name]) as pdf:
            in_info = pdf.docinfo.get("/GTS_PDFXVersion")
            xmp = bytes(pdf.Root.Metadata.read_bytes()) if "/Metadata" in pdf.Root else b""
        in_xmp = re.findall(rb"pdfxid:GTS_PDFXVersion\s*(?:>|=\s*['\"])([^<'\"]+)", xmp)
        said = {str(in_info)} if in_info is not None else {label.decode() for label in in_xmp}
        assert said & LABELS[file.level], name
