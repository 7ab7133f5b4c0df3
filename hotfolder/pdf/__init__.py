"""The content-stream interpreter and the readers of PDF's own objects."""
