"""What happens to a piece of artwork, in a child process: measured, placed, drawn, judged, reported."""
