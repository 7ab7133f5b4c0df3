"""Runs PostScript calculator programs (ISO 32000-2, 7.10.5) for many inputs at once.

The stack holds arrays with one value for each input. Where a condition holds for some inputs only, those run
one branch and the others the other, and the two stacks are joined again. Integers, reals and booleans are
told apart as in PostScript: they behave differently under `idiv`, `and`, `bitshift` and the like.
"""

import re
from collections.abc import Callable, Sequence
from typing import Any, Final

import numpy as np
from numpy.typing import NDArray

from hotfolder.errors import NotDrawnError

Column = NDArray[Any]  # int64, float64 or bool, a value for each input
Floats = NDArray[np.float64]

_NUMBER: Final = re.compile(r"[+-]?(?:\d+(?:\.\d*)?|\.\d+)(?:[eE][+-]?\d+)?", re.ASCII)
_GREATEST_WHOLE: Final = 2**31 - 1  # greater ones are taken for reals, as in PostScript
_TOKEN: Final = re.compile(rb"%[^\r\n]*|[{}]|[^\s{}%\x00]+")
_MOST_TOKENS: Final = 100_000
_NESTING: Final = 64
_DEEPEST_STACK: Final = 256  # the standard asks for 100

Step = "float | int | str | Block"


class Block(tuple[Any, ...]):
    """A procedure: what stands between braces."""

    __slots__ = ()


def read_program(data: bytes) -> "CalculatorProgram":
    """The program in `data`; NotDrawnError where it is none."""
    tokens = [token for token in _TOKEN.findall(data) if not token.startswith(b"%")]
    if len(tokens) > _MOST_TOKENS or tokens[:1] != [b"{"]:
        raise NotDrawnError("a calculator function is not a program")
    block, _ = _block(tokens, 1, _NESTING)
    return CalculatorProgram(block)


def _block(tokens: Sequence[bytes], place: int, depth: int) -> tuple[Block, int]:
    steps: list[object] = []
    while place < len(tokens):
        token = tokens[place]
        place += 1
        if token == b"}":
            return Block(steps), place
        if token == b"{":
            if not depth:
                raise NotDrawnError("a calculator function is nested without end")
            inner, place = _block(tokens, place, depth - 1)
            steps.append(inner)
        else:
            steps.append(_step(token))
    # Every reader accepts a program whose last brace is missing.
    return Block(steps), place


def _step(token: bytes) -> float | int | bool | str:
    word = token.decode("latin-1")
    if word in _OPERATORS or word in _STACKING or word in {"if", "ifelse"}:
        return word
    if word in {"true", "false"}:
        return word == "true"
    if _NUMBER.fullmatch(word) is None:
        raise NotDrawnError("a calculator function has an unknown operator")
    figure = float(word)
    is_whole = word.lstrip("+-").isdigit() and abs(figure) <= _GREATEST_WHOLE
    return int(figure) if is_whole else figure


class CalculatorProgram:
    """A calculator program that has been parsed."""

    def __init__(self, block: Block) -> None:
        self._block = block

    def run(self, values: Floats, outputs: int) -> Floats:
        """The top `outputs` numbers that it leaves on the stack, for inputs of shape (count, inputs)."""
        stack: list[Column] = [values[:, place] for place in range(values.shape[1])]
        with np.errstate(all="ignore"):
            stack = _run(self._block, stack, len(values))
        if len(stack) < outputs:
            raise NotDrawnError("a calculator function gives fewer values than it says")
        left = [column.astype(np.float64) for column in stack[len(stack) - outputs :]]
        return np.nan_to_num(np.stack(left, axis=1)) if left else np.zeros((len(values), 0))


def _run(block: Block, stack: list[Column], count: int) -> list[Column]:
    pending: list[Block] = []
    for step in block:
        if isinstance(step, Block):
            pending.append(step)
        elif step == "if" and isinstance(step, str):
            stack = _branch(stack, count, pending[-1:], ())
            pending.clear()
        elif step == "ifelse":
            stack = _branch(stack, count, pending[-2:-1], pending[-1:])
            pending.clear()
        elif isinstance(step, str):
            _operate(step, stack, count)
        else:
            stack.append(np.full(count, step))
        if len(stack) > _DEEPEST_STACK:
            raise NotDrawnError("a calculator function piles up too many values")
    return stack


def _operate(word: str, stack: list[Column], count: int) -> None:
    try:
        if word in _STACKING:
            _STACKING[word](stack, count)
            return
        takes, work = _OPERATORS[word]
        # With too few values on the stack `work` gets too few, which is a TypeError.
        given = stack[-takes:]
        del stack[-takes:]
        stack.append(work(*given))
    except (IndexError, OverflowError, TypeError, ValueError):
        raise NotDrawnError("a calculator function does what cannot be done") from None


def _branch(stack: list[Column], count: int, yes: Sequence[Block], no: Sequence[Block]) -> list[Column]:
    if not stack or not yes:
        raise NotDrawnError("a calculator function does what cannot be done")
    condition = stack.pop().astype(bool)
    if condition.all():
        return _run(yes[0], stack, count)
    if not condition.any():
        return _run(no[0], stack, count) if no else stack
    parts = []
    for rows, way in ((condition, yes), (~condition, no)):
        part = [column[rows] for column in stack]
        parts.append(_run(way[0], part, int(rows.sum())) if way else part)
    if len(parts[0]) != len(parts[1]):
        raise NotDrawnError("the branches of a calculator function leave different numbers of values")
    joined = []
    for first, second in zip(*parts, strict=True):
        column = np.empty(count, np.result_type(first, second))
        column[condition], column[~condition] = first, second
        joined.append(column)
    return joined


# Arithmetic (table 42)


def _is_whole(*columns: Column) -> bool:
    return all(column.dtype == np.int64 for column in columns)


def _divided(a: Column, b: Column) -> Column:
    return np.where(b == 0, 0.0, np.divide(a, np.where(b == 0, 1, b)))


def _whole_divided(a: Column, b: Column) -> Column:
    """Towards zero, as PostScript does."""
    a, b = a.astype(np.int64), b.astype(np.int64)
    safe = np.where(b == 0, 1, b)
    return np.where(b == 0, 0, np.sign(a) * np.sign(safe) * (np.abs(a) // np.abs(safe)))


def _remainder(a: Column, b: Column) -> Column:
    """With the sign of the dividend."""
    a, b = a.astype(np.int64), b.astype(np.int64)
    return np.where(b == 0, 0, np.fmod(a, np.where(b == 0, 1, b)))


def _rounded(work: Callable[[Column], Column]) -> Callable[[Column], Column]:
    return lambda a: a if _is_whole(a) else work(a)


def _half_up(a: Column) -> Column:
    return np.floor(a + 0.5)


def _arc_tangent(a: Column, b: Column) -> Column:
    """Degrees from 0 to 360."""
    return np.degrees(np.arctan2(a.astype(np.float64), b.astype(np.float64))) % 360


def _raised(a: Column, b: Column) -> Column:
    return np.nan_to_num(np.power(a.astype(np.float64), b.astype(np.float64)))


def _logarithm(base: float) -> Callable[[Column], Column]:
    return lambda a: np.where(a > 0, np.log(np.where(a > 0, a, 1)) / np.log(base), 0.0)


def _whole(a: Column) -> Column:
    return np.trunc(np.nan_to_num(a.astype(np.float64))).clip(-(2**53), 2**53).astype(np.int64)


# Relations and bits (table 42)


def _both(truth: Callable[[Column, Column], Column]) -> Callable[[Column, Column], Column]:
    """`and`, `or`, `xor`: of truth values, or of the bits of whole numbers."""
    return lambda a, b: truth(a, b) if a.dtype == b.dtype == np.bool_ else truth(_whole(a), _whole(b))


def _shifted(a: Column, b: Column) -> Column:
    a, b = _whole(a), np.clip(_whole(b), -63, 63)
    return np.where(b >= 0, np.left_shift(a, np.maximum(b, 0)), np.right_shift(a, np.maximum(-b, 0)))


_OPERATORS: Final[dict[str, tuple[int, Callable[..., Column]]]] = {
    "abs": (1, np.abs), "add": (2, np.add), "atan": (2, _arc_tangent), "ceiling": (1, _rounded(np.ceil)),
    "cos": (1, lambda a: np.cos(np.radians(a))), "cvi": (1, _whole),
    "cvr": (1, lambda a: a.astype(np.float64)), "div": (2, _divided), "exp": (2, _raised),
    "floor": (1, _rounded(np.floor)), "idiv": (2, _whole_divided), "ln": (1, _logarithm(np.e)),
    "log": (1, _logarithm(10)), "mod": (2, _remainder), "mul": (2, np.multiply), "neg": (1, np.negative),
    "round": (1, _rounded(_half_up)), "sin": (1, lambda a: np.sin(np.radians(a))),
    "sqrt": (1, lambda a: np.sqrt(np.maximum(a, 0))), "sub": (2, np.subtract),
    "truncate": (1, _rounded(np.trunc)),
    "and": (2, _both(np.bitwise_and)), "or": (2, _both(np.bitwise_or)), "xor": (2, _both(np.bitwise_xor)),
    "bitshift": (2, _shifted), "not": (1, lambda a: ~a if a.dtype == np.bool_ else ~_whole(a)),
    "eq": (2, np.equal), "ne": (2, np.not_equal), "ge": (2, np.greater_equal), "gt": (2, np.greater),
    "le": (2, np.less_equal), "lt": (2, np.less),
}  # fmt: skip


# The stack (table 42)


def _number(column: Column) -> int:
    """The operand of `copy` or `roll`; ValueError where it differs between inputs."""
    if not len(column):
        return 0
    value = int(column[0])
    if not (column == value).all():
        raise ValueError
    return value


def _pop(stack: list[Column], _count: int) -> None:
    stack.pop()


def _exchange(stack: list[Column], _count: int) -> None:
    stack[-1], stack[-2] = stack[-2], stack[-1]


def _duplicate(stack: list[Column], _count: int) -> None:
    stack.append(stack[-1])


def _copy(stack: list[Column], _count: int) -> None:
    many = _number(stack.pop())
    if not 0 <= many <= len(stack):
        raise ValueError
    stack.extend(stack[len(stack) - many :])


def _index(stack: list[Column], count: int) -> None:
    wanted = stack.pop()
    if not count:
        stack.append(wanted)
        return
    if (wanted < 0).any() or (wanted >= len(stack)).any():
        raise ValueError
    if (wanted == wanted[0]).all():
        stack.append(stack[-1 - int(wanted[0])])
        return
    stack.append(np.stack(stack[::-1])[wanted.astype(np.intp), np.arange(count)])


def _roll(stack: list[Column], _count: int) -> None:
    by, many = _number(stack.pop()), _number(stack.pop())
    if not 0 <= many <= len(stack):
        raise ValueError
    if many:
        rolled, by = stack[len(stack) - many :], by % many
        stack[len(stack) - many :] = rolled[many - by :] + rolled[: many - by]


_STACKING: Final[dict[str, Callable[[list[Column], int], None]]] = {
    "pop": _pop, "exch": _exchange, "dup": _duplicate, "copy": _copy, "index": _index, "roll": _roll,
}  # fmt: skip
