"""The desk that the tests of this folder work at."""

from pathlib import Path

import pytest

from tests.studio_at_work import AtWork, lay_studio


@pytest.fixture
def at_work(tmp_path: Path) -> AtWork:
    return AtWork(lay_studio(tmp_path / "studio"))
