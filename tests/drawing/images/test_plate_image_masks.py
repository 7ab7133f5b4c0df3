# Masks of pictures of PDFs on plates: what they leave, and what is behind them.
from typing import Any

import numpy as np
import pytest
from numpy.typing import NDArray
from pikepdf import Array, Name

from hotfolder.drawing.spaces.view import View
from hotfolder.model.colour import PROCESS_INKS
from tests.drawing.images.pictures_on_plates import (
    BITS,
    INKS,
    RGB,
    STRIPES,
    Make,
    drawn,
    flat,
    jpeg,
    jpeg_2000,
    masked,
    packed,
    picture,
    plates,
    ramp,
    soft_mask,
)
from tests.drawing.spaces.view_sheets import (
    SIDE,
)

# Of pictures with masks: the share that is painted.
MASKED: list[tuple[str, Make, NDArray[np.floating[Any]]]] = [
    ("soft", masked(SMask=soft_mask(ramp())), ramp()[..., 0] / 255),
    ("soft, decoded", masked(SMask=soft_mask(ramp(), Decode=[1, 0])), 1 - ramp()[..., 0] / 255),
    ("soft, finer", masked(SMask=soft_mask(np.repeat(np.repeat(ramp(), 2, 0), 2, 1))), ramp()[..., 0] / 255),
    ("soft, JPEG", masked(SMask=soft_mask(ramp(), Filter=Name.DCTDecode, data=jpeg(ramp(), "L"))),
     ramp()[..., 0] / 255),
    ("explicit", masked(Mask=picture(BITS, BitsPerComponent=1, ImageMask=True, data=packed(BITS, 1))),
     1.0 - BITS[..., 0]),
    ("explicit, decoded", masked(Mask=picture(BITS, BitsPerComponent=1, ImageMask=True, data=packed(BITS, 1),
                                              Decode=[1, 0])), 1.0 * BITS[..., 0]),
    ("key", picture(STRIPES, ColorSpace=Name.DeviceCMYK, Mask=Array([0, 5] * 4)),
     np.broadcast_to(1.0 * (np.arange(SIDE) % 4 < 2), (SIDE, SIDE))),
    ("data break off", masked(data=flat(*INKS).tobytes()[: SIDE * SIDE * 2]),
     np.repeat([[1.0], [0.0]], SIDE // 2, axis=0).repeat(SIDE, axis=1)),
]  # fmt: skip


@pytest.mark.parametrize("laid", [False, True])
@pytest.mark.parametrize(("make", "shares"), [each[1:] for each in MASKED], ids=[each[0] for each in MASKED])
def test_masks_leave_what_they_should(make: Make, shares: NDArray[np.floating[Any]], *, laid: bool) -> None:
    for ink, amount in zip(PROCESS_INKS, INKS, strict=True):
        found = plates(None, make, laid=laid)[ink]
        assert np.abs(found - shares * amount).max() <= 2


def test_a_matte_is_taken_out_of_the_colours() -> None:
    # 11.6.5.2: c' = m + alpha (c - m); what is painted over bare paper is alpha c.
    alpha = ramp() / 255
    matte = np.array([0.2, 0, 0.5, 0]) * 255
    blended = np.rint(matte + alpha * (flat(*INKS) - matte)).astype(np.uint8)
    make = picture(
        blended, ColorSpace=Name.DeviceCMYK, SMask=soft_mask(ramp(), Matte=Array([0.2, 0, 0.5, 0]))
    )
    page_plates = plates(None, make)
    for ink, amount in zip(PROCESS_INKS, INKS, strict=True):
        assert np.abs(page_plates[ink] - alpha[..., 0] * amount).max() <= 2


def test_alpha_within_jpeg_2000_data_is_used_if_the_file_says_so() -> None:
    pixels = np.dstack([flat(*RGB), ramp()])
    data = jpeg_2000(pixels, "RGBA")
    plain = {"ColorSpace": Name.DeviceRGB, "Filter": Name.JPXDecode, "data": data}
    with_alpha = drawn(None, picture(pixels, **plain, SMaskInData=1), View.luminosity())
    without = drawn(None, picture(pixels, **plain), View.luminosity())
    # Luminosity by 11.5.3; the drawing's ground is white.
    ink = 255 - np.array(RGB) @ [0.3, 0.59, 0.11]
    assert np.abs(without - ink).max() <= 1
    assert np.abs(with_alpha - ink * ramp()[..., 0] / 255).max() <= 2
