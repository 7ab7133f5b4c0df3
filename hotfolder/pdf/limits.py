"""Every limit of the interpreter, and why it stands where it does.

A file may be made to hurt, or be broken in a way that never ends. Reaching a limit is told as a
`Problem` of kind LIMIT, so that what was not read can never pass for what is fine. A child process
has limits of time and memory besides; these are lower and end in a sentence instead of a kill.
"""

from typing import Final

# A drawing of a whole city has some three million operators; ten million take about a minute.
OPERATORS_PER_PAGE: Final = 10_000_000

# A mark takes about 700 bytes; half a million of them are some 350 MB.
MARKS_PER_PAGE: Final = 500_000

# A DeviceN colour has 32 components at most (ISO 32000-1, Annex C); a pattern's name comes on
# top. Inline images have a dozen entries of two operands each. What is above is not from a program.
OPERANDS: Final = 64

# ISO 32000-1, Annex C, knows readers that keep 28 states. Files that forget to restore reach some
# hundreds and are drawn everywhere; a state kept is one reference.
SAVED_STATES: Final = 10_000

# Forms within forms, patterns and glyphs included. Programs that place pages within pages stay below
# ten. Each level takes some Python frames, of which there are a thousand.
NESTING: Final = 40

# Compression makes a thousandth of a stream of nothing: 10 MB in the file may be 10 GB in memory.
# The longest page description met in real artwork is near 100 MB.
DECODED_BYTES_PER_STREAM: Final = 256 * 1024 * 1024

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

# Annotations on a page that bring an appearance; a form to fill in has hundreds.
ANNOTATIONS_PER_PAGE: Final = 20_000

# Nodes above a page that are looked at for inherited resources; balanced trees have below ten.
PAGE_PARENTS: Final = 100
