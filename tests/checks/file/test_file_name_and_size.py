# File name and size: what travels to the press, and what does not.
from dataclasses import replace

import pytest
from pydantic import ValidationError

from hotfolder.checks.file import file_name, file_size
from hotfolder.model.findings import Quantity, Severity
from tests.artwork.files import named
from tests.artwork.flyer import flyer
from tests.checks.said import codes, figures, the_only

NAME = file_name.FileNameSettings()
PIECE = flyer().artwork()


@pytest.mark.parametrize("name", ["flyer.pdf", "Flyer_A5-2.PDF", "2026-flyer.v2.pdf"])
def test_plain_names_pass(name: str) -> None:
    assert codes(file_name.check(named(PIECE, name), NAME)) == []


@pytest.mark.parametrize(
    "name", ["my flyer.pdf", "fl\u00e9yer.pdf", "a/b.pdf", "flyer\n.pdf", "fl\udcffyer.pdf", "\U0001f600.pdf"]
)
def test_characters_that_do_not_travel_are_advice(name: str) -> None:
    finding = the_only(file_name.check(named(PIECE, name), NAME))
    assert (finding.code, finding.severity) == ("characters", Severity.ADVICE)
    finding.message.encode("utf-8")  # a name of odd bytes can be told
    assert "\n" not in finding.message


@pytest.mark.parametrize("name", ["-rf.pdf", ".flyer.pdf"])
def test_a_hyphen_or_a_full_stop_in_front_is_advice(name: str) -> None:
    assert codes(file_name.check(named(PIECE, name), NAME)) == ["characters"]


def test_a_printer_may_take_spaces() -> None:
    spaces = file_name.FileNameSettings(signs="-_. ")
    assert codes(file_name.check(named(PIECE, "my flyer.pdf"), spaces)) == []


def test_long_names_are_advice_at_the_printers_figure() -> None:
    short = file_name.FileNameSettings(longest=20)
    assert codes(file_name.check(named(PIECE, "a" * 16 + ".pdf"), short)) == []
    finding = the_only(file_name.check(named(PIECE, "a" * 17 + ".pdf"), short))
    assert (finding.code, *figures(finding)) == (
        "too-long",
        Quantity.of(21, unit="characters"),
        Quantity.of(20, unit="characters"),
    )


def test_a_file_over_the_limit_is_advice() -> None:
    limit = file_size.FileSizeSettings.model_validate({"largest": "5 MB"})
    heavy = replace(PIECE, file=replace(PIECE.file, bytes=5_000_001))
    finding = the_only(file_size.check(heavy, limit))
    assert (finding.code, finding.severity) == ("too-large", Severity.ADVICE)
    assert finding.required == Quantity.of(5.0, unit="MB")
    at_limit = replace(PIECE, file=replace(PIECE.file, bytes=5_000_000))
    assert codes(file_size.check(at_limit, limit)) == []


@pytest.mark.parametrize("largest", [500, "500", "much"])
def test_a_limit_needs_its_unit(largest: object) -> None:
    with pytest.raises(ValidationError, match="100 MB"):
        file_size.FileSizeSettings.model_validate({"largest": largest})


def test_a_limit_has_to_be_named() -> None:
    with pytest.raises(ValidationError, match="largest"):
        file_size.FileSizeSettings()
