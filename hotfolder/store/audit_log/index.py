"""Which job came before: by name and by bytes, for each printer.

A convenience in front of the studio-wide chain, which says all of it: the index is a small SQLite
file that reads what was added to the chain since it last looked. Lost or damaged, it is made anew.
Where the chain is shorter than it was, it is read anew, and the jobs that are not in it any more are
kept as missing: who verifies the record is told of them.
"""

import contextlib
import logging
import sqlite3
import threading
from collections.abc import Callable, Iterator
from pathlib import Path
from typing import Final, TypeVar

from hotfolder.errors import StorageError
from hotfolder.model.jobs import JobId
from hotfolder.store.audit_log.audit import CHAIN, name_in, records_since
from hotfolder.store.audit_log.chained import text_of
from hotfolder.store.jobs import is_job_id
from hotfolder.store.moves import status_of
from hotfolder.store.writing import make_folder

logger = logging.getLogger(__name__)

_TABLES: Final = """
CREATE TABLE IF NOT EXISTS jobs (printer TEXT, name TEXT, sha256 TEXT, job TEXT);
CREATE INDEX IF NOT EXISTS by_name ON jobs (printer, name);
CREATE INDEX IF NOT EXISTS by_bytes ON jobs (printer, sha256);
CREATE TABLE IF NOT EXISTS seen (bytes INTEGER);
CREATE TABLE IF NOT EXISTS missing (job TEXT PRIMARY KEY);
"""
T = TypeVar("T")


class JobIndex:
    """Finds former jobs. For any thread.

    key: how names are compared (`config.names.same_name_key`); it may change between versions, so
    the file is named after `version`.
    """

    def __init__(self, state: Path, audit: Path, key: Callable[[str], str], version: int = 2) -> None:
        self._path = state / f"jobs-{version}.sqlite"
        self._chain = audit / CHAIN
        self._key = key
        self._lock = threading.Lock()

    def last_of_name(self, printer: str, name: str) -> JobId | None:
        """The last closed job of a file called `name` at `printer`; None where there is none."""
        return self._find("name", printer, _storable(self._key(name)))

    def last_of_bytes(self, printer: str, sha256: str) -> JobId | None:
        """The last closed job at `printer` whose artwork had exactly these bytes."""
        return self._find("sha256", printer, sha256)

    def catch_up(self) -> None:
        """Take in what was added to the chain; a job that was closed is known here from then on."""
        with self._lock:
            self._with_database(self._catch_up)

    def all_jobs(self) -> frozenset[JobId]:
        """All jobs that were ever in the chain, as far as this index knows. Only reads, and never raises."""
        jobs: set[JobId] = set()
        with contextlib.suppress(sqlite3.Error):
            address = f"{self._path.absolute().as_uri()}?mode=ro"
            with contextlib.closing(sqlite3.connect(address, uri=True, timeout=10)) as database:
                rows = database.execute("SELECT job FROM jobs UNION SELECT job FROM missing")
                jobs = {JobId(str(row[0])) for row in rows}
        return frozenset(jobs)

    def _find(self, column: str, printer: str, value: str) -> JobId | None:
        question = {
            "name": "SELECT job FROM jobs WHERE printer = ? AND name = ? ORDER BY rowid DESC LIMIT 1",
            "sha256": "SELECT job FROM jobs WHERE printer = ? AND sha256 = ? ORDER BY rowid DESC LIMIT 1",
        }[column]

        def ask(database: sqlite3.Connection) -> JobId | None:
            self._catch_up(database)
            row = database.execute(question, (printer, value)).fetchone()
            return None if row is None else JobId(str(row[0]))

        with self._lock:
            return self._with_database(ask)

    def _with_database(self, ask: Callable[[sqlite3.Connection], T]) -> T:
        make_folder(self._path.parent, mode=0o700)
        try:
            with _open(self._path) as database:
                return ask(database)
        except sqlite3.DatabaseError:
            # Damaged or of no use: it holds nothing that the chain does not say.
            with contextlib.suppress(OSError):
                self._path.unlink()
        try:
            with _open(self._path) as database:
                return ask(database)
        except sqlite3.Error as error:
            raise StorageError(f"the index of jobs '{self._path}' cannot be used: {error}") from error

    def _catch_up(self, database: sqlite3.Connection) -> None:
        row = database.execute("SELECT bytes FROM seen").fetchone()
        seen = 0 if row is None else int(row[0])
        status = status_of(self._chain)
        size = 0 if status is None else status.st_size
        if size == seen:
            return
        before: set[str] = set()
        if size < seen:
            before = _jobs_of(database)
            logger.error("'%s' is shorter than it was: 'hotfolder audit' says what is missing", self._chain)
            database.execute("DELETE FROM jobs")
            seen = 0
        for record in records_since(self._chain, seen):
            seen, line = record.end, record.content
            job = text_of(line, "job")
            if is_job_id(job):
                name, sha256 = self._key(name_in(line)), text_of(line, "sha256")
                values = (*map(_storable, (text_of(line, "printer"), name, sha256)), job)
                database.execute("INSERT INTO jobs VALUES (?, ?, ?, ?)", values)
        database.executemany(
            "INSERT OR IGNORE INTO missing VALUES (?)", [(job,) for job in before - _jobs_of(database)]
        )
        database.execute("DELETE FROM seen")
        database.execute("INSERT INTO seen VALUES (?)", (seen,))
        database.commit()


def _jobs_of(database: sqlite3.Connection) -> set[str]:
    return {str(row[0]) for row in database.execute("SELECT job FROM jobs")}


@contextlib.contextmanager
def _open(path: Path) -> Iterator[sqlite3.Connection]:
    with contextlib.closing(sqlite3.connect(path, timeout=10)) as database:
        database.execute("PRAGMA synchronous = OFF")  # it can be made anew at any time
        database.executescript(_TABLES)
        yield database


def _storable(text: str) -> str:
    """SQLite takes no lone surrogates; what stands for them need only be the same every time."""
    return text.encode("utf-8", "surrogatepass").decode("utf-8", "backslashreplace")
