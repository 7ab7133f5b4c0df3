# Each thing that a page can paint with lays the inks that ISO 32000-2 says, within a point of percent.
#
# What is expected is worked out in the cells from the standard's formulas, colours of profiles by littleCMS's
# own program (transicc). Ghostscript's tiffsep is asked the same, as a witness for what is expected.
import shutil
from collections.abc import Iterator
from pathlib import Path
from typing import Final

import pytest

from hotfolder.drawing.plates.pdf import PdfPlates
from hotfolder.measure import measure
from hotfolder.model.plates import PagePlates
from tests.plates.cells import CELLS, Kind
from tests.plates.cells.approximate import NEARLY
from tests.plates.cells.departures import DEPARTURES, WITH_PROFILES
from tests.plates.cells.drawn import worst, write_cells
from tests.plates.cells.sheet import Sample
from tests.plates.copies import write_copy
from tests.plates.presses import press
from tests.plates.tiffsep import PX_PER_MM, Plates, draw_plates, is_installed

WITHIN: Final = 1.0  # points of percent
NUMBERED: Final = tuple(enumerate(CELLS, start=1))

Expected = list[tuple[Sample, ...]]


@pytest.fixture(scope="module")
def expected(tmp_path_factory: pytest.TempPathFactory) -> tuple[Path, Expected]:
    """The file of all cells, a page each, and what is expected on each."""
    if shutil.which("transicc") is None:
        pytest.skip("transicc is not installed")
    path = tmp_path_factory.mktemp("cells") / "cells.pdf"
    return path, write_cells(CELLS, path)


@pytest.fixture(scope="module")
def drawing(expected: tuple[Path, Expected]) -> Iterator[PdfPlates]:
    path, _ = expected
    with PdfPlates(path, measure(path), press()) as plates:
        yield plates


@pytest.mark.parametrize(("number", "kind"), NUMBERED, ids=[kind.name for kind in CELLS])
def test_a_cell_lays_the_inks_of_the_standard(
    number: int, kind: Kind, expected: tuple[Path, Expected], drawing: PdfPlates
) -> None:
    drawn = drawing.draw(number)
    assert isinstance(drawn, PagePlates), drawn
    off = [worst(sample, drawn.inks, drawn.frame.px_per_mm) for sample in expected[1][number - 1]]
    if kind.name in NEARLY:
        assert drawn.approximate
        assert max(each for each, _ in off) > WITHIN  # else it has no business in that list
    else:
        assert [found for each, found in off if each > WITHIN] == [], expected[1][number - 1]


def test_tiffsep_bears_witness_to_what_is_expected(expected: tuple[Path, Expected]) -> None:
    if not is_installed():
        pytest.skip("gs is not installed")
    path, samples = expected
    copy = path.with_name("copy.pdf")
    write_copy(path, copy)
    delivered = draw_plates(copy, len(CELLS), finer=1)
    profiled = draw_plates(copy, len(CELLS), tagged_as_delivered=False, finer=1)
    chosen = [
        two if kind.name in WITH_PROFILES else one
        for kind, one, two in zip(CELLS, delivered, profiled, strict=True)
    ]
    off = {
        kind.name
        for kind, each, plates in zip(CELLS, samples, chosen, strict=True)
        if any(_is_off(sample, plates) for sample in each)
    }
    assert off == set(DEPARTURES)


def _is_off(sample: Sample, plates: Plates) -> bool:
    return worst(sample, plates, PX_PER_MM)[0] > WITHIN


def test_the_cells_are_many_and_of_every_kind() -> None:
    assert len({kind.name for kind in CELLS}) == len(CELLS) >= 60
    assert {"8.6.4.4", "8.7.4.5.7", "8.9.6.4", "11.3.5.3", "11.4.6", "11.5.3", "11.7.4.3", "12.5.5"} <= {
        kind.clause for kind in CELLS
    }
    assert set(NEARLY) | set(DEPARTURES) | WITH_PROFILES <= {kind.name for kind in CELLS}
    assert len(NEARLY) <= 0.05 * len(CELLS)
