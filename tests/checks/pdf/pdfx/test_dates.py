# Dates of PDF and of XMP: how they are written, and whether two mean the same moment.
import pytest

from hotfolder.checks.pdf.pdfx.dates import pdf_date, xmp_date


@pytest.mark.parametrize(
    "words",
    [
        "D:2026",
        "D:202603",
        "20260301100000",
        "D:20260301",
        "D:20260301100000",
        "D:20260301100000Z",
        "D:20260301100000Z'",
        "D:20260301100000Z00'00'",
        "D:20260301100000+01'00'",
        "D:20260301100000-08'30",
        "D:20240229",
    ],
)
def test_dates_as_pdf_writes_them(words: str) -> None:
    assert pdf_date(words) is not None


@pytest.mark.parametrize(
    "words",
    [
        "",
        "D 20260301",
        "D:26",
        "D:20261301",
        "D:20260230",
        "D:20260301250000",
        "D:20260301100000+25'00'",
        "D:00000101",
        "2026-03-01T10:00:00Z",
        "1 March 2026",
        "D:20260301100000Z and more",
        "D:99991231235959-23'00'",
    ],
)
def test_what_is_no_date_of_pdf(words: str) -> None:
    assert pdf_date(words) is None


@pytest.mark.parametrize(
    "words",
    [
        "2026",
        "2026-03",
        "2026-03-01",
        "2026-03-01T10:00Z",
        "2026-03-01T10:00:00+01:00",
        "2026-03-01T10:00:00.25-08:30",
        "2026-03-01T10:00:00",
    ],
)
def test_dates_as_xmp_writes_them(words: str) -> None:
    assert xmp_date(words) is not None


@pytest.mark.parametrize("words", ["", "2026-3-1", "2026-13-01", "D:20260301", "2026-03-01 10:00", "today"])
def test_what_is_no_date_of_xmp(words: str) -> None:
    assert xmp_date(words) is None


@pytest.mark.parametrize(
    ("in_info", "in_xmp", "agree"),
    [
        ("D:20260301100000Z", "2026-03-01T10:00:00Z", True),
        ("D:20260301100000+01'00'", "2026-03-01T09:00:00Z", True),
        ("D:20260301003000+01'00'", "2026-02-28T23:30:00+00:00", True),
        ("D:20260301100000+01'00'", "2026-03-01T10:00:00+02:00", False),
        ("D:20260301100000", "2026-03-01T10:00:00+02:00", True),
        ("D:20260301100000", "2026-03-01T10:00:01", False),
        ("D:20260301", "2026-03-01T10:00:00Z", True),
        ("D:20260301100000Z", "2026-03-02", False),
        ("D:20260301100042Z", "2026-03-01T10:00Z", True),
        ("D:20260301100000Z", "2026-03-01T10:00:00.9Z", True),
    ],
)
def test_two_dates_agree_as_far_as_both_say(in_info: str, in_xmp: str, agree: bool) -> None:  # noqa: FBT001
    first, second = pdf_date(in_info), xmp_date(in_xmp)
    assert first is not None
    assert second is not None
    assert first.agrees_with(second) is agree
    assert second.agrees_with(first) is agree
