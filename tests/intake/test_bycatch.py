"""What is left alone in an inbox, and what is not mistaken for it."""

import pytest

from hotfolder.intake.bycatch import why_left_alone


@pytest.mark.parametrize(
    "name",
    [
        ".DS_Store", "._flyer.pdf", ".hidden.pdf", "Thumbs.db", "THUMBS.DB", "desktop.ini", "Icon\r",
        "flyer.pdf.part", "flyer.pdf.filepart", "flyer.PDF.CRDOWNLOAD", "~$flyer.docx", "flyer.pdf~",
        "~flyer.tmp", "flyer.pdf.job.toml", "flyer.psd.sb-1a2b3c4d-Xyz123", "@eaDir", ".flyer.pdf.Xa81bZ",
    ],
)  # fmt: skip
def test_is_left_alone(name: str) -> None:
    assert why_left_alone(name)


@pytest.mark.parametrize(
    "name",
    [
        "flyer.pdf",
        "FLYER.PDF",
        "-rf.pdf",
        "part.pdf",
        "notes.txt",
        "flyer (2).pdf",
        "x.report.json",
        "job.toml",
    ],
)
def test_is_a_job(name: str) -> None:
    assert why_left_alone(name) is None
