"""Rules about what a PDF brings along: its PDF/X level, transparency, layers, annotations."""
