"""Settings whose figures a rule set has to name, or has to leave open on purpose; areas as settings."""

import re
from typing import Annotated, ClassVar, Final, Self

from pydantic import BeforeValidator, model_validator

from hotfolder.model.ruleset import RuleSettings, Unit

_AREA: Final = re.compile(r"\s*(\d+(?:\.\d+)?)\s*(mm|cm)(?:2|\u00b2)\s*", re.ASCII)


def parse_area(text: str) -> float:
    """The square millimetres written as `15 mm2` or `4 cm2`. Raises ValueError for anything else."""
    match = _AREA.fullmatch(text)
    if match is None:
        message = f"'{text}' is not an area; write a number with its unit, such as '15 mm2' or '4 cm2'"
        raise ValueError(message)
    return float(match[1]) * (100 if match[2] == "cm" else 1)


def _area(value: object) -> float:
    # A float is a default of this program; one in a rule set was refused before, for lack of a unit.
    return value if isinstance(value, float) else parse_area(str(value))


AreaSetting = Annotated[float, BeforeValidator(_area), Unit("mm2")]


class NamedFigures(RuleSettings):
    """Settings with figures that no default may stand in for: they differ from printer to printer.

    needs: the fields that must be named, unless `ask` leaves them open or `apply` takes the rule out.
    """

    needs: ClassVar[tuple[str, ...]] = ()

    @model_validator(mode="after")
    def _figures_are_named(self) -> Self:
        missing = [name for name in self.needs if name not in self.model_fields_set]
        if missing and self.apply and not self.ask:
            message = f"{missing[0]}: missing; name it, or write 'ask = true' where the printer does not say"
            raise ValueError(message)
        return self
