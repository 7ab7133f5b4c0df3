# CalGray, CalRGB and Lab: the profiles written for them against the standard's formulas, by littleCMS.
from pathlib import Path

import numpy as np
import pytest
from numpy.typing import NDArray
from pikepdf import Dictionary

from hotfolder.colour.conversions import Intent
from hotfolder.colour.press_colours import D50, lab_to_xyz, xyz_to_lab
from hotfolder.drawing.spaces.calibrated import (
    cal_grey_profile,
    cal_rgb_profile,
    lab_under_d50,
    to_d50,
    white_point,
)
from tests.colour.transicc import needs_transicc, transicc

WHITE = [0.9505, 1.0, 1.0890]  # D65
D65 = np.array(WHITE)
MATRIX = [0.4124, 0.2126, 0.0193, 0.3576, 0.7152, 0.1192, 0.1805, 0.0722, 0.9505]
COLOURS = np.array(
    [(255, 0, 0), (0, 255, 0), (0, 0, 255), (128, 64, 200), (255, 255, 255), (10, 20, 30)], float
)


@needs_transicc
@pytest.mark.parametrize("gamma", [(2.2, 2.2, 2.2), (1.0, 1.8, 2.4)])
def test_a_calibrated_rgb_is_what_the_standard_says(tmp_path: Path, gamma: tuple[float, ...]) -> None:
    parameters = Dictionary(WhitePoint=WHITE, Gamma=list(gamma), Matrix=MATRIX)
    profile = tmp_path / "calibrated.icc"
    profile.write_bytes(cal_rgb_profile(parameters))
    # ISO 32000-2, 8.6.5.3: X = Xa A^Gr + Xb B^Gg + Xc C^Gb, and so on; then to D50 (ISO 15076-1, annex E).
    linear = (COLOURS / 255) ** np.array(gamma)
    xyz = linear @ np.array(MATRIX).reshape(3, 3)
    expected = xyz_to_lab(xyz @ to_d50(D65).T)
    reference = transicc(COLOURS, str(profile), "*Lab4", Intent.RELATIVE, black_point=False)
    assert np.abs(reference - expected).max() < 0.1


@needs_transicc
def test_a_calibrated_grey_is_what_the_standard_says(tmp_path: Path) -> None:
    profile = tmp_path / "grey.icc"
    profile.write_bytes(cal_grey_profile(Dictionary(WhitePoint=WHITE, Gamma=1.8)))
    greys = np.array([[0.0], [51], [128], [255]])
    # 8.6.5.2: XYZ = white A^G, which is neutral under any white.
    expected = xyz_to_lab((greys / 255) ** 1.8 * D50)
    reference = transicc(greys, str(profile), "*Lab4", Intent.RELATIVE, black_point=False)
    assert np.abs(reference - expected).max() < 0.1


def test_adapting_takes_white_to_white() -> None:
    np.testing.assert_allclose(to_d50(D65) @ D65, D50, atol=1e-12)
    np.testing.assert_allclose(lab_under_d50(np.array([[100.0, 0, 0]]), D65), [[100, 0, 0]], atol=1e-9)


def test_lab_under_d50_stays_as_it_is() -> None:
    colours: NDArray[np.float64] = np.array([[50.0, 20, -30]])
    assert lab_under_d50(colours, np.array([0.9643, 1.0, 0.8251])) is colours


def test_lab_and_xyz_undo_each_other() -> None:
    colours = np.array([[50.0, 20, -30], [1, 0, 0], [99, -50, 50]])
    np.testing.assert_allclose(xyz_to_lab(lab_to_xyz(colours) * D50), colours, atol=1e-9)


def test_a_white_that_makes_no_sense_counts_as_that_of_profiles() -> None:
    assert white_point(Dictionary(WhitePoint=[0, 1, 0])).tolist() == D50.tolist()
    assert white_point(None).tolist() == D50.tolist()
