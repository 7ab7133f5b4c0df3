"""A picture of a page, on its way from the renderer to the report: bytes, and what they show."""

import base64
from dataclasses import dataclass

from hotfolder.artwork import Box


@dataclass(frozen=True, slots=True)
class PagePicture:
    """One page as it looks on paper, its whole sheet, so that bleed shows.

    page: 1-based. data: an encoded picture of `media_type` (`image/png`, `image/jpeg`).
    box: what the picture shows, in points of the page's unrotated user space; None where a
    raster file has no known size. rotate: 0, 90, 180 or 270 degrees clockwise, already
    applied to the picture and not to `box`.
    """

    page: int
    data: bytes
    media_type: str
    width_px: int
    height_px: int
    box: Box | None
    rotate: int = 0

    @property
    def data_uri(self) -> str:
        """The picture as an address that holds it whole."""
        return f"data:{self.media_type};base64,{base64.b64encode(self.data).decode('ascii')}"


def picture_fact(page: int) -> str:
    """The name of the fact 'picture of this page', as `Unmeasured.what` where there is none."""
    return f"picture of page {page}"
