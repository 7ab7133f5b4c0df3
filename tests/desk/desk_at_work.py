"""A desk at work for tests, and what its log says."""

from hotfolder.store.audit_log.chained import read_chain
from hotfolder.store.audit_log.verifying import verify
from tests.studio_at_work import AtWork


def holds(at_work: AtWork) -> bool:
    return verify(at_work.studio.audit).troubles == ()


def events(at_work: AtWork, job: str) -> list[str]:
    return [record.event for record in read_chain(at_work.studio.audit / "2026/11" / f"{job}.jsonl").records]
