"""The models of a rule and of a rule set: what one printer wants of one product."""

from collections.abc import Callable, Iterator, Mapping
from dataclasses import dataclass
from datetime import date
from pathlib import Path
from typing import Annotated, ClassVar, Generic, Self, TypeVar, get_args

from pydantic import BaseModel, BeforeValidator, ConfigDict, model_validator

from hotfolder.model.artwork import Artwork
from hotfolder.model.findings import Finding, Severity, Unjudged
from hotfolder.model.press import Press
from hotfolder.units import Length, Size, parse_length, parse_percent, parse_ppi, parse_size


def _from_text(kind: type, parse: Callable[[str], object]) -> BeforeValidator:
    """A pydantic validator that reads text with `parse` and takes a ready value as it is."""

    def read(value: object) -> object:
        if isinstance(value, kind):
            return value
        # A bare number is refused in the words of the parser, which name the unit that would do.
        return parse(value if isinstance(value, str) else str(value))

    return BeforeValidator(read)


@dataclass(frozen=True, slots=True)
class Unit:
    """The unit of a setting that is a bare number in the model, as a person reads it."""

    name: str


def unit_of(annotation: object) -> str:
    """The unit that stands anywhere in a setting's type; empty where none does."""
    if isinstance(annotation, Unit):
        return annotation.name
    metadata = getattr(annotation, "__metadata__", ())
    return next(filter(None, map(unit_of, (*metadata, *get_args(annotation)))), "")


LengthSetting = Annotated[Length, _from_text(Length, parse_length)]
SizeSetting = Annotated[Size, _from_text(Size, parse_size)]
PpiSetting = Annotated[float, _from_text(float, parse_ppi), Unit("ppi")]
PercentSetting = Annotated[float, _from_text(float, parse_percent), Unit("%")]


class RuleSettings(BaseModel):
    """Settings of one rule in one rule set; each rule has a subclass with its own figures.

    codes: every code that the rule may find, with its default severity (`must-fix`, `advice`).
    apply: false takes a rule out that the extended rule set has.
    ask: the printer does not publish the figure; the rule is then not judged and never blocks.
    severity: what this rule set changes of the defaults, by code.
    """

    model_config = ConfigDict(frozen=True, extra="forbid", arbitrary_types_allowed=True)
    codes: ClassVar[Mapping[str, Severity]] = {}

    apply: bool = True
    ask: bool = False
    severity: Mapping[str, Severity] = {}

    @model_validator(mode="after")
    def _only_known_codes(self) -> Self:
        unknown = [code for code in self.severity if code not in self.codes]
        if unknown:
            message = f"severity: no code '{unknown[0]}' here; there are {', '.join(self.codes)}"
            raise ValueError(message)
        return self

    def severity_of(self, code: str) -> Severity:
        """The severity of `code` in this rule set. KeyError for a code that the rule does not have."""
        return self.severity.get(code, self.codes[code])

    @property
    def gravest(self) -> Severity:
        """The gravest severity that a finding of this rule may have: what a rule weighs when unjudged."""
        severities = [self.severity_of(code) for code in self.codes]
        return Severity.MUST_FIX if Severity.MUST_FIX in severities else Severity.ADVICE


S = TypeVar("S", bound=RuleSettings)


@dataclass(frozen=True, slots=True)
class Rule(Generic[S]):
    """One check: its id in the trade's words, its settings and the function that judges.

    `check` is pure: it opens no file and calls no other check. `question` is what to ask the
    printer where a rule set leaves the figure open. `since` is the version of hotfolder that
    brought the rule.
    """

    id: str
    title: str
    settings: type[S]
    check: Callable[[Artwork, S], Iterator[Finding | Unjudged]]
    question: str
    since: str


@dataclass(frozen=True, slots=True)
class AppliedRule(Generic[S]):
    """A rule with the settings that one rule set gives it."""

    rule: Rule[S]
    settings: S

    def judge(self, artwork: Artwork) -> Iterator[Finding | Unjudged]:
        """What the rule says about `artwork` with these settings."""
        return self.rule.check(artwork, self.settings)


@dataclass(frozen=True, slots=True)
class Product:
    """What placing has to know of the product: its finished sizes and its bleed in points.

    any_size: no rule asks for a size, so that a file's own word on it counts, a raster file's
    header too whatever resolution it says.
    """

    sizes: tuple[Size, ...] = ()
    bleed_pt: float = 0.0
    any_size: bool = False


@dataclass(frozen=True, slots=True)
class RuleSet:
    """What one printer wants of one product.

    name: file name without ending. source: where the figures come from. checked: when they
    were last compared with the printer's own page, None where they are a starting point only.
    questions: what the printer has to be asked, a sentence each. press: the printing condition for which
    plates are drawn; None where the set names none. paper_white: whether pictures of the printed page
    show the paper's own tint.
    """

    name: str
    title: str
    path: Path
    source: str
    checked: date | None
    product: Product
    rules: tuple[AppliedRule[RuleSettings], ...]
    questions: tuple[str, ...] = ()
    press: Press | None = None
    paper_white: bool = False
