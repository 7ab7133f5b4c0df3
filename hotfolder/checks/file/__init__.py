"""Rules about the file: its type, name and weight, whether it opens, a picture's mode and depth."""
