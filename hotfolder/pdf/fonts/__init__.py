"""Fonts: their encodings, widths, character maps, and the glyphs that are shown."""
