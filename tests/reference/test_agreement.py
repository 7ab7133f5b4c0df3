# Every fact on which a reference tool has a word, on all real files and on those of the producers.
#
# References: poppler 22.12 (pdfimages -list, pdffonts, pdfinfo -box, pdftotext -bbox), PDFium, exiftool
# 12.57, ImageMagick 6.9.11 (identify), libtiff 4.5.0 (tiffinfo). Where we and they differ, the reason is
# named in `facts.Difference`, proved from the file in `differences` and `word_differences`, and the place
# is listed here; the table is printed by `python -m tests.reference`.
import re
from collections.abc import Callable
from pathlib import Path
from typing import Final

import pytest

from hotfolder.measure import measure
from hotfolder.model.facts import ProblemKind
from tests.corpus import CorpusFile, corpus_files, corpus_folder, problems_with
from tests.producers import produced_files
from tests.reference.facts import MOST_NAMED_SHARE, Comparison, Difference, Kind, table

Compare = Callable[[Path], Comparison]

# How many facts of a file differ for a known reason. What is not here must agree.
NAMED: Final[dict[tuple[str, Difference], int]] = {
    ("Pillow/16bit.cropped.tif", Difference.NO_RESOLUTION): 2,
    ("Pillow/16bit.deflate.tif", Difference.NO_RESOLUTION): 2,
    ("Pillow/16bit.s.tif", Difference.NO_RESOLUTION): 2,
    ("Pillow/flower.jpg", Difference.EXIF_FIRST): 2,
    ("Pillow/hopper_bad_exif.jpg", Difference.EXIF_FIRST): 2,
    ("Pillow/multipage-lastframe.tif", Difference.NO_RESOLUTION): 2,
    ("Pillow/multipage-mmap.tiff", Difference.NO_RESOLUTION): 2,
    ("Pillow/multipage.tiff", Difference.NO_RESOLUTION): 2,
    ("Pillow/uint16_1_4660.tif", Difference.NO_RESOLUTION): 2,
    ("ocrmypdf/type3_font_nomapping.pdf", Difference.TYPE3_HEIGHT): 1,
    ("ocrmypdf/type3_font_nomapping.pdf", Difference.GLYPH_PICTURE): 2,
    ("pikepdf/content-stream-errors.pdf", Difference.ENDLESS_IMAGE): 1,
    ("pikepdf/ctm_cm.pdf", Difference.BROKEN_INSTRUCTION): 2,
    ("pikepdf/cyclic-toc.pdf", Difference.MENDED): 1,
    ("pypdf/FormTestFromOo.pdf", Difference.REDRAWN_FIELD): 7,
    ("pypdf/SF424_page2.pdf", Difference.SCREEN_ONLY): 1,
    ("pypdf/example.pdf", Difference.TYPE3_HEIGHT): 4,
    ("pypdf/example.pdf", Difference.GLYPH_PICTURE): 4,
    ("pypdf/form_evince.pdf", Difference.REDRAWN_FIELD): 1,
    ("pypdf/issue-604.pdf", Difference.SCREEN_ONLY): 3,
    ("pypdf/issue-604.pdf", Difference.ACTUAL_TEXT): 94,
    ("pypdf/libreoffice-form.pdf", Difference.REDRAWN_FIELD): 2,
    ("pypdfium2/box_fallback.pdf", Difference.NO_MEDIA_BOX): 5,
    ("pypdfium2/forms.pdf", Difference.SCREEN_ONLY): 50,
    ("python-reportlab-doc/reportlab-userguide.pdf", Difference.OBLIQUE): 83,
    ("python-reportlab-doc/reportlab-userguide.pdf", Difference.EURO): 2,
    ("pytoshop/300dpi.psd", Difference.LAYERS_OF_32_BITS): 1,
    ("pytoshop/32bit.psd", Difference.LAYERS_OF_32_BITS): 1,
    ("pytoshop/32bit5x5.psd", Difference.LAYERS_OF_32_BITS): 1,
    ("pytoshop/gradient fill.psd", Difference.LAYERS_OF_32_BITS): 1,
    ("pytoshop/note.psd", Difference.NO_FLAT_PICTURE): 2,
    ("pytoshop/transparentbg.psd", Difference.LAYERS_OF_32_BITS): 1,
    ("pytoshop/vector mask.psd", Difference.LAYERS_OF_32_BITS): 1,
    ("ruby-prawn-doc/manual.pdf", Difference.OBLIQUE): 173,
}
# Reasons that claim that we tell the damage.
TOLD: Final = {
    Difference.BROKEN_INSTRUCTION,
    Difference.ENDLESS_IMAGE,
    Difference.MENDED,
    Difference.MISSING_PAGES,
    Difference.NO_MEDIA_BOX,
}
# The kinds that each reference tool is asked for.
GROUPS: Final = {
    "images": (Kind.PLACED, Kind.PIXELS, Kind.DEPTH, Kind.RESOLUTION),
    "fonts": (Kind.FONT_NAME, Kind.EMBEDDED, Kind.SUBSET, Kind.UNUSED),
    "pages": (Kind.OPENS, Kind.PAGES, Kind.BOX, Kind.TURN),
    "words": (Kind.WORD, Kind.WORD_HEIGHT, Kind.TEXT_SEEN),
    "raster files (exiftool)": (
        Kind.FORMAT, Kind.CANVAS, Kind.CHANNEL_BITS, Kind.MODE, Kind.PACKING, Kind.DECLARED,
        Kind.ORIENTATION, Kind.PROFILE, Kind.PROGRESSIVE, Kind.LAYERS,
    ),
    "raster files (ImageMagick)": (
        Kind.MAGICK_SIZE, Kind.MAGICK_COLOUR, Kind.MAGICK_HEADER, Kind.MAGICK_DECLARED,
    ),
    "TIFF files (libtiff)": (Kind.TIFF_SIZE, Kind.TIFF_COLOUR, Kind.TIFF_HEADER, Kind.TIFF_DECLARED),
}  # fmt: skip
# The share of words whose edges along the baseline are to agree within half a point.
LEAST_SHARE_OF_WORDS: Final = 0.99
# Of the words of the larger corpus not every difference is explained yet: 910 edges of 4,075,331, 65 heights,
# and 12,867 of 1,383,766 runs that poppler has in no word, most of them in two manuals.
MOST_OTHER_WORDS: Final = 0.01


def fetched(file: CorpusFile) -> Path:
    if reason := problems_with(file):
        pytest.skip(reason)
    return corpus_folder() / file.name


@pytest.mark.usefixtures("corpus")
@pytest.mark.parametrize("file", corpus_files(), ids=lambda file: file.name)
def test_a_real_file_measures_as_other_programs_say(file: CorpusFile, compared: Compare) -> None:
    comparison = compared(fetched(file))
    assert comparison.facts
    assert [str(fact) for fact in comparison.unexplained] == []
    wanted = {key: count for key, count in NAMED.items() if key[0] == file.name}
    assert {(file.name, difference): count for difference, count in comparison.named.items()} == wanted


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
    are_many(comparisons, pdfs=40, pictures=20, producers=8)
    differ_little([*comparisons, *map(compared, produced_files())])


@pytest.mark.slow
@pytest.mark.usefixtures("large_corpus")
def test_as_much_agrees_in_many_more_files(
    compared_at_once: Callable[[list[Path]], list[Comparison]],
) -> None:
    paths = [fetched(file) for file in corpus_files(slow=True)]
    comparisons = compared_at_once([*paths, *produced_files()])
    are_many(comparisons, pdfs=1100, pictures=100, producers=40)
    other = [(each.name, fact) for each in comparisons for fact in each.unexplained]
    assert [f"{name}: {fact}" for name, fact in other if fact.kind not in GROUPS["words"]] == []
    differ_little(comparisons, other_words=MOST_OTHER_WORDS)


def are_many(comparisons: list[Comparison], *, pdfs: int, pictures: int, producers: int) -> None:
    found = [each for each in comparisons if each.path.suffix == ".pdf"]
    assert len(found) >= pdfs
    assert len(comparisons) - len(found) >= pictures
    assert len({family for each in found if (family := producer_family(each.producer))}) >= producers


def differ_little(comparisons: list[Comparison], *, other_words: float = 0.0) -> None:
    rows = {row.kind: row for row in table(comparisons)}
    assert set().union(*GROUPS.values()) == set(Kind)
    unexplained = {kind: other_words if kind in GROUPS["words"] else 0.0 for kind in Kind}
    assert all(row.compared for row in rows.values())
    assert all(row.unexplained <= unexplained[row.kind] * row.compared for row in rows.values())
    assert rows[Kind.WORD].agree >= LEAST_SHARE_OF_WORDS * rows[Kind.WORD].compared
    # Poppler tells of no picture that a Type 3 font draws its glyphs with, so there is nothing to agree on.
    unlisted = sum(each.named.get(Difference.GLYPH_PICTURE, 0) for each in comparisons)
    for group, kinds in GROUPS.items():
        facts = sum(rows[kind].compared for kind in kinds)
        named = sum(rows[kind].named for kind in kinds) - (unlisted if group == "images" else 0)
        assert facts >= 400
        assert named <= MOST_NAMED_SHARE * facts, group


def producer_family(producer: str | None) -> str | None:
    """The first word by which a producer names itself: versions of one program are one."""
    word = re.search(r"[A-Za-z]{3,}", producer or "")
    return word[0] if word else None
