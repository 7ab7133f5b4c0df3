"""Copies and small reads: what is opened, and what never is."""

import errno
import hashlib
import os
from pathlib import Path

import pytest

from hotfolder.errors import StorageError
from hotfolder.store import copies
from hotfolder.store.copies import copy_file, may_read, read_small, sha256_of
from tests.studio_at_work import names_in, needs_rights

CONTENT = bytes(range(256)) * 20_000  # five megabytes: more than one block


@pytest.fixture(params=["reflink if the file system can", "bytes"])
def any_way(request: pytest.FixtureRequest, monkeypatch: pytest.MonkeyPatch) -> None:
    """Both ways to copy, one after the other."""
    if request.param == "bytes":
        monkeypatch.setattr(copies, "_reflink", lambda *_: False)


@pytest.mark.usefixtures("any_way")
def test_a_copy_has_the_bytes_and_says_their_hash(tmp_path: Path) -> None:
    (tmp_path / "a").write_bytes(CONTENT)
    (tmp_path / "b").write_bytes(b"a leftover of an earlier try")
    expected = hashlib.sha256(CONTENT).hexdigest()
    assert copy_file(tmp_path / "a", tmp_path / "b") == expected
    assert (tmp_path / "b").read_bytes() == CONTENT
    assert sha256_of(tmp_path / "b") == expected


def test_a_copy_that_cannot_be_finished_leaves_nothing(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    def full(*_: object) -> None:
        raise OSError(28, "No space left on device")  # ENOSPC, <asm-generic/errno-base.h>

    monkeypatch.setattr(copies, "_reflink", lambda *_: False)
    monkeypatch.setattr(copies, "write_all", full)
    (tmp_path / "a").write_bytes(CONTENT)
    with pytest.raises(StorageError, match="the disk is full"):
        copy_file(tmp_path / "a", tmp_path / "b")
    assert names_in(tmp_path) == ["a"]


def test_a_pipe_and_a_link_are_never_read(tmp_path: Path) -> None:
    os.mkfifo(tmp_path / "pipe")
    (tmp_path / "secret").write_bytes(b"secret")
    (tmp_path / "link").symlink_to(tmp_path / "secret")
    for name in ("pipe", "link"):
        with pytest.raises(StorageError):
            sha256_of(tmp_path / name)
        with pytest.raises(StorageError):
            read_small(tmp_path / name, 100)


def test_a_small_read_is_small(tmp_path: Path) -> None:
    (tmp_path / "a").write_bytes(b"12345")
    assert read_small(tmp_path / "a", 5) == b"12345"
    assert read_small(tmp_path / "a", 4) is None


@needs_rights
def test_a_missing_right_is_no_other_trouble(tmp_path: Path) -> None:
    (tmp_path / "a").write_bytes(b"x")
    (tmp_path / "a").chmod(0)
    assert may_read(tmp_path / "a") is False
    with pytest.raises(StorageError, match=r"no permission .*its rights are 0000"):
        sha256_of(tmp_path / "a")


@pytest.mark.usefixtures("any_way")
def test_holes_take_no_room_in_a_copy(tmp_path: Path) -> None:
    source, target = tmp_path / "a", tmp_path / "b"
    with source.open("wb") as file:
        file.write(b"head" * 1024)
        file.seek(40_000_000)
        file.write(b"middle")
        file.truncate(60_000_000)
    allocated = source.stat().st_blocks
    assert allocated * 512 < 1_000_000, "this file system keeps no holes"
    expected = hashlib.sha256(source.read_bytes()).hexdigest()
    assert copy_file(source, target) == expected == sha256_of(target)
    assert target.stat().st_size == 60_000_000
    assert target.stat().st_blocks <= allocated + 64


def test_a_sparse_file_needs_only_the_room_of_its_data(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    class Room:
        f_bavail = copies.RESERVE_BYTES // 4096 + 100
        f_frsize = 4096

    monkeypatch.setattr(copies, "_reflink", lambda *_: False)
    monkeypatch.setattr(os, "statvfs", lambda _: Room)
    with (tmp_path / "a").open("wb") as file:
        file.write(b"head")
        file.truncate(1_000_000_000)
    copy_file(tmp_path / "a", tmp_path / "b")
    assert (tmp_path / "b").stat().st_size == 1_000_000_000


def test_a_file_system_that_knows_no_holes_gives_a_whole_copy(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    real = os.lseek

    def seek(descriptor: int, offset: int, whence: int) -> int:
        if whence in {os.SEEK_DATA, os.SEEK_HOLE}:
            raise OSError(22, "Invalid argument")  # EINVAL, as lseek(2) has it
        return real(descriptor, offset, whence)

    monkeypatch.setattr(copies, "_reflink", lambda *_: False)
    monkeypatch.setattr(os, "lseek", seek)
    (tmp_path / "a").write_bytes(CONTENT)
    assert copy_file(tmp_path / "a", tmp_path / "b") == hashlib.sha256(CONTENT).hexdigest()
    assert (tmp_path / "b").read_bytes() == CONTENT


def test_a_hole_that_is_none_is_copied_all_the_same(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """A file system that tells of holes where there are bytes already, as one did for a time."""
    monkeypatch.setattr(copies, "_reflink", lambda *_: False)
    monkeypatch.setattr(copies, "_seek_data", lambda _descriptor, _offset, size: size)
    (tmp_path / "a").write_bytes(CONTENT + bytes(3_000_000))
    copy_file(tmp_path / "a", tmp_path / "b")
    assert (tmp_path / "b").read_bytes() == CONTENT + bytes(3_000_000)


def test_a_copy_without_holes_asks_no_share_to_cut_it(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """There are file systems in user space that can write a file and not set its length."""

    def refused(*_: object) -> None:
        raise OSError(errno.EIO, "Input/output error")

    monkeypatch.setattr(copies, "_reflink", lambda *_: False)
    monkeypatch.setattr(os, "ftruncate", refused)
    (tmp_path / "a").write_bytes(CONTENT)
    assert copy_file(tmp_path / "a", tmp_path / "b") == hashlib.sha256(CONTENT).hexdigest()
    assert (tmp_path / "b").read_bytes() == CONTENT
