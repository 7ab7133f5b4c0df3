"""Settings whose figures a rule set has to name, or has to leave open on purpose."""

from typing import ClassVar, Self

from pydantic import model_validator

from hotfolder.ruleset import RuleSettings


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
