"""Font programs that a file brings along: TrueType, Type 1, CFF, and their outlines."""
