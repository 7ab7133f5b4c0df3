"""Limits of what is read of a document as a whole, each with its reason.

Where a limit ends the reading, a `Problem` of kind LIMIT says so.
"""

from typing import Final

# The thickest single books have about 5 000 pages; catalogues and directories stay below 20 000.
PAGES: Final = 20_000

# A file whose cross-reference table leads nowhere is held in memory, twice, to be read without it.
REBUILT_BYTES: Final = 256 << 20

# Nodes of the page tree that are not pages; a balanced tree has far fewer of them than pages.
PAGE_TREE_NODES: Final = 20_000

# Levels of the page tree. Balanced trees stay below ten; some writers hang one page on the next.
PAGE_TREE_DEPTH: Final = 500

# XMP with a thumbnail is some 100 kB; histories of edits have been met at several megabytes.
XMP_BYTES: Final = 16 << 20

# Elements within elements of XMP; real ones stay below twenty.
XMP_DEPTH: Final = 200

# A CMYK profile has half to ten megabytes.
OUTPUT_PROFILE_BYTES: Final = 32 << 20

OUTPUT_INTENTS: Final = 100  # one a standard and condition; more than three has not been met

# Form fields, and named scripts and files: large forms have some thousands. Kids: all that fields and nodes
# name as such, since many of them may name the same ones.
FIELDS: Final = 50_000
NAMES: Final = 50_000
KIDS: Final = 4 * FIELDS

# Annotations of all pages; a page tree may name the same page thousands of times. A catalogue of two thousand
# pages with a hundred links each has 200 000.
ANNOTATIONS: Final = 500_000

# Marks of the whole document, and the operators read for them: a page tree may name the same page thousands
# of times. A mark takes about 700 bytes, one of text 1000, so these are half a gigabyte; the operators take
# some fifteen seconds. A page of a book has about 200 marks.
MARKS: Final = 600_000
OPERATORS: Final = 5_000_000
