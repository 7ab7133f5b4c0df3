# Both readers of content see the same instructions in real files: what is measured is what is drawn.
from enum import Enum, auto
from pathlib import Path
from typing import Final

import pikepdf
import pytest
from pikepdf import Array, Dictionary, Name

from hotfolder.measure import measure
from hotfolder.pdf.objects.reading import entry, identity, keys
from tests.corpus import CorpusFile, corpus_files, corpus_folder, problems_with
from tests.corpus.fetch import fetch_corpus
from tests.pdf.language.two_readers import PAGE, Seen, pages_seen
from tests.producers import produced_files

PAGES: Final = 3  # of a file; those after them are made by the same program
SAMPLE: Final = 3  # every third file of the corpus


class Cause(Enum):
    """Why the readers differ on a stream."""

    # An inline image without end: to qpdf all that follows is its data, and facts tell that what is drawn
    # after it is not known. Plates of such a page are not drawn, for that very reason.
    ENDLESS_IMAGE = auto()


NAMED: Final = {("pikepdf/content-stream-errors.pdf", 3, PAGE): Cause.ENDLESS_IMAGE}
TOLD: Final = {Cause.ENDLESS_IMAGE: "an image has no end; what is drawn after it is not known"}


def pdfs(*, slow: bool) -> list[CorpusFile]:
    return [file for file in corpus_files(slow=slow) if file.name.endswith(".pdf")]


@pytest.fixture(scope="session")
def corpus() -> None:
    fetch_corpus()


@pytest.fixture(scope="session")
def large_corpus() -> None:
    fetch_corpus(slow=True)


@pytest.mark.usefixtures("corpus")
@pytest.mark.parametrize("file", pdfs(slow=False)[::SAMPLE], ids=lambda file: file.name)
def test_both_readers_see_the_same_in_a_real_file(file: CorpusFile) -> None:
    compare(file)


@pytest.mark.slow
@pytest.mark.usefixtures("large_corpus")
@pytest.mark.parametrize("file", pdfs(slow=True), ids=lambda file: file.name)
def test_both_readers_see_the_same_in_any_file(file: CorpusFile) -> None:
    compare(file)


@pytest.mark.parametrize("path", produced_files(), ids=lambda path: path.stem)
def test_both_readers_see_the_same_in_a_producers_file(path: Path) -> None:
    pages = pages_seen(path, PAGES)
    assert [page.differences() for page in pages] == [[]] * len(pages)
    assert all(page.measured[PAGE] and page.measured.keys() == page.rewritten.keys() for page in pages)


@pytest.mark.usefixtures("corpus")
@pytest.mark.parametrize(("key", "cause"), NAMED.items())
def test_where_the_readers_differ_it_is_told(key: tuple[str, int, str], cause: Cause) -> None:
    path = fetched(key[0])
    assert TOLD[cause] in {problem.what for problem in measure(path).problems}


def test_what_is_compared_is_what_a_page_says(tmp_path: Path) -> None:
    with pikepdf.new() as pdf:
        page = pdf.add_blank_page(page_size=(72, 72))
        form = pdf.make_stream(b"0 0 1 rg 0 0 9 9 re f", Type=Name.XObject, Subtype=Name.Form)
        form.BBox = Array([0, 0, 72, 72])
        page.obj.Resources = Dictionary(XObject=Dictionary(Fm=form))
        picture = b"BI /W 1 /H 1 /BPC 8 /CS /G ID x EI"
        content = b"q 2 0 0 2 +-5 --5 cm 0.5 g (1 g) pop 1 2 3 4 re f* /Fm Do Q %b 0 0 m s" % picture
        page.obj.Contents = pdf.make_stream(content)
        pdf.save(tmp_path / "page.pdf")
    (seen,) = pages_seen(tmp_path / "page.pdf", 1)
    begun, ended = [("q",), ("cm", 2, 0, 0, 2, -5, -5), ("g", 0.5)], [("BI",), ("m", 0, 0), ("s",)]
    drawn = [("re", 1, 2, 3, 4), ("f*",), ("Do", "Fm"), ("Q",)]
    assert seen.measured[PAGE] == seen.rewritten[PAGE] == begun + drawn + ended
    (form_number,) = seen.measured.keys() - {PAGE}
    painted = [("rg", 0, 0, 1), ("re", 0, 0, 9, 9), ("f",)]
    assert seen.measured[form_number] == seen.rewritten[form_number] == painted
    seen.rewritten[form_number][0] = ("rg", 0, 1, 0)
    assert seen.differences() == [
        f"p. 1, {form_number}: instruction 0 is ('rg', 0.0, 0.0, 1.0) to facts and ('rg', 0, 1, 0) to plates"
    ]


@pytest.mark.parametrize(
    ("content", "said"),
    [
        (b"1 2 m 3 l 4 5 6 7 v 8 9 y l 6 7 l S", [("m", 1, 2), ("v", 4, 5, 6, 7), ("l", 6, 7), ("S",)]),
        (b"1 2 m 3 4l 5 6 7 8 9 10c h h f", [("m", 1, 2), ("l", 3, 4), ("c", 5, 6, 7, 8, 9, 10), *"hhf"]),
        (b"9 1 2 m /A 5 l 5 /A l 7 /A 8 9 l S", [("m", 1, 2), ("l", 8, 9), "S"]),
        (b"w 1 w 1e1 w 2 w", [("w", 1), ("w", 2)]),
        (b"/Span BDC BDC BMC /A /B BDC EMC", [("BDC",)]),
        (b"/Span<</A(/B)>>BDC [(/A)] BDC", [("BDC",)]),
        (b"BT Tj TJ 1 Td 2 3 Td (a)Tj [(a)-5(b)]TJ ET", [("Td", 2, 3), ("Tj",), ("TJ",)]),
        (b'BT (a) \' (a) " 1 2 (a) " [(a)5 2(b)5 TJ ET', [("'",), ('"',)]),
        (b"sc 0.5 sc 0.2 0.3 rg 0.1 0.2 0.3 rg", [("sc", 0.5), ("rg", 0.1, 0.2, 0.3)]),
    ],
)
def test_neither_reader_takes_an_operator_that_lacks_operands(
    content: bytes, said: list[Seen | str], tmp_path: Path
) -> None:
    with pikepdf.new() as pdf:
        page = pdf.add_blank_page(page_size=(72, 72))
        page.obj.Contents = pdf.make_stream(content)
        pdf.save(tmp_path / "page.pdf")
    (seen,) = pages_seen(tmp_path / "page.pdf", 1)
    wanted = [(each,) if isinstance(each, str) else each for each in said]
    assert seen.measured[PAGE] == wanted
    assert seen.rewritten[PAGE] == wanted


def compare(file: CorpusFile) -> None:
    pages = pages_seen(fetched(file.name), PAGES)
    for page in pages:
        named = [stream for name, number, stream in NAMED if (name, number) == (file.name, page.number)]
        differing = [line.split(", ", 1)[1].split(": ", 1)[0] for line in page.differences()]
        assert differing == named, page.differences()
        if not page.not_drawn:
            # Facts need the glyphs that are shown; of a font whose glyphs are shapes and no more plates need
            # none, and of another all.
            apart = page.measured.keys() ^ page.rewritten.keys()
            assert not apart or apart <= glyphs(fetched(file.name))


def fetched(name: str) -> Path:
    file = next(each for each in corpus_files(slow=True) if each.name == name)
    if reason := problems_with(file):
        pytest.skip(reason)
    return corpus_folder() / name


def glyphs(path: Path) -> set[str]:
    """The glyphs of all Type 3 fonts of a file, by the number of their streams."""
    with pikepdf.open(path, suppress_warnings=True) as pdf:
        procedures = [entry(each, "/CharProcs") for each in pdf.objects]
        return {identity(entry(each, key)) or "" for each in procedures for key in keys(each, 65_536)}
