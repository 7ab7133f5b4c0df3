"""Changes of files that keep a level of PDF/X, each with what it breaks by the standard, or nothing."""
