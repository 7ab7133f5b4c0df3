"""Findings in the order in which they are told, with the numbers that all forms of the report share."""

from dataclasses import dataclass, replace

from hotfolder.findings import Finding
from hotfolder.importance import in_telling_order
from hotfolder.report.model import Report


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

    def on(self, page: int) -> "Note | None":
        """The note as it concerns `page`, with its places there; None where it does not."""
        for place in self.finding.places:
            if place.page == page:
                here = replace(self.finding, page=page, boxes=place.boxes, further=())
                return replace(self, finding=here, again=page != self.finding.page)
        return None


def notes(report: Report) -> tuple[Note, ...]:
    """All findings in the order in which they are told (see `importance`)."""
    titles = report.titles

    def title(finding: Finding) -> str:
        return titles.get(finding.rule, finding.rule.replace("-", " ").capitalize())

    return tuple(
        Note(number, finding, title(finding), follows=tuple((title(each), each) for each in finding.follows))
        for number, finding in enumerate(in_telling_order(report.judgement.findings), start=1)
    )
