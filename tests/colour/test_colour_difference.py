# CIEDE2000 against the 34 pairs of Sharma, Wu and Dalal, "The CIEDE2000 color-difference formula:
# implementation notes, supplementary test data, and mathematical observations", Color Research and
# Application 30(1), 2005, table 1. Pairs 9 to 16 lie on either side of where the mean hue jumps.
import numpy as np
import pytest

from hotfolder.colour.colour_difference import ciede2000

PUBLISHED = np.array([
    (50.0000, 2.6772, -79.7751, 50.0000, 0.0000, -82.7485, 2.0425),
    (50.0000, 3.1571, -77.2803, 50.0000, 0.0000, -82.7485, 2.8615),
    (50.0000, 2.8361, -74.0200, 50.0000, 0.0000, -82.7485, 3.4412),
    (50.0000, -1.3802, -84.2814, 50.0000, 0.0000, -82.7485, 1.0000),
    (50.0000, -1.1848, -84.8006, 50.0000, 0.0000, -82.7485, 1.0000),
    (50.0000, -0.9009, -85.5211, 50.0000, 0.0000, -82.7485, 1.0000),
    (50.0000, 0.0000, 0.0000, 50.0000, -1.0000, 2.0000, 2.3669),
    (50.0000, -1.0000, 2.0000, 50.0000, 0.0000, 0.0000, 2.3669),
    (50.0000, 2.4900, -0.0010, 50.0000, -2.4900, 0.0009, 7.1792),
    (50.0000, 2.4900, -0.0010, 50.0000, -2.4900, 0.0010, 7.1792),
    (50.0000, 2.4900, -0.0010, 50.0000, -2.4900, 0.0011, 7.2195),
    (50.0000, 2.4900, -0.0010, 50.0000, -2.4900, 0.0012, 7.2195),
    (50.0000, -0.0010, 2.4900, 50.0000, 0.0009, -2.4900, 4.8045),
    (50.0000, -0.0010, 2.4900, 50.0000, 0.0010, -2.4900, 4.8045),
    (50.0000, -0.0010, 2.4900, 50.0000, 0.0011, -2.4900, 4.7461),
    (50.0000, 2.5000, 0.0000, 50.0000, 0.0000, -2.5000, 4.3065),
    (50.0000, 2.5000, 0.0000, 73.0000, 25.0000, -18.0000, 27.1492),
    (50.0000, 2.5000, 0.0000, 61.0000, -5.0000, 29.0000, 22.8977),
    (50.0000, 2.5000, 0.0000, 56.0000, -27.0000, -3.0000, 31.9030),
    (50.0000, 2.5000, 0.0000, 58.0000, 24.0000, 15.0000, 19.4535),
    (50.0000, 2.5000, 0.0000, 50.0000, 3.1736, 0.5854, 1.0000),
    (50.0000, 2.5000, 0.0000, 50.0000, 3.2972, 0.0000, 1.0000),
    (50.0000, 2.5000, 0.0000, 50.0000, 1.8634, 0.5757, 1.0000),
    (50.0000, 2.5000, 0.0000, 50.0000, 3.2592, 0.3350, 1.0000),
    (60.2574, -34.0099, 36.2677, 60.4626, -34.1751, 39.4387, 1.2644),
    (63.0109, -31.0961, -5.8663, 62.8187, -29.7946, -4.0864, 1.2630),
    (61.2901, 3.7196, -5.3901, 61.4292, 2.2480, -4.9620, 1.8731),
    (35.0831, -44.1164, 3.7933, 35.0232, -40.0716, 1.5901, 1.8645),
    (22.7233, 20.0904, -46.6940, 23.0331, 14.9730, -42.5619, 2.0373),
    (36.4612, 47.8580, 18.3852, 36.2715, 50.5065, 21.2231, 1.4146),
    (90.8027, -2.0831, 1.4410, 91.1528, -1.6435, 0.0447, 1.4441),
    (90.9257, -0.5406, -0.9208, 88.6381, -0.8985, -0.7239, 1.5381),
    (6.7747, -0.2908, -2.4247, 5.8714, -0.0985, -2.2286, 0.6377),
    (2.0776, 0.0795, -1.1350, 0.9033, -0.0636, -0.5514, 0.9082),
])  # fmt: skip
FIRST, SECOND, DIFFERENCE = PUBLISHED[:, :3], PUBLISHED[:, 3:6], PUBLISHED[:, 6]


def test_the_published_pairs_agree_to_their_last_figure() -> None:
    assert len(PUBLISHED) == 34
    off = np.abs(ciede2000(FIRST, SECOND) - DIFFERENCE)
    assert off.max() < 5e-5, f"pair {off.argmax() + 1} is off by {off.max()}"


def test_the_difference_is_the_same_both_ways() -> None:
    assert np.allclose(ciede2000(SECOND, FIRST), ciede2000(FIRST, SECOND), rtol=0, atol=1e-9)


def test_what_comes_in_single_precision_is_computed_in_double() -> None:
    # In single precision the answer depends on the processor's own sine and power.
    colours = np.random.default_rng(34).uniform((0, -100, -100), (100, 100, 100), (2, 20_000, 3))
    single = colours.astype(np.float32)
    double = single.astype(np.float64)
    assert np.array_equal(ciede2000(single[0], single[1]), ciede2000(double[0], double[1]))


@pytest.mark.parametrize("shape", [(), (5,), (4, 6)])
def test_a_picture_is_compared_with_one_colour(shape: tuple[int, ...]) -> None:
    picture = np.full((*shape, 3), (50.0, 2.6772, -79.7751))
    differences = ciede2000(picture, np.array([50.0, 0.0, -82.7485]))
    assert differences.shape == shape
    assert np.allclose(differences, 2.0425, atol=5e-5)


def test_equal_colours_do_not_differ_and_greys_differ_by_lightness_alone() -> None:
    black, white = np.array([0.0, 0, 0]), np.array([100.0, 0, 0])
    assert ciede2000(white, white) == 0
    # Mean lightness 50: the weight of lightness is 1, and nothing else differs.
    assert ciede2000(black, white) == pytest.approx(100)
