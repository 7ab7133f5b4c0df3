"""What the judgement of PDF/X costs beside the facts: keeping account of uses, the inventory, and judging."""

import sys
from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import dataclass
from functools import partial
from pathlib import Path
from typing import Final

import pytest

from hotfolder.checks.pdf.pdfx.judging import judge_level
from hotfolder.checks.pdf.pdfx.requirement import Subject
from hotfolder.checks.shared.pdfx_levels import Level
from hotfolder.demo.artwork.colours import PRESS
from hotfolder.demo.artwork.festival import card, faces, flyer, programme
from hotfolder.demo.artwork.publication import Export, pdf_of
from hotfolder.measure import measure
from hotfolder.measure.pdf import pdf_file
from hotfolder.model.artwork import Artwork
from hotfolder.model.inventory.inventory import Inventory
from hotfolder.pdf.content.uses import PageUses
from tests.bench.timing import own_s
from tests.bench.whole_pieces import write_jobs

MOST_SHARE: Final = 0.15
_BROCHURE: Final = "brochure, 24 pages A4"


@dataclass(frozen=True, slots=True)
class JudgementCost:
    """CPU seconds. facts: without anything that only the judgement needs. inventory: what keeping account of
    uses, and making an inventory of them, adds. judging: holding the file against one level.
    """

    facts_s: float
    inventory_s: float
    judging_s: float

    @property
    def share(self) -> float:
        """The judgement's part, 1 being as much as the facts take."""
        return (self.inventory_s + self.judging_s) / self.facts_s


def print_judgement_costs(folder: Path, share: float, times: int) -> None:
    """Prints what judging costs for brochures of 24 pages; marks those that cost more than is aimed at."""
    write = sys.stdout.write
    write(f"\n{'judging PDF/X, CPU seconds':<40}{'facts':>8}{'inventory':>11}{'judging':>9}{'share':>8}\n")
    other = next(job.path for job in write_jobs(folder, share) if job.what == _BROCHURE)
    for what, path, level in (
        ("the demo's, 24 pages", write_brochure(folder), Level.X1A_2003),
        (f"{_BROCHURE}, full of text", other, Level.X4),
    ):
        cost = cost_of(path, level, times)
        write(
            f"{what:<40}{cost.facts_s:>8.3f}{cost.inventory_s:>11.3f}{cost.judging_s:>9.3f}{cost.share:>8.1%}"
        )
        write("  more than is aimed at\n" if cost.share > MOST_SHARE else "\n")
        sys.stdout.flush()


def write_brochure(folder: Path) -> Path:
    """A brochure of 24 pages, PDF/X-1a:2003: four sheets of the demo, each six times."""
    fonts = faces()
    sheets = (*programme(fonts), flyer(fonts, PRESS, 150), card(fonts, 150))
    path = folder / "demo-brochure.pdf"
    path.write_bytes(pdf_of(sheets * 6, Export("The programme of all nights")))
    return path


def cost_of(path: Path, level: Level, times: int) -> JudgementCost:
    """What judging a file costs; the least of so many times."""
    with _without_inventory():
        facts_s = own_s(partial(measure, path), times)
    all_s = own_s(partial(measure, path), times)
    judging_s = own_s(partial(_judge, measure(path), level), times)
    return JudgementCost(facts_s, max(all_s - facts_s, 0.0), judging_s)


def _judge(artwork: Artwork, level: Level) -> None:
    assert artwork.pdf is not None
    assert isinstance(artwork.pdf.inventory, Inventory)
    judge_level(Subject(artwork, artwork.pdf.inventory), level)


@contextmanager
def _without_inventory() -> Iterator[None]:
    """Within it, no account is kept of uses, and no inventory is made."""
    with pytest.MonkeyPatch.context() as patch:
        patch.setattr(PageUses, "add", lambda *_: None)
        patch.setattr(pdf_file, "take_inventory", lambda _: None)
        yield
