"""The graphics state parameters that pages set (ISO 32000-2, 8.4.5), as they stand in the file."""

from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class HalftoneFacts:
    """A halftone dictionary (ISO 32000-2, 10.6.5), or one within another.

    type: its HalftoneType; None where that is no whole number. named: it has a HalftoneName. colorant: the
    one that it is for, within a halftone of type 5; empty for any other. transfer: it has a
    TransferFunction.
    """

    type: int | None
    named: bool
    colorant: str
    transfer: bool


@dataclass(frozen=True, slots=True)
class StateFacts:
    """A graphics state parameter dictionary that pages apply.

    object: its number (`12 0`); None where it has none of its own. pages: the numbers of those that apply it.
    soft_mask: it has one, anything but the name `None`. opacities: its `ca` and `CA`, 0 to 1, those that it
    has; None for what is no number. blend_modes: by name, all of a list; an empty name for what is none.
    transfer_keys: which of `TR` and `TR2` set transfer functions: any value but `Default` of TR2.
    halftone_phase: it has an HTP. overprint_mode: its OPM in figures (`1`); empty where it has none, `no
    figure` for anything but a whole number. halftones: its HT and those within, none for the name `Default`.
    """

    object: str | None
    pages: tuple[int, ...]
    soft_mask: bool
    opacities: tuple[float | None, ...]
    blend_modes: tuple[str, ...]
    transfer_keys: tuple[str, ...]
    halftone_phase: bool
    overprint_mode: str
    halftones: tuple[HalftoneFacts, ...]


@dataclass(frozen=True, slots=True)
class StrayOperator:
    """An operator that the standard does not have, and the numbers of the pages that use it."""

    spelling: str
    pages: tuple[int, ...]
