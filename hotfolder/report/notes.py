"""Findings in the order in which they are told, with the numbers that all forms of the report share."""

from collections.abc import Iterable
from dataclasses import dataclass, replace

from hotfolder.model.findings import Finding, Place
from hotfolder.report.model import Report
from hotfolder.wording.importance import in_telling_order


@dataclass(frozen=True, slots=True)
class Note:
    """A finding, its number in this report (from 1) and its rule's title.

    again: it is told in full on an earlier page; this one only shows where it stands here.
    follows: what has the same cause, each with its rule's title.
    """

    number: int
    finding: Finding
    title: str
    again: bool = False
    follows: tuple[tuple[str, Finding], ...] = ()

    def at(self, place: Place) -> "Note":
        """The note as it concerns the page of `place`, which is one of the places of its finding."""
        here = replace(self.finding, page=place.page, boxes=place.boxes, further=())
        return replace(self, finding=here, again=place.page != self.finding.page)


def by_page(all_notes: Iterable[Note]) -> dict[int, list[Note]]:
    """The notes that concern each page, as they concern it, in their order."""
    notes_by_page: dict[int, list[Note]] = {}
    for note in all_notes:
        pages: set[int] = set()
        for place in note.finding.places:
            if place.page not in pages:
                pages.add(place.page)
                notes_by_page.setdefault(place.page, []).append(note.at(place))
    return notes_by_page


def notes(report: Report) -> tuple[Note, ...]:
    """All findings in the order in which they are told (see `importance`)."""
    titles = report.titles

    def title(finding: Finding) -> str:
        return titles.get(finding.rule, finding.rule.replace("-", " ").capitalize())

    return tuple(
        Note(number, finding, title(finding), follows=tuple((title(each), each) for each in finding.follows))
        for number, finding in enumerate(in_telling_order(report.judgement.findings), start=1)
    )
