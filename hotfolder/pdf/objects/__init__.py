"""Objects, streams, resources, matrices and outlines, read without trust, with their limits."""
