"""What a JPEG file's header declares (ITU-T T.81 annex B; JFIF 1.02; Exif; ICC.1 annex B).

Only the segments before the first scan are read. The resolution is the one that readers in
use take: JFIF's where it has a unit, else Exif's, else the image resource's.
"""

from dataclasses import dataclass, field

from hotfolder.colour.icc import ProfileFacts, read_profile
from hotfolder.errors import CutShortError
from hotfolder.model.facts import ProblemKind
from hotfolder.model.raster import RasterFacts, ResolutionOrigin
from hotfolder.raster.headers.exif import ExifFacts, read_exif
from hotfolder.raster.headers.photoshop import read_resources
from hotfolder.raster.headers.picture import (
    HeaderReading,
    HeaderTrouble,
    JpegScans,
    PictureHeader,
    Resolution,
    space,
    unreadable,
)
from hotfolder.raster.headers.source import ByteSource
from hotfolder.raster.jpeg_quality import quality_of_tables
from hotfolder.raster.jpeg_segments import ALONE, END_OF_IMAGE, FRAMES, START_OF_SCAN
from hotfolder.raster.limits import MOST_BLOCK_BYTES, MOST_JUNK_BYTES, MOST_SEGMENTS

_PROGRESSIVE = {0xC2, 0xC6, 0xCA, 0xCE}
_LOSSLESS = {0xC3, 0xC7, 0xCB, 0xCF}
_ARITHMETIC = {0xC9, 0xCA, 0xCB, 0xCD, 0xCE, 0xCF}
_DECODABLE = {0xC0, 0xC1, 0xC2, 0xC9, 0xCA}
_TABLES = {0xC4, 0xCC, 0xDB, 0xDD}  # DHT, DAC, DQT, DRI


@dataclass(frozen=True, slots=True)
class _FrameHeader:
    """A frame header (T.81, B.2.2). sampling: horizontal and vertical factor of each component."""

    marker: int
    precision: int
    height: int
    width: int
    sampling: tuple[tuple[int, int], ...]

    @property
    def samples(self) -> int:
        """Samples of all components, subsampled ones counted as they are kept."""
        widest = max(h for h, _ in self.sampling)
        tallest = max(v for _, v in self.sampling)
        shares = sum(h * v for h, v in self.sampling) / (widest * tallest)
        return int(self.width * self.height * shares)


@dataclass(slots=True)
class _Segments:
    """What the application segments hold, gathered as they come."""

    frame: _FrameHeader | None = None
    jfif: bytes | None = None
    exif: bytes | None = None
    profile_pieces: dict[int, bytes] = field(default_factory=dict)
    profile_count: int = 0
    resources: bytes = b""
    tables: list[tuple[int, int]] = field(default_factory=list)
    quality: int | None = None
    first_scan: int | None = None
    scan_components: int = 0


def read_jpeg(source: ByteSource) -> HeaderReading:
    """The one picture of a JPEG file; further pictures behind it (previews, second views) do not print."""
    segments = _Segments()
    try:
        _gather(source, segments)
    except CutShortError:
        if segments.frame is None:
            return unreadable("the file ends before the size of the picture")
    frame = segments.frame
    if frame is None:
        return unreadable("no picture was found in the file")
    if frame.height == 0:
        return unreadable(
            "the height of the picture stands behind its pixels, which this version does not read",
            ProblemKind.UNSUPPORTED,
        )
    if frame.width == 0 or not frame.sampling:
        return unreadable("the header declares a picture without extent")
    return HeaderReading((_picture(frame, segments, source.size),))


def _gather(source: ByteSource, segments: _Segments) -> None:
    """Walks the segments up to the first scan. Raises CutShortError where the file ends before it.

    Unlike `jpeg_segments.segments` it passes over what stands between segments, and keeps their places.
    """
    place = 2
    for _ in range(MOST_SEGMENTS):
        place = _marker_at(source, place)
        marker = source.number(place + 1, 1)
        if marker in ALONE:
            place += 2
            continue
        if marker == END_OF_IMAGE:
            return
        length = source.number(place + 2, 2)
        if marker == START_OF_SCAN:
            segments.scan_components = source.number(place + 4, 1)
            segments.first_scan = place
            return
        body = source.read(place + 4, max(length - 2, 0))
        _take(marker, body, segments)
        if marker in FRAMES | _TABLES or (marker == 0xEE and body.startswith(b"Adobe") and length >= 14):
            segments.tables.append((place, 2 + length))
        place += 2 + length
    raise CutShortError


def _marker_at(source: ByteSource, place: int) -> int:
    """The offset of the 0xFF before the next marker; decoders skip what stands between, and so do we."""
    ahead = source.some(place, MOST_JUNK_BYTES)
    for index in range(len(ahead) - 1):
        if ahead[index] == 0xFF and ahead[index + 1] not in {0x00, 0xFF}:
            return place + index
    raise CutShortError


def _take(marker: int, body: bytes, segments: _Segments) -> None:
    """Keeps what a segment holds, if we know it. Raises CutShortError for a frame header that is none."""
    if marker in FRAMES and segments.frame is None:
        segments.frame = _frame(marker, body)
    elif marker == 0xDB and segments.quality is None:
        segments.quality = quality_of_tables(body)
    elif marker == 0xE0 and body.startswith(b"JFIF\0") and segments.jfif is None:
        segments.jfif = body[5:]
    elif marker == 0xE1 and body.startswith(b"Exif\0") and segments.exif is None:
        segments.exif = body[6:]
    elif marker == 0xE2 and body.startswith(b"ICC_PROFILE\0") and len(body) >= 14:
        segments.profile_pieces.setdefault(body[12], body[14:])
        segments.profile_count = max(segments.profile_count, body[13])
    elif marker == 0xED and body.startswith(b"Photoshop 3.0\0"):
        # One block of resources may run on over several segments.
        segments.resources += body[14:][: MOST_BLOCK_BYTES - len(segments.resources)]


def _frame(marker: int, body: bytes) -> _FrameHeader:
    components = body[5] if len(body) > 5 else 0
    if len(body) < 6 + 3 * components:
        raise CutShortError
    factors = [body[7 + 3 * index] for index in range(components)]
    return _FrameHeader(
        marker,
        precision=body[0],
        height=int.from_bytes(body[1:3], "big"),
        width=int.from_bytes(body[3:5], "big"),
        sampling=tuple((max(factor >> 4, 1), max(factor & 15, 1)) for factor in factors),
    )


def _picture(frame: _FrameHeader, segments: _Segments, file_bytes: int) -> PictureHeader:
    troubles: list[HeaderTrouble] = []
    exif = _exif(segments, troubles)
    profile = _profile(segments, troubles)
    resolution = _resolution(segments, exif, troubles)
    components = len(frame.sampling)
    family = {1: "grey", 3: "RGB", 4: "CMYK"}.get(components, "multichannel")
    name = profile.title if profile else None
    if name is None and exif.srgb and family == "RGB":
        name = "sRGB"
    facts = RasterFacts(
        width_px=frame.width,
        height_px=frame.height,
        bits=frame.precision,
        colour=space(family, components, profile=name),
        x_ppi=resolution.x_ppi if resolution else None,
        y_ppi=resolution.y_ppi if resolution else None,
        resolution_origin=resolution.origin if resolution else None,
        compression=_compression(frame.marker),
        orientation=exif.orientation,
        icc_profile=name,
        icc_space=profile.space if profile else None,
        progressive=frame.marker in _PROGRESSIVE,
        jpeg_quality=segments.quality,
    )
    return PictureHeader(facts, _scans(frame, segments, file_bytes), tuple(troubles))


def _scans(frame: _FrameHeader, segments: _Segments, file_bytes: int) -> JpegScans | None:
    if segments.first_scan is None:
        return None
    components = len(frame.sampling)
    # Coefficients of two bytes are kept where several scans tell of one block.
    several = frame.marker in _PROGRESSIVE or segments.scan_components < components
    kept = 2 * frame.samples if several else 0
    # Each block of 64 samples takes a bit for its DC coefficient, and in a sequential scan one
    # more for the end of the block (T.81, F.1.2 and G.1.2); arithmetic coding may take less.
    bits = 0 if frame.marker in _ARITHMETIC else 1 if frame.marker in _PROGRESSIVE else 2
    return JpegScans(
        tables=tuple(segments.tables),
        start=segments.first_scan,
        least_bytes=frame.samples // 64 * bits // 8,
        # The decoded picture was seen to take 2.3 times its size, the file twice its own.
        memory_bytes=frame.width * frame.height * components * 5 // 2 + kept + 2 * file_bytes,
        reduced_bytes=frame.width * frame.height * 4 // 64 + kept,
        supported=frame.marker in _DECODABLE and frame.precision == 8 and components in {1, 3, 4},
    )


def _compression(marker: int) -> str:
    kinds = [
        word for word, markers in (("lossless", _LOSSLESS), ("arithmetic", _ARITHMETIC)) if marker in markers
    ]
    return f"JPEG ({', '.join(kinds)})" if kinds else "JPEG"


def _exif(segments: _Segments, troubles: list[HeaderTrouble]) -> ExifFacts:
    if segments.exif is None:
        return ExifFacts()
    facts = read_exif(segments.exif)
    if facts is None:
        troubles.append(
            HeaderTrouble("orientation", "the Exif block cannot be read and was left aside", ProblemKind.NOTE)
        )
    return facts or ExifFacts()


def _profile(segments: _Segments, troubles: list[HeaderTrouble]) -> ProfileFacts | None:
    """The profile, put together from its pieces (ICC.1, annex B.4); all of them are needed."""
    if not segments.profile_pieces:
        return None
    wanted = range(1, segments.profile_count + 1)
    pieces = [segments.profile_pieces.get(number) for number in wanted]
    whole = b"".join(piece for piece in pieces if piece is not None)
    profile = read_profile(whole) if None not in pieces else None
    if profile is None:
        troubles.append(
            HeaderTrouble("icc_profile", "the embedded colour profile is not complete", ProblemKind.DAMAGED)
        )
    return profile


def _resolution(segments: _Segments, exif: ExifFacts, troubles: list[HeaderTrouble]) -> Resolution | None:
    resources = read_resources(ByteSource.of(segments.resources), 0, len(segments.resources))
    declared = [
        resolution
        for resolution in (_jfif_resolution(segments.jfif), exif.resolution, resources.resolution)
        if resolution is not None
    ]
    if not declared:
        return None
    chosen = declared[0]
    troubles.extend(
        HeaderTrouble(
            "x_ppi",
            f"the header declares two resolutions: {chosen.x_ppi:g} ppi ({chosen.origin}) and "
            f"{other.x_ppi:g} ppi ({other.origin}); the first counts",
            ProblemKind.NOTE,
        )
        for other in declared[1:]
        if not chosen.agrees(other)
    )
    return chosen


def _jfif_resolution(jfif: bytes | None) -> Resolution | None:
    """What APP0 declares; its unit 0 is an aspect ratio and no resolution (JFIF 1.02, page 5)."""
    if jfif is None or len(jfif) < 7:
        return None
    per_inch = {1: 1.0, 2: 2.54}.get(jfif[2])
    if per_inch is None:
        return None
    x, y = int.from_bytes(jfif[3:5], "big"), int.from_bytes(jfif[5:7], "big")
    return Resolution.declared(x * per_inch, y * per_inch, ResolutionOrigin.JFIF)
