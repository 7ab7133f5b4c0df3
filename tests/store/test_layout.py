# Folders of a studio that lie in each other's way, and small files that are never laid over others.
import stat
import tempfile
from pathlib import Path

import pytest

from hotfolder.config.studio import MARKER, Studio, load_studio
from hotfolder.errors import ConfigError, StorageError
from hotfolder.store.lay import append_text, lay_folder, lay_text
from hotfolder.store.layout import check_layout, inboxes_of

TWO_PRINTERS = """\
[printers.east]
rules = "x"
[printers.east.products.cards]
rules = "x"
[printers.west]
rules = "x"
"""


@pytest.fixture
def studio(tmp_path: Path) -> Studio:
    """Two printers, one of them with a product, all folders laid."""
    root = tmp_path / "studio"
    root.mkdir()
    (root / "hotfolder.toml").write_text(TWO_PRINTERS)
    studio = load_studio(root)
    for printer in studio.printers:
        for folder in (printer.outbox, printer.needs_fixing, printer.work):
            folder.mkdir(parents=True)
        for inbox in inboxes_of(printer):
            inbox.mkdir()
            (inbox / MARKER).touch()
    studio.audit.mkdir()
    studio.hidden.mkdir()
    return studio


def replace_by_link(folder: Path, target: Path) -> None:
    for path in sorted(folder.rglob("*"), reverse=True):
        path.rmdir() if path.is_dir() else path.unlink()
    folder.rmdir()
    folder.symlink_to(target, target_is_directory=True)


def lines_told(studio: Studio) -> set[int | None]:
    with pytest.raises(ConfigError) as caught:
        check_layout(studio)
    return {trouble.line for trouble in caught.value.troubles}


def everything_in(root: Path) -> list[Path]:
    return sorted(root.rglob("*"))


def test_folders_that_lie_apart_are_fine_and_stay_as_they_are(studio: Studio) -> None:
    before = everything_in(studio.root)
    check_layout(studio)
    assert everything_in(studio.root) == before


def test_an_inbox_that_is_another_outbox_is_told(studio: Studio) -> None:
    east, west = studio.printers
    replace_by_link(west.inbox, east.outbox)
    assert lines_told(studio) == {5}


def test_two_printers_with_one_inbox_are_told(studio: Studio) -> None:
    east, west = studio.printers
    replace_by_link(west.inbox, east.inbox)
    assert lines_told(studio) == {1, 5}


def test_an_inbox_that_lies_in_another_folder_is_told(studio: Studio) -> None:
    east, west = studio.printers
    (east.outbox / "deeper").mkdir()
    replace_by_link(west.inbox, east.outbox / "deeper")
    assert lines_told(studio) == {5}


def test_an_inbox_that_contains_another_folder_is_told(studio: Studio) -> None:
    _, west = studio.printers
    replace_by_link(studio.audit, west.inbox / "log")
    (west.inbox / "log").mkdir()
    assert lines_told(studio) == {5}


def test_an_inbox_that_contains_the_whole_studio_is_told(studio: Studio, tmp_path: Path) -> None:
    replace_by_link(studio.printers[1].inbox, tmp_path)
    assert 5 in lines_told(studio)


def test_a_product_that_is_its_own_printers_inbox_is_told(studio: Studio) -> None:
    east, _ = studio.printers
    replace_by_link(east.inbox_of(east.products[0]), east.inbox)
    assert lines_told(studio) == {1}


def test_a_link_to_a_folder_elsewhere_is_fine(studio: Studio, tmp_path: Path) -> None:
    _, west = studio.printers
    share = tmp_path / "share"
    share.mkdir()
    replace_by_link(west.outbox, share)
    assert check_layout(studio) == ()


def test_inboxes_that_are_away_are_passed_over(studio: Studio) -> None:
    east, west = studio.printers
    (west.inbox / MARKER).unlink()
    replace_by_link(east.inbox, studio.root / "not-mounted")
    check_layout(studio)
    assert everything_in(west.inbox) == []


@pytest.mark.skipif(not Path("/dev/shm").is_dir(), reason="needs a second file system, /dev/shm")
def test_a_work_folder_on_another_file_system_is_told(studio: Studio) -> None:
    _, west = studio.printers
    with_shm = Path(tempfile.mkdtemp(dir="/dev/shm"))
    try:
        if with_shm.stat().st_dev == studio.root.stat().st_dev:
            pytest.skip("the temporary folder lies on /dev/shm too")
        replace_by_link(west.work, with_shm)
        assert lines_told(studio) == {5}
        assert everything_in(with_shm) == []
        assert everything_in(west.inbox) == [west.inbox / MARKER]
    finally:
        with_shm.rmdir()


def test_a_claim_that_the_system_refuses_is_no_verdict_on_the_layout(studio: Studio) -> None:
    (studio.printers[0].inbox / ".hotfolder-probe").mkdir()  # refuses root too, unlike missing rights
    (sentence,) = check_layout(studio)
    assert sentence.startswith("east: files cannot be taken now: ")


def test_a_new_file_is_laid_whole(tmp_path: Path) -> None:
    assert lay_text(tmp_path / "a.txt", "grüße\n") is True
    assert (tmp_path / "a.txt").read_bytes() == "grüße\n".encode()
    assert everything_in(tmp_path) == [tmp_path / "a.txt"]


def test_what_is_there_is_never_laid_over(tmp_path: Path) -> None:
    (tmp_path / "a.txt").write_text("theirs")
    (tmp_path / "link.txt").symlink_to(tmp_path / "nowhere")
    assert lay_text(tmp_path / "a.txt", "ours") is False
    assert lay_text(tmp_path / "link.txt", "ours") is False
    assert (tmp_path / "a.txt").read_text() == "theirs"
    assert not (tmp_path / "nowhere").exists()


def test_text_is_added_at_the_end_and_the_rest_stays_byte_for_byte(tmp_path: Path) -> None:
    path, link = tmp_path / "a.toml", tmp_path / "link.toml"
    before = b"# caf\xc3\xa9\r\na = 1"
    path.write_bytes(before)
    path.chmod(0o640)
    link.symlink_to(path)
    append_text(link, "b = 2\n")
    assert path.read_bytes() == before + b"\nb = 2\n"
    assert stat.S_IMODE(path.stat().st_mode) == 0o640
    assert link.is_symlink()
    assert everything_in(tmp_path) == [path, link]


def test_folders_are_laid_once_and_never_over_a_file(tmp_path: Path) -> None:
    assert lay_folder(tmp_path / "own", 0o700) is True
    assert stat.S_IMODE((tmp_path / "own").stat().st_mode) == 0o700
    assert lay_folder(tmp_path / "own", 0o700) is False
    (tmp_path / "file").write_text("theirs")
    with pytest.raises(StorageError):
        lay_folder(tmp_path / "file")
    with pytest.raises(StorageError):
        lay_text(tmp_path / "missing" / "a.txt", "x")
    assert (tmp_path / "file").read_text() == "theirs"
