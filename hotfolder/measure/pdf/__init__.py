"""The facts of a PDF."""
