"""How far reading a picture goes, and why each limit stands where it does.

A limit that is met is told as a `Problem`; it never passes in silence.
"""

from typing import Final

# One block of a header: the largest honest ones are ICC profiles (a few MB) and tables of
# strip offsets (8 bytes a strip: two million strips). Nothing larger is read in one piece.
MOST_BLOCK_BYTES: Final = 16 * 2**20

# JPEG segments before the picture. An ICC profile may take 255 (ICC.1, annex B), a long
# XMP packet some hundreds more.
MOST_SEGMENTS: Final = 4_096

# Bytes skipped in search of the next JPEG marker, where something else stands in its place.
MOST_JUNK_BYTES: Final = 65_536

# PNG chunks. Encoders cut their data at 8 KiB or more (libpng's default buffer), so a
# million chunks are 8 GB; a file of empty chunks only costs time.
MOST_CHUNKS: Final = 1_000_000

# TIFF directories: pages and previews. A scanned book has hundreds of pages.
MOST_DIRECTORIES: Final = 1_000

# Entries in one TIFF directory; the standard and its extensions define a few hundred tags.
MOST_ENTRIES: Final = 4_096

# Values of one TIFF entry that are looked at (strip offsets): see MOST_BLOCK_BYTES.
MOST_VALUES: Final = 2_000_000

# Image resources in a layered file; ids are 16 bits, real files have about fifty.
MOST_RESOURCES: Final = 65_536


# Memory for one picture that must be decoded whole (TIFF with LZW, progressive JPEG). A poster
# of 143 megapixels in CMYK takes 1.14 GB where each sample takes two bytes, as the
# coefficients of a progressive JPEG do (ITU-T T.81, annex G), and is honest work.
MOST_DECODED_BYTES: Final = 1_250_000_000

# Bytes unpacked in passing, never held: costs time alone, some 10 s at 0.4 GB/s. A poster
# of 3 x 2 m at 200 ppi with four channels is 1.5 GB.
MOST_STREAMED_BYTES: Final = 4_000_000_000

# Runs of PackBits data that are followed: about 10 s. Real pictures average more than ten
# bytes a run, so this is 400 MB of packed data.
MOST_RUNS: Final = 40_000_000

# What is read or unpacked at a time while pixels are looked at.
STEP_BYTES: Final = 2**20
