"""Dates as PDF and XMP write them, and whether two of them are the same."""

import re
from dataclasses import dataclass
from datetime import UTC, datetime, timedelta
from typing import Final

# ISO 32000-1, 7.9.4. "D:" was optional up to the PDF Reference of PDF 1.7 (3.8.3). The apostrophe at the end
# is left out from PDF 2.0 on, and by many before; LibreOffice writes one behind Z.
_PDF: Final = re.compile(
    r"(?:D:)?(?P<year>\d{4})(?:(?P<month>\d\d)(?:(?P<day>\d\d)(?:(?P<hour>\d\d)(?:(?P<minute>\d\d)"
    r"(?:(?P<second>\d\d))?)?)?)?)?(?P<zone>Z(?:'|00'?(?:00'?)?)?|[+-]\d\d'?(?:\d\d'?)?)?"
)

# ISO 16684-1, 8.2.1.2 (Date)
_XMP: Final = re.compile(
    r"(?P<year>\d{4})(?:-(?P<month>\d\d)(?:-(?P<day>\d\d)(?:T(?P<hour>\d\d):(?P<minute>\d\d)"
    r"(?::(?P<second>\d\d)(?:\.\d+)?)?(?P<zone>Z|[+-]\d\d:\d\d)?)?)?)?"
)
_PARTS: Final = ("year", "month", "day", "hour", "minute", "second")
_LOWEST: Final = (1, 1, 1, 0, 0, 0)
_TO_THE_MINUTE: Final = 5


@dataclass(frozen=True, slots=True)
class WrittenDate:
    """A date that is written as it should be.

    local: as it stands there, what is not said filled up. universal: the same in universal time; None where
    the distance from that is not said. parts: how many of year, month, day, hour, minute and second are said.
    """

    local: datetime
    universal: datetime | None
    parts: int

    def agrees_with(self, other: "WrittenDate") -> bool:
        """Whether both may mean the same moment, as far as both say it."""
        parts = min(self.parts, other.parts)
        mine, theirs = self.universal, other.universal
        if mine is None or theirs is None or parts < _TO_THE_MINUTE:
            mine, theirs = self.local, other.local
        return mine.timetuple()[:parts] == theirs.timetuple()[:parts]


def pdf_date(words: str) -> WrittenDate | None:
    """A date as PDF writes it (`D:20260301100000+01'00'`); None for anything else."""
    return _date(_PDF.fullmatch(words))


def xmp_date(words: str) -> WrittenDate | None:
    """A date as XMP writes it (`2026-03-01T10:00:00+01:00`); None for anything else."""
    return _date(_XMP.fullmatch(words))


def _date(match: re.Match[str] | None) -> WrittenDate | None:
    if match is None:
        return None
    said = [int(match[part]) for part in _PARTS if match[part] is not None]
    year, month, day, hour, minute, second = (*said, *_LOWEST[len(said) :])
    try:
        local = datetime(year, month, day, hour, minute, second, tzinfo=UTC)
        offset = _offset(match["zone"])
        universal = local - offset if offset is not None else None
    except (ValueError, OverflowError):
        return None
    return WrittenDate(local, universal, len(said))


def _offset(zone: str | None) -> timedelta | None:
    """How far local time is ahead of universal time. Raises ValueError where no place on earth is."""
    if zone is None:
        return None
    if zone[0] == "Z":
        return timedelta()
    digits = "".join(each for each in zone if each.isdecimal()).ljust(4, "0")
    hours, minutes = int(digits[:2]), int(digits[2:])
    if hours > 23 or minutes > 59:
        raise ValueError(zone)
    ahead = timedelta(hours=hours, minutes=minutes)
    return -ahead if zone[0] == "-" else ahead
