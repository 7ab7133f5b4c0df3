"""A day's drops over shares that send no events, are written to by another machine, and go away."""

import threading
import time
from collections.abc import Callable, Iterator
from pathlib import Path

import pytest

from tests.journeys.real_studio import RealStudio, office_pdf, run_hotfolder, wait_until
from tests.journeys.shares import KINDS, Share, why_not

PRINTERS = {"quay": "office-pdf", "mill": "office-pdf"}
Make = Callable[[str], Share]


@pytest.fixture(params=KINDS)
def share(request: pytest.FixtureRequest, tmp_path: Path) -> Iterator[Make]:
    """Mounts a share of each kind at a folder of the studio to be."""
    reason = why_not(request.param)
    if reason is not None:
        pytest.skip(reason)
    made: list[Share] = []

    def make(folder: str) -> Share:
        made.append(Share(request.param, tmp_path / "lent", tmp_path / "studio" / folder))
        made[-1].mount()
        return made[-1]

    yield make
    for each in made:
        each.unmount()


def write_with_a_pause(target: Path, data: bytes, pause_s: float) -> None:
    """Half of it, a pause that is longer than the quiet time, and the rest."""
    with target.open("wb") as file:
        file.write(data[: len(data) // 2])
        file.flush()
        time.sleep(pause_s)
        file.write(data[len(data) // 2 :])


def all_bytes(studio: RealStudio, printer: str) -> set[bytes]:
    return {path.read_bytes() for path in studio.delivered(printer).values()}


def names_beneath(share: Share) -> list[str]:
    """What lies under the mount point of a share that is unmounted."""
    return sorted(str(path.relative_to(share.here)) for path in share.here.rglob("*"))


def test_a_days_drops_on_a_printers_share_that_breaks_off_and_comes_back(share: Make, tmp_path: Path) -> None:
    quay = share("quay")
    studio = RealStudio(tmp_path / "studio", PRINTERS)
    there = quay.lent / "inbox"
    dropped = {f"{name}.pdf": office_pdf(name) for name in ("here", "renamed", "slow", "away", "late")}
    with studio.running():
        (studio.inbox("quay") / "here.pdf").write_bytes(dropped["here.pdf"])
        (there / "renamed.pdf.part").write_bytes(dropped["renamed.pdf"])
        (there / "renamed.pdf.part").rename(there / "renamed.pdf")
        writing = threading.Thread(
            target=write_with_a_pause, args=(there / "slow.pdf", dropped["slow.pdf"], 1)
        )
        writing.start()
        assert wait_until(lambda: len(studio.delivered("quay")) == 3), studio.logged()
        writing.join()

        quay.break_off()
        (there / "away.pdf").write_bytes(dropped["away.pdf"])
        assert wait_until(lambda: "is not available" in studio.logged()), studio.logged()
        (studio.inbox("mill") / "other.pdf").write_bytes(office_pdf("other"))
        assert wait_until(lambda: "other.pdf" in studio.delivered("mill")), studio.logged()
        quay.unmount()
        quay.mount()
        assert wait_until(lambda: "away.pdf" in studio.delivered("quay")), studio.logged()
        (there / "late.pdf").write_bytes(dropped["late.pdf"])
        assert wait_until(lambda: "late.pdf" in studio.delivered("quay")), studio.logged()
        assert wait_until(lambda: studio.in_work("quay") == []), studio.logged()
        assert studio.stop() == 0
    assert {name: path.read_bytes() for name, path in studio.delivered("quay").items()} == dropped
    assert run_hotfolder("audit", studio.root).returncode == 0
    assert studio.waiting("quay") == []
    quay.unmount()
    assert names_beneath(quay) == []


def test_a_daemon_that_starts_while_a_printers_share_is_broken_serves_the_others(
    share: Make, tmp_path: Path
) -> None:
    quay = share("quay")
    studio = RealStudio(tmp_path / "studio", PRINTERS)
    quay.break_off()
    (quay.lent / "inbox" / "away.pdf").write_bytes(office_pdf("away"))
    (studio.inbox("mill") / "other.pdf").write_bytes(office_pdf("other"))
    with studio.running():
        assert wait_until(lambda: "other.pdf" in studio.delivered("mill")), studio.logged()
        told = run_hotfolder("status", studio.root)
        assert "offline" in told.stdout, told
        quay.unmount()
        time.sleep(1)  # scans see the empty folder under the mount point
        quay.mount()
        assert wait_until(lambda: "away.pdf" in studio.delivered("quay")), studio.logged()
        assert studio.stop() == 0
    quay.unmount()
    assert names_beneath(quay) == []


def test_an_outbox_on_a_share_that_breaks_off_is_waited_for(share: Make, tmp_path: Path) -> None:
    outbox = share("quay/outbox")
    studio = RealStudio(tmp_path / "studio", PRINTERS)
    with studio.running():
        (studio.inbox("quay") / "first.pdf").write_bytes(office_pdf("first"))
        assert wait_until(lambda: "first.pdf" in studio.delivered("quay")), studio.logged()
        outbox.break_off()
        (studio.inbox("quay") / "second.pdf").write_bytes(office_pdf("second"))
        assert wait_until(lambda: "the share is not available" in studio.logged()), studio.logged()
        outbox.unmount()
        assert studio.stop() == 0
        studio.start()
        assert wait_until(lambda: "its share is not mounted" in studio.logged()), studio.logged()
        assert names_beneath(outbox) == []
        outbox.mount()
        assert wait_until(lambda: "second.pdf" in studio.delivered("quay")), studio.logged()
        assert studio.stop() == 0
    assert set(studio.delivered("quay")) == {"first.pdf", "second.pdf"}
