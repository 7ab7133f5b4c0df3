"""Pictures of pages, on their way from the drawing to the report: bytes, and what they show."""

import base64
from dataclasses import dataclass

from hotfolder.model.geometry import Box, Edge


@dataclass(frozen=True, slots=True)
class EncodedPicture:
    """An encoded picture of `media_type` (`image/png`, `image/jpeg`). alt: what it shows, in words."""

    data: bytes
    media_type: str
    width_px: int
    height_px: int
    alt: str

    @property
    def data_uri(self) -> str:
        """The picture as an address that holds it whole."""
        return _data_uri(self.media_type, self.data)


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
        return _data_uri(self.media_type, self.data)


@dataclass(frozen=True, slots=True)
class PlatePicture:
    """One ink's plate in the ink's own colour.

    own_colour: False where that would not show on the paper (white, varnish); it is drawn in grey then.
    """

    ink: str
    picture: EncodedPicture
    own_colour: bool = True


@dataclass(frozen=True, slots=True)
class ScaleStep:
    """One tone of a coverage picture: `#rrggbb`, and the total ink up to which it stands; None is no end."""

    tone: str
    up_to_percent: float | None


@dataclass(frozen=True, slots=True)
class CoveragePicture:
    """Total ink over the sheet as tones. scale: from bare paper upwards; none of it is left out.

    limit_percent: where it is known, square millimetres whose mean lies above it are hatched.
    """

    picture: EncodedPicture
    scale: tuple[ScaleStep, ...]
    limit_percent: float | None


@dataclass(frozen=True, slots=True)
class EdgePicture:
    """A strip along one edge of the trim, turned so that the outside is up.

    edge: in unrotated user space, as `box`, which is what the strip shows. seen: the edge that it is to
    a reader of the page.
    """

    edge: Edge
    seen: Edge
    box: Box
    picture: EncodedPicture


@dataclass(frozen=True, slots=True)
class PageProof:
    """One page put together from its plates.

    printed: as it will print. meant: as its file means it to look, where the page has colours that are not
    the press's own. condition: the printing condition that the colours are made for; empty where they were
    mixed from the usual solids instead. paper_white: the paper's own colour is shown.
    left_out: inks that are no ink to look at (cutting, varnish), not in `printed` nor in `coverage`.
    """

    printed: PagePicture
    condition: str
    paper_white: bool = False
    left_out: tuple[str, ...] = ()
    meant: EncodedPicture | None = None
    coverage: CoveragePicture | None = None
    plates: tuple[PlatePicture, ...] = ()
    edges: tuple[EdgePicture, ...] = ()


def picture_fact(page: int) -> str:
    """The name of the fact 'picture of this page', as `Unmeasured.what` where there is none."""
    return f"picture of page {page}"


def _data_uri(media_type: str, data: bytes) -> str:
    return f"data:{media_type};base64,{base64.b64encode(data).decode('ascii')}"
