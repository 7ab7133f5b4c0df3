"""Which layers show on paper (optional content, ISO 32000-2, 8.11).

Only the default configuration counts, as it does for every reader that prints. Its automatic
states (`AS`) are applied for the event in question, viewing or printing: a group may be on for the
screen and off in print. Whatever the file leaves undefined is visible: hiding a mark by mistake would
hide a fault from the designer.
"""

from collections.abc import Callable, Iterator
from dataclasses import dataclass, replace
from typing import Final

import pikepdf

from hotfolder.model.document import Layer
from hotfolder.pdf.objects.reading import entry, identity, item, items, name, text

_UNNAMED: Final = "unnamed layer"
_MOST_GROUPS: Final = 10_000  # maps and technical drawings reach some hundreds
_DEEPEST_EXPRESSION: Final = 32  # visibility expressions nest; real ones stay below five
_LONGEST_EXPRESSION: Final = 1_000  # parts of one; arrays shared between branches multiply

# Membership policies (8.11.2.2, table 97; AnyOn where none is given) and operators (8.11.2.2, VE).
_POLICIES: Final[dict[str, Callable[[list[bool]], bool]]] = {
    "AllOn": all,
    "AnyOn": any,
    "AnyOff": lambda on: not all(on),
    "AllOff": lambda on: not any(on),
}
_OPERATORS: Final[dict[str, Callable[[list[bool]], bool]]] = {
    "And": all,
    "Or": any,
    "Not": lambda values: not values[0],
}

# Usage dictionaries: the entry of each category that recommends a state (8.11.4.4, table 100).
# The other categories (Zoom, Language, User, ...) depend on who looks, and recommend nothing here.
_STATES: Final = {"View": "/ViewState", "Print": "/PrintState", "Export": "/ExportState"}


@dataclass(frozen=True, slots=True)
class _GroupStates:
    """Which groups are on, by object number. unlisted: the state of groups that the file does not list."""

    listed: dict[str, bool]
    unlisted: bool = True


class Layers:
    """The optional content of a document, in its default configuration."""

    def __init__(self, pdf: pikepdf.Pdf) -> None:
        properties = entry(pdf.Root, "/OCProperties")
        self._groups = _unique(items(entry(properties, "/OCGs"), _MOST_GROUPS))
        config = entry(properties, "/D")
        self._intents = _intents(config)
        self._screen = self._states(config, "View")
        self._paper = self._states(config, "Print")
        self._printed: dict[str, bool] = {}  # a cache: content streams ask for the same few over and over

    def printed(self, content: object) -> bool:
        """Whether what belongs to `content`, a group or a membership dictionary, shows on paper."""
        key = identity(content)
        if key is None:
            return self._on_paper(content)
        if key not in self._printed:
            self._printed[key] = self._on_paper(content)
        return self._printed[key]

    def names(self, content: object) -> tuple[str, ...]:
        """The names, for people, of the layers of `content`, a group or a membership dictionary."""
        if name(entry(content, "/Type")) != "OCMD":
            return (text(entry(content, "/Name")) or _UNNAMED,)
        members = entry(content, "/OCGs")
        groups = list(items(members, _MOST_GROUPS)) if isinstance(members, pikepdf.Array) else [members]
        groups += _groups_in(entry(content, "/VE"))
        layer_names = dict.fromkeys(text(entry(group, "/Name")) for group in groups)
        return tuple(each for each in layer_names if each) or (_UNNAMED,)

    def facts(self) -> tuple[Layer, ...]:
        """The layers in the order in which the file lists them."""
        return tuple(
            Layer(
                name=text(entry(group, "/Name")) or _UNNAMED,
                on_screen=self._group_on(group, self._screen),
                on_paper=self._group_on(group, self._paper),
                step=_step(group),
            )
            for group in self._groups
        )

    def _on_paper(self, content: object) -> bool:
        """Whether `content` prints, in one of the two states at least that unlisted groups may have.

        The state of a group that the file does not list is undefined (8.11.4.2); programs that merge files
        drop the list and keep the groups.
        """
        return self._visible(content, self._paper) or self._visible(
            content, replace(self._paper, unlisted=False)
        )

    def _states(self, config: object, event: str) -> _GroupStates:
        """Which groups are on for `event`, by object number (8.11.4.3, 8.11.4.5)."""
        base = name(entry(config, "/BaseState")) != "OFF"  # `Unchanged` has nothing before it: on
        states = {identity(group) or "": base for group in self._groups}
        for key, state in (("/ON", True), ("/OFF", False)):
            for group in items(entry(config, key), _MOST_GROUPS):
                states[identity(group) or ""] = state
        for usage in items(entry(config, "/AS"), _MOST_GROUPS):
            if name(entry(usage, "/Event")) != event:
                continue
            categories = [name(each) or "" for each in items(entry(usage, "/Category"), len(_STATES) * 8)]
            for group in items(entry(usage, "/OCGs"), _MOST_GROUPS):
                advice = _advice(group, categories)
                if advice is not None:
                    states[identity(group) or ""] = advice
        return _GroupStates(states)

    def _visible(self, content: object, states: _GroupStates) -> bool:
        if name(entry(content, "/Type")) != "OCMD":
            return self._group_on(content, states)
        expression = entry(content, "/VE")
        if isinstance(expression, pikepdf.Array):
            value = self._evaluate(expression, states, _DEEPEST_EXPRESSION, iter(range(_LONGEST_EXPRESSION)))
            if value is not None:
                return value
        members = entry(content, "/OCGs")
        groups = items(members, _MOST_GROUPS) if isinstance(members, pikepdf.Array) else iter((members,))
        on = [self._group_on(group, states) for group in groups if isinstance(group, pikepdf.Dictionary)]
        if not on:
            return True  # 8.11.2.2: a membership without groups has no effect
        return _POLICIES.get(name(entry(content, "/P")) or "", any)(on)

    def _evaluate(
        self, expression: object, states: _GroupStates, depth: int, budget: Iterator[int]
    ) -> bool | None:
        """The value of a visibility expression; None where it is malformed or too deep (then P counts)."""
        if not depth or next(budget, None) is None:
            return None
        if isinstance(expression, pikepdf.Dictionary):
            return self._group_on(expression, states)
        combine = _OPERATORS.get(name(item(expression, 0)) or "")
        if combine is None:
            return None
        operands = list(items(expression, _LONGEST_EXPRESSION))[1:]
        values = [self._evaluate(operand, states, depth - 1, budget) for operand in operands]
        known = [value for value in values if value is not None]
        return combine(known) if known and len(known) == len(values) else None

    def _group_on(self, group: object, states: _GroupStates) -> bool:
        if not self._intents & _intents(group):
            return True  # 8.11.2.3: the configuration does not speak of groups with another intent
        return states.listed.get(identity(group) or "", states.unlisted)


def _step(group: object) -> str:
    """The processing step that a group is for, with its type (ISO 19593-1; the keys are from memory)."""
    metadata = entry(group, "/GTS_Metadata")
    parts = (name(entry(metadata, "/GTS_ProcStepsGroup")), name(entry(metadata, "/GTS_ProcStepsType")))
    return ", ".join(part for part in parts if part)


def _intents(holder: object) -> frozenset[str]:
    """The intents of a group or configuration (8.11.2.3); `View` where it has none.

    `All` shares an intent with every group; an empty array shares none, and so switches all layers on.
    """
    value = entry(holder, "/Intent")
    if isinstance(value, pikepdf.Array):
        intents = {name(each) or "" for each in items(value, 16)}
    else:
        intents = {name(value) or "View"}
    return frozenset({"View", "Design", "All"} if "All" in intents else intents)


def _advice(group: object, categories: list[str]) -> bool | None:
    """What a group's usage dictionary recommends in these categories; off wins over on."""
    usage = entry(group, "/Usage")
    states = [
        name(entry(entry(usage, f"/{category}"), _STATES[category]))
        for category in categories
        if category in _STATES
    ]
    known = [state for state in states if state in {"ON", "OFF"}]
    return "OFF" not in known if known else None


def _groups_in(expression: object) -> Iterator[object]:
    """The groups that a visibility expression names."""
    waiting = [expression]
    for _ in range(_LONGEST_EXPRESSION):
        if not waiting:
            return
        part = waiting.pop(0)
        if isinstance(part, pikepdf.Dictionary):
            yield part
        waiting = [*waiting, *items(part, _LONGEST_EXPRESSION)][:_LONGEST_EXPRESSION]


def _unique(groups: Iterator[object]) -> tuple[object, ...]:
    """Each group once, in order; what is no dictionary is left out."""
    by_identity: dict[str, object] = {}
    for group in groups:
        if isinstance(group, pikepdf.Dictionary):
            by_identity.setdefault(identity(group) or str(len(by_identity)), group)
    return tuple(by_identity.values())
