"""The settings of the rule about trim sizes, and what it knows of the studio's other inboxes."""

from collections.abc import Mapping
from dataclasses import dataclass
from typing import ClassVar, Final, Self

from pydantic import PrivateAttr

from hotfolder.checks.shared.settings import NamedFigures
from hotfolder.model.findings import Severity
from hotfolder.model.ruleset import LengthSetting, SizeSetting
from hotfolder.units import Length, Size

ID: Final = "trim-size"

WITH_BOXES: Final = "with trim and bleed included in the file (bleed switched on)"


@dataclass(frozen=True, slots=True)
class TakenElsewhere:
    """The finished sizes that another inbox of the studio takes, as people find it (`west/inbox`)."""

    inbox: str
    sizes: tuple[Size, ...]


class TrimSizeSettings(NamedFigures):
    """sizes: those that are taken, either way up.

    tolerance: how far a side may be off. told_from: up to how far off it is not even mentioned.
    """

    needs: ClassVar[tuple[str, ...]] = ("sizes",)
    codes: ClassVar[Mapping[str, Severity]] = {
        "unknown": Severity.MUST_FIX,
        "wrong": Severity.MUST_FIX,
        "spread": Severity.MUST_FIX,
        "mixed": Severity.MUST_FIX,
        "off": Severity.ADVICE,
        "turned": Severity.ADVICE,
        "inferred": Severity.ADVICE,
        "placed": Severity.ADVICE,
    }

    sizes: tuple[SizeSetting, ...] = ()
    tolerance: LengthSetting = Length.of_mm(0.5)
    told_from: LengthSetting = Length.of_mm(0.2)
    _elsewhere: tuple[TakenElsewhere, ...] = PrivateAttr(())

    @property
    def elsewhere(self) -> tuple[TakenElsewhere, ...]:
        """What the other inboxes of the studio take."""
        return self._elsewhere

    def knowing(self, elsewhere: tuple[TakenElsewhere, ...]) -> Self:
        """The same settings, which know what the other inboxes of the studio take."""
        known = self.model_copy()
        known._elsewhere = elsewhere  # noqa: SLF001 - a copy of ourselves
        return known
