"""Reads the graphics state parameters that pages set (ISO 32000-2, 8.4.5), and operators of no standard."""

from collections.abc import Iterator, Sequence
from typing import Final

import pikepdf

from hotfolder.model.inventory.states import HalftoneFacts, StateFacts, StrayOperator
from hotfolder.pdf.content.uses import Use, UseKind
from hotfolder.pdf.inventory.by_object import UsedObject, by_object
from hotfolder.pdf.objects.limits import LIST_ENTRIES
from hotfolder.pdf.objects.reading import entry, identity, items, keys, name, number, whole

# A halftone of type 5 holds one for each colorant, none of which may be of type 5 itself (10.6.5.6). Files
# that do otherwise are read no deeper, and no further, than this.
_DEEPEST: Final = 3
_MOST_HALFTONES: Final = 200

# Entries of a halftone of type 5 that are no colorants (10.6.5.6, table 134).
_NO_COLORANTS: Final = frozenset({"/Type", "/HalftoneType", "/HalftoneName"})

_SECTION: Final = "BX"  # begins a section in which unknown operators are passed over, and is a known one


def read_states(uses: Sequence[Use]) -> tuple[StateFacts, ...]:
    """The graphics state parameter dictionaries that are used, each once."""
    return tuple(_state(used) for used in by_object(uses, UseKind.STATE))


def read_stray_operators(uses: Sequence[Use]) -> tuple[StrayOperator, ...]:
    """The operators in content that the standard does not have, in compatibility sections too (7.8.2)."""
    return tuple(
        StrayOperator(str(used.value), tuple(used.pages))
        for used in by_object(uses, UseKind.OPERATOR)
        if used.value != _SECTION
    )


def _state(used: UsedObject) -> StateFacts:
    state = used.value
    soft_mask, mode = entry(state, "/SMask"), entry(state, "/OPM")
    opacities = [entry(state, key) for key in ("/ca", "/CA")]
    return StateFacts(
        object=identity(state),
        pages=tuple(used.pages),
        soft_mask=soft_mask is not None and name(soft_mask) != "None",
        opacities=tuple(number(each) for each in opacities if each is not None),
        blend_modes=tuple(_blend_modes(entry(state, "/BM"))),
        transfer_keys=tuple(_transfer_keys(state)),
        halftone_phase=entry(state, "/HTP") is not None,
        overprint_mode=_figures(mode),
        halftones=tuple(_halftones(entry(state, "/HT"))),
    )


def _figures(value: object) -> str:
    figure = whole(value)
    if figure is not None:
        return str(figure)
    return "" if value is None else "no figure"


def _blend_modes(value: object) -> Iterator[str]:
    each_value = items(value, LIST_ENTRIES) if isinstance(value, pikepdf.Array) else iter([value])
    if value is not None:
        yield from (name(each) or "" for each in each_value)


def _transfer_keys(state: object) -> Iterator[str]:
    if entry(state, "/TR") is not None:
        yield "TR"
    second = entry(state, "/TR2")
    if second is not None and name(second) != "Default":
        yield "TR2"


def _halftones(halftone: object) -> Iterator[HalftoneFacts]:
    waiting = [(halftone, "", 0)]
    for _ in range(_MOST_HALFTONES):
        if not waiting:
            return
        each, colorant, depth = waiting.pop(0)
        if not isinstance(each, pikepdf.Dictionary | pikepdf.Stream):
            continue  # the name `Default`
        kind = whole(entry(each, "/HalftoneType"))
        yield HalftoneFacts(
            type=kind,
            named=entry(each, "/HalftoneName") is not None,
            colorant=colorant,
            transfer=entry(each, "/TransferFunction") is not None,
        )
        if kind == 5 and depth < _DEEPEST:
            members = [key for key in keys(each, _MOST_HALFTONES) if key not in _NO_COLORANTS]
            waiting += [(entry(each, key), key.removeprefix("/"), depth + 1) for key in members]
