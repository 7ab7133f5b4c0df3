"""Colour science: ICC profiles, littleCMS, CIELAB, colours to inks and inks to the screen."""
