"""Page content rewritten, so that a renderer draws plates in place of colours."""
