# Single CIELAB colours on a screen, against littleCMS's own transicc.

import numpy as np
import pytest

from hotfolder.colour.cielab import linear_srgb, srgb
from hotfolder.colour.conversions import Intent
from tests.colour.transicc import needs_transicc, transicc

INSIDE_SRGB = (
    (100.0, 0.0, 0.0), (0.0, 0.0, 0.0), (50.0, 0.0, 0.0), (5.0, 1.0, -1.0), (60.0, 50.0, -40.0),
    (52.0, -10.0, -30.0), (80.0, -40.0, 60.0), (48.0, 60.0, 30.0), (89.0, -5.0, 80.0),
)  # fmt: skip


@needs_transicc
def test_colours_are_those_of_transicc() -> None:
    expected = transicc(np.array(INSIDE_SRGB), "*Lab4", "*sRGB", Intent.RELATIVE, black_point=False)
    for lab, values in zip(INSIDE_SRGB, expected, strict=True):
        assert srgb(lab) == pytest.approx(tuple(values), abs=1), lab


def test_what_a_screen_cannot_show_stays_at_its_surface() -> None:
    assert srgb((60.0, 120.0, -100.0))[2] == 255
    assert all(0 <= light <= 1 for light in linear_srgb((90.0, -120.0, 90.0)))
