"""A desk at work for tests, and what its log says."""

from pathlib import Path

import pytest

from hotfolder.store.audit_log.chained import read_chain
from hotfolder.store.audit_log.verifying import verify
from tests.studio_at_work import AtWork, lay_studio


@pytest.fixture
def at_work(tmp_path: Path) -> AtWork:
    return AtWork(lay_studio(tmp_path / "studio"))


def holds(at_work: AtWork) -> bool:
    return verify(at_work.studio.audit).troubles == ()


def events(at_work: AtWork, job: str) -> list[str]:
    return [record.event for record in read_chain(at_work.studio.audit / "2026/11" / f"{job}.jsonl").records]
