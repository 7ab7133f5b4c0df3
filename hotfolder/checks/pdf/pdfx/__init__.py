"""PDF/X, requirement by requirement: what each level asks of a file, and whether the file keeps it."""
