"""A job's own state that was damaged: its file is kept, and nobody else waits for it."""

import contextlib
import json
import shutil
import tempfile
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import pytest

from hotfolder.config.studio import load_studio
from hotfolder.errors import StorageError
from hotfolder.model.jobs import JobId
from hotfolder.store.jobs import STATE_FILE, Step
from tests.studio_at_work import GOOD, AtWork, lay_studio

ODD_VALUES = ["", "x", "../x", "\ud800", "a\0b", None, True, 10**100, ["x"], {"a": 1}]


@pytest.fixture
def root() -> Iterator[Path]:
    """In memory where there is such a place: each file of a studio is synced often."""
    memory = Path("/dev/shm")
    with tempfile.TemporaryDirectory(dir=memory if memory.is_dir() else None) as folder:
        yield Path(folder)


def damaged(state: dict[str, Any]) -> Iterator[dict[str, Any]]:
    """The state with each part of it, one at a time, missing or of any kind."""
    for key, value in state.items():
        yield {name: each for name, each in state.items() if name != key}
        for odd in ODD_VALUES:
            yield {**state, key: odd}
            if isinstance(value, dict):
                yield from ({**state, key: {**value, part: odd}} for part in value)


def begun(studio: Path, step: Step) -> tuple[JobId, Path]:
    """A job that is interrupted after `step`, and the file of its state."""
    at_work = AtWork(lay_studio(studio))
    if step is Step.CLAIMING:
        job = at_work.desk.take(at_work.drop(GOOD))
        assert job is not None
    else:
        job = at_work.begin(step)
    return job, at_work.studio.printer("quay").work / job / STATE_FILE


def go_on(at_work: AtWork) -> None:
    """Start, and work on what is found as often as it comes to anything."""
    for job in at_work.desk.recover():
        with contextlib.suppress(StorageError):  # it waits
            while at_work.desk.work(job).again:
                pass


@pytest.mark.parametrize("step", [Step.CLAIMING, Step.NAMED])
def test_a_part_of_any_kind_stops_nothing_and_loses_nothing(root: Path, step: Step) -> None:
    _, file = begun(root / "sound", step)
    sound = json.loads(file.read_bytes())
    for number, state in enumerate(damaged(sound)):
        studio = root / str(number)
        shutil.copytree(root / "sound", studio, symlinks=True)
        (studio / file.relative_to(root / "sound")).write_text(json.dumps(state), encoding="ascii")
        at_work = AtWork(load_studio(studio))
        go_on(at_work)
        at_work.bring(b"%PDF-1.4 another one\nstartxref\n0\n%%EOF\n", printer="mill")
        assert any(path.is_file() and path.read_bytes() == GOOD for path in studio.rglob("*")), state
        shutil.rmtree(studio)


def test_the_state_of_another_job_is_not_believed(root: Path) -> None:
    job, file = begun(root / "studio", Step.CLAIMED)
    state = json.loads(file.read_bytes())
    file.write_text(json.dumps({**state, "job": f"{job[:-4]}0000"}), encoding="ascii")
    assert AtWork(load_studio(root / "studio")).desk.recover() == []
    assert (file.parent / "claimed" / "flyer.pdf").read_bytes() == GOOD


def test_a_file_of_another_name_than_the_states_is_kept(root: Path, caplog: pytest.LogCaptureFixture) -> None:
    _, file = begun(root / "studio", Step.CLAIMED)
    state = json.loads(file.read_bytes())
    file.write_text(json.dumps({**state, "name": "poster.pdf"}), encoding="ascii")
    assert AtWork(load_studio(root / "studio")).desk.recover() == []
    assert (file.parent / "claimed" / "flyer.pdf").read_bytes() == GOOD
    assert "holds another file than its state names" in caplog.text


def test_what_a_share_calls_an_open_file_that_was_removed_is_no_strange_file(root: Path) -> None:
    job, file = begun(root / "studio", Step.CLAIMED)
    (file.parent / "claimed" / ".nfs000000000000001200000001").write_bytes(b"")
    assert AtWork(load_studio(root / "studio")).desk.recover() == [job]


@pytest.mark.parametrize("printer", ["\ud800", "a\0b", "quay\nERROR job=1"])
def test_the_log_can_hold_whatever_a_damaged_state_names(
    root: Path, printer: str, caplog: pytest.LogCaptureFixture
) -> None:
    _, file = begun(root / "studio", Step.CLAIMED)
    state = json.loads(file.read_bytes())
    file.write_text(json.dumps({**state, "printer": printer}), encoding="ascii")
    AtWork(load_studio(root / "studio")).desk.recover()
    (message,) = [
        record.getMessage() for record in caplog.records if "lies with quay now" in record.getMessage()
    ]
    assert message.isprintable()
    assert message.encode().decode() == message
