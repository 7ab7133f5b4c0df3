# The corpus: its manifest is sound, and nothing gets into it that is not the file meant.
import hashlib
import io
import re
import subprocess
import sys
import tarfile
from pathlib import Path

import pytest

from tests.corpus import corpus_folder, problems_with, read_manifest
from tests.corpus.fetch import NotFetchedError, _lay_standin, _unpack
from tests.corpus.manifest import Client, CorpusFile, Package
from tests.corpus.place import corpus_files, write_left_out

DATA = b"%PDF-1.4 not much of a file"


@pytest.fixture
def folder(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """An empty corpus folder."""
    monkeypatch.setenv("HOTFOLDER_CORPUS", str(tmp_path / "corpus"))
    (tmp_path / "corpus").mkdir()
    return tmp_path / "corpus"


def package(*files: tuple[str, bytes]) -> Package:
    return Package(
        Client.PIP, "quay", "1.0", "to test", None,
        tuple(CorpusFile("quay", name, hashlib.sha256(data).hexdigest()) for name, data in files),
    )  # fmt: skip


def archive(path: Path, *files: tuple[str, bytes]) -> Path:
    with tarfile.open(path, "w") as tar:
        for name, data in files:
            member = tarfile.TarInfo(name)
            member.size = len(data)
            tar.addfile(member, io.BytesIO(data))
    return path


@pytest.mark.parametrize(("slow", "pdfs", "pictures"), [(False, 40, 20), (True, 1100, 100)])
def test_the_manifest_names_enough_files_and_each_once(*, slow: bool, pdfs: int, pictures: int) -> None:
    files = [file for package in read_manifest(slow=slow, labelled=slow) for file in package.files]
    names = [file.name for file in files]
    assert sum(name.endswith(".pdf") for name in names) >= pdfs
    assert sum(not name.endswith(".pdf") for name in names) >= pictures
    assert len(set(names)) == len(names)
    assert len({file.sha256 for file in files}) == len(files)
    assert all(re.fullmatch("[0-9a-f]{64}", file.sha256) for file in files)


def test_python_packages_alone_are_corpus_enough_where_debian_is_another_release() -> None:
    names = [file.name for each in read_manifest() if each.client is Client.PIP for file in each.files]
    assert sum(name.endswith(".pdf") for name in names) >= 40
    assert sum(not name.endswith(".pdf") for name in names) >= 20


def test_files_of_a_package_that_is_left_out_are_no_part_of_the_corpus(folder: Path) -> None:
    debian = [each for each in read_manifest() if each.client is Client.APT]
    before = set(corpus_files())
    write_left_out({debian[0].name: "version not found"})
    assert folder.is_dir()
    assert before - set(corpus_files()) == set(debian[0].files)


def test_what_the_slow_tests_take_is_kept_apart(folder: Path) -> None:
    assert folder.is_dir()
    ordinary, more = corpus_files(), corpus_files(slow=True)
    assert more[: len(ordinary)] == ordinary
    assert not {file.package for file in more[len(ordinary) :]} & {file.package for file in ordinary}


def test_files_are_taken_out_of_an_archive(folder: Path, tmp_path: Path) -> None:
    meant = package(("quay-1.0/docs/leaflet.pdf", DATA))
    _unpack(meant, archive(tmp_path / "a.tar", ("quay-1.0/docs/leaflet.pdf", DATA), ("quay-1.0/x", b"")))
    assert [path.name for path in (folder / "quay").iterdir()] == ["leaflet.pdf"]
    assert problems_with(meant.files[0]) is None


@pytest.mark.parametrize("held", [("quay-1.0/docs/leaflet.pdf", b"another file"), ("other.pdf", DATA)])
def test_an_archive_without_the_file_meant_gives_nothing(
    folder: Path, tmp_path: Path, held: tuple[str, bytes]
) -> None:
    meant = package(("quay-1.0/docs/leaflet.pdf", DATA))
    with pytest.raises(NotFetchedError, match=r"leaflet\.pdf"):
        _unpack(meant, archive(tmp_path / "a.tar", held))
    assert list(folder.iterdir()) == []
    assert problems_with(meant.files[0]) == "corpus not fetched: quay/leaflet.pdf"


def test_a_file_that_was_altered_is_not_used(folder: Path, tmp_path: Path) -> None:
    meant = package(("leaflet.pdf", DATA))
    _unpack(meant, archive(tmp_path / "a.tar", ("leaflet.pdf", DATA)))
    (corpus_folder() / "quay/leaflet.pdf").write_bytes(DATA + b" ")
    assert problems_with(meant.files[0]) == "corpus not fetched: quay/leaflet.pdf is another file"
    assert folder == corpus_folder()


def test_the_stand_in_tells_pip_name_and_version_and_runs_nobodys_code(tmp_path: Path) -> None:
    _lay_standin("setuptools.build_meta", tmp_path / "backends")
    (tmp_path / "PKG-INFO").write_text("Metadata-Version: 2.1\nName: quay-side\nVersion: 1.0\n", "utf-8")
    (tmp_path / "setup.py").write_text("raise SystemExit('was run')", "utf-8")
    call = (
        "from setuptools.build_meta import __legacy__ as backend; "
        "print(backend.prepare_metadata_for_build_wheel('.'))"
    )
    result = subprocess.run(
        [sys.executable, "-c", call],
        cwd=tmp_path,
        env={"PYTHONPATH": str(tmp_path / "backends")},
        capture_output=True,
        text=True,
        check=True,
    )
    assert result.stdout.strip() == "quay_side-1.0.dist-info"
    metadata = (tmp_path / "quay_side-1.0.dist-info" / "METADATA").read_text("utf-8")
    assert metadata.splitlines()[1:] == ["Name: quay-side", "Version: 1.0"]
