"""What checks ask of plates: areas of cells, places in doubt, technical inks."""
