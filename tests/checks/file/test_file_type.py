# File type: by content, not by name.
import pytest
from pydantic import ValidationError

from hotfolder.checks.file.file_type import FileTypeSettings, check
from hotfolder.model.facts import Format
from hotfolder.model.findings import Severity
from hotfolder.units import parse_size
from tests.artwork.files import named
from tests.artwork.flyer import flyer
from tests.artwork.pictures import placed, raster, with_format
from tests.checks.said import codes, figures, the_only

PDF_ONLY = FileTypeSettings(
    accept=(Format.PDF,), refused_because="No print-ready copy is made of pictures yet."
)
OUTDOOR = FileTypeSettings(accept=(Format.PDF, Format.TIFF, Format.JPEG))
PICTURE = placed(raster((1819, 2551)), parse_size("A5"), 3)


def test_accepted_formats_pass() -> None:
    assert codes(check(flyer().artwork(), PDF_ONLY)) == []
    assert codes(check(with_format(PICTURE, Format.JPEG, "a.jpg"), OUTDOOR)) == []


def test_a_picture_is_refused_with_the_printers_sentence() -> None:
    finding = the_only(check(with_format(PICTURE, Format.JPEG, "a.jpg"), PDF_ONLY))
    assert (finding.code, finding.severity, *figures(finding)) == (
        "refused",
        Severity.MUST_FIX,
        "JPEG",
        "PDF",
    )
    assert "No print-ready copy is made of pictures yet." in finding.message


def test_an_unknown_file_must_be_fixed() -> None:
    text = flyer().artwork()
    unknown = type(text)(type(text.file)("flyer.pdf", 12, "0" * 64, None), text.pages)
    assert codes(check(unknown, OUTDOOR)) == ["unknown"]


def test_an_empty_file_is_called_empty() -> None:
    text = flyer().artwork()
    empty = type(text)(type(text.file)("flyer.pdf", 0, "0" * 64, None), text.pages)
    finding = the_only(check(empty, OUTDOOR))
    assert (finding.code, finding.measured) == ("unknown", "empty")
    assert "0 bytes" in finding.message


def test_a_misleading_ending_is_advice() -> None:
    finding = the_only(check(with_format(PICTURE, Format.TIFF, "poster.pdf"), OUTDOOR))
    assert (finding.code, finding.severity, finding.measured) == ("ending", Severity.ADVICE, ".pdf")
    assert the_only(check(named(flyer().artwork(), "flyer"), PDF_ONLY)).measured == "no ending"


@pytest.mark.parametrize(
    ("file_format", "name"),
    [(Format.JPEG, "a.jpeg"), (Format.JPEG, "a.JPG"), (Format.TIFF, "a.tif"), (Format.TIFF, "a.TIFF")],
)
def test_usual_endings_are_not_flagged(file_format: Format, name: str) -> None:
    assert codes(check(with_format(PICTURE, file_format, name), OUTDOOR)) == []


def test_the_formats_must_be_named_or_asked_for() -> None:
    with pytest.raises(ValidationError, match="accept"):
        FileTypeSettings()
    assert FileTypeSettings(ask=True).accept == ()
    assert FileTypeSettings(apply=False).accept == ()
