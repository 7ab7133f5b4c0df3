"""Finds images whose data are cut off, or contradict the image dictionary (ISO 32000-2, 7.4 and 8.9.5).

Data that end before the image does: on a screen it may look whole, or blank from some row on; a program at
the press may stop at it. Checked are JPEG data, which have an end marker (ITU-T T.81, annex B), and data that
decode to a known number of bytes. Fax, JBIG2 and JPEG 2000 data are not: their length tells nothing. Nor are
images without any data, which paint nothing.

JPEG and JPEG 2000 data of another size, or with another number of components, than the dictionary gives:
programs in use differ in what they draw. Some go by the data; others lay the rows down as the dictionary has
it, so that the picture comes out slanted, cut off or in pieces.
"""

from typing import Final, NamedTuple

import pikepdf

from hotfolder.model.facts import ProblemKind
from hotfolder.model.marks import ImageFacts
from hotfolder.pdf.images.coded_images import JPEG_FILTER, jpeg_start, read_coded
from hotfolder.pdf.objects.limits import IMAGE_DATA_BYTES
from hotfolder.pdf.objects.reading import READING_ERRORS, entry, whole
from hotfolder.pdf.objects.streams import PACKING_FILTERS, filters, lies_elsewhere, predictor, survey

BREAKS_OFF: Final = "the data of a picture break off before its end"
NO_JPEG: Final = "the data of a picture are not JPEG, as the file says they are"
UNREADABLE: Final = "the data of a picture cannot be read"
OTHER_SIZE: Final = "the data of a picture have another size in pixels than the file says"
ELSEWHERE: Final = "the data of a picture are in another file, which does not come with this one"
OTHER_COLOURS: Final = "the data of a picture have another number of colours than the file says"

_SCAN: Final = b"\xff\xda"
_END: Final = b"\xff\xd9"
_ROWS_TO_SPARE: Final = 0.05  # of the height; JPEG keeps rows by eight or sixteen (T.81, A.2.4)
_PNG_PREDICTORS: Final = 10  # and above: each row has a byte more (7.4.4.4, table 10)


class PictureTrouble(NamedTuple):
    """What is wrong with the data of an image, in words, and of which kind that problem is."""

    kind: ProblemKind
    what: str


def trouble_with(stream: pikepdf.Stream, facts: ImageFacts) -> PictureTrouble | None:
    """What is wrong with the data of an image or of its mask; None where nothing is known to be."""
    components = 1 if facts.colour is None else facts.colour.components
    trouble = _trouble(stream, facts.bits or 0, components)
    if trouble is None:
        for key in ("/SMask", "/Mask"):
            mask = entry(stream, key)
            if trouble is None and isinstance(mask, pikepdf.Stream):
                bits = 1 if entry(mask, "/ImageMask") is True else whole(entry(mask, "/BitsPerComponent"))
                trouble = _trouble(mask, bits or 0, 1)
    return trouble


def _trouble(stream: pikepdf.Stream, bits: int, components: int) -> PictureTrouble | None:
    if lies_elsewhere(stream):
        return PictureTrouble(ProblemKind.UNREADABLE, ELSEWHERE)
    width, height = whole(entry(stream, "/Width")) or 0, whole(entry(stream, "/Height")) or 0
    broken = _broken(stream, width, height, bits, components)
    if broken is not None:
        return PictureTrouble(ProblemKind.DAMAGED, broken)
    return _contradiction(stream, width, height, components)


def _contradiction(stream: pikepdf.Stream, width: int, height: int, components: int) -> PictureTrouble | None:
    """Where the data declare something else than the image's dictionary."""
    coded = read_coded(stream)
    if width and height and (coded.width_px or width, coded.height_px or height) != (width, height):
        # Programs that lay rows down as they come leave out those at the end, which are too few to be missed.
        spare = coded.width_px == width and 0 < (coded.height_px or 0) - height < height * _ROWS_TO_SPARE
        return PictureTrouble(ProblemKind.NOTE if spare else ProblemKind.DAMAGED, OTHER_SIZE)
    if components and (coded.components or components) != components:
        return PictureTrouble(ProblemKind.DAMAGED, OTHER_COLOURS)
    return None


def _broken(stream: pikepdf.Stream, width: int, height: int, bits: int, components: int) -> str | None:
    """How the data of an image break off or cannot be read; None where they are whole, or not checked."""
    chain = filters(stream)
    row = (width * components * bits + 7) // 8
    try:
        if not whole(entry(stream, "/Length")):
            return None
        if len(chain) == 1 and chain[0] == JPEG_FILTER:
            return _trouble_with_jpeg(stream.read_raw_bytes())
        if not row or not set(chain) <= PACKING_FILTERS:
            return None
        row += 1 if predictor(stream) >= _PNG_PREDICTORS else 0
        # Programs leave out some last bytes: less than a row, nobody sees.
        needed = row * (height - 1) + 1
        length = survey(stream, min(needed, IMAGE_DATA_BYTES)).length
    except READING_ERRORS:
        return UNREADABLE
    return BREAKS_OFF if length is not None and length < needed else None


def _trouble_with_jpeg(data: bytes) -> str | None:
    if jpeg_start(data) is None:
        return NO_JPEG
    # Nothing in the data of a scan looks like an end marker (T.81, B.1.1.5); a preview before it may have
    # one.
    return BREAKS_OFF if data.rfind(_END) < data.rfind(_SCAN) else None
