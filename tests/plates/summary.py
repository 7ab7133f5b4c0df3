"""What a comparison comes to: how many agree, by whom the pages are, and what nobody can explain."""

import re
from collections import Counter
from dataclasses import dataclass

from tests.plates.comparing import Compared, PageCompared
from tests.plates.differences import DIFFERENCES


@dataclass(frozen=True, slots=True)
class Summary:
    """The figures of some pages."""

    pages: tuple[PageCompared, ...]

    @property
    def compared(self) -> tuple[PageCompared, ...]:
        """The pages that both sides drew."""
        return tuple(page for page in self.pages if not page.undrawn)

    @property
    def plates(self) -> tuple[Compared, ...]:
        """Their plates."""
        return tuple(plate for page in self.compared for plate in page.plates)

    @property
    def producers(self) -> Counter[str]:
        """How many pages there are by each program; versions of one are one."""
        words = (re.search(r"[A-Za-z]{3,}", page.producer) for page in self.compared)
        return Counter(word[0] for word in words if word)

    @property
    def plates_that_agree(self) -> float:
        """The share of plates whose means are within half a point."""
        return sum(plate.agrees for plate in self.plates) / max(1, len(self.plates))

    @property
    def pages_that_agree(self) -> float:
        """The share of pages whose most ink on a millimetre is within three points, as the program draws."""
        return sum(page.most_agrees for page in self.compared) / max(1, len(self.compared))

    @property
    def pages_that_agree_closely(self) -> float:
        """The share with those that are within three points once both sides are drawn closely there."""
        agreeing = sum(page.most_agrees or page.agrees_closely for page in self.compared)
        return agreeing / max(1, len(self.compared))

    @property
    def unexplained(self) -> tuple[PageCompared, ...]:
        """Pages that differ, or that one side does not draw, without a reason by name."""
        return tuple(
            page for page in self.pages if not page.agrees and (page.name, page.page) not in DIFFERENCES
        )

    @property
    def stale(self) -> tuple[tuple[str, int], ...]:
        """Pages for which there is a reason, and which agree."""
        return tuple(
            key for page in self.pages if page.agrees and (key := (page.name, page.page)) in DIFFERENCES
        )

    def __str__(self) -> str:
        off = sorted(abs(plate.ours - plate.theirs) for plate in self.plates)
        most = sorted(page.apart for page in self.compared)
        missed = sorted(page.finest - page.theirs for page in self.compared)
        reasons = Counter(
            DIFFERENCES[key]
            for page in self.pages
            if not page.agrees and (key := (page.name, page.page)) in DIFFERENCES
        )
        lines = [
            f"{len(self.compared)} pages by {len(self.producers)} producers",
            f"{len(self.plates)} plates that carry ink",
            f"plate means within 0.5 points: {self.plates_that_agree:.1%}" + _spread(off),
            f"most ink on 1 mm2 within 3 points: {self.pages_that_agree:.1%} of pages" + _spread(most),
            f"the same, once both are drawn closely: {self.pages_that_agree_closely:.1%}",
            "points more that theirs has on squares laid to a twelfth of a millimetre:" + _spread(missed),
            f"said to be near only: {sum(bool(page.approximate) for page in self.compared)} pages",
            *(f"{count:>4} pages differ: {reason}" for reason, count in reasons.most_common()),
            f"{len(self.unexplained)} pages differ and nobody says why",
            *(f"a reason is named, and the page agrees: {name} p.{page}" for name, page in self.stale),
            "by " + ", ".join(f"{name} {count}" for name, count in self.producers.most_common()),
        ]
        return "\n".join(lines)


def _spread(values: list[float]) -> str:
    if not values:
        return ""
    median, late = values[len(values) // 2], values[len(values) * 95 // 100]
    return f" (median {median:.2f}, 95th percentile {late:.2f}, worst {values[-1]:.2f})"
