"""Names, figures, places, lists and lines of text as people read them."""
