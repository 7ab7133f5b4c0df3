"""Facts of the PDF language on which both readers of content are built: operators, short names, numbers."""
