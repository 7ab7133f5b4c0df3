"""Our plates against the outside: `python -m tests.plates` compares them with Ghostscript's on real pages.

`cells` is a sheet of small pages of every construct, each with the inks that the standard puts there.
"""
