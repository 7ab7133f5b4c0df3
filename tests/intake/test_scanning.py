"""One scan of an inbox: regular files are seen, everything else is named, nothing is opened."""

import contextlib
import errno
import os
import socket
from collections.abc import Iterator
from pathlib import Path

import pytest

from hotfolder.config.studio import MARKER
from hotfolder.intake.scanning import Away, Inbox, Listing, scan


@pytest.fixture
def inbox(tmp_path: Path) -> Inbox:
    (tmp_path / MARKER).write_text("id")
    return Inbox("quay", None, tmp_path, frozenset({"cards"}))


def listing(inbox: Inbox) -> Listing:
    seen = scan(inbox)
    assert isinstance(seen, Listing)
    return seen


def test_sees_regular_files_and_not_the_marker(inbox: Inbox) -> None:
    (inbox.folder / "flyer.pdf").write_bytes(b"12345")
    (seen,) = listing(inbox).files
    assert (seen.name, seen.size, seen.readable) == ("flyer.pdf", 5, True)


def test_an_inbox_without_its_marker_is_away_not_empty(tmp_path: Path) -> None:
    (tmp_path / "flyer.pdf").write_bytes(b"12345")
    assert isinstance(scan(Inbox("quay", None, tmp_path)), Away)


def test_a_missing_inbox_is_away(tmp_path: Path) -> None:
    assert isinstance(scan(Inbox("quay", None, tmp_path / "gone")), Away)


def test_a_file_in_the_place_of_the_inbox_is_away(tmp_path: Path) -> None:
    (tmp_path / "inbox").write_bytes(b"")
    assert isinstance(scan(Inbox("quay", None, tmp_path / "inbox")), Away)


def test_links_pipes_and_sockets_are_named_and_never_opened(inbox: Inbox, tmp_path: Path) -> None:
    (inbox.folder / "link.pdf").symlink_to("/etc/hostname")
    (inbox.folder / "dangling.pdf").symlink_to("nowhere")
    os.mkfifo(inbox.folder / "pipe.pdf")
    with socket.socket(socket.AF_UNIX) as server:
        here = Path.cwd()
        os.chdir(tmp_path)  # a socket's path is limited to about 100 bytes
        try:
            server.bind("socket.pdf")
        finally:
            os.chdir(here)
        seen = listing(inbox)
    assert seen.files == ()
    assert {entry.name for entry in seen.left} == {"link.pdf", "dangling.pdf", "pipe.pdf", "socket.pdf"}


def test_a_product_folder_is_passed_over_and_another_folder_is_named(inbox: Inbox) -> None:
    (inbox.folder / "cards").mkdir()
    (inbox.folder / "holiday pictures").mkdir()
    seen = listing(inbox)
    assert [entry.name for entry in seen.left] == ["holiday pictures"]


def test_a_name_that_is_no_utf8_is_seen(inbox: Inbox) -> None:
    odd = os.fsencode(inbox.folder) + b"/caf\xe9.pdf"
    with open(odd, "wb") as file:  # noqa: PTH123 - the name is bytes
        file.write(b"x")
    (seen,) = listing(inbox).files
    assert os.fsencode(seen.name) == b"caf\xe9.pdf"


class _Entry:
    """An entry of a listing that the system refuses to look at."""

    name = "broken.pdf"

    def stat(self, **_: object) -> os.stat_result:
        raise OSError(errno.EIO, os.strerror(errno.EIO), self.name)


def test_an_entry_that_cannot_be_looked_at_does_not_make_its_inbox_away(
    inbox: Inbox, monkeypatch: pytest.MonkeyPatch
) -> None:
    (inbox.folder / "flyer.pdf").write_bytes(b"12345")
    real = os.scandir

    @contextlib.contextmanager
    def with_a_broken_one(folder: int) -> Iterator[Iterator[object]]:
        with real(folder) as entries:
            yield iter([_Entry(), *entries])

    monkeypatch.setattr(os, "scandir", with_a_broken_one)
    seen = listing(inbox)
    assert [file.name for file in seen.files] == ["flyer.pdf"]
    (left,) = seen.left
    assert (left.name, left.why) == ("broken.pdf", "its details cannot be read: Input/output error")
