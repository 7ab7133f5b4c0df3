# A PDF as a whole: opening, encryption, damage, the page tree.

import hashlib
import io
from pathlib import Path

import pikepdf
import pytest

from hotfolder.measure import measure
from hotfolder.measure.pdf.pdf_file import declared_trim
from hotfolder.model.document import Encryption
from hotfolder.model.facts import Format, Problem, ProblemKind, Unmeasured
from hotfolder.model.geometry import Box
from hotfolder.model.pages import PageBoxes, Trim, TrimOrigin
from hotfolder.pdf.document.document import MEANINGS, meaning
from tests.pdf.raw_pdf import page, raw_pdf, stream, write_raw


def kinds(problems: tuple[Problem, ...]) -> list[ProblemKind]:
    return [problem.kind for problem in problems]


def sizes(pages: object) -> list[float]:
    """The widths of the pages' media boxes: the tests here tell pages apart by them."""
    assert isinstance(pages, tuple)
    return [found.boxes.media.width for found in pages if found.boxes.media is not None]


def of_width(width: int) -> str:
    return page(f"/MediaBox [0 0 {width} 100]")


# The file


def test_file_facts(tmp_path: Path) -> None:
    data = raw_pdf()
    file = tmp_path / "flyer.pdf"
    file.write_bytes(data)
    found = measure(file).file
    assert (found.name, found.bytes, found.format) == ("flyer.pdf", len(data), Format.PDF)
    assert found.sha256 == hashlib.sha256(data).hexdigest()
    named = measure(file, name="as dropped.pdf", sha256="known").file
    assert (named.name, named.sha256) == ("as dropped.pdf", "known")


@pytest.mark.parametrize("data", [b"", b"just words", b"%!PS-Adobe-3.0\n"])
def test_a_file_of_another_kind_is_told(tmp_path: Path, data: bytes) -> None:
    file = tmp_path / "flyer.pdf"
    file.write_bytes(data)
    artwork = measure(file)
    assert isinstance(artwork.pages, Unmeasured)
    assert (artwork.pdf, artwork.file.format, kinds(artwork.problems)) == (
        None,
        None,
        [ProblemKind.UNREADABLE],
    )


def test_a_sound_file_has_no_problems(tmp_path: Path) -> None:
    artwork = measure(write_raw(tmp_path / "a.pdf"))
    assert artwork.problems == ()
    assert artwork.pages != ()


@pytest.mark.parametrize(
    ("header", "catalog", "version"),
    [("1.4", "", "1.4"), ("1.4", "/Version /1.7", "1.7"), ("1.7", "/Version /1.4", "1.7"), ("2.0", "", "2.0"),
     ("1.4", "/Version /1.10", "1.10"), ("1.4", "/Version 1.7", "1.4"), ("1.4", "/Version /new", "1.4")],
)  # fmt: skip
def test_the_higher_of_two_versions_counts(tmp_path: Path, header: str, catalog: str, version: str) -> None:
    objects: dict[int, str | bytes] = {1: f"<< /Type /Catalog /Pages 2 0 R {catalog} >>"}
    facts = measure(write_raw(tmp_path / "a.pdf", objects, version=header)).pdf
    assert facts is not None
    assert facts.version == version


@pytest.mark.parametrize(
    ("trailer", "has_id"),
    [
        ("/ID [<01> <02>]", True),
        ("", False),
        ("/ID [<01>]", False),
        ("/ID [() <02>]", False),
        ("/ID 5", False),
    ],
)
def test_an_id_has_two_parts(tmp_path: Path, trailer: str, *, has_id: bool) -> None:
    facts = measure(write_raw(tmp_path / "a.pdf", trailer=trailer)).pdf
    assert facts is not None
    assert facts.has_id is has_id


# Encryption


def encrypted(path: Path, protection: pikepdf.Encryption) -> Path:
    with pikepdf.open(io.BytesIO(raw_pdf())) as pdf:
        pdf.save(path, encryption=protection)
    return path


@pytest.mark.parametrize(
    ("protection", "method"),
    [
        (pikepdf.Encryption(owner="keep", R=2, aes=False, metadata=False), "RC4 40 bit"),
        (pikepdf.Encryption(owner="keep", R=3, aes=False, metadata=False), "RC4 128 bit"),
        (pikepdf.Encryption(owner="keep", R=4), "AES 128 bit"),
        (pikepdf.Encryption(owner="keep", R=6), "AES 256 bit"),
    ],
)
def test_a_file_that_opens_without_a_password_is_read(
    tmp_path: Path, protection: pikepdf.Encryption, method: str
) -> None:
    artwork = measure(encrypted(tmp_path / "a.pdf", protection))
    assert sizes(artwork.pages) == [300]
    assert artwork.pdf is not None
    assert artwork.pdf.encryption == Encryption(opened=True, method=method, printing_allowed=True)
    assert artwork.problems == ()


@pytest.mark.parametrize("refused", ["print_highres", "print_lowres"])
def test_permission_to_print_means_full_quality(tmp_path: Path, refused: str) -> None:
    permissions = {"print_highres": False} | {refused: False}
    allow = pikepdf.Permissions(**permissions)
    artwork = measure(encrypted(tmp_path / "a.pdf", pikepdf.Encryption(owner="keep", allow=allow)))
    assert artwork.pdf is not None
    assert artwork.pdf.encryption is not None
    assert artwork.pdf.encryption.printing_allowed is False


@pytest.mark.parametrize(
    "protection",
    [
        pikepdf.Encryption(owner="keep", user="secret", R=4),
        pikepdf.Encryption(owner="keep", user="secret", R=6),
    ],
)
def test_a_file_with_an_unknown_password_stays_closed(tmp_path: Path, protection: pikepdf.Encryption) -> None:
    artwork = measure(encrypted(tmp_path / "a.pdf", protection))
    assert isinstance(artwork.pages, Unmeasured)
    assert kinds(artwork.problems) == [ProblemKind.ENCRYPTED]
    assert artwork.pdf is not None
    assert artwork.pdf.version.startswith(("1.", "2."))
    assert artwork.pdf.encryption == Encryption(opened=False, method="unknown", printing_allowed=None)


def test_a_file_encrypted_for_a_certificate_is_encrypted_and_not_broken(tmp_path: Path) -> None:
    """Source: ISO 32000-2, 7.6.5 (public-key security handlers)."""
    encrypt = "/Encrypt << /Filter /Adobe.PubSec /SubFilter /adbe.pkcs7.s5 /V 4 /R 4 >> /ID [<01> <02>]"
    artwork = measure(write_raw(tmp_path / "a.pdf", trailer=encrypt))
    assert kinds(artwork.problems) == [ProblemKind.ENCRYPTED]
    assert artwork.pdf is not None
    assert artwork.pdf.encryption is not None
    assert not artwork.pdf.encryption.opened


# Damage


def test_a_wrong_table_of_contents_is_rebuilt_and_told(tmp_path: Path) -> None:
    file = tmp_path / "a.pdf"
    file.write_bytes(raw_pdf().replace(b"startxref\n", b"startxref\n9"))
    artwork = measure(file)
    assert sizes(artwork.pages) == [300]
    assert kinds(artwork.problems) == [ProblemKind.DAMAGED]


def update_alone() -> bytes:
    """An update whose table lists what it changed, and refers to a former one that is not there."""
    before = raw_pdf()
    before = before[: before.index(b"xref\n")]
    changed = b"3 0 obj\n<< /Type /Page /Parent 2 0 R /MediaBox [0 0 50 60] >>\nendobj\n"
    table = b"xref\n3 1\n%010d 00000 n \ntrailer\n<< /Size 4 /Root 1 0 R /Prev 0 >>\n" % len(before)
    return before + changed + table + b"startxref\n%d\n%%%%EOF\n" % len(before + changed)


def test_an_update_of_a_version_that_is_gone_is_read_without_its_table(tmp_path: Path) -> None:
    file = tmp_path / "a.pdf"
    file.write_bytes(update_alone())
    artwork = measure(file)
    assert sizes(artwork.pages) == [50]
    assert kinds(artwork.problems) == [ProblemKind.DAMAGED]


def test_a_file_too_long_to_be_held_in_memory_is_not_rebuilt(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr("hotfolder.pdf.document.document.REBUILT_BYTES", 100)
    file = tmp_path / "a.pdf"
    file.write_bytes(update_alone())
    artwork = measure(file)
    assert isinstance(artwork.pages, Unmeasured)
    assert kinds(artwork.problems) == [ProblemKind.UNREADABLE]


def test_a_file_cut_after_its_objects_is_rebuilt_and_told(tmp_path: Path) -> None:
    data = raw_pdf()
    file = tmp_path / "a.pdf"
    file.write_bytes(data[: data.index(b"xref\n")] + b"trailer << /Root 1 0 R >>")
    artwork = measure(file)
    assert sizes(artwork.pages) == [300]
    assert kinds(artwork.problems) == [ProblemKind.DAMAGED]


def test_a_header_alone_is_unreadable(tmp_path: Path) -> None:
    file = tmp_path / "a.pdf"
    file.write_bytes(b"%PDF-1.7\n")
    artwork = measure(file)
    assert isinstance(artwork.pages, Unmeasured)
    assert kinds(artwork.problems) == [ProblemKind.UNREADABLE]


def test_a_token_that_had_to_be_guessed_is_told(tmp_path: Path) -> None:
    artwork = measure(write_raw(tmp_path / "a.pdf", {3: page("/MediaBox [0 0 300 400] /Tabs 1e5")}))
    assert sizes(artwork.pages) == [300]
    assert kinds(artwork.problems) == [ProblemKind.DAMAGED]


def test_a_page_whose_content_is_garbage_is_told(tmp_path: Path) -> None:
    objects: dict[int, str | bytes] = {
        3: page("/MediaBox [0 0 300 400] /Contents 4 0 R"),
        4: stream(b"\x78\x9c not deflated at all", "/Filter /FlateDecode"),
    }
    artwork = measure(write_raw(tmp_path / "a.pdf", objects))
    assert sizes(artwork.pages) == [300]
    graver = {ProblemKind.UNREADABLE, ProblemKind.DAMAGED}
    assert [problem.where for problem in artwork.problems if problem.kind in graver] == ["pages[1].marks"]


# The page tree


def test_pages_are_numbered_in_order_through_nested_nodes(tmp_path: Path) -> None:
    objects: dict[int, str | bytes] = {
        2: "<< /Type /Pages /Kids [3 0 R 4 0 R 7 0 R] /Count 4 >>",
        3: of_width(30),
        4: "<< /Type /Pages /Parent 2 0 R /Kids [5 0 R 6 0 R] /Count 2 >>",
        5: of_width(50),
        6: of_width(60),
        7: of_width(70),
    }
    artwork = measure(write_raw(tmp_path / "a.pdf", objects))
    assert sizes(artwork.pages) == [30, 50, 60, 70]
    assert isinstance(artwork.pages, tuple)
    assert [each.number for each in artwork.pages] == [1, 2, 3, 4]
    assert artwork.problems == ()


def test_one_page_may_stand_in_the_list_twice(tmp_path: Path) -> None:
    objects: dict[int, str | bytes] = {2: "<< /Type /Pages /Kids [3 0 R 3 0 R] /Count 2 >>"}
    assert sizes(measure(write_raw(tmp_path / "a.pdf", objects)).pages) == [300, 300]


def test_a_list_of_pages_that_runs_in_a_circle_is_cut(tmp_path: Path) -> None:
    objects: dict[int, str | bytes] = {
        2: "<< /Type /Pages /Kids [3 0 R 4 0 R] /Count 2 >>",
        4: "<< /Type /Pages /Parent 2 0 R /Kids [2 0 R 4 0 R] /Count 1 >>",
    }
    artwork = measure(write_raw(tmp_path / "a.pdf", objects))
    assert sizes(artwork.pages) == [300]
    assert ProblemKind.DAMAGED in kinds(artwork.problems)


def test_nodes_that_multiply_end_at_a_limit(tmp_path: Path) -> None:
    """Ten kids on each of forty levels would be 10^40 pages."""
    objects: dict[int, str | bytes] = {2: f"<< /Type /Pages /Kids [{'10 0 R ' * 10}] /Count 1 >>"}
    for level in range(10, 50):
        objects[level] = f"<< /Type /Pages /Kids [{f'{level + 1} 0 R ' * 10}] /Count 1 >>"
    objects[50] = "<< /Type /Pages /Kids [] /Count 0 >>"
    artwork = measure(write_raw(tmp_path / "a.pdf", objects))
    assert isinstance(artwork.pages, Unmeasured)
    assert ProblemKind.LIMIT in kinds(artwork.problems)


def test_a_chain_deeper_than_any_tree_ends_at_a_limit(tmp_path: Path) -> None:
    objects: dict[int, str | bytes] = {2: "<< /Type /Pages /Kids [10 0 R] /Count 1 >>"}
    objects |= {level: f"<< /Type /Pages /Kids [{level + 1} 0 R] /Count 1 >>" for level in range(10, 3000)}
    assert ProblemKind.LIMIT in kinds(measure(write_raw(tmp_path / "a.pdf", objects)).problems)


@pytest.mark.parametrize("kids", ["[3 0 R null]", "[3 0 R 99 0 R]", "[3 0 R (page)]", "[5 3 0 R]"])
def test_a_missing_page_is_told(tmp_path: Path, kids: str) -> None:
    objects: dict[int, str | bytes] = {2: f"<< /Type /Pages /Kids {kids} /Count 2 >>"}
    artwork = measure(write_raw(tmp_path / "a.pdf", objects))
    assert sizes(artwork.pages) == [300]
    assert kinds(artwork.problems) == [ProblemKind.DAMAGED]


def test_a_count_that_is_not_kept_is_told(tmp_path: Path) -> None:
    objects: dict[int, str | bytes] = {2: "<< /Type /Pages /Kids [3 0 R] /Count 7 >>"}
    artwork = measure(write_raw(tmp_path / "a.pdf", objects))
    assert sizes(artwork.pages) == [300]
    assert kinds(artwork.problems) == [ProblemKind.DAMAGED]


def test_a_file_that_says_it_has_no_pages_has_none(tmp_path: Path) -> None:
    artwork = measure(write_raw(tmp_path / "a.pdf", {2: "<< /Type /Pages /Kids [] /Count 0 >>"}))
    assert (artwork.pages, artwork.problems) == ((), ())


@pytest.mark.parametrize(
    "pages", ["<< /Type /Pages /Kids [] /Count 2 >>", "<< /Type /Pages >>", "null", "[3 0 R]", "(pages)"]
)
def test_whether_a_file_with_a_broken_list_of_pages_has_any_is_not_known(tmp_path: Path, pages: str) -> None:
    artwork = measure(write_raw(tmp_path / "a.pdf", {2: pages}))
    assert isinstance(artwork.pages, Unmeasured)
    assert ProblemKind.UNREADABLE in kinds(artwork.problems)


def test_a_page_without_a_size_is_not_made_a_letter_page(tmp_path: Path) -> None:
    artwork = measure(write_raw(tmp_path / "a.pdf", {3: page("")}))
    assert isinstance(artwork.pages, tuple)
    assert artwork.pages[0].boxes.media is None
    assert isinstance(artwork.pages[0].marks, Unmeasured)
    assert kinds(artwork.problems) == [ProblemKind.DAMAGED]


# The finished size


def test_the_trim_box_is_the_trim() -> None:
    trim, art = Box(1, 1, 9, 9), Box(2, 2, 8, 8)
    assert declared_trim(PageBoxes(None, trim=trim, art=art)) == Trim(trim, TrimOrigin.TRIM_BOX)
    assert declared_trim(PageBoxes(None, art=art)) == Trim(art, TrimOrigin.ART_BOX)


def test_without_either_box_the_trim_is_unmeasured() -> None:
    full = Box(0, 0, 9, 9)
    assert declared_trim(PageBoxes(full, crop=full, bleed=full)) == Unmeasured(
        "trim", "the file has no trim box"
    )


# The wall


def exported_exceptions() -> list[type[BaseException]]:
    """The exception classes that pikepdf exports."""
    exported = (getattr(pikepdf, each) for each in dir(pikepdf))
    return [each for each in exported if isinstance(each, type) and issubclass(each, BaseException)]


def test_pikepdf_exports_exceptions_to_be_mapped() -> None:
    assert pikepdf.PasswordError in exported_exceptions()


def test_every_exception_of_pikepdf_has_a_meaning() -> None:
    assert {each.__name__ for each in exported_exceptions()} - set(MEANINGS) == set()


@pytest.mark.parametrize(
    ("error", "kind"),
    [
        (pikepdf.PasswordError("x"), ProblemKind.ENCRYPTED),
        (pikepdf.PdfError("x"), ProblemKind.UNREADABLE),
        (pikepdf.DataDecodingError("x"), ProblemKind.DAMAGED),
        (RecursionError("x"), ProblemKind.UNREADABLE),
    ],
)
def test_meanings_go_by_class(error: BaseException, kind: ProblemKind) -> None:
    assert meaning(error)[0] is kind
