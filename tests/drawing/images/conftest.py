"""The press that the tests of this folder draw for."""

import pytest

from hotfolder.colour.conversions import Conversions
from tests.drawing.spaces.view_sheets import press_conversions


@pytest.fixture(scope="module")
def conversions() -> Conversions:
    return press_conversions()
