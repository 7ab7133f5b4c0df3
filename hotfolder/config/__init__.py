"""The studio file, and TOML files with the line of each mistake."""
