"""What a fault and a look-alike are: something planted in a page, and what must be said of it."""

from collections.abc import Callable, Mapping
from dataclasses import dataclass, field
from types import ModuleType
from typing import Any, Final

from hotfolder.model.geometry import Box
from tests.seeded.planting import Sheet

# Rounding in files, and half a thin line.
_CLOSE_PT: Final = 0.5


@dataclass(frozen=True, slots=True)
class Told:
    """What must be found of a fault that was planted.

    measured: the figures, in `unit`, each within `within` of what is told; or words, any of several where
    they depend on the page, or how they begin (`a picture...`); None where the finding has no figure. page:
    None for the file as a whole. boxes: the places on the page, all of them, each within `close_pt` of one
    that is told at every side. inside: where the places depend on the page, what holds them all. further:
    pages on which the same cause shows again.
    """

    measured: tuple[float, ...] | str | frozenset[str] | None = None
    unit: str = ""
    within: float = 0.01
    page: int | None = 1
    boxes: tuple[Box, ...] = ()
    close_pt: float = _CLOSE_PT
    inside: Box | None = None
    further: tuple[int, ...] = ()


Plant = Callable[[Sheet], Told]
Spoil = Callable[[bytes], bytes]


@dataclass(frozen=True, slots=True)
class Fault:
    """One kind of fault.

    also: other findings (`rule.code`) that the same fault causes, of which some or all may be told.
    save: how the file is written. spoil: what happens to its bytes then. file_name: what it is called.
    breaks: whether it leaves the file so broken that other rules cannot be judged. rules: the rule set that
    it is judged by.
    """

    name: str
    rule: str
    code: str
    plant: Plant
    also: frozenset[str] = frozenset()
    save: Mapping[str, Any] = field(default_factory=dict)
    spoil: Spoil | None = None
    file_name: str = "flyer.pdf"
    breaks: bool = False
    rules: str = "seed.toml"

    def __str__(self) -> str:
        return self.name


@dataclass(frozen=True, slots=True)
class LookAlike:
    """Something that looks like a fault of `rule` and is none. rules: the rule set it is judged by."""

    name: str
    rule: str
    plant: Callable[[Sheet], None]
    rules: str = "seed.toml"
    save: Mapping[str, Any] = field(default_factory=dict)

    def __str__(self) -> str:
        return self.name


def fault(rule: str, code: str, *also: str, **more: Any) -> Callable[[Plant], Fault]:  # noqa: ANN401 - fields
    """Makes a fault of the function that plants it; its name becomes the fault's."""

    def made(plant: Plant) -> Fault:
        return Fault(_words(plant), rule, code, plant, also=frozenset(also), **more)

    return made


def look_alike(rule: str, **more: Any) -> Callable[[Callable[[Sheet], None]], LookAlike]:  # noqa: ANN401 - fields
    """Makes a look-alike of the function that plants it; its name becomes the look-alike's."""

    def made(plant: Callable[[Sheet], None]) -> LookAlike:
        return LookAlike(_words(plant), rule, plant, **more)

    return made


def _words(plant: Callable[..., object]) -> str:
    return plant.__name__.replace("_", " ")


def faults_of(module: ModuleType) -> tuple[Fault, ...]:
    """The faults of a module, in its order."""
    return tuple(each for each in vars(module).values() if isinstance(each, Fault))


def look_alikes_of(module: ModuleType) -> tuple[LookAlike, ...]:
    """The look-alikes of a module, in its order."""
    return tuple(each for each in vars(module).values() if isinstance(each, LookAlike))
