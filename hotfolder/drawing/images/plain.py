"""Image XObjects of plain bytes, that the renderer needs neither decode nor convert."""

import numpy as np
import pikepdf
from pikepdf import Name

from hotfolder.model.plates import Bytes


def plain_image(pdf: pikepdf.Pdf, pixels: Bytes, soft_mask: pikepdf.Stream | None = None) -> pikepdf.Stream:
    """An image of `pixels` (rows, columns, 3 or 1) in DeviceRGB or DeviceGray, unpacked."""
    height, width, channels = pixels.shape
    made = pdf.make_stream(np.ascontiguousarray(pixels).tobytes())
    made["/Type"], made["/Subtype"] = Name.XObject, Name.Image
    made["/Width"], made["/Height"], made["/BitsPerComponent"] = width, height, 8
    made["/ColorSpace"] = Name.DeviceGray if channels == 1 else Name.DeviceRGB
    if soft_mask is not None:
        made["/SMask"] = soft_mask
    return made


def plain_mask(pdf: pikepdf.Pdf, alpha: Bytes) -> pikepdf.Stream:
    """A soft mask of `alpha` (rows, columns), 255 painted."""
    return plain_image(pdf, alpha[..., None])
