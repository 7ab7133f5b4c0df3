# What a file says of itself in ways that look wrong and are right.
from pathlib import Path

import pikepdf
import pytest
from pikepdf import String

from hotfolder.checks.shared.pdfx_levels import ALL, X4, Level
from tests.checks.pdf.pdfx.bases import Edit, edited, metadata
from tests.checks.pdf.pdfx.cases.document_information import entry_as, in_xmp
from tests.checks.pdf.pdfx.judged import broken, judged


def _level_as_an_attribute(pdf: pikepdf.Pdf) -> None:
    data = pdf.Root.Metadata.read_bytes()
    start, end = data.index(b"<pdfxid:GTS"), data.index(b"</pdfxid:GTS_PDFXVersion>")
    level = data[start:end].partition(b">")[2]
    data = data[:start] + data[end + len(b"</pdfxid:GTS_PDFXVersion>") :]
    attribute = b'rdf:about="" pdfxid:GTS_PDFXVersion="' + level + b'"'
    pdf.Root.Metadata.write(data.replace(b'rdf:about=""', attribute))


def _in_utf_16(pdf: pikepdf.Pdf) -> None:
    pdf.Root.Metadata.write(pdf.Root.Metadata.read_bytes().decode().encode("utf-16"))


def _level_in_info_too(pdf: pikepdf.Pdf) -> None:
    level = "PDF/X-4p" if b">PDF/X-4p<" in pdf.Root.Metadata.read_bytes() else "PDF/X-4"
    pdf.docinfo.GTS_PDFXVersion = String(level)


def _no_info(pdf: pikepdf.Pdf) -> None:
    for key in list(pdf.docinfo.keys()):
        del pdf.docinfo[key]


@pytest.mark.parametrize("level", sorted(X4))
@pytest.mark.parametrize(
    "edit",
    [
        _level_as_an_attribute,
        _in_utf_16,
        _level_in_info_too,
        _no_info,
        entry_as("CreationDate", String("D:20260301120000+02'00'")),
        entry_as("Trapped", None),
        entry_as("Title", String("Lantern  walk ")),
        in_xmp(b"<pdf:Trapped>False</pdf:Trapped>", b""),
    ],
)
def test_x4_takes_what_says_the_same(level: Level, edit: Edit, tmp_path: Path) -> None:
    assert broken(judged(edited(level, edit), level, tmp_path)) == {}


def _metadata_of_the_same_level(level: Level) -> Edit:
    def edit(pdf: pikepdf.Pdf) -> None:
        pdf.Root.Metadata = metadata(pdf, level)
        data = pdf.Root.Metadata.read_bytes()
        written = str(pdf.docinfo.GTS_PDFXVersion).encode()
        pdf.Root.Metadata.write(data.replace(b">" + str(level).encode() + b"<", b">" + written + b"<"))

    return edit


@pytest.mark.parametrize("level", sorted(ALL - X4))
def test_earlier_levels_take_metadata_that_say_the_same(level: Level, tmp_path: Path) -> None:
    data = edited(level, _metadata_of_the_same_level(level))
    assert broken(judged(data, level, tmp_path)) == {}


@pytest.mark.parametrize("level", sorted(ALL - X4))
def test_a_title_in_another_alphabet_is_one(level: Level, tmp_path: Path) -> None:
    assert broken(judged(edited(level, entry_as("Title", String("Фонари"))), level, tmp_path)) == {}
