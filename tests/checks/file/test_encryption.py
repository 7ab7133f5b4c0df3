# Encryption: locked, encrypted, and printing forbidden.
from dataclasses import replace

from hotfolder.checks.file.encryption import EncryptionSettings, check
from hotfolder.model.artwork import Artwork
from hotfolder.model.document import Encryption, PdfFacts
from hotfolder.model.facts import ProblemKind
from hotfolder.model.findings import Severity
from hotfolder.units import parse_size
from tests.artwork.files import A_PDF, artwork, unreadable
from tests.artwork.flyer import flyer
from tests.artwork.pictures import placed, raster
from tests.checks.said import codes, the_only, unjudged

FORBIDDEN = EncryptionSettings()
ALLOWED = EncryptionSettings(allowed=True)


def encrypted(*, opened: bool = True, printing: bool | None = True) -> Artwork:
    facts: PdfFacts = replace(A_PDF, encryption=Encryption(opened, "AES-256", printing))
    return artwork(flyer().page(), pdf=facts)


def test_an_open_file_passes() -> None:
    assert codes(check(flyer().artwork(), FORBIDDEN)) == []


def test_a_locked_file_must_be_fixed_even_where_encryption_is_taken() -> None:
    locked = unreadable(ProblemKind.ENCRYPTED, "it needs a password")
    for settings in (FORBIDDEN, ALLOWED):
        assert the_only(check(locked, settings)).code == "locked"
        assert codes(check(encrypted(opened=False), settings)) == ["locked"]


def test_a_file_that_needs_a_certificate_is_not_said_to_need_a_password() -> None:
    message = the_only(check(unreadable(ProblemKind.ENCRYPTED, "it needs a certificate"), FORBIDDEN)).message
    assert message == "It needs a certificate, so it could not be checked or printed."


def test_a_blank_password_is_flagged_where_encryption_is_not_taken() -> None:
    finding = the_only(check(encrypted(), FORBIDDEN))
    assert (finding.code, finding.severity, finding.measured) == (
        "encrypted",
        Severity.MUST_FIX,
        "encrypted (AES-256)",
    )
    assert codes(check(encrypted(), ALLOWED)) == []


def test_a_file_that_forbids_printing_is_flagged_where_encryption_is_taken() -> None:
    assert codes(check(encrypted(printing=False), ALLOWED)) == ["no-printing"]
    assert codes(check(encrypted(printing=None), ALLOWED)) == []


def test_raster_files_know_no_encryption() -> None:
    assert codes(check(placed(raster((1819, 2551)), parse_size("A5"), 3), FORBIDDEN)) == []


def test_an_unread_file_is_not_judged() -> None:
    assert [item.severity for item in unjudged(check(unreadable(), FORBIDDEN))] == [Severity.MUST_FIX]
