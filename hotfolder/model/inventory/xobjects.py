"""The XObjects that pages draw (ISO 32000-2, 8.8), and the pages as groups of their own."""

from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class DrawnForm:
    """A form XObject that pages draw, appearances of annotations that print included.

    object: its number (`12 0`). pages: the numbers of those that draw it. group: it is a transparency group
    (11.6.6). opi: it has an OPI entry. postscript: it is one of PostScript, by Subtype2 or its PS entry
    (ISO 32000-1, 8.10.2). reference: it stands for a page of another file (8.10.4).
    """

    object: str | None
    pages: tuple[int, ...]
    group: bool
    opi: bool
    postscript: bool
    reference: bool


@dataclass(frozen=True, slots=True)
class JpxData:
    """What JPEG 2000 data declare. colour_channels: those that are no opacity. depths: bits by component.

    None, and none, where the data do not tell.
    """

    colour_channels: int | None
    depths: tuple[int, ...]


@dataclass(frozen=True, slots=True)
class DrawnImage:
    """An image that pages draw.

    object: its number (`12 0`); None for an inline image. pages: the numbers of those that draw it. bits: per
    component, as its dictionary has it; None where it does not. soft_mask: it has one, in its SMask entry or,
    by SMaskInData, in JPEG 2000 data. opi: it has an OPI entry. printed_alternate: another picture is
    to be printed in its place (8.9.5.4). jpx: None for data of another kind.
    """

    object: str | None
    pages: tuple[int, ...]
    bits: int | None
    soft_mask: bool
    opi: bool
    printed_alternate: bool
    jpx: JpxData | None


@dataclass(frozen=True, slots=True)
class DrawnCode:
    """A PostScript XObject that pages draw (ISO 32000-1, 8.8.2). object, pages: as in `DrawnForm`."""

    object: str | None
    pages: tuple[int, ...]


@dataclass(frozen=True, slots=True)
class XObjectFacts:
    """All that pages draw by `Do` or inline. group_pages: the numbers of pages that are groups themselves."""

    forms: tuple[DrawnForm, ...] = ()
    images: tuple[DrawnImage, ...] = ()
    code: tuple[DrawnCode, ...] = ()
    group_pages: frozenset[int] = frozenset()
