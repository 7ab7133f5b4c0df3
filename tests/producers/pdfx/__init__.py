"""PDF/X files as programs of many hands write them, in one archive, and how each was made."""
