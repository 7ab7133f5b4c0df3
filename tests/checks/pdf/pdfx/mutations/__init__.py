"""Changes of files that keep a level of PDF/X, each with what breaking or keeping it comes to by the standard."""
