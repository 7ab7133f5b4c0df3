"""What is raised inside this package for a font program that cannot be read; it never leaves it."""


class FontFaultError(Exception):
    """A font program is broken, or of a kind that is not read here."""


class NoFontError(FontFaultError):
    """What is embedded as a font program is none: nothing that a reader knows, or data that do not unpack."""


class FontLimitError(FontFaultError):
    """A font program asks for more work than one of our own limits allows."""
