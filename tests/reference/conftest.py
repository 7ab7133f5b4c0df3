# The corpus is fetched and each file compared once in a run, however many processes the run has.
import fcntl
import hashlib
import os
import pickle
from collections.abc import Callable
from concurrent.futures import ProcessPoolExecutor
from multiprocessing import get_context
from pathlib import Path

import pytest

from tests.corpus.fetch import fetch_corpus
from tests.reference.comparing import compare
from tests.reference.facts import Comparison
from tests.reference.tools import missing_tools


@pytest.fixture(scope="session")
def tools() -> None:
    if missing := missing_tools():
        pytest.skip(f"not installed: {', '.join(missing)}")


@pytest.fixture(scope="session")
def corpus(tools: None) -> None:  # noqa: ARG001 - the tools come first
    fetch_corpus()


@pytest.fixture(scope="session")
def large_corpus(tools: None) -> None:  # noqa: ARG001 - the tools come first
    fetch_corpus(slow=True)


@pytest.fixture(scope="session")
def compared_at_once() -> Callable[[list[Path]], list[Comparison]]:
    """Compares many files, as many at a time as the machine has processors."""

    def comparisons_of(paths: list[Path]) -> list[Comparison]:
        with ProcessPoolExecutor(mp_context=get_context("spawn")) as pool:
            return list(pool.map(compare, paths))

    return comparisons_of


@pytest.fixture(scope="session")
def compared(
    tools: None,  # noqa: ARG001 - the tools come first
    tmp_path_factory: pytest.TempPathFactory,
) -> Callable[[Path], Comparison]:
    """Compares a file, or takes what another process of this run found."""
    base = tmp_path_factory.getbasetemp()
    # Under pytest-xdist each worker has a folder of its own in that of the run.
    shared = (base.parent if "PYTEST_XDIST_WORKER" in os.environ else base) / "comparisons"
    shared.mkdir(exist_ok=True)

    def comparison_of(path: Path) -> Comparison:
        kept = shared / hashlib.sha256(os.fsencode(path)).hexdigest()
        with kept.with_suffix(".lock").open("w") as lock:
            fcntl.flock(lock, fcntl.LOCK_EX)  # who comes second waits for what the first one finds
            if kept.exists():
                found = pickle.loads(kept.read_bytes())
            else:
                found = compare(path)
                kept.write_bytes(pickle.dumps(found))
        assert isinstance(found, Comparison)
        return found

    return comparison_of
