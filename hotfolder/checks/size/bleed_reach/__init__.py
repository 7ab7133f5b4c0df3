"""How far paint runs over the trim: by marks, by plates, by lines, and where it is in doubt."""
