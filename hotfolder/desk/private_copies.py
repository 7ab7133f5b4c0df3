"""The copy of a claimed file that is examined and delivered: made when the file is at rest, and hashed.

Whoever laid the file into the inbox may still hold it open and write into it, wherever it lies by now. Nobody
writes into the copy.
"""

from dataclasses import dataclass, replace

from hotfolder.desk import record
from hotfolder.desk.claimed_files import ClaimedFiles
from hotfolder.desk.former_jobs import FormerJobs
from hotfolder.store.audit_log.audit import AuditLog
from hotfolder.store.copies import copy_file, may_read, sha256_of
from hotfolder.store.jobs import Job, Step
from hotfolder.store.moves import Fingerprint, status_of


@dataclass(frozen=True, slots=True)
class PrivateCopies:
    """Makes copies, and compares them with what they were made of.

    claimed: knows how long each file has been at rest. former: finds an earlier job with the same bytes.
    artwork_bytes: the largest artwork that is copied.
    """

    claimed: ClaimedFiles
    former: FormerJobs
    audit: AuditLog
    artwork_bytes: int

    def made(self, job: Job) -> Job | str:
        """The job with its copy made and hashed; or why not yet: the claimed file is still being written.

        A file that is gone, too large or not to be read has no copy, and the job says so.
        """
        if job.has(Step.COPIED):
            return job
        waits = self._why_not_yet(job)
        if waits is not None:
            return waits
        state = job.state
        before = status_of(job.claimed)
        too_large = before is not None and before.st_size > self.artwork_bytes
        if before is None or too_large or not may_read(job.claimed):
            return job.saved(replace(state, step=Step.COPIED, readable=False, too_large=too_large))
        sha256 = copy_file(job.claimed, job.copy)
        after = status_of(job.claimed)
        if after is not None and not _same(Fingerprint.of(after), state.seen):
            job.saved(replace(state, seen=Fingerprint.of(after)))
            return "somebody wrote into it while it was copied"
        state = replace(
            state,
            sha256=sha256,
            copies=state.copies + 1,
            begun=0,
            failures=0,
            same_bytes_as=None if state.release else self.former.last_of_bytes(state.printer, sha256),
        )
        record.copied(self.audit, state)
        return job.saved(replace(state, step=Step.COPIED))

    def _why_not_yet(self, job: Job) -> str | None:
        """Why the claimed file cannot be trusted yet; None where it has been quiet and whole for its time."""
        before = status_of(job.claimed)
        if before is None:
            return None
        if not _same(Fingerprint.of(before), job.state.seen):
            job.saved(replace(job.state, seen=Fingerprint.of(before)))
            return "somebody still writes into it"
        return None if job.state.release else self.claimed.why_waiting(job, job.state.seen)


def compared(job: Job) -> Job:
    """The job as it is, if its copy is what was judged, and what was dropped; else as one to be copied anew.

    A copy that somebody removed is made again of the claimed file, where that is still the same.
    """
    state = job.state
    if not state.readable:
        return job
    now = status_of(job.claimed)
    is_same = now is not None and sha256_of(job.claimed) == state.sha256
    is_whole = status_of(job.copy) is not None and sha256_of(job.copy) == state.sha256
    if is_same and not is_whole:
        is_whole = copy_file(job.claimed, job.copy) == state.sha256
    changed = now is not None and not is_same and state.release is None
    if changed or not is_whole:
        seen = state.seen if now is None else Fingerprint.of(now)
        return job.saved(replace(state, step=Step.CLAIMED, seen=seen, sha256="", result=None))
    return job


def _same(one: Fingerprint, other: Fingerprint) -> bool:
    """Whether a file has not been written to; its inode may differ after a rename on some shares."""
    return (one.size, one.mtime_ns) == (other.size, other.mtime_ns)
