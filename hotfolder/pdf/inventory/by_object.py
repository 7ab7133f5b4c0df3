"""Uses put together by the object that is used, which most pages of a document share."""

from collections.abc import Iterable, Iterator
from dataclasses import dataclass, field

from hotfolder.pdf.content.uses import Use, UseKind
from hotfolder.pdf.objects.reading import fingerprint


@dataclass(slots=True)
class UsedObject:
    """An object, or a text, and the numbers of the pages that use it, in order."""

    value: object
    pages: list[int] = field(default_factory=list)


def by_object(uses: Iterable[Use], kind: UseKind) -> Iterator[UsedObject]:
    """Each different thing of one kind that is used, in the order of first use; to be looked at once."""
    known: dict[str, UsedObject] = {}
    for use in uses:
        if use.kind is not kind:
            continue
        key = use.value if isinstance(use.value, str) else fingerprint(use.value)
        used = known.setdefault(key, UsedObject(use.value))
        if used.pages[-1:] != [use.page]:  # uses come page by page
            used.pages.append(use.page)
    yield from known.values()
