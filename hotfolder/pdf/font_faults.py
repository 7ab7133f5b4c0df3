"""What is raised inside this package for a font program that cannot be read; it never leaves it."""


class FontFaultError(Exception):
    """A font program is broken, or of a kind that is not read here."""


class FontLimitError(FontFaultError):
    """A font program asks for more work than one of our own limits allows."""
