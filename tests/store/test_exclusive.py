"""Renames that never replace anything, in all three ways."""

import errno
import os
from pathlib import Path

import pytest

from hotfolder.errors import NameTakenError, StorageError
from hotfolder.store import exclusive
from hotfolder.store.exclusive import rename_exclusively
from hotfolder.store.moves import move, publish, reaches_by_rename
from tests.studio_at_work import names_in, needs_rights

WAYS = ["renameat2", "link", "placeholder"]


@pytest.fixture(params=WAYS)
def way(request: pytest.FixtureRequest, monkeypatch: pytest.MonkeyPatch) -> str:
    """The best way that the file system knows."""
    known = str(request.param)

    def no_links(*_: object, **__: object) -> None:
        raise PermissionError(errno.EPERM, "no links here")

    if known != "renameat2":
        monkeypatch.setattr(exclusive, "_renameat2", lambda *_: errno.EINVAL)
    if known == "placeholder":
        monkeypatch.setattr(os, "link", no_links)
    return known


@pytest.mark.usefixtures("way")
def test_a_free_name_is_taken(tmp_path: Path) -> None:
    (tmp_path / "a").write_bytes(b"ours")
    rename_exclusively(tmp_path / "a", tmp_path / "b")
    assert names_in(tmp_path) == ["b"]
    assert (tmp_path / "b").read_bytes() == b"ours"


@pytest.mark.usefixtures("way")
def test_a_taken_name_is_left_alone(tmp_path: Path) -> None:
    (tmp_path / "a").write_bytes(b"ours")
    (tmp_path / "b").write_bytes(b"theirs")
    with pytest.raises(FileExistsError):
        rename_exclusively(tmp_path / "a", tmp_path / "b")
    with pytest.raises(NameTakenError):
        publish(tmp_path / "a", tmp_path / "b")
    assert (tmp_path / "a").read_bytes() == b"ours"
    assert (tmp_path / "b").read_bytes() == b"theirs"


@pytest.mark.usefixtures("way")
@pytest.mark.parametrize("kind", ["folder", "link", "broken link", "pipe"])
def test_a_name_is_taken_by_anything(tmp_path: Path, kind: str) -> None:
    (tmp_path / "a").write_bytes(b"ours")
    match kind:
        case "folder":
            (tmp_path / "b").mkdir()
        case "link":
            (tmp_path / "b").symlink_to(tmp_path / "a")
        case "broken link":
            (tmp_path / "b").symlink_to(tmp_path / "nothing")
        case _:
            os.mkfifo(tmp_path / "b")
    with pytest.raises(FileExistsError):
        rename_exclusively(tmp_path / "a", tmp_path / "b")
    assert (tmp_path / "a").read_bytes() == b"ours"


@pytest.mark.usefixtures("way")
def test_a_missing_source_leaves_nothing_behind(tmp_path: Path) -> None:
    with pytest.raises(FileNotFoundError):
        rename_exclusively(tmp_path / "a", tmp_path / "b")
    assert names_in(tmp_path) == []


def test_a_link_that_was_interrupted_is_finished(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(exclusive, "_renameat2", lambda *_: errno.EINVAL)
    (tmp_path / "a").write_bytes(b"ours")
    os.link(tmp_path / "a", tmp_path / "b")
    rename_exclusively(tmp_path / "a", tmp_path / "b")
    assert names_in(tmp_path) == ["b"]


def test_another_file_system_is_noticed_by_trying(tmp_path: Path) -> None:
    memory = Path("/dev/shm")
    if not memory.is_dir() or memory.stat().st_dev == tmp_path.stat().st_dev:
        pytest.skip("no second file system: /dev/shm")
    assert reaches_by_rename(tmp_path, tmp_path) is True
    assert reaches_by_rename(tmp_path, memory) is False
    assert names_in(tmp_path) == []


def test_a_move_across_file_systems_never_overwrites(tmp_path: Path) -> None:
    memory = Path("/dev/shm")
    if not memory.is_dir() or memory.stat().st_dev == tmp_path.stat().st_dev:
        pytest.skip("no second file system: /dev/shm")
    source, target = tmp_path / "a", memory / f"hotfolder-test-{os.getpid()}"
    source.write_bytes(b"ours")
    target.write_bytes(b"theirs")
    try:
        with pytest.raises(NameTakenError):
            move(source, target)
        assert (source.read_bytes(), target.read_bytes()) == (b"ours", b"theirs")
        target.unlink()
        move(source, target)
        assert target.read_bytes() == b"ours"
        assert not source.exists()
    finally:
        target.unlink()


@needs_rights
def test_a_refusal_is_told_with_its_reason(tmp_path: Path) -> None:
    (tmp_path / "a").write_bytes(b"ours")
    locked = tmp_path / "locked"
    locked.mkdir(mode=0o500)
    with pytest.raises(StorageError, match="no permission"):
        publish(tmp_path / "a", locked / "a")
    assert (tmp_path / "a").read_bytes() == b"ours"
