"""The limits of reading a page, and why each has the figure that it has.

A file may be made to hurt, or be broken in a way that never ends. Where a limit ends the reading, a `Problem`
of kind LIMIT says so: what was not read can never pass for what is fine. The process that reads has limits
of time and memory besides; these are lower, and end in a sentence instead of a killed process.
"""

from typing import Final

# A drawing of a whole city has some three million operators; four million take some fifteen seconds.
OPERATORS_PER_PAGE: Final = 4_000_000

# A mark takes about 700 bytes, a run of text about 1000; half a million of them are some 500 MB.
MARKS_PER_PAGE: Final = 500_000

# Operands of one operator. A DeviceN colour has 32 components at most (ISO 32000-1, Annex C), and a pattern's
# name; inline images have a dozen entries of two operands each. No program writes more.
OPERANDS: Final = 64

# Graphics states on the stack of `q`. ISO 32000-1, Annex C, knows readers with room for 28. Files that forget
# to restore reach some hundreds and are drawn everywhere; a saved state is one reference.
SAVED_STATES: Final = 10_000

# Forms within forms, patterns and glyphs included. Programs that place pages within pages stay below
# ten. Each level takes some Python frames, of which there are a thousand.
NESTING: Final = 40

# Compression makes a thousandth of a stream of nothing: 10 MB in the file may be 10 GB in memory.
# The longest page description met in real artwork is near 100 MB.
DECODED_BYTES_PER_STREAM: Final = 256 * 1024 * 1024

# Letters shown by one operator, at some 160 bytes each while they are measured; a line of text has a hundred.
# Where they are more than USUAL_RUN, each LETTERS_OF_AN_OPERATOR of them count as an operator more, since
# they take as long.
LETTERS_PER_RUN: Final = 500_000
USUAL_RUN: Final = 500
LETTERS_OF_AN_OPERATOR: Final = 2

# Points of one path, one for a straight segment and three for a curve, at some 400 bytes each. All houses of
# a city as one path are some 300,000; the million operators of a map are many paths.
PATH_PARTS: Final = 1_200_000
PARTS_OF_A_RECTANGLE: Final = 4

# Subpaths whose single boxes are kept as facts: a line of type turned into outlines has a hundred. A map as
# one path has a hundred thousand, and its subpaths' boxes would say nothing.
PIECES_PER_PATH: Final = 2_000
PIECES_PER_PAGE: Final = 60_000

# Filled paths whose width is measured, at about a millisecond each. A traced illustration has thousands, and
# its first ones are like the others.
WIDTHS_PER_PAGE: Final = 500

# The same form drawn again is read again; this bounds it over the page.
DECODED_BYTES_PER_PAGE: Final = 1024 * 1024 * 1024

# Colour spaces within colour spaces: Pattern over Indexed over DeviceN over ICCBased is four.
COLOUR_SPACE_NESTING: Final = 8

# DeviceN names: ISO 32000-1, Annex C, has 32; newer files may go beyond, none has been met.
COLOUR_COMPONENTS: Final = 64

# Names of blend modes in an array, entries of a dictionary or optional content group and the like.
LIST_ENTRIES: Final = 1000

# Press profiles with many tables reach 10 MB.
PROFILE_BYTES: Final = 64 * 1024 * 1024

# An image is looked at for having one colour only where that costs nothing: one that is flat
# compresses to next to nothing.
FLAT_IMAGE_RAW_BYTES: Final = 4096
FLAT_IMAGE_DECODED_BYTES: Final = 4 * 1024 * 1024

# A picture is unpacked to see whether its data are whole, as far as it needs and no further. A poster in A1,
# in four inks and at 300 ppi, has 280 MB.
IMAGE_DATA_BYTES: Final = 640 * 1024 * 1024

# Annotations on a page; a form to fill in has hundreds.
ANNOTATIONS_PER_PAGE: Final = 20_000

# A page or form field and the nodes above it, searched for an inherited entry; balanced trees have below ten.
PARENTS: Final = 100

# Font programs. A full Asian font has some 20 MB.
FONT_PROGRAM_BYTES: Final = 64 * 1024 * 1024

# Work on drawing the glyphs of one font that are shown: a byte of a charstring counts for one, a point of a
# TrueType glyph for four, since reading it takes about as long as four bytes do. A glyph has some hundred; a
# text in Chinese shows three thousand glyphs. This is about five seconds.
FONT_PROGRAM_WORK: Final = 10_000_000
WORK_OF_A_POINT: Final = 4

# The same for one glyph. The most intricate ones (script with flourishes, engraved ornaments) have some
# ten thousand points.
GLYPH_WORK: Final = 200_000

# Subroutines within subroutines: Adobe's Type 1 and Type 2 formats allow ten. Parts of composite TrueType
# glyphs are one or two levels deep.
GLYPH_NESTING: Final = 10

# Parts of one composite glyph, counted with those of its parts: letters have two or three.
GLYPH_COMPONENTS: Final = 256

# A map to Unicode of all 65 536 codes has about 1.5 MB.
UNICODE_MAP_BYTES: Final = 8 * 1024 * 1024
UNICODE_MAP_ENTRIES: Final = 65_536

# Vertices of a mesh are read one by one; what is longer, or has more patches, counts as filling the
# range that it declares. Meshes of drawing programs stay below 100 kB.
MESH_BYTES: Final = 4 * 1024 * 1024
MESH_PATCHES: Final = 50_000

# What is cached of forms that are drawn again and again, such as symbols: operators and marks of all such
# forms on a page together, some 100 MB at the utmost.
KEPT_OPERATORS: Final = 200_000
KEPT_MARKS: Final = 100_000

# Opaque areas that are remembered for each place of a page and each size, to find what they cover; only a
# file made for it has more in one place that do not cover one another.
COVERS_AT_A_PLACE: Final = 50
