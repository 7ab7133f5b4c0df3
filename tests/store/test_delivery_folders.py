"""Folders that may lie on a share of their own: known again, and left alone while the share is away."""

import os
import shutil
from pathlib import Path

import pytest

from hotfolder.config.studio import DELIVERY_MARKER, Printer, Studio
from hotfolder.errors import StorageError
from hotfolder.store import delivery_folders
from hotfolder.store.delivery_folders import DeliveryFolders
from tests.studio_at_work import lay_studio, names_in


class Mounts:
    """Which mount a folder lies on, as the test says; a share is a folder that a link stands for."""

    def __init__(self, studio: Studio, elsewhere: Path) -> None:
        self.printer = studio.printer("quay")
        self.outbox = self.printer.outbox
        self.share = elsewhere / "share"
        self.share.mkdir(parents=True)
        self.beneath = self.outbox.with_name("beneath")

    def mount(self) -> None:
        self.outbox.rename(self.beneath)
        self.outbox.symlink_to(self.share)

    def unmount(self) -> None:
        self.outbox.unlink()
        self.beneath.rename(self.outbox)

    def mount_of(self, folder: Path) -> int:
        return 2 if folder.resolve().is_relative_to(self.share.resolve()) else 1


@pytest.fixture
def studio(tmp_path: Path) -> Studio:
    return lay_studio(tmp_path / "studio")


@pytest.fixture
def quay(studio: Studio) -> Printer:
    return studio.printer("quay")


@pytest.fixture
def mounts(studio: Studio, tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Mounts:
    mounts = Mounts(studio, tmp_path)
    monkeypatch.setattr(delivery_folders, "_mount_of", mounts.mount_of)
    return mounts


def started(studio: Studio) -> DeliveryFolders:
    """The folders as a new start knows them."""
    return DeliveryFolders(studio.hidden)


def test_folders_of_an_earlier_version_are_marked_at_the_start(studio: Studio, quay: Printer) -> None:
    started(studio).adopt(quay)
    for folder in (quay.outbox, quay.needs_fixing):
        text = (folder / DELIVERY_MARKER).read_text("ascii")
        assert text.splitlines()[-1].startswith("id: ")
    before = (quay.outbox / DELIVERY_MARKER).read_bytes()
    started(studio).adopt(quay)
    assert (quay.outbox / DELIVERY_MARKER).read_bytes() == before


def test_a_share_that_went_away_is_away_and_its_mount_point_stays_empty(
    studio: Studio, mounts: Mounts
) -> None:
    mounts.mount()
    started(studio).adopt(mounts.printer)
    mounts.unmount()
    folders = started(studio)
    with pytest.raises(StorageError, match="is not available: its share is not mounted"):
        folders.ready(mounts.printer, mounts.outbox)
    assert not folders.is_here(mounts.printer, mounts.outbox)
    assert list(mounts.outbox.iterdir()) == []
    mounts.mount()
    assert folders.ready(mounts.printer, mounts.outbox) == ()
    assert folders.is_here(mounts.printer, mounts.outbox)


def test_a_marker_under_the_mount_point_is_not_the_shares(studio: Studio, mounts: Mounts) -> None:
    started(studio).adopt(mounts.printer)  # laid while the share was away
    mounts.mount()
    started(studio).adopt(mounts.printer)
    mounts.unmount()
    assert (mounts.outbox / DELIVERY_MARKER).exists()
    with pytest.raises(StorageError, match="is not available"):
        started(studio).ready(mounts.printer, mounts.outbox)


def test_a_share_that_is_mounted_anew_is_known_by_its_marker(studio: Studio, mounts: Mounts) -> None:
    mounts.mount()
    started(studio).adopt(mounts.printer)
    moved = mounts.share.with_name("moved")  # another inode, as after a new mount
    shutil.copytree(mounts.share, moved)
    shutil.rmtree(mounts.share)
    shutil.copytree(moved, mounts.share)
    assert started(studio).ready(mounts.printer, mounts.outbox) == ()


def test_another_share_in_its_place_is_not_delivered_into(studio: Studio, mounts: Mounts) -> None:
    mounts.mount()
    started(studio).adopt(mounts.printer)
    mounts.share.rename(mounts.share.with_name("former"))
    (mounts.share / "reports").mkdir(parents=True)
    with pytest.raises(StorageError, match="is not available"):
        started(studio).ready(mounts.printer, mounts.outbox)
    assert names_in(mounts.share) == ["reports"]


def test_a_share_of_the_same_numbers_with_another_marker_is_another_one(
    studio: Studio, mounts: Mounts
) -> None:
    """Shares have devices without numbers of their own: the next one that is mounted gets the last one's."""
    mounts.mount()
    started(studio).adopt(mounts.printer)
    marker = mounts.share / DELIVERY_MARKER
    marker.write_text(f"id: {'0' * 32}\n", encoding="ascii")
    with pytest.raises(StorageError, match="is not available"):
        started(studio).ready(mounts.printer, mounts.outbox)
    marker.write_text("", encoding="ascii")
    started(studio).ready(mounts.printer, mounts.outbox)


def test_a_person_can_say_that_it_is_the_right_folder(studio: Studio, mounts: Mounts) -> None:
    mounts.mount()
    started(studio).adopt(mounts.printer)
    mounts.unmount()
    (mounts.outbox / DELIVERY_MARKER).touch()
    started(studio).ready(mounts.printer, mounts.outbox)
    assert b"id: " in (mounts.outbox / DELIVERY_MARKER).read_bytes()
    started(studio).ready(mounts.printer, mounts.outbox)


def test_a_share_whose_link_leads_nowhere_is_away(studio: Studio, mounts: Mounts) -> None:
    mounts.mount()
    started(studio).adopt(mounts.printer)
    shutil.rmtree(mounts.share)
    with pytest.raises(StorageError, match="is not available"):
        started(studio).ready(mounts.printer, mounts.outbox)
    assert not mounts.share.exists()


def test_a_local_folder_that_was_removed_is_made_again(studio: Studio, quay: Printer) -> None:
    started(studio).adopt(quay)
    shutil.rmtree(quay.outbox)
    made = started(studio).ready(quay, quay.outbox)
    assert made == (quay.outbox, quay.outbox / DELIVERY_MARKER)


def test_a_marker_that_a_machine_took_is_not_laid_for_it_again(studio: Studio, mounts: Mounts) -> None:
    mounts.mount()
    started(studio).adopt(mounts.printer)
    (mounts.outbox / DELIVERY_MARKER).unlink()
    assert started(studio).ready(mounts.printer, mounts.outbox) == ()
    assert names_in(mounts.share) == []


def test_what_is_remembered_outlives_its_file_while_the_program_runs(studio: Studio, mounts: Mounts) -> None:
    mounts.mount()
    folders = started(studio)
    folders.adopt(mounts.printer)
    shutil.rmtree(studio.hidden)
    mounts.unmount()
    with pytest.raises(StorageError, match="is not available"):
        folders.ready(mounts.printer, mounts.outbox)
    folders.keep()  # and is written again
    with pytest.raises(StorageError, match="is not available"):
        started(studio).ready(mounts.printer, mounts.outbox)


def test_the_marker_lies_with_the_reports_where_they_have_a_folder(studio: Studio) -> None:
    mill = studio.printer("mill")
    started(studio).adopt(mill)
    assert (mill.outbox / "reports" / DELIVERY_MARKER).exists()
    assert os.listdir(mill.outbox) == ["reports"]  # noqa: PTH208 - markers too
