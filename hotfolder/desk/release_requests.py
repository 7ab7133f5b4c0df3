"""Answers what `hotfolder release` asks of a running daemon: to send a job on despite its findings."""

import logging
from collections.abc import Callable
from datetime import datetime

from hotfolder.config.studio import Studio
from hotfolder.desk import releases
from hotfolder.errors import HotfolderError, StorageError
from hotfolder.model.jobs import JobId
from hotfolder.store.delivery_folders import DeliveryFolders
from hotfolder.store.requests import Answer, ReleaseRequest, answer_request, take_requests
from hotfolder.store.work import WorkFolders

logger = logging.getLogger(__name__)


class ReleaseRequests:
    """The requests to release a job, which commands lay beside the daemon. clock: the time, with its zone."""

    def __init__(
        self, studio: Studio, work: WorkFolders, folders: DeliveryFolders, clock: Callable[[], datetime]
    ) -> None:
        self._studio = studio
        self._work = work
        self._folders = folders
        self._clock = clock
        self._last_trouble = ""  # logged once, however often it comes again

    def carry_out(self) -> list[JobId]:
        """Answer all requests; the jobs that are to be worked for them.

        Never raises for what the file system does: that is logged once, and tried again with the next call.
        """
        accepted: list[JobId] = []
        try:
            for path, request in take_requests(self._studio.hidden, self._clock()):
                answer_request(path, self._answer(request, accepted))
        except StorageError as error:
            if self._last_trouble != str(error):
                logger.warning("requests cannot be carried out: %s", error)
            self._last_trouble = str(error)
        return accepted

    def _answer(self, request: ReleaseRequest, accepted: list[JobId]) -> Answer:
        try:
            job = releases.reopen(request, self._studio, self._work, self._folders, self._clock())
        except HotfolderError as error:
            return Answer(refused=True, text=str(error))
        accepted.append(job.state.job)
        text = f"job {job.state.job} goes on to {job.state.printer}'s outbox; its findings stay in the report"
        return Answer(refused=False, text=text)
