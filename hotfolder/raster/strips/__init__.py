"""The pixels of a picture file, strip by strip, on their way to plates."""
