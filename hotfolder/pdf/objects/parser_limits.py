"""Limits of qpdf, which parses a PDF into objects: they hold before any limit of our own can.

qpdf reads an array, and decodes an object stream, as a whole: by the time that we see the first value, a few
kilobytes of the file may have become gigabytes.
"""

from typing import Final

from pikepdf.settings import set_qpdf_limits

from hotfolder.pdf.objects.limits import IMAGE_DATA_BYTES

# Values of one array or dictionary, at some 140 bytes each. Widths of a full Asian font have 200,000.
VALUES_OF_A_CONTAINER: Final = 500_000


def limit_parser() -> None:
    """Sets qpdf's limits for this process. Doing it again changes nothing."""
    set_qpdf_limits(
        parser_max_container_size=VALUES_OF_A_CONTAINER,
        flate_max_memory=IMAGE_DATA_BYTES,
        run_length_max_memory=IMAGE_DATA_BYTES,
        png_max_memory=IMAGE_DATA_BYTES,
        tiff_max_memory=IMAGE_DATA_BYTES,
    )
