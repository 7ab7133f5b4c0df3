"""Reads what a page paints: the marks on it, in painting order, and the fonts of its text.

`interpret_page` is the way in. It never raises for what a file says: what could not be read is a
`Problem` whose `where` is `pages[N].marks`, N being the page's number, and the marks
that were found are given all the same. Kinds UNREADABLE and LIMIT mean that marks are missing.
"""

from dataclasses import dataclass
from sys import maxsize
from typing import Final, NamedTuple

import pikepdf

from hotfolder.errors import LimitReachedError
from hotfolder.model.colour import ColourSpace
from hotfolder.model.document import Font
from hotfolder.model.facts import Problem, ProblemKind
from hotfolder.model.geometry import Box
from hotfolder.model.marks import Mark, MarkState
from hotfolder.pdf.content.appearances import draw_appearances
from hotfolder.pdf.content.content import Content, Scope
from hotfolder.pdf.content.graphics_state import GraphicsState
from hotfolder.pdf.content.ledger import Ledger
from hotfolder.pdf.content.operators.table import OPERATORS
from hotfolder.pdf.content.readers import Readers
from hotfolder.pdf.content.uses import Use
from hotfolder.pdf.objects.deadline import NO_DEADLINE, Deadline
from hotfolder.pdf.objects.inheritance import page_value
from hotfolder.pdf.objects.matrix import scaling
from hotfolder.pdf.objects.reading import entry, identity, name
from hotfolder.pdf.objects.resources import Resources
from hotfolder.pdf.objects.streams import content_parts

__all__ = ["DocumentBudget", "PageMarks", "Readers", "blend_space", "interpret_page"]


class DocumentBudget(NamedTuple):
    """How many operators may still be read of a document, and how many marks found, and until when."""

    operators: int = maxsize
    marks: int = maxsize
    deadline: Deadline = NO_DEADLINE


NO_LIMIT: Final = DocumentBudget()


@dataclass(frozen=True, slots=True)
class PageMarks:
    """What a page paints.

    marks: in painting order, those of annotations' appearances last. fonts: those that painted text
    uses, in the order of their first use. problems: what could not be read as it should. sets_transfer: as
    in `Page`. operators: how many were read for it. mask_pictures: the images in the groups of soft masks.
    uses: what it names in the file.
    """

    marks: tuple[Mark, ...]
    fonts: tuple[Font, ...]
    problems: tuple[Problem, ...]
    sets_transfer: bool = False
    operators: int = 0
    mask_pictures: tuple[Mark, ...] = ()
    uses: tuple[Use, ...] = ()


def interpret_page(
    page: pikepdf.Page | pikepdf.Dictionary,
    number: int,
    user_unit: float,
    media: Box,
    readers: Readers,
    left: DocumentBudget = NO_LIMIT,
) -> PageMarks:
    """The marks of a page, in points after `user_unit` and in unrotated user space, as `media` is.

    number: that of the page, from 1, for the problems' `where`. readers: one for the whole document. left:
    what may still be read of the document; a page has limits of its own.
    """
    dictionary = page.obj if isinstance(page, pikepdf.Page) else page
    contents = entry(dictionary, "/Contents")
    ledger = Ledger(number, left.operators, left.marks, left.deadline)
    base = scaling(user_unit)
    # Several content streams are one (7.8.2); the first one's number stands for all.
    first = next(content_parts(contents), None)
    resources = Resources((page_value(dictionary, "/Resources"),))
    # A page is a group of its own (11.4.7), and may be a knockout group.
    group = MarkState(knockout_group=entry(entry(dictionary, "/Group"), "/K") is True)
    scope = Scope(object=identity(first), resources=resources, base=base, group=group)
    start = GraphicsState(ctm=base, clip=media, laid_over=group)
    try:
        Content(OPERATORS, ledger, readers, scope, start).read_page(dictionary, contents)
        draw_appearances(Content(OPERATORS, ledger, readers, scope, start), dictionary)
    except LimitReachedError as limit:
        ledger.note(ProblemKind.LIMIT, str(limit))
    fonts = tuple(readers.fonts.as_shown(font) for font in ledger.fonts.values())
    return PageMarks(
        tuple(ledger.marks),
        fonts,
        ledger.problems(),
        ledger.sets_transfer,
        ledger.operators_spent,
        tuple(ledger.mask_pictures),
        tuple(ledger.uses),
    )


def blend_space(page: pikepdf.Dictionary, readers: Readers) -> ColourSpace | None:
    """The blending colour space of a page, where its group names one (11.6.6)."""
    named = entry(entry(page, "/Group"), "/CS")
    if named is None or not _is_group(page):
        return None
    return readers.colour_space(named, Resources((page_value(page, "/Resources"),)))


def _is_group(page: object) -> bool:
    """Whether a page says of itself that it is a transparency group (11.6.6)."""
    return name(entry(entry(page, "/Group"), "/S")) == "Transparency"
