"""What `hotfolder status` says of a studio, with and without a daemon."""

import json
import os
from datetime import UTC, datetime, timedelta
from pathlib import Path
from typing import Any

import pytest

from hotfolder.commands.status import show_status
from hotfolder.desk.studio_view import InboxEntry, InWork, StudioView, read_view, write_view
from hotfolder.intake.writers import Writers
from hotfolder.store.jobs import Step
from tests.studio_at_work import FAULTY, GOOD, AtWork, lay_studio, tree


@pytest.fixture
def at_work(tmp_path: Path) -> AtWork:
    return AtWork(lay_studio(tmp_path / "studio"))


def entries(at_work: AtWork) -> list[tuple[str, str, str | None, str]]:
    (text,) = show_status(at_work.studio.root, as_json=True)
    shown: dict[str, Any] = json.loads(text)
    assert shown["schema"] == "hotfolder-status/1"
    return [(each["printer"], each["state"], each["name"], each["why"]) for each in shown["entries"]]


def view(at_work: AtWork, **parts: Any) -> StudioView:  # noqa: ANN401 - parts of a view
    empty: dict[str, Any] = {"waiting": (), "left": (), "away": (), "jobs": ()}
    made = StudioView(datetime.now(UTC).isoformat(), os.getpid(), "bench", **empty | parts)
    write_view(at_work.studio.hidden, made)
    return made


def test_an_idle_studio_without_a_daemon(at_work: AtWork) -> None:
    assert list(show_status(at_work.studio.root, as_json=False)) == [
        "No daemon is running on this studio.",
        "",
        "quay: nothing on its way",
        "",
        "mill: nothing on its way",
    ]


def test_without_a_daemon_the_folders_are_looked_into(at_work: AtWork) -> None:
    at_work.drop(GOOD)
    at_work.drop(b"%PDF-1.4 half", "half.pdf", "quay", "cards")
    inbox = at_work.studio.printer("mill").inbox
    (inbox / "a folder").mkdir()
    (at_work.studio.printer("mill").inbox / ".hotfolder-inbox").unlink()
    job = at_work.desk.take(at_work.drop(FAULTY, "taken.pdf"))
    before = tree(at_work.studio.root)
    found = entries(at_work)
    assert tree(at_work.studio.root) == before
    assert found[:3] == [
        ("quay", "waiting", "flyer.pdf", "no daemon is running"),
        (
            "quay",
            "waiting",
            "half.pdf",
            "no daemon is running; not whole yet: the end marker of a PDF is missing",
        ),
        ("quay", "held", "taken.pdf", "taken; it goes on when the daemon runs"),
    ]
    assert found[3][:2] == ("mill", "away")
    assert job is not None


def test_a_dropped_folder_is_named_with_what_to_do(at_work: AtWork) -> None:
    (at_work.studio.printer("quay").inbox / "Flyers").mkdir()
    ((_, state, name, why),) = entries(at_work)
    assert (state, name) == ("left alone", "Flyers")
    assert "drop its files one by one" in why


def test_beside_a_daemon_its_own_view_is_shown(at_work: AtWork) -> None:
    job = at_work.desk.take(at_work.drop(GOOD))
    other = at_work.desk.take(at_work.drop(GOOD, "other.pdf"))
    assert job is not None
    assert other is not None
    view(
        at_work,
        waiting=(InboxEntry("quay", None, "wet.pdf", "not whole yet: the end marker of a PDF is missing"),),
        jobs=(InWork("quay", job, "the disk is full"),),
    )
    assert sorted(entries(at_work)) == [
        ("quay", "held", "flyer.pdf", "the disk is full"),
        ("quay", "in work", "other.pdf", "taken"),
        ("quay", "waiting", "wet.pdf", "not whole yet: the end marker of a PDF is missing"),
    ]
    assert next(iter(show_status(at_work.studio.root, as_json=False))).startswith("A daemon is running")


def test_a_kept_file_says_for_how_long(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr("hotfolder.desk.claimed_files.writers_of", lambda _: Writers.UNKNOWN)
    at_work = AtWork(lay_studio(tmp_path / "studio"), clock=lambda: datetime.now(UTC))
    job = at_work.desk.take(at_work.drop(GOOD))
    assert job is not None
    assert at_work.desk.work(job).again
    ((printer, state, name, why),) = entries(at_work)
    assert (printer, state, name) == ("quay", "kept", "flyer.pdf")
    assert why == "delivered; compared once more when the daemon runs, in case it is still being written"
    view(at_work)
    ((_, _, _, why),) = entries(at_work)
    assert why == "delivered; compared for 15 min more, in case it is still being written"


def test_a_job_is_shown_with_the_new_name_of_its_printer(at_work: AtWork) -> None:
    at_work.begin(Step.COPIED)
    root = at_work.studio.root
    (root / "quay").rename(root / "wharf")
    file = root / "hotfolder.toml"
    file.write_text(
        file.read_text(encoding="utf-8").replace("printers.quay", "printers.wharf"), encoding="utf-8"
    )
    expected = ("wharf", "held", "flyer.pdf", "being measured; it goes on when the daemon runs")
    assert expected in entries(at_work)
    assert any("flyer.pdf" in line for line in show_status(root, as_json=False))


def test_an_old_or_damaged_view_is_none(at_work: AtWork) -> None:
    hidden = at_work.studio.hidden
    made = view(at_work)
    assert read_view(hidden, datetime.now(UTC)) == made
    assert read_view(hidden, datetime.now(UTC) + timedelta(minutes=2)) is None
    for content in ("", "{", "[]", '{"at": 5}', '{"at": "x", "jobs": [], "waiting": [{"a": 1}]}'):
        (hidden / "view.json").write_text(content)
        assert read_view(hidden, datetime.now(UTC)) is None


def test_it_fits_sixty_columns(at_work: AtWork) -> None:
    at_work.drop(GOOD, "A very long name of a flyer that somebody chose with great care.pdf")
    (at_work.studio.printer("quay").inbox / "Flyers").mkdir()
    lines = list(show_status(at_work.studio.root, as_json=False))
    assert max(map(len, lines)) <= 60
    assert any(line.endswith("great care.pdf") for line in lines)


def test_odd_names_cannot_steer_the_terminal(at_work: AtWork) -> None:
    at_work.drop(GOOD, "fly\n\x1b[2Jer.pdf")
    text = "\n".join(show_status(at_work.studio.root, as_json=False))
    assert "\x1b" not in text
    assert "fly\\n\\x1b[2Jer.pdf" in text
