"""Compares our facts with those that other people's programs read from the same files.

`python -m tests.reference` prints how far they agree; `python -m tests.reference FILE ...` looks at
files of your own and tells every difference.
"""
