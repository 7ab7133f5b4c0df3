"""Evaluates PDF functions (ISO 32000-2, 7.10) for many inputs at once.

A function takes an array of shape (count, inputs) and gives one of shape (count, outputs). Reading or calling
one that is malformed raises `NotDrawnError`.
"""

import math
from abc import ABC, abstractmethod
from collections.abc import Iterator, Sequence
from typing import Final

import numpy as np
import pikepdf
from numpy.typing import NDArray

from hotfolder.errors import NotDrawnError
from hotfolder.pdf.colour.calculator import CalculatorProgram, read_program
from hotfolder.pdf.objects.reading import entry, item, name, number, numbers, whole
from hotfolder.pdf.objects.streams import bounded_bytes

Floats = NDArray[np.float64]

_NESTING: Final = 16  # functions within stitching functions
_MOST_PARTS: Final = 4096  # functions that one stitches together, those within them included
# Samples around one place in a table, two for each input: a table of sixteen inputs has gigabytes.
_MOST_CORNERS: Final = 1 << 16
_MOST_NUMBERS: Final = 64  # inputs or outputs
_MOST_BYTES: Final = 64 * 1024 * 1024  # a table of four inputs with 64 points each in 8 bits, three outputs


class Function(ABC):
    """A function. domain, range: the least and greatest value of each input and output; range may be None."""

    def __init__(self, domain: Floats, output: Floats | None) -> None:
        self.domain = domain
        self.range = output

    @property
    def inputs(self) -> int:
        """How many numbers it takes."""
        return len(self.domain)

    def __call__(self, values: Floats) -> Floats:
        """The results for `values` of shape (count, inputs)."""
        if values.shape[1] != self.inputs:
            raise NotDrawnError("a function takes another number of values than its colour has")
        results = self._of(np.clip(values, self.domain[:, 0], self.domain[:, 1]))
        if self.range is None:
            return results
        if results.shape[1] < len(self.range):
            raise NotDrawnError("a function gives fewer values than it says")
        return np.clip(results[:, : len(self.range)], self.range[:, 0], self.range[:, 1])

    @abstractmethod
    def _of(self, values: Floats) -> Floats:
        """The results for values within the domain."""


class FunctionArray(Function):
    """An array of functions of the same inputs, as shadings have them (8.7.4.5); their outputs are joined."""

    def __init__(self, parts: Sequence[Function]) -> None:
        super().__init__(parts[0].domain, None)
        self._parts = parts

    def _of(self, values: Floats) -> Floats:
        return np.concatenate([part(values) for part in self._parts], axis=1)


class IdentityFunction(Function):
    """The name `Identity` in the place of a function: gives its inputs."""

    def __init__(self, count: int) -> None:
        super().__init__(np.tile([-np.inf, np.inf], (count, 1)), None)

    def _of(self, values: Floats) -> Floats:
        return values


class SampledFunction(Function):
    """Type 0: a table of samples, interpolated linearly in all its dimensions (7.10.2)."""

    def __init__(self, holder: object, domain: Floats, output: Floats | None) -> None:
        super().__init__(domain, output)
        size = _wholes(entry(holder, "/Size"), len(domain))
        bits = whole(entry(holder, "/BitsPerSample"))
        if output is None or size is None or min(size) < 1 or bits not in {1, 2, 4, 8, 12, 16, 24, 32}:
            raise NotDrawnError("a function's table makes no sense")
        self._size = np.array(size)
        top = [[0, each - 1] for each in size]
        self._encode = _pairs(entry(holder, "/Encode"), len(size), np.array(top, np.float64))
        decode = _pairs(entry(holder, "/Decode"), len(output), output)
        count = math.prod(size) * len(output)
        # Along a side with one sample nothing is interpolated.
        self._sides = [axis for axis, points in enumerate(size) if points > 1]
        if 1 << len(self._sides) > _MOST_CORNERS:
            raise NotDrawnError("a function's table has too many inputs")
        data = bounded_bytes(holder, _MOST_BYTES)
        if data is None or count * bits > 8 * _MOST_BYTES or len(data) * 8 < count * bits:
            raise NotDrawnError("a function's table cannot be read")
        samples = _unpacked(data, bits, count).reshape(-1, len(output))
        self._samples = samples / (2.0**bits - 1) * (decode[:, 1] - decode[:, 0]) + decode[:, 0]

    def _of(self, values: Floats) -> Floats:
        low, high = self.domain[:, 0], self.domain[:, 1]
        extent = np.where(high > low, high - low, 1)
        start, end = self._encode[:, 0], self._encode[:, 1]
        place = np.clip(start + (values - low) / extent * (end - start), 0, self._size - 1)
        below = np.minimum(place.astype(np.intp), np.maximum(self._size - 2, 0))
        share = place - below
        steps = np.concatenate([[1], np.cumprod(self._size[:-1])])
        results = np.zeros((len(values), self._samples.shape[1]))
        for corner in range(1 << len(self._sides)):
            above = np.zeros(len(self._size), np.intp)
            above[self._sides] = [corner >> place & 1 for place in range(len(self._sides))]
            weight = np.prod(np.where(above, share, 1 - share), axis=1)
            at = np.minimum(below + above, self._size - 1) @ steps
            results += weight[:, None] * self._samples[at]
        return results


class ExponentialFunction(Function):
    """Type 2: exponential interpolation between C0 and C1 (7.10.3)."""

    def __init__(self, holder: object, domain: Floats, output: Floats | None) -> None:
        super().__init__(domain, output)
        start, end = _list(entry(holder, "/C0")) or (0.0,), _list(entry(holder, "/C1")) or (1.0,)
        exponent = number(entry(holder, "/N"))
        if len(domain) != 1 or len(start) != len(end):
            raise NotDrawnError("an exponential function makes no sense")
        self._start, self._end = np.array(start), np.array(end)
        self._exponent = 1.0 if exponent is None else exponent

    def _of(self, values: Floats) -> Floats:
        with np.errstate(all="ignore"):
            raised = values if self._exponent == 1 else np.nan_to_num(values**self._exponent)
        results: Floats = self._start + raised * (self._end - self._start)
        return results


class StitchingFunction(Function):
    """Type 3: stitches functions together, each over a part of the domain (7.10.4)."""

    def __init__(
        self, holder: object, domain: Floats, output: Floats | None, depth: int, left: Iterator[int]
    ) -> None:
        """`depth`: how deep functions may lie in it; `left`: runs out when too many were read."""
        super().__init__(domain, output)
        given = entry(holder, "/Functions")
        count = len(given) if isinstance(given, pikepdf.Array) else 0
        if len(domain) != 1 or not 0 < count <= _MOST_PARTS:
            raise NotDrawnError("a stitching function makes no sense")
        self._parts = [_read(item(given, place), depth - 1, left) for place in range(count)]
        self.bounds = numbers(entry(holder, "/Bounds"), count - 1)
        if self.bounds is None:
            raise NotDrawnError("a stitching function lacks its bounds")
        self._encode = _pairs(entry(holder, "/Encode"), count, np.tile([0.0, 1.0], (count, 1)))

    def _of(self, values: Floats) -> Floats:
        # A value on a bound belongs to the part after it.
        edges = np.array([self.domain[0, 0], *(self.bounds or ()), self.domain[0, 1]])
        part_of = np.searchsorted(edges[1:-1], values[:, 0], side="right")
        results: Floats | None = None
        for place, part in enumerate(self._parts):
            rows = np.flatnonzero(part_of == place)
            if not len(rows):
                continue
            low, high = edges[place], edges[place + 1]
            start, end = self._encode[place]
            share = (values[rows, 0] - low) / (high - low) if high > low else np.zeros(len(rows))
            of_part = part((start + share * (end - start))[:, None])
            if results is None:
                results = np.zeros((len(values), of_part.shape[1]))
            if of_part.shape[1] != results.shape[1]:
                raise NotDrawnError("the parts of a stitching function differ in what they give")
            results[rows] = of_part
        return results if results is not None else np.zeros((len(values), 0))


class CalculatorFunction(Function):
    """Type 4: a PostScript calculator program (7.10.5)."""

    def __init__(self, holder: object, domain: Floats, output: Floats | None) -> None:
        super().__init__(domain, output)
        data = bounded_bytes(holder, _MOST_BYTES)
        if data is None or output is None:
            raise NotDrawnError("a calculator function cannot be read")
        self._program: CalculatorProgram = read_program(data)
        self._outputs = len(output)

    def _of(self, values: Floats) -> Floats:
        return self._program.run(values, self._outputs)


def read_function(value: object) -> Function:
    """The function that an object holds; NotDrawnError where none can be read."""
    return _read(value, _NESTING, iter(range(1 + _MOST_PARTS)))


def read_functions(value: object) -> Function:
    """One function, or an array of functions of the same inputs (as in shadings)."""
    if not isinstance(value, pikepdf.Array):
        return read_function(value)
    parts = [read_function(item(value, place)) for place in range(min(len(value), _MOST_NUMBERS))]
    if not parts:
        raise NotDrawnError("a function is missing")
    return parts[0] if len(parts) == 1 else FunctionArray(parts)


def _read(value: object, depth: int, left: Iterator[int]) -> Function:
    if not depth or next(left, None) is None:
        raise NotDrawnError("functions are nested without end")
    domain = _limits(entry(value, "/Domain"))
    if domain is None:
        if name(value) == "Identity":
            return IdentityFunction(1)
        raise NotDrawnError("a function is missing, or lacks its domain")
    output = _limits(entry(value, "/Range"))
    match whole(entry(value, "/FunctionType")):
        case 0:
            return SampledFunction(value, domain, output)
        case 2:
            return ExponentialFunction(value, domain, output)
        case 3:
            return StitchingFunction(value, domain, output, depth, left)
        case 4:
            return CalculatorFunction(value, domain, output)
        case _:
            raise NotDrawnError("a function is of no known type")


def _list(value: object) -> tuple[float, ...] | None:
    return (
        numbers(value, len(value))
        if isinstance(value, pikepdf.Array) and len(value) <= _MOST_NUMBERS
        else None
    )


def _limits(value: object) -> Floats | None:
    bounds = _list(value)
    return np.array(bounds[: len(bounds) // 2 * 2]).reshape(-1, 2) if bounds and len(bounds) > 1 else None


def _pairs(value: object, count: int, otherwise: Floats) -> Floats:
    flat = numbers(value, 2 * count)
    return np.array(flat).reshape(-1, 2) if flat is not None else otherwise


def _wholes(value: object, count: int) -> tuple[int, ...] | None:
    figures = numbers(value, count)
    return tuple(int(each) for each in figures) if figures is not None else None


def _unpacked(data: bytes, bits: int, count: int) -> Floats:
    """The first `count` samples of a continuous stream of bits, high bit first."""
    used = np.frombuffer(data, np.uint8, (count * bits + 7) // 8)
    if bits == 8:
        return used.astype(np.float64)
    if bits % 8 == 0:
        parts = used.reshape(count, bits // 8).astype(np.float64)
        return parts @ (256.0 ** np.arange(bits // 8 - 1, -1, -1))
    single = np.unpackbits(used)[: count * bits].reshape(count, bits).astype(np.float64)
    return single @ (2.0 ** np.arange(bits - 1, -1, -1))
