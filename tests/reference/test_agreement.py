# Every fact on which a reference tool has a word, on all real files and on those of the producers.
#
# References: poppler 22.12 (pdfimages -list, pdffonts, pdfinfo -box), PDFium, exiftool 12.57. Where we
# and they differ, the reason is named in `facts.Difference`, proved from the file in `differences`, and
# the place is listed here; the table is printed by `python -m tests.reference`.
import re
from collections import Counter
from collections.abc import Callable
from pathlib import Path
from typing import Final

import pytest

from hotfolder.artwork import ProblemKind
from hotfolder.measure import measure
from tests.corpus import CorpusFile, corpus_files, corpus_folder, problems_with
from tests.producers import produced_files
from tests.reference.facts import MOST_NAMED_SHARE, Comparison, Difference, Kind, table

Compare = Callable[[Path], Comparison]

# How many facts of a file differ for a known reason. What is not here must agree.
NAMED: Final[dict[tuple[str, Difference], int]] = {
    ("ocrmypdf/type3_font_nomapping.pdf", Difference.GLYPH_PICTURE): 2,
    ("pikepdf/content-stream-errors.pdf", Difference.ENDLESS_IMAGE): 1,
    ("pikepdf/ctm_cm.pdf", Difference.BROKEN_INSTRUCTION): 2,
    ("pikepdf/cyclic-toc.pdf", Difference.MENDED): 1,
    ("pypdf/SF424_page2.pdf", Difference.SCREEN_ONLY): 1,
    ("pypdf/example.pdf", Difference.GLYPH_PICTURE): 4,
    ("pypdfium2/box_fallback.pdf", Difference.NO_MEDIA_BOX): 5,
    ("pytoshop/300dpi.psd", Difference.LAYERS_OF_32_BITS): 1,
    ("pytoshop/32bit.psd", Difference.LAYERS_OF_32_BITS): 1,
    ("pytoshop/32bit5x5.psd", Difference.LAYERS_OF_32_BITS): 1,
    ("pytoshop/gradient fill.psd", Difference.LAYERS_OF_32_BITS): 1,
    ("pytoshop/transparentbg.psd", Difference.LAYERS_OF_32_BITS): 1,
    ("pytoshop/vector mask.psd", Difference.LAYERS_OF_32_BITS): 1,
}
# Reasons that claim that we tell the damage.
TOLD: Final = {
    Difference.BROKEN_INSTRUCTION,
    Difference.ENDLESS_IMAGE,
    Difference.MENDED,
    Difference.NO_MEDIA_BOX,
}
# The kinds that each reference tool is asked for.
GROUPS: Final = {
    "images": (Kind.PLACED, Kind.PIXELS, Kind.DEPTH, Kind.RESOLUTION),
    "fonts": (Kind.FONT_NAME, Kind.EMBEDDED, Kind.SUBSET, Kind.UNUSED),
    "pages": (Kind.OPENS, Kind.PAGES, Kind.BOX, Kind.TURN),
    "raster files": (
        Kind.FORMAT, Kind.CANVAS, Kind.CHANNEL_BITS, Kind.MODE, Kind.PACKING, Kind.DECLARED,
        Kind.ORIENTATION, Kind.PROFILE, Kind.PROGRESSIVE, Kind.LAYERS,
    ),
}  # fmt: skip


def fetched(file: CorpusFile) -> Path:
    if reason := problems_with(file):
        pytest.skip(reason)
    return corpus_folder() / file.name


def differences(comparison: Comparison, name: str) -> dict[tuple[str, Difference], int]:
    """The named differences of a file, in the form of `NAMED`."""
    found = Counter(fact.difference for fact in comparison.facts if fact.difference is not None)
    return {(name, difference): count for difference, count in found.items()}


@pytest.mark.usefixtures("corpus")
@pytest.mark.parametrize("file", corpus_files(), ids=lambda file: file.name)
def test_a_real_file_measures_as_other_programs_say(file: CorpusFile, compared: Compare) -> None:
    comparison = compared(fetched(file))
    assert comparison.facts
    assert [str(fact) for fact in comparison.unexplained] == []
    wanted = {key: count for key, count in NAMED.items() if key[0] == file.name}
    assert differences(comparison, file.name) == wanted


@pytest.mark.usefixtures("corpus")
@pytest.mark.parametrize("name", sorted({name for name, difference in NAMED if difference in TOLD}))
def test_where_a_reason_is_that_we_tell_the_damage_it_is_told(name: str) -> None:
    (file,) = (file for file in corpus_files() if file.name == name)
    kinds = {problem.kind for problem in measure(fetched(file)).problems}
    assert kinds & {ProblemKind.DAMAGED, ProblemKind.UNREADABLE}


@pytest.mark.parametrize("path", produced_files(), ids=lambda path: path.stem)
def test_a_producers_file_measures_as_other_programs_say(path: Path, compared: Compare) -> None:
    comparison = compared(path)
    assert [str(fact) for fact in comparison.facts if not fact.agree] == []
    assert {fact.kind for fact in comparison.facts} >= {Kind.BOX, Kind.RESOLUTION, Kind.PLACED}


@pytest.mark.usefixtures("corpus")
def test_the_files_are_many_and_the_differences_few(compared: Compare) -> None:
    comparisons = [compared(fetched(file)) for file in corpus_files()]
    pdfs = [each for each in comparisons if each.path.suffix == ".pdf"]
    assert len(pdfs) >= 40
    assert len(comparisons) - len(pdfs) >= 20
    assert len({family for each in pdfs if (family := producer_family(each.producer))}) >= 8
    rows = {row.kind: row for row in table([*comparisons, *map(compared, produced_files())])}
    for kinds in GROUPS.values():
        facts = sum(rows[kind].compared for kind in kinds)
        assert facts >= 500
        assert sum(rows[kind].named for kind in kinds) <= MOST_NAMED_SHARE * facts
    assert all(row.compared and not row.unexplained for row in rows.values())
    assert set().union(*GROUPS.values()) == set(Kind)


def producer_family(producer: str | None) -> str | None:
    """The first word by which a producer names itself: versions of one program are one."""
    word = re.search(r"[A-Za-z]{3,}", producer or "")
    return word[0] if word else None
