"""What the file system refuses, in words that fit whatever was tried."""

import errno
import os
from pathlib import Path

import pytest

from hotfolder.errors import StorageError
from hotfolder.store.copies import copy_file
from hotfolder.store.writing import write_file


def failing(*_: object) -> None:
    raise OSError(errno.EIO, "Input/output error")


def test_an_error_of_the_disk_is_told_as_one_whether_a_file_is_read_or_written(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    (tmp_path / "flyer.pdf").write_bytes(b"%PDF-1.7")
    monkeypatch.setattr(os, "fsync", failing)
    with pytest.raises(StorageError, match=r"writing '.*job.json': the disk or the share reports an error"):
        write_file(tmp_path / "job.json", b"{}")
    monkeypatch.setattr(os, "read", failing)
    with pytest.raises(StorageError, match=r"copying '.*flyer.pdf': .* still in the cloud"):
        copy_file(tmp_path / "flyer.pdf", tmp_path / "copy.pdf")
