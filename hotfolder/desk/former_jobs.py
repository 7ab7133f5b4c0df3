"""Which job came before this one: among those in hand, else in the index of closed ones. For any thread."""

import logging
import threading

from hotfolder.config.names import same_name_key
from hotfolder.errors import StorageError
from hotfolder.model.jobs import JobId
from hotfolder.store.audit_log.index import JobIndex
from hotfolder.store.jobs import JobState

logger = logging.getLogger(__name__)


class FormerJobs:
    """Finds the job that a name or certain bytes had before."""

    def __init__(self, index: JobIndex) -> None:
        self._index = index
        self._lock = threading.Lock()
        self._in_hand: dict[tuple[str, str], JobId] = {}

    def remember(self, state: JobState) -> None:
        """A job of this name is in hand."""
        with self._lock:
            self._in_hand[state.printer, same_name_key(state.name)] = state.job

    def closed(self, state: JobState) -> None:
        """The job is in the studio's chain: the index takes it in. A refusal is logged and does no harm."""
        try:
            self._index.catch_up()
        except StorageError as error:
            logger.warning("job=%s is not in the index yet: %s", state.job, error)

    def forget(self, state: JobState) -> None:
        """The job is closed: the index knows it now."""
        key = (state.printer, same_name_key(state.name))
        with self._lock:
            if self._in_hand.get(key) == state.job:
                del self._in_hand[key]

    def last_of_name(self, printer: str, name: str) -> JobId | None:
        """The last job of a file called `name` at `printer`; None where there was none."""
        with self._lock:
            in_hand = self._in_hand.get((printer, same_name_key(name)))
        return in_hand if in_hand is not None else self._index.last_of_name(printer, name)

    def last_of_bytes(self, printer: str, sha256: str) -> JobId | None:
        """The last closed job at `printer` whose artwork had exactly these bytes."""
        return self._index.last_of_bytes(printer, sha256)
