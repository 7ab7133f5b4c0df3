"""What the header of a picture file declares, format by format."""
