"""What is raised inside this package for a font program that cannot be read; it never leaves it."""


class FontFaultError(Exception):
    """A font program, or a glyph of it, is of a kind that is not read here."""


class DamagedFontError(FontFaultError):
    """A font program of a kind that is read here is cut short, or holds what makes no sense."""


class NoFontError(DamagedFontError):
    """What is embedded as a font program is none: nothing that a reader knows, or data that do not unpack."""


class FontLimitError(FontFaultError):
    """A font program asks for more work than one of our own limits allows."""
