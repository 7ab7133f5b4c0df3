"""What the content of a page makes use of: the objects that its operators name, as they stand in the file.

The judgement of PDF/X goes by what is used, not by what happens to lie in a file. Collected while a page is
read: its own content, forms, pattern cells, glyphs of Type 3 fonts, groups of soft masks, and the appearances
of annotations that print. `pdf/inventory` makes facts of it.
"""

from collections.abc import Iterator
from dataclasses import dataclass
from enum import StrEnum

from hotfolder.pdf.objects.reading import fingerprint
from hotfolder.pdf.objects.resources import Resources


class UseKind(StrEnum):
    """What kind of thing is used.

    SPACE: a colour space by name or array, as an operator, image, shading or group names it. DEVICE_COLOUR:
    the family of a device space that an operator chooses by itself (`rg`). STATE: a graphics state parameter
    dictionary. INLINE_IMAGE: the entries of one as a dictionary, their keys unabbreviated. OTHER_XOBJECT:
    neither image nor form. MASK: a soft mask dictionary. BLANKS: the object number, or else the name, of a
    font in which a string of blanks alone is set. INTENT: the operand of `ri`. OPERATOR: the spelling of an
    operator that the standard does not have, and `BX`. MISSING: the category and name of a resource that is
    not there.
    """

    SPACE = "space"
    DEVICE_COLOUR = "device-colour"
    STATE = "state"
    FONT = "font"
    BLANKS = "blanks"
    IMAGE = "image"
    INLINE_IMAGE = "inline-image"
    FORM = "form"
    OTHER_XOBJECT = "other-xobject"
    PATTERN = "pattern"
    SHADING = "shading"
    MASK = "mask"
    INTENT = "intent"
    OPERATOR = "operator"
    MISSING = "missing"


@dataclass(frozen=True, slots=True)
class Use:
    """Something that a page uses.

    value: the object itself, or text for DEVICE_COLOUR, BLANKS, OPERATOR and MISSING. resources: those of
    the content that names it. within: the object number of the stream that does (`12 0`); None for the page's
    own.
    """

    kind: UseKind
    value: object
    page: int
    resources: Resources
    within: str | None


class PageUses:
    """Collects the uses of one page, each thing once for the stream that names it."""

    def __init__(self, page: int) -> None:
        self._page = page
        self._uses: dict[tuple[UseKind, object, int, str | None], Use] = {}

    def add(self, kind: UseKind, value: object, resources: Resources, within: str | None) -> None:
        """Keeps account of a use; a second one of the same thing in the same stream changes nothing."""
        key = (kind, value if isinstance(value, str) else fingerprint(value), id(resources), within)
        if key not in self._uses:  # operators name the same thing a hundred thousand times
            # The use keeps the resources alive, so that no others are made at their place in memory.
            self._uses[key] = Use(kind, value, self._page, resources, within)

    def __iter__(self) -> Iterator[Use]:
        return iter(self._uses.values())
