# No byte string makes measuring raise, hang or take all memory.

import io
import random
from pathlib import Path
from time import monotonic, process_time

import pikepdf
import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from hotfolder.measure import measure
from hotfolder.model.artwork import Artwork
from hotfolder.model.facts import ProblemKind, Unmeasured
from tests.pdf.raw_pdf import deflated, page, raw_pdf, stream, write_raw

# Everything that the readers look at, in one small file.
RICH = raw_pdf(
    {
        1: "<< /Type /Catalog /Pages 2 0 R /Metadata 4 0 R /OutputIntents [<< /S /GTS_PDFX "
        "/DestOutputProfile 5 0 R /OutputConditionIdentifier (Custom) >>] "
        "/OCProperties << /OCGs [6 0 R] /D << /OFF [6 0 R] >> >> /AcroForm << /Fields [7 0 R] >> "
        "/Names << /JavaScript << /Names [(a) << /S /JavaScript >>] >> >> >>",
        3: page(
            "/MediaBox [0 0 300 400] /TrimBox [10 10 290 390] /Rotate 90 /UserUnit 2 /Annots [7 0 R] "
            "/Contents [8 0 R] /Resources << /Font << /F 9 0 R /G 10 0 R /H 14 0 R >> "
            "/XObject << /I 12 0 R >> /Properties << /L 6 0 R >> >>"
        ),
        4: deflated(
            b'<rdf:RDF xmlns:rdf="http://www.w3.org/1999/02/22-rdf-syntax-ns#"><rdf:Description '
            b'xmlns:p="http://www.npes.org/pdfx/ns/id/" p:GTS_PDFXVersion="PDF/X-4"/></rdf:RDF>'
        ),
        5: stream(bytes(12) + b"prtrCMYK" + bytes(16) + b"acsp" + bytes(100), "/N 4"),
        6: "<< /Type /OCG /Name (Notes) >>",
        7: "<< /FT /Tx /T (name) /Subtype /Widget /F 4 /Rect [10 10 50 20] /V (x) >>",
        8: deflated(
            b"/OC /L BDC 0 0 9 9 re f EMC q 1 0 0 1 5 5 cm /F 12 Tf BT (Text) Tj ET /G 9 Tf BT <0041> Tj ET "
            b"/H 9 Tf BT (a) Tj ET /I Do Q 0.1 0.2 0.3 0.4 k 1 1 m 5 5 l S"
        ),
        9: "<< /Type /Font /Subtype /TrueType /BaseFont /ABCDEF+Sample /FirstChar 65 /Widths [500 600] "
        "/FontDescriptor << /FontName /ABCDEF+Sample /Ascent 700 >> /Encoding /WinAnsiEncoding >>",
        10: "<< /Type /Font /Subtype /Type0 /BaseFont /Wide /Encoding 13 0 R /DescendantFonts [11 0 R] >>",
        11: "<< /Type /Font /Subtype /CIDFontType2 /BaseFont /Wide /W [1 [500 600] 7 9 400] /DW 800 >>",
        12: stream(
            bytes(12),
            "/Type /XObject /Subtype /Image /Width 2 /Height 2 /BitsPerComponent 8 /ColorSpace /DeviceRGB",
        ),
        13: deflated(
            b"1 begincodespacerange <0000> <ffff> endcodespacerange "
            b"1 begincidrange <0000> <00ff> 0 endcidrange"
        ),
        14: "<< /Type /Font /Subtype /Type3 /FontMatrix [0.01 0 0 0.01 0 0] /FontBBox [0 0 9 9] "
        "/FirstChar 97 /Widths [50] /CharProcs << /a 15 0 R >> /Encoding << /Differences [97 /a] >> >>",
        15: stream(b"50 0 d0 0 0 9 9 re f"),
    },
    trailer="/Info << /Title (Leaf) /Trapped /False >> /ID [<01> <02>]",
)  # fmt: skip


def compressed() -> bytes:
    """The same file with its objects in compressed streams, and its text of the page tree unseen."""
    file = io.BytesIO()
    with pikepdf.open(io.BytesIO(RICH)) as pdf:
        pdf.save(file, object_stream_mode=pikepdf.ObjectStreamMode.generate, deterministic_id=True)
    return file.getvalue()


def measured(tmp_path: Path, data: bytes) -> Artwork:
    file = tmp_path / "a.pdf"
    file.write_bytes(data)
    artwork = measure(file)
    # What could not be opened says why; what is clean has all of its pages.
    assert artwork.problems or not isinstance(artwork.pages, Unmeasured)
    return artwork


def test_the_sound_file_is_measured_in_full(tmp_path: Path) -> None:
    for data in (RICH, compressed()):
        artwork = measured(tmp_path, data)
        assert isinstance(artwork.pages, tuple)
        assert len(artwork.pages[0].known_marks) >= 6
        assert {font.type for font in artwork.fonts} == {"TrueType", "CIDFontType2", "Type3"}
        assert artwork.pdf is not None
        assert artwork.pdf.pdfx is not None
        assert (artwork.pdf.form_fields, artwork.pdf.scripts, len(artwork.pdf.layers)) == (1, 1, 1)


@pytest.mark.parametrize("data", [RICH, compressed()], ids=["plain", "compressed"])
def test_a_file_cut_anywhere_is_never_clean(tmp_path: Path, data: bytes) -> None:
    graver = {ProblemKind.UNREADABLE, ProblemKind.DAMAGED, ProblemKind.ENCRYPTED}
    ends = data.rindex(b"startxref")
    for length in range(0, ends, 7):
        artwork = measured(tmp_path, data[:length])
        assert {problem.kind for problem in artwork.problems} & graver, length


@pytest.mark.parametrize("data", [RICH, compressed()], ids=["plain", "compressed"])
def test_flipped_bytes_do_not_raise(tmp_path: Path, data: bytes) -> None:
    chance = random.Random(20261125)  # a fixed seed: a failure can be repeated
    for _ in range(400):
        broken = bytearray(data)
        for _ in range(chance.choice([1, 1, 3, 10, 50])):
            broken[chance.randrange(len(broken))] = chance.randrange(256)
        measured(tmp_path, bytes(broken))


@pytest.mark.parametrize("data", [RICH, compressed()], ids=["plain", "compressed"])
def test_swapped_and_repeated_pieces_do_not_raise(tmp_path: Path, data: bytes) -> None:
    chance = random.Random(7)
    for _ in range(150):
        a, b = sorted(chance.sample(range(len(data)), 2))
        c = chance.randrange(len(data))
        measured(tmp_path, data[:c] + data[a:b] + data[c:])
        measured(tmp_path, data[:a] + data[b:])


WORDS = st.sampled_from(
    ["null", "true", "-1", "0", "1e9", "99999999999999999999", "(x)", "<FEFF>", "/Name", "[]", "<< >>",
     "3 0 R", "2 0 R", "1 0 R", "8 0 R", "99 0 R", "[3 0 R]", "[[[]]]", "<< /Kids [2 0 R] >>", "[0 0 1 1]"]
)  # fmt: skip


@settings(suppress_health_check=[HealthCheck.function_scoped_fixture], max_examples=300, deadline=None)
@given(
    st.dictionaries(
        st.sampled_from(
            ["/MediaBox", "/TrimBox", "/Annots", "/Contents", "/Resources", "/Rotate", "/UserUnit", "/Parent",
             "/Kids", "/Type", "/Group", "/AA"]
        ),
        WORDS,
    ),
    st.dictionaries(
        st.sampled_from(
            ["/Pages", "/Metadata", "/OutputIntents", "/OCProperties", "/AcroForm", "/Names", "/AA",
             "/OpenAction", "/Version"]
        ),
        WORDS,
    ),
    st.sampled_from(["/Info", "/ID", "/Prev", "/Root", "/Encrypt"]),
    WORDS,
)  # fmt: skip
def test_any_value_in_any_place_is_survived(
    tmp_path: Path, page_entries: dict[str, str], catalog: dict[str, str], trailer: str, value: str
) -> None:
    def written(entries: dict[str, str]) -> str:
        return " ".join(f"{key} {word}" for key, word in entries.items())

    sound = {"/Type": "/Page", "/MediaBox": "[0 0 300 400]", "/Parent": "2 0 R"}
    objects: dict[int, str | bytes] = {
        1: f"<< /Type /Catalog {written({'/Pages': '2 0 R'} | catalog)} >>",
        3: f"<< {written(sound | page_entries)} >>",
        8: stream(b"0 0 9 9 re f"),
    }
    measured(tmp_path, raw_pdf(objects, f"{trailer} {value}"))


@settings(suppress_health_check=[HealthCheck.function_scoped_fixture], deadline=None)
@given(st.binary(max_size=500))
def test_random_bytes_after_a_header_are_survived(tmp_path: Path, data: bytes) -> None:
    assert measured(tmp_path, b"%PDF-1.7\n" + data).problems != ()


@pytest.mark.parametrize(
    "objects",
    [
        {1: "<< /Type /Catalog /Pages 2 0 R /OCProperties << /D << /AS [1 0 R 1 0 R] >> /OCGs [1 0 R] >> >>"},
        {4: "[" * 400 + "]" * 400, 3: page("/MediaBox 4 0 R")},
        {4: "[" * 100_000, 3: page("/MediaBox 4 0 R")},
        {4: "5 0 R", 5: "4 0 R", 3: page("/MediaBox 4 0 R")},
        {3: page("/MediaBox [0 0 9 9] /Contents 3 0 R /Resources 3 0 R /Annots 2 0 R")},
        {4: "[4 0 R 4 0 R]", 3: page("/MediaBox [0 0 9 9] /Contents 4 0 R /Annots 4 0 R")},
        {1: "<< /Type /Catalog /Pages 2 0 R /Names << /JavaScript 4 0 R >> >>",
         4: f"<< /Kids [{'4 0 R ' * 99}] >>"},
        {1: "<< /Type /Catalog /Pages 2 0 R /Names << /EmbeddedFiles 4 0 R >> >>",
         4: f"<< /Names [{'(a) 1 0 R ' * 60_000}] >>"},
    ],
    ids=["layers", "nested", "nested deeply", "references in a circle", "page in itself", "array in itself",
         "names in a circle", "many names"],
)  # fmt: skip
def test_shapes_that_never_end_are_survived_in_time(tmp_path: Path, objects: dict[int, str | bytes]) -> None:
    began = monotonic()
    measure(write_raw(tmp_path / "a.pdf", objects))
    assert monotonic() - began < 10  # seconds; each takes less than one


# Some kilobytes that cost a minute, or a gigabyte, where each page has limits of its own alone.
SAME_PAGE = "<< /Type /Page /MediaBox [0 0 99 99] /Contents 8 0 R /Resources << /XObject << /X 9 0 R >> >> >>"
MANY_PAGES = f"<< /Type /Pages /Count 20000 /Kids [{'3 0 R ' * 20_000}] >>"
COSTLY = {
    "a page of many marks, named again and again": {
        2: MANY_PAGES, 3: SAME_PAGE, 8: deflated(b"0 0 1 1 re f " * 1000), 9: "<< >>",
    },
    "a page of many instructions that paint nothing": {
        2: MANY_PAGES, 3: SAME_PAGE, 8: deflated(b"0 0 1 1 re n " * 10_000), 9: "<< >>",
    },
    "values without an instruction": {3: SAME_PAGE, 8: deflated(b"0 " * 9_000_000), 9: "<< >>"},
}  # fmt: skip


@pytest.mark.slow
@pytest.mark.parametrize("objects", COSTLY.values(), ids=COSTLY.keys())
def test_a_small_file_that_is_made_to_cost_ends_at_a_limit_within_twenty_seconds(
    tmp_path: Path, objects: dict[int, str | bytes]
) -> None:
    path = write_raw(tmp_path / "costly.pdf", objects)
    assert path.stat().st_size < 200_000
    before = process_time()
    artwork = measure(path)
    assert process_time() - before < 20
    assert any(problem.kind is ProblemKind.LIMIT for problem in artwork.problems)
    assert sum(len(page.known_marks) for page in artwork.known_pages) <= 600_000


def test_what_was_read_of_earlier_pages_counts_for_later_ones(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr("hotfolder.measure.pdf.pdf_file.OPERATORS", 30)
    objects: dict[int, str | bytes] = {
        2: f"<< /Type /Pages /Count 5 /Kids [{'3 0 R ' * 5}] >>",
        3: SAME_PAGE,
        8: stream(b"0 0 1 1 re f " * 8),
        9: "<< >>",
    }
    artwork = measure(write_raw(tmp_path / "book.pdf", objects))
    assert [len(page.known_marks) for page in artwork.known_pages] == [8, 7, 0, 0, 0]
    told = [problem for problem in artwork.problems if problem.kind is ProblemKind.LIMIT]
    assert [problem.where for problem in told] == [f"pages[{number}].marks" for number in (2, 3, 4, 5)]
