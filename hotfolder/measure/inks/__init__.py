"""The facts of the inks on a page, told by its plates."""
