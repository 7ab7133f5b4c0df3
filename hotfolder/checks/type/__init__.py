"""Rules about type and lines: fonts, small text, thin lines."""
