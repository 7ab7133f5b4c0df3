"""What the headers of picture files declare, read in bounded steps and without decoding a pixel."""
